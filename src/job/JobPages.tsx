/**
 * The pages of a job beside its work-through: as it came, what is laid out, conditions, what is open, hand-over.
 */
import { useState, type ReactNode } from 'react';
import {
  AS_IT_CAME_WORDS,
  calendar,
  CAUTIONS,
  JOB_DRAFT_WORDS,
  jobField,
  nameOf,
  STAND_INS,
  wordCalendar,
  wordConsumable,
  wordDecision,
  wordJobStep,
  wordJobTool,
  wordMinutes,
  wordOpen,
  wordOrderLine,
  wordPlanTool,
  wordSubject,
  writeEnvelope,
  type Job,
  type JobView,
  type JobWrench,
  type OpenItem,
  type Plan,
} from '../../shared/index.ts';
import { APP_VERSION } from '../page/version.ts';
import { dayWords } from '../widgets/day.ts';
import { madePdf, SaveButton } from '../widgets/SaveButton.tsx';
import { saveFile } from '../widgets/saveFile.ts';
import { NumberField, TextField } from './Fields.tsx';
import { Found } from './Found.tsx';
import { useJob } from './jobStore.ts';
import { PhotoField } from './Photos.tsx';
import { clockWords } from './time.ts';

interface Props {
  readonly view: JobView;
  readonly job: Job;
}

/** Reference, frame, and everything that must go back as it was. */
export function CamePage({ view, job }: Props): ReactNode {
  return (
    <>
      {!view.isSameModel && (
        <p className="callout callout-warn">
          The model has changed since this job was begun: look whether its steps and torques still say what was done.
        </p>
      )}
      {job.is_draft && <p className="callout callout-warn">{JOB_DRAFT_WORDS.came}</p>}
      <div className="job-grid stack gap-5">
        <TextField field="reference" value={job.reference} label="Reference of the shop" />
        <TextField field="frame" value={job.frame} label="Frame number" />
        <TextField field="date" value={job.date} label="Date" isDay />
        <TextField field="initials" value={job.initials} label="Your initials" most={20} />
      </div>
      <h3>As it came</h3>
      <p className="soft">{CAUTIONS.air}</p>
      <div className="job-grid stack gap-5">
        {Object.entries(AS_IT_CAME_WORDS).map(([name, { title, hint }]) => (
          <TextField
            key={name}
            field={`came/${name}`}
            value={job.as_it_came[name as keyof Job['as_it_came']]}
            label={title}
            hint={hint}
            most={400}
          />
        ))}
      </div>
      <PhotoField job={job} />
      <TextField field="remarks" value={job.remarks} label="Remarks" most={2000} isLong />
    </>
  );
}

/** Tools, consumables, parts to order, wrenches. */
export function LayOutPage({ view, job }: Props): ReactNode {
  const { analysis, tools, bench, consumables, orders, minutes } = view;
  return (
    <>
      <p>
        The whole job: {wordMinutes(minutes)}, an estimate for a practised hand with all of this laid out.{' '}
        {CAUTIONS.body}
      </p>
      <h3>Tools</h3>
      <ul className="job-lines stack hair">
        {tools.map((tool) => {
          const { title, text } = wordJobTool(tool);
          return <Line key={title} title={title} text={text} />;
        })}
        {bench.map((what) => (
          <Line key={what} title={capitalised(wordPlanTool({ kind: 'bench', what }, analysis))} text="" />
        ))}
      </ul>
      <h3>Used up</h3>
      <ul className="job-lines stack hair">
        {consumables.map((one) => {
          const { title, text } = wordConsumable(one);
          return <Line key={title} title={title} text={text} />;
        })}
      </ul>
      <p className="soft small">Amounts are estimates.</p>
      <h3>Bearings, and parts to order</h3>
      {job.is_draft && <p className="callout callout-warn">{JOB_DRAFT_WORDS.order}</p>}
      <ul className="job-lines stack hair">
        {orders.map((line) => {
          const { title, text } = wordOrderLine(line);
          return <Line key={line.part} title={title} text={text} />;
        })}
      </ul>
      <details className="fold">
        <summary>What the letters mean, and what may stand in</summary>
        <dl className="stack gap-3">
          {STAND_INS.map(({ title, text }) => (
            <div key={title}>
              <dt className="strong">{title}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
        <p className="soft small">Common practice. What the frame maker names comes first.</p>
      </details>
      <h3>Torque wrenches</h3>
      <Wrenches job={job} />
    </>
  );
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function Line({ title, text }: { readonly title: string; readonly text: string }): ReactNode {
  return (
    <li className="job-line line wrap gap-3 apart-ends">
      <span className="medium slim">{title}</span>
      <span className="soft">{text}</span>
    </li>
  );
}

/** The wrenches in hand, with range and calibration; a new job of the same model has them again. */
function Wrenches({ job }: { readonly job: Job }): ReactNode {
  const put = useJob((state) => state.put);
  const add = (): void => {
    const [chance = 0] = crypto.getRandomValues(new Uint32Array(1));
    put({
      [jobField('wrench', chance.toString(36))]: { name: 'Torque wrench', least_Nm: 5, most_Nm: 25, calibrated: '' },
    });
  };
  return (
    <div className="stack gap-4">
      {Object.entries(job.wrenches).map(([key, wrench]) => (
        <Wrench key={key} field={jobField('wrench', key)} wrench={wrench} />
      ))}
      <div>
        <button type="button" className="button medium no-wrap" onClick={add}>
          Add a torque wrench
        </button>
      </div>
    </div>
  );
}

function Wrench({ field, wrench }: { readonly field: string; readonly wrench: JobWrench }): ReactNode {
  const put = useJob((state) => state.put);
  const [name, setName] = useState<string | undefined>(undefined);
  const give = (change: Partial<JobWrench>, isTyped = true): void =>
    put({ [field]: { ...wrench, ...change } }, isTyped);
  return (
    <div className="job-grid stack gap-3 job-found" role="group" aria-label={wrench.name}>
      <label className="stack gap-1 slim">
        <span className="soft small medium">Name</span>
        <input
          className="input full on-sheet"
          maxLength={60}
          value={name ?? wrench.name}
          onChange={(event) => {
            setName(event.target.value);
            give({ name: event.target.value });
          }}
          onBlur={() => setName(undefined)}
        />
      </label>
      <NumberField
        label="From, N·m"
        value={wrench.least_Nm}
        most={400}
        give={(value) => value && give({ least_Nm: value })}
      />
      <NumberField
        label="To, N·m"
        value={wrench.most_Nm}
        most={400}
        give={(value) => value && give({ most_Nm: value })}
      />
      <label className="stack gap-1 slim">
        <span className="soft small medium">Last calibrated</span>
        <input
          className="input full on-sheet"
          type="date"
          value={wrench.calibrated}
          onChange={(event) => give({ calibrated: event.target.value }, false)}
        />
      </label>
      <button type="button" className="button medium no-wrap job-self" onClick={() => put({ [field]: null })}>
        Remove
      </button>
    </div>
  );
}

/** Every part and seat by axle. */
export function PartsPage({ view, job }: Props): ReactNode {
  const { analysis, subjects, decisions } = view;
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  return (
    <>
      <p className="soft">What is said here is said in the steps as well: once is enough.</p>
      {stacks.map((stack) => {
        const own = subjects.filter(({ stackId }) => stackId === stack.id);
        const bad = own.filter(({ isBad }) => isBad).length;
        const blank = own.filter(({ found }) => found.length === 0).length;
        return (
          <details key={stack.id} className="fold" open={bad > 0 || undefined}>
            <summary>
              {stack.name}
              <span className={bad > 0 ? 'job-bad small' : 'soft small'}>
                {bad > 0 ? `${bad} bad` : blank > 0 ? `${blank} to look at` : 'all good'}
              </span>
            </summary>
            <div className="stack gap-5">
              {own.map((subject) => (
                <Found
                  key={`${subject.of} ${subject.id}`}
                  subject={subject}
                  decisions={decisions}
                  job={job}
                  analysis={analysis}
                />
              ))}
            </div>
          </details>
        );
      })}
    </>
  );
}

/** What is open, and its calendar file. */
export function OpenPage({ view, job, id }: Props & { readonly id: string }): ReactNode {
  const { open, analysis } = view;
  const ahead = view.steps.filter(({ state }) => state === 'open').length;
  const dated = open.filter(({ due_ms }) => due_ms !== undefined);
  return (
    <>
      <p>
        {ahead > 0 ? `${ahead} steps are still to do. ` : 'Every step is closed. '}
        {open.length === 0 ? 'Nothing else is open.' : ''}
      </p>
      <ul className="stack gap-4">
        {open.map((item, k) => (
          <OpenLine key={`${item.is} ${k}`} item={item} view={view} />
        ))}
      </ul>
      {dated.length > 0 && (
        <div className="stack gap-2">
          <div>
            <button
              type="button"
              className="button medium no-wrap"
              onClick={() =>
                saveFile(
                  `axlewright-${id}.ics`,
                  calendar(wordCalendar(view, job, id, clockWords), Date.now()),
                  'text/calendar',
                )
              }
            >
              Save {dated.length === 1 ? 'the date' : `${dated.length} dates`} for a calendar
            </button>
          </div>
          <p className="soft small">A file that calendar programs open. It says model, reference and frame number.</p>
        </div>
      )}
      {view.decisions.some(({ came }) => came === 'mended') && (
        <ul className="stack gap-1 soft">
          {view.decisions
            .filter(({ came }) => came === 'mended')
            .map((decision) => (
              <li key={decision.key}>{wordDecision(decision, analysis)}</li>
            ))}
        </ul>
      )}
    </>
  );
}

const AFTER: ReadonlySet<OpenItem['is']> = new Set(['first-ride', 'check-again', 'feel-again', 'strip-again']);

function OpenLine({ item, view }: { readonly item: OpenItem; readonly view: JobView }): ReactNode {
  const put = useJob((state) => state.put);
  const { title, text } = wordOpen(item, view.analysis, clockWords);
  const isGrave = item.is === 'to-maker' || item.is === 'torque-off' || item.is === 'decide';
  return (
    <li className={isGrave ? 'callout callout-trouble stack gap-1' : 'callout stack gap-1'}>
      <strong>{title}</strong>
      <span>{text}</span>
      {item.due_ms !== undefined && item.is !== 'cures' && <span className="soft small">{dayWords(item.due_ms)}</span>}
      {AFTER.has(item.is) && (
        <span>
          <button
            type="button"
            className="button button-small medium no-wrap"
            onClick={() => put({ [jobField('step', `after:${item.is}`)]: { is: 'done', at_ms: Date.now() } })}
          >
            Done
          </button>
        </span>
      )}
    </li>
  );
}

/** What was done, to be gone through with the rider and kept. */
export function HandOverPage({ view, job, id, plan }: Props & { readonly id: string; readonly plan: Plan }): ReactNode {
  const { analysis } = view;
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  const parts = view.subjects.filter(({ of }) => of === 'part');
  const renewed = parts.filter((one) => job.parts[one.id]?.renewed !== undefined);
  const unsigned = view.open.filter(({ is }) => is === 'unsigned').length;
  const signs = view.steps.filter(({ sign }) => sign !== undefined);
  return (
    <>
      <h3>Torques reached</h3>
      <ul className="job-lines stack hair">
        {stacks.map((stack) => {
          const axle = job.axles[stack.id];
          const wrench = axle?.wrench === undefined ? undefined : job.wrenches[axle.wrench];
          return (
            <Line
              key={stack.id}
              title={stack.name}
              text={
                axle
                  ? `${axle.reached_Nm} of ${axle.set_Nm} N·m${wrench ? `, ${wrench.name}` : ''}`
                  : `not written down; set: ${stack.tightening.torque_Nm} N·m`
              }
            />
          );
        })}
      </ul>
      <h3>Renewed</h3>
      {renewed.length === 0 ? (
        <p className="soft">Nothing was renewed.</p>
      ) : (
        <ul className="job-lines stack hair">
          {renewed.map((one) => (
            <Line key={one.id} title={wordSubject(one, analysis)} text={job.parts[one.id]?.renewed ?? ''} />
          ))}
        </ul>
      )}
      <h3>Still open</h3>
      {view.open.length === 0 ? (
        <p className="soft">{view.next < view.steps.length ? 'The steps are not through yet.' : 'Nothing.'}</p>
      ) : (
        <ul className="job-lines stack hair">
          {view.open.map((item, k) => (
            <Line key={`${item.is} ${k}`} title={wordOpen(item, analysis, clockWords).title} text="" />
          ))}
        </ul>
      )}
      <h3>Countersigned</h3>
      <p>
        {signs.length === 0
          ? 'Nothing yet.'
          : `${signs.length} by ${[...new Set(signs.map(({ sign }) => sign!.by))].join(', ')}.`}
        {unsigned > 0 ? ` ${unsigned} still want a second person.` : ''}
      </p>
      {signs.length > 0 && (
        <details className="fold">
          <summary>Which</summary>
          <ul className="stack gap-1">
            {signs.map((step) => (
              <li key={step.id}>
                {wordJobStep(step, analysis).title}
                {step.step.items[0] === undefined ? '' : `, ${nameOf(step.step.items[0], analysis)}`}: {step.sign!.by},{' '}
                {clockWords(step.sign!.at_ms)}
              </li>
            ))}
          </ul>
        </details>
      )}
      <p className="callout callout-warn">{CAUTIONS.after}</p>
      <div className="flow gap-3">
        <SaveButton
          make={() =>
            madePdf(`axlewright-job-${id}`, async () =>
              (await import('../sheet/files.ts')).jobPages(plan, { job, view, time: clockWords }),
            )
          }
        >
          Save the sheet as PDF
        </SaveButton>
        <button
          type="button"
          className="button medium no-wrap"
          onClick={() =>
            saveFile(`axlewright-job-${id}.json`, writeEnvelope('job', APP_VERSION, job), 'application/json')
          }
        >
          Save the job as a file
        </button>
      </div>
    </>
  );
}
