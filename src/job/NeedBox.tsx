/**
 * What a step wants before it closes, to be given where the step is: torque and wrench, what is felt, how parts are.
 */
import { useState, type ReactNode } from 'react';
import {
  AS_IT_CAME_WORDS,
  JOB_FEELS,
  JOB_FEEL_WORDS,
  jobField,
  wordNeed,
  wordWrenchFit,
  type Job,
  type JobStep,
  type JobView,
  type Need,
} from '../../shared/index.ts';
import { useJob } from './jobStore.ts';
import { Chips, NumberField, TextField } from './Fields.tsx';
import { Found } from './Found.tsx';
import { remainingWords } from './time.ts';

interface Props {
  readonly step: JobStep;
  readonly view: JobView;
  readonly job: Job;
  readonly now_ms: number;
}

export function Needs({ step, view, job, now_ms }: Props): ReactNode {
  const put = useJob((state) => state.put);
  if (step.needs.length === 0) return null;
  const blank = step.lacks.flatMap((need) => (need.what === 'condition' ? [need.subject] : []));
  const allGood = (): void =>
    put(Object.fromEntries(blank.map(({ of, id }) => [jobField(of, id, 'condition'), ['good']])));
  return (
    <div className="job-needs stack gap-4">
      {blank.length > 1 && (
        <button type="button" className="button medium" onClick={allGood}>
          All {blank.length} looked at: all good
        </button>
      )}
      {step.needs.map((need) => (
        <OneNeed key={JSON.stringify(need)} need={need} view={view} job={job} now_ms={now_ms} />
      ))}
    </div>
  );
}

function OneNeed({ need, view, job, now_ms }: Omit<Props, 'step'> & { readonly need: Need }): ReactNode {
  const put = useJob((state) => state.put);
  const words = wordNeed(need, view.analysis, view.subjects);
  switch (need.what) {
    case 'came':
      return (
        <TextField
          field="came/air"
          value={job.as_it_came.air}
          label={AS_IT_CAME_WORDS.air.title}
          hint={AS_IT_CAME_WORDS.air.hint}
        />
      );
    case 'air':
      return (
        <div className="stack gap-2">
          <TextField field="air_put_back" value={job.air_put_back} label="Put back: air, or spring and preload" />
          {job.as_it_came.air !== '' && job.air_put_back !== job.as_it_came.air && (
            <button type="button" className="button medium" onClick={() => put({ air_put_back: job.as_it_came.air })}>
              As it came: {job.as_it_came.air}
            </button>
          )}
        </div>
      );
    case 'torque':
      return <Torque need={need} job={job} />;
    case 'felt': {
      const felt = job.felt[need.stackId]?.[need.when];
      return (
        <div className="stack gap-2">
          <p>{words}</p>
          <Chips
            label={words}
            choices={JOB_FEELS}
            words={JOB_FEEL_WORDS}
            picked={felt?.is ?? []}
            alone="good"
            give={(is) => put({ [jobField('felt', need.stackId, need.when)]: is.length > 0 ? { is: [...is] } : null })}
          />
        </div>
      );
    }
    case 'condition':
    case 'fate': {
      const subject = view.subjects.find(({ of, id }) => of === need.subject.of && id === need.subject.id);
      return subject ? <Found subject={subject} decisions={view.decisions} job={job} analysis={view.analysis} /> : null;
    }
    case 'cured':
      return (
        <p className="large bold numbers" role="timer">
          {now_ms < need.until_ms ? remainingWords(need.until_ms, now_ms) : 'The threadlocker has set.'}
        </p>
      );
  }
}

function Torque({ need, job }: { readonly need: Need & { what: 'torque' }; readonly job: Job }): ReactNode {
  const put = useJob((state) => state.put);
  const { stackId, set_Nm } = need;
  const axle = job.axles[stackId];
  const wrenches = Object.entries(job.wrenches);
  // The wrench is in the hand before its torque is reached.
  const [taken, setTaken] = useState<string | undefined>(undefined);
  const usual = [axle ? axle.wrench : (taken ?? lastWrench(job))].find(
    (key) => key !== undefined && key in job.wrenches,
  );
  const field = jobField('axle', stackId);
  const give = (reached_Nm: number | undefined, wrench = usual): void =>
    put({ [field]: reached_Nm === undefined ? null : { reached_Nm, set_Nm, ...(wrench && { wrench }) } }, true);
  const known = usual === undefined ? undefined : job.wrenches[usual];
  const fit = known && wordWrenchFit(known, set_Nm);
  return (
    <div className="stack gap-3">
      <div className="flow gap-3 job-ends">
        <NumberField label="Torque reached, N·m" value={axle?.reached_Nm} most={400} give={give} />
        {axle === undefined && (
          <button type="button" className="button medium no-wrap" onClick={() => give(set_Nm)}>
            Reached {set_Nm} N·m
          </button>
        )}
        {wrenches.length > 0 && (
          <label className="stack gap-1 slim">
            <span className="soft small medium">Wrench</span>
            <select
              className="select"
              value={usual ?? ''}
              onChange={(event) => {
                setTaken(event.target.value);
                if (axle) give(axle.reached_Nm, event.target.value);
              }}
            >
              {usual === undefined && <option value="">not written down</option>}
              {wrenches.map(([key, { name, least_Nm, most_Nm }]) => (
                <option key={key} value={key}>
                  {name}, {least_Nm} to {most_Nm} N·m
                </option>
              ))}
            </select>
          </label>
        )}
      </div>
      {fit !== undefined && <p className="callout callout-warn">This wrench is {fit}.</p>}
    </div>
  );
}

/** The wrench of the last torque written down, or the only one there is. */
function lastWrench({ axles, wrenches }: Job): string | undefined {
  const known = Object.values(axles).findLast(({ wrench }) => wrench !== undefined && wrench in wrenches);
  return known?.wrench ?? Object.keys(wrenches)[0];
}
