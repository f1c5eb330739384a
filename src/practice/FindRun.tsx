/**
 * Find the mistake: checks with their minutes, what each told, and the cause to be named; then what was wrong, what it
 * does, and how many minutes the best checks would have taken.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import {
  analyseChange,
  applyMistake,
  benchAnswer,
  figure,
  FIND_LEVELS,
  findDrill,
  gradeOf,
  isFound,
  minutesOf,
  opensFor,
  PRACTICE_LIMITS,
  wordBenchAnswer,
  wordBenchCheck,
  wordMistake,
  wordMistakeKind,
  wordTried,
  type Analysis,
  type BenchCheck,
  type FindDrill,
  type Grade,
  type Mistake,
} from '../../shared/index.ts';
import { Deference } from '../widgets/Deference.tsx';
import { LaidSection } from './LaidSection.tsx';
import { usePractice, type DrillAt } from './practiceStore.ts';
import { levelOf } from './progress.ts';
import { Result } from './Result.tsx';

interface Props {
  readonly analysis: Analysis;
  readonly drill: DrillAt;
  readonly onNext: () => void;
}

/** A check that was done. */
interface Done {
  readonly check: BenchCheck;
  readonly minutes: number;
  readonly told: string;
}

export function FindRun({ analysis, drill, onNext }: Props): ReactNode {
  const [level] = useState(() => Math.min(levelOf(usePractice.getState().progress, drill.id), FIND_LEVELS));
  const given = useMemo(() => findDrill(analysis.model, drill.of, drill.seed, level), [analysis, drill, level]);
  if (!given) return <p className="drill-none">Nothing that still tightens can be hidden in this pivot.</p>;
  return <Finding key={`${drill.id} ${drill.seed}`} analysis={analysis} given={given} onNext={onNext} />;
}

function Finding({
  analysis,
  given,
  onNext,
}: {
  readonly analysis: Analysis;
  readonly given: FindDrill;
  readonly onNext: () => void;
}): ReactNode {
  const { model } = analysis;
  const [done, setDone] = useState<readonly Done[]>([]);
  const [named, setNamed] = useState<readonly Mistake[]>([]);
  const [tries, setTries] = useState(0);
  const [told, setTold] = useState<{ readonly isRight: boolean; readonly grade?: Grade } | undefined>(undefined);
  const isOver = told !== undefined && (told.isRight || told.grade !== undefined);
  const spent = done.reduce((sum, { minutes }) => sum + minutes, 0);
  const opened = new Set(done.flatMap(({ check }) => opensFor(check) ?? []));
  const { name } = analysis.pivots.find(({ id }) => id === given.pivotId)!;

  const look = (check: BenchCheck): void => {
    if (isOver || done.some((one) => one.check === check)) return;
    const words = wordBenchAnswer(benchAnswer(model, given.hidden, check), analysis);
    setDone([...done, { check, minutes: minutesOf(check, opened), told: words }]);
  };
  const pick = (mistake: Mistake): void => {
    if (isOver) return;
    setTold(undefined);
    if (named.includes(mistake)) setNamed(named.filter((one) => one !== mistake));
    else setNamed([...named, mistake].slice(-given.count));
  };
  const end = (isRight: boolean, count: number): void => {
    const par_min = Math.max(given.par_min, PRACTICE_LIMITS.findLeast_min.value);
    const grade = gradeOf({ tries: count, isRight, minutes: spent, par_min });
    void usePractice
      .getState()
      .keep({ grade, tries: count, minutes: spent })
      .then(() => setTold({ isRight, grade }));
  };
  const say = (): void => {
    if (named.length < given.count) return;
    const count = tries + 1;
    setTries(count);
    if (isFound(model, given, named)) end(true, count);
    else setTold({ isRight: false });
  };

  return (
    <div className="drill find flow gap-5">
      <section className="find-checks stack gap-4" aria-label="Checks">
        <h3>
          {name}: {given.count === 1 ? 'something is wrong' : 'two things are wrong'}
        </h3>
        <p className="soft">It is tight. Each check costs its minutes, and tells no more than it would at the bench.</p>
        {GROUPS.map(([title, does]) => (
          <details key={title} className="fold" open={title !== LAST_GROUP}>
            <summary>{title}</summary>
            <ul className="stack gap-2">
              {given.checks
                .filter((check) => does.includes(check.do))
                .map((check) => {
                  const known = done.find((one) => one.check === check);
                  return (
                    <li key={JSON.stringify(check)}>
                      <button
                        type="button"
                        className="drill-choice press warms line gap-3 medium"
                        aria-disabled={known !== undefined || isOver}
                        onClick={() => look(check)}
                      >
                        <span>{wordBenchCheck(check, analysis)}</span>
                        <span className="end soft small no-wrap numbers">
                          {known ? 'done' : `${figure(minutesOf(check, opened), 2)} min`}
                        </span>
                      </button>
                    </li>
                  );
                })}
            </ul>
          </details>
        ))}
      </section>
      <section className="find-told stack gap-3" aria-label="What the checks told">
        <h3>
          What you know <span className="soft numbers">{figure(spent, 2)} min</span>
        </h3>
        <ol className="stack gap-2" aria-live="polite">
          {done.map(({ check, told: words, minutes }) => (
            <li key={JSON.stringify(check)} className="callout">
              <span className="soft small as-block">
                {wordBenchCheck(check, analysis)}, {figure(minutes, 2)} min
              </span>
              <span className="strong">{words}</span>
            </li>
          ))}
        </ol>
        {done.length === 0 && <p className="soft">Nothing yet.</p>}
      </section>
      <section className="find-cause stack gap-4" aria-label="The cause">
        <h3>{given.count === 1 ? 'Name the cause' : 'Name both causes'}</h3>
        {kindsOf(given).map(([kind, causes]) => (
          <details key={kind} className="fold">
            <summary>{wordMistakeKind(kind)}</summary>
            <ul className="stack gap-2">
              {causes.map((mistake) => (
                <li key={mistake.id}>
                  <button
                    type="button"
                    className="drill-choice press warms line gap-3 medium"
                    aria-pressed={named.includes(mistake)}
                    aria-disabled={isOver}
                    onClick={() => pick(mistake)}
                  >
                    {wordMistake(mistake, analysis)}
                  </button>
                </li>
              ))}
            </ul>
          </details>
        ))}
        {named.map((mistake) => (
          <p key={mistake.id} className="strong">
            {wordMistake(mistake, analysis)}
          </p>
        ))}
        <div className="flow gap-3">
          <button
            type="button"
            className="button button-main medium no-wrap"
            aria-disabled={named.length < given.count || isOver}
            onClick={() => !isOver && say()}
          >
            This is it
          </button>
          {tries > 0 && !isOver && (
            <button type="button" className="button medium no-wrap" onClick={() => end(false, tries)}>
              Show what it is
            </button>
          )}
        </div>
        {told && <Result isRight={told.isRight} grade={told.grade} />}
        {told && !isOver && <p>That would leave another build. Look again, or name another cause.</p>}
        {isOver && <Truth analysis={analysis} given={given} spent={spent} onNext={onNext} />}
      </section>
    </div>
  );
}

const LAST_GROUP = 'Open it';
const GROUPS: readonly (readonly [string, readonly BenchCheck['do'][]])[] = [
  ['Feel', ['turn', 'rock']],
  ['Look', ['line', 'count', 'head']],
  ['Wrench', ['wrench']],
  [LAST_GROUP, ['look', 'measure', 'depth']],
];

function kindsOf({ causes }: FindDrill): readonly (readonly [Mistake['kind'], readonly Mistake[]])[] {
  return [...new Set(causes.map(({ kind }) => kind))].map(
    (kind) => [kind, causes.filter((one) => one.kind === kind)] as const,
  );
}

/** What it was, what it does, and what finding it might have taken. */
function Truth({
  analysis,
  given,
  spent,
  onNext,
}: {
  readonly analysis: Analysis;
  readonly given: FindDrill;
  readonly spent: number;
  readonly onNext: () => void;
}): ReactNode {
  const { hidden } = given;
  const words = wordTried(hidden, analysis);
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => place.current?.focus(), []);
  const built = useMemo(
    () => analyseChange(analysis, applyMistake(analysis.model, hidden.mistake)),
    [analysis, hidden],
  );
  return (
    <div className="find-truth stack gap-3" ref={place} tabIndex={-1}>
      <p className="strong">{words.title}</p>
      <LaidSection analysis={built} stackId={hidden.mistake.slots[0]!.stack} />
      <p>
        {words.bench} {words.trail}
      </p>
      <ul className="mistake-does stack gap-2">
        {words.does.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p>
        You took {figure(spent, 2)} min. The checks that tell most take {figure(given.par_min, 2)} min.
      </p>
      <p>
        <button type="button" className="button button-main medium no-wrap" onClick={onNext}>
          Next
        </button>
      </p>
      <Deference />
    </div>
  );
}
