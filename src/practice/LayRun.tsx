/**
 * Lay the row: the row editor with what lies on the mat, what else has to be settled at this axle, and 'Tighten', after
 * which the section shows what was built and the fit check says what it comes to.
 */
import { useMemo, useRef, useState, type ReactNode } from 'react';
import {
  editRow,
  gradeOf,
  GREASED,
  judgeLaid,
  layDrill,
  toldVerdict,
  wordEnd,
  wordFinding,
  wordGreased,
  wordLayFault,
  wordThread,
  wordTold,
  wordVerdict,
  wordWork,
  type Analysis,
  type Grade,
  type Greased,
  type LaidRow,
  type LayDrill,
  type RowEdit,
  type Side,
  type Treatment,
  type TurnedEnd,
  type Work,
  type WorkedRow,
} from '../../shared/index.ts';
import { RowEditor } from '../editor/RowEditor.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { FindingBody } from '../widgets/FindingList.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { Segments } from '../widgets/Segments.tsx';
import { LaidSection } from './LaidSection.tsx';
import { layParts } from './layParts.ts';
import { usePractice, type DrillAt } from './practiceStore.ts';
import { Result } from './Result.tsx';
import { useMinutes } from './useClock.ts';

interface Props {
  readonly analysis: Analysis;
  readonly drill: DrillAt;
  readonly onNext: () => void;
}

const SIDES: readonly (readonly [Side, string])[] = [
  ['non-drive', 'Non-drive side'],
  ['drive', 'Drive side'],
];
const ENDS: readonly TurnedEnd[] = ['head', 'tip', 'receiver'];

export function LayRun({ analysis, drill, onNext }: Props): ReactNode {
  const given = useMemo(() => layDrill(analysis.model, drill.of, drill.seed), [analysis, drill]);
  return <Laying key={`${drill.id} ${drill.seed}`} analysis={analysis} given={given} onNext={onNext} />;
}

interface Rows {
  readonly now: WorkedRow;
  readonly before: readonly WorkedRow[];
  readonly after: readonly WorkedRow[];
}

function Laying({
  analysis,
  given,
  onNext,
}: {
  readonly analysis: Analysis;
  readonly given: LayDrill;
  readonly onNext: () => void;
}): ReactNode {
  const minutes = useMinutes();
  const [rows, setRows] = useState<Rows>({ now: given.start, before: [], after: [] });
  const [picked, setPicked] = useState<string | undefined>(undefined);
  const [axle, setAxle] = useState(given.axles.length === 1 ? given.axles[0] : undefined);
  const [nut, setNut] = useState(given.nuts.length === 1 ? given.nuts[0] : undefined);
  const [from, setFrom] = useState<Side | undefined>(undefined);
  const [turned, setTurned] = useState<TurnedEnd | undefined>(undefined);
  const [treatment, setTreatment] = useState<Treatment | undefined>(undefined);
  const [greased, setGreased] = useState<readonly Greased[]>([]);
  const [order, setOrder] = useState<readonly Work[]>([]);
  const [tries, setTries] = useState(0);
  const [told, setTold] = useState<{ readonly laid: LaidRow; readonly grade: Grade | undefined } | undefined>(
    undefined,
  );
  const answer = useRef<HTMLElement>(null);
  const parts = useMemo(() => layParts(analysis, given, rows.now), [analysis, given, rows.now]);
  const { name: pivotName } = analysis.pivots.find(({ id }) => id === given.pivotId)!;
  const isWhole =
    axle !== undefined &&
    (nut !== undefined || given.nuts.length === 0) &&
    from !== undefined &&
    turned !== undefined &&
    treatment !== undefined &&
    order.length === given.works.length;

  /** What is tightened is what is judged: whatever is changed after it begins the next try. */
  const change = (make: () => void): void => {
    setTold(undefined);
    make();
  };
  const edit = (done: RowEdit): void => {
    const next = editRow(rows.now, done, given.model.parts);
    if (next) change(() => setRows({ now: next, before: [...rows.before, rows.now], after: [] }));
  };
  const undo = (): void =>
    change(() => {
      const last = rows.before.at(-1);
      if (last) setRows({ now: last, before: rows.before.slice(0, -1), after: [...rows.after, rows.now] });
    });
  const redo = (): void =>
    change(() => {
      const next = rows.after.at(-1);
      if (next) setRows({ now: next, before: [...rows.before, rows.now], after: rows.after.slice(0, -1) });
    });
  const tighten = (): void => {
    if (!isWhole) return;
    const laid = judgeLaid(analysis, given, { row: rows.now.row, axle, nut, from, turned, treatment, greased, order });
    const run = { tries: tries + 1, isRight: laid.isRight, minutes: minutes(), par_min: given.par_min };
    const grade = laid.isRight ? gradeOf(run) : undefined;
    setTries(run.tries);
    const show = (): void => {
      setTold({ laid, grade });
      requestAnimationFrame(() => answer.current?.focus());
    };
    if (grade) void usePractice.getState().keep({ grade, tries: run.tries, minutes: run.minutes }).then(show);
    else show();
  };

  return (
    <div className="drill lay flow gap-5">
      <section className="lay-row stack gap-3" aria-label="The row">
        <h3>{pivotName}: lay the row</h3>
        <p className="soft">
          Bearings and arms are in place. Lay in the loose parts; some of them belong elsewhere and stay on the mat.
        </p>
        <RowEditor
          parts={parts}
          picked={picked}
          onPick={setPicked}
          onEdit={edit}
          onUndo={rows.before.length > 0 ? undo : undefined}
          onRedo={rows.after.length > 0 ? redo : undefined}
          beside="On the mat:"
        />
      </section>
      <section className="lay-rest stack gap-5" aria-label="The axle, the thread and the work">
        <PartChoice word="Axle" ids={given.axles} value={axle} given={given} pick={(id) => change(() => setAxle(id))} />
        <PartChoice word="Nut" ids={given.nuts} value={nut} given={given} pick={(id) => change(() => setNut(id))} />
        <Choice
          label="The axle goes in from"
          choices={SIDES}
          value={from}
          pick={(side) => change(() => setFrom(side))}
        />
        <Choice
          label="The wrench turns"
          choices={ENDS.filter((end) => end !== 'receiver' || given.nuts.length > 0).map(
            (end) => [end, wordEnd(end)] as const,
          )}
          value={turned}
          pick={(end) => change(() => setTurned(end))}
        />
        <Choice
          label="On the thread"
          choices={given.treatments.map((one) => [one, wordThread(one)] as const)}
          value={treatment}
          pick={(one) => change(() => setTreatment(one))}
        />
        <fieldset className="stack gap-2">
          <legend>Grease on</legend>
          <div className="flow gap-2">
            {GREASED.map((one) => (
              <button
                key={one}
                type="button"
                className="button medium"
                aria-pressed={greased.includes(one)}
                onClick={() =>
                  change(() =>
                    setGreased(greased.includes(one) ? greased.filter((other) => other !== one) : [...greased, one]),
                  )
                }
              >
                {wordGreased(one)}
              </button>
            ))}
          </div>
        </fieldset>
        <fieldset className="stack gap-2">
          <legend>Tap the work in the order you do it</legend>
          <ul className="stack gap-2">
            {given.works.map((work) => {
              const at = order.indexOf(work);
              return (
                <li key={work}>
                  <button
                    type="button"
                    className="drill-choice press warms line gap-3 medium"
                    aria-pressed={at >= 0}
                    onClick={() =>
                      change(() => setOrder(at >= 0 ? order.filter((other) => other !== work) : [...order, work]))
                    }
                  >
                    <span className="lay-number numbers strong rigid">{at >= 0 ? at + 1 : '·'}</span>
                    {wordWork(work)}
                  </button>
                </li>
              );
            })}
          </ul>
        </fieldset>
        <div className="lay-tighten stack gap-2">
          <button
            type="button"
            className="button button-main medium no-wrap"
            aria-disabled={!isWhole}
            onClick={tighten}
          >
            Tighten
          </button>
          {!isWhole && (
            <p className="soft small">Settle the axle, its side, the wrench, the thread and the order first.</p>
          )}
        </div>
      </section>
      {told && (
        <section className="lay-told stack gap-4" aria-label="What it comes to" ref={answer} tabIndex={-1}>
          <Result isRight={told.laid.isRight} grade={told.grade} />
          <Consequence laid={told.laid} analysis={analysis} given={given} />
          <p className="flow gap-3">
            {told.laid.isRight ? (
              <button type="button" className="button button-main medium no-wrap" onClick={onNext}>
                Next
              </button>
            ) : (
              <span className="soft">Change what is wrong and tighten again.</span>
            )}
          </p>
          <Deference />
        </section>
      )}
    </div>
  );
}

/** What was built, in the section and in the fit check's own words. */
function Consequence({
  laid: { analysis: laid, faults, findings },
  analysis,
  given,
}: {
  readonly laid: LaidRow;
  readonly analysis: Analysis;
  readonly given: LayDrill;
}): ReactNode {
  const pivot = laid?.pivots.find(({ id }) => id === given.pivotId);
  const grave = findings.filter(({ severity }) => severity !== 'note');
  return (
    <>
      {laid && pivot && (
        <>
          <p className="line gap-3 strong">
            <VerdictMark verdict={toldVerdict(pivot)} /> {wordVerdict(pivot)}
          </p>
          <LaidSection analysis={laid} stackId={given.stackId} />
        </>
      )}
      <ul className="stack gap-2">
        {faults.map((fault) => (
          <li key={fault.what} className="callout callout-warn medium">
            {wordLayFault(fault)}
          </li>
        ))}
        {grave.map((finding, k) => {
          const words = wordFinding(finding, laid ?? analysis);
          return (
            <li key={`${finding.code} ${k}`} className={`finding edged flex gap-4 full finding-${finding.severity}`}>
              <FindingBody severity={finding.severity} title={words.title} text={words.text} />
            </li>
          );
        })}
      </ul>
    </>
  );
}

function Choice<T extends string>({
  label,
  choices,
  value,
  pick,
}: {
  readonly label: string;
  readonly choices: readonly (readonly [T, string])[];
  readonly value: T | undefined;
  readonly pick: (value: T) => void;
}): ReactNode {
  return (
    <div className="stack gap-2">
      <p className="strong">{label}</p>
      <div className="lay-segments">
        <Segments label={label} choices={choices} value={value as T} pick={pick} />
      </div>
    </div>
  );
}

/** One of several axles or nuts; where there is only one it is told. */
function PartChoice({
  word,
  ids,
  value,
  given,
  pick,
}: {
  readonly word: string;
  readonly ids: readonly string[];
  readonly value: string | undefined;
  readonly given: LayDrill;
  readonly pick: (id: string) => void;
}): ReactNode {
  if (ids.length < 2) return null;
  return (
    <fieldset className="stack gap-2">
      <legend>{word}</legend>
      <ul className="stack gap-2">
        {ids.map((id) => {
          const part = given.model.parts[id]!;
          return (
            <li key={id}>
              <button
                type="button"
                className="drill-choice press warms line gap-3 medium"
                aria-pressed={value === id}
                onClick={() => pick(id)}
              >
                {part.name}: {wordTold(part)}
              </button>
            </li>
          );
        })}
      </ul>
    </fieldset>
  );
}
