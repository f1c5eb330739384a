/**
 * One part or seat: how it was found, what it measures, and what becomes of it; trouble with a stop point says what may
 * be tried, in order, and when the frame goes back to its maker.
 */
import { useState, type ReactNode } from 'react';
import {
  CONDITION_WORDS,
  JOB_LIMITS,
  jobField,
  wordFound,
  wordStop,
  wordSubject,
  type Analysis,
  type FieldValue,
  type Job,
  type JobDecision,
  type JobSubject,
} from '../../shared/index.ts';
import { today } from '../widgets/day.ts';
import { useJob } from './jobStore.ts';
import { Chips, NumberField, TextField } from './Fields.tsx';

const MEASURE_WORDS = { length_mm: 'Length, mm', across_mm: 'Across, mm', other_way_mm: 'Across the other way, mm' };
const ACROSS_WORDS = { outside_mm: 'Shank, mm', bore_mm: 'Bore, mm' };

interface Props {
  readonly subject: JobSubject;
  readonly decisions: readonly JobDecision[];
  readonly job: Job;
  readonly analysis: Analysis;
}

export function Found({ subject, decisions, job, analysis }: Props): ReactNode {
  const put = useJob((state) => state.put);
  const { of, id, choices, measures, found, isBad } = subject;
  const mark = (of === 'seat' ? job.seats : job.parts)[id];
  const measured = mark?.measured ?? {};
  const own = decisions.filter((decision) => decision.subject.of === of && decision.subject.id === id);
  const judged = found.filter((one) => one !== 'good' && mark?.condition?.includes(one) !== true);
  const picked = mark?.condition ?? [];
  return (
    <section className="job-found stack gap-2" aria-label={wordSubject(subject, analysis)}>
      <p className="line wrap gap-3 apart-ends">
        <strong className="slim">{wordSubject(subject, analysis)}</strong>
        <span className={isBad ? 'job-bad medium' : 'soft'}>{wordFound(found)}</span>
      </p>
      <Chips
        label={`Condition: ${wordSubject(subject, analysis)}`}
        choices={choices}
        words={CONDITION_WORDS}
        picked={picked}
        alone="good"
        give={(next) => put({ [jobField(of, id, 'condition')]: next.length > 0 ? [...next] : null })}
      />
      {measures.length > 0 && (
        <div className="flow gap-3">
          {measures.map(({ field, size, low_mm, high_mm }) => (
            <div key={field} className="stack hair">
              <NumberField
                label={size === 'outside_mm' || size === 'bore_mm' ? ACROSS_WORDS[size] : MEASURE_WORDS[field]}
                value={measured[field]}
                most={1000}
                give={(value) => put({ [jobField(of, id, 'measured')]: withSize(measured, field, value) }, true)}
              />
              <span className="soft small numbers">
                {low_mm.toFixed(2)} to {high_mm.toFixed(2)}
              </span>
            </div>
          ))}
        </div>
      )}
      {judged.length > 0 && <p className="callout callout-warn">By its size: {wordFound(judged)}.</p>}
      {isBad && of === 'part' && subject.item.role !== 'boss' && <Fate subject={subject} job={job} />}
      {own.map((decision) => (
        <Decision key={decision.key} decision={decision} />
      ))}
    </section>
  );
}

function withSize(
  measured: NonNullable<Job['seats'][string]['measured']>,
  field: keyof typeof MEASURE_WORDS,
  value: number | undefined,
): FieldValue {
  const { [field]: _, ...rest } = measured;
  const next = value === undefined ? rest : { ...rest, [field]: value };
  return Object.keys(next).length > 0 ? (next as FieldValue) : null;
}

/** What becomes of a bad part. */
function Fate({ subject, job }: { readonly subject: JobSubject; readonly job: Job }): ReactNode {
  const put = useJob((state) => state.put);
  const { id } = subject;
  const mark = job.parts[id] ?? {};
  const is = { renewed: mark.renewed, awaited: mark.awaited, for_now: mark.for_now };
  const turn = (what: keyof typeof is, usual: string): void =>
    put({
      [jobField('part', id, what)]: is[what] === undefined ? usual : null,
      ...(what === 'awaited' && {
        [jobField('part', id, 'awaited_on')]: is.awaited === undefined ? today(JOB_LIMITS.awaited_d.value) : null,
      }),
    });
  return (
    <div className="stack gap-2">
      <div className="flow gap-2" role="group" aria-label="What becomes of it">
        <button
          type="button"
          className="button button-small medium no-wrap"
          aria-pressed={is.renewed !== undefined}
          onClick={() => turn('renewed', 'new')}
        >
          Renewed
        </button>
        <button
          type="button"
          className="button button-small medium no-wrap"
          aria-pressed={is.awaited !== undefined}
          onClick={() => turn('awaited', 'on order')}
        >
          Awaited
        </button>
        <button
          type="button"
          className="button button-small medium no-wrap"
          aria-pressed={is.for_now !== undefined}
          onClick={() => turn('for_now', 'until the right one comes')}
        >
          Fitted for now
        </button>
      </div>
      {is.renewed !== undefined && (
        <TextField field={jobField('part', id, 'renewed')} value={is.renewed} label="What was fitted" />
      )}
      {is.awaited !== undefined && (
        <div className="job-grid stack gap-3">
          <TextField field={jobField('part', id, 'awaited')} value={is.awaited} label="What is awaited" />
          <TextField
            field={jobField('part', id, 'awaited_on')}
            value={mark.awaited_on ?? ''}
            label="Ask after it on"
            isDay
          />
        </div>
      )}
      {is.for_now !== undefined && (
        <TextField field={jobField('part', id, 'for_now')} value={is.for_now} label="Why it is fitted for now" />
      )}
    </div>
  );
}

/** What may be tried, in order; each line is ticked by trying it. */
function Decision({ decision }: { readonly decision: JobDecision }): ReactNode {
  const put = useJob((state) => state.put);
  const { key, stop, tried, came } = decision;
  const words = wordStop(stop);
  const [isOpen, setOpen] = useState(came === undefined);
  const set = (next: { tried: number; came?: 'mended' | 'to-maker' }): void =>
    put({ [jobField('decision', key)]: next });
  return (
    <details
      className="fold callout callout-warn"
      open={isOpen}
      onToggle={(event) => setOpen(event.currentTarget.open)}
    >
      <summary>
        {words.title}
        {came === 'mended'
          ? ': mended'
          : came === 'to-maker'
            ? ': to its maker'
            : `: ${tried} of ${words.tries.length} tried`}
      </summary>
      <div className="stack gap-3">
        <p>{words.text} What may be tried here, in this order:</p>
        <ol className="job-tries stack gap-2">
          {words.tries.map((text, k) => (
            <li key={text}>
              <label className="choice">
                <input
                  type="checkbox"
                  checked={k < tried}
                  disabled={k > tried || k < tried - 1}
                  onChange={(event) => set({ tried: event.target.checked ? k + 1 : k })}
                />
                <span>{text}</span>
              </label>
            </li>
          ))}
        </ol>
        <div>
          <p className="strong">Never:</p>
          <ul className="job-never stack gap-1">
            {words.never.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </div>
        <p className="callout callout-trouble">{words.stop}</p>
        <div className="flow gap-3">
          <button
            type="button"
            className="button medium no-wrap"
            aria-pressed={came === 'mended'}
            onClick={() => set(came === 'mended' ? { tried } : { tried, came: 'mended' })}
          >
            Mended
          </button>
          <button
            type="button"
            className="button medium no-wrap"
            aria-pressed={came === 'to-maker'}
            onClick={() => set(came === 'to-maker' ? { tried } : { tried, came: 'to-maker' })}
          >
            Stop: frame to its maker
          </button>
        </div>
      </div>
    </details>
  );
}
