/**
 * What is wrong with it: what is felt goes in, what it may be comes out, with the next check that tells most a minute.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import {
  diagnose,
  FELT_CODES,
  withAnswers,
  wordAsk,
  wordDiagnosis,
  wordNextCheck,
  wordSymptom,
  type Analysis,
  type Ask,
  type Diagnosing,
  type Diagnosis,
  type FeltAnswer,
  type SymptomCode,
} from '../../shared/index.ts';
import { buildName } from '../page/models.ts';
import { act, useApp } from '../page/store.ts';
import { useWork } from '../page/useWork.ts';
import { PlaceHead } from '../tray/PlaceHead.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { AskCard } from './AskCard.tsx';
import { CauseList } from './CauseList.tsx';
import { Chances } from './Chances.tsx';
import { useFelt } from './feltStore.ts';
import { Pictogram } from './Pictogram.tsx';

const NONE: readonly FeltAnswer[] = [];
const MARKS: Readonly<Record<FeltAnswer['is'], string>> = { yes: 'Yes', no: 'No', unsure: 'Cannot say' };

export default function FeltPlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const pivotId = useApp((state) => state.pivotId);
  const pivot = analysis.pivots.find(({ id }) => id === pivotId);
  const build = buildName(analysis.model.id, analysis.variant);
  const { openFor, say } = useFelt.getState();
  useEffect(() => openFor(build), [openFor, build]);
  const all = useFelt((state) => state.said);
  const said = (pivotId === undefined ? undefined : all?.[pivotId]) ?? NONE;
  return (
    <main className="felt stack fit on-sheet">
      <PlaceHead title="What is wrong with it?" said={<p className="soft">{pivot?.name ?? 'Which pivot?'}</p>}>
        {pivot && (
          <button type="button" className="button medium no-wrap" onClick={() => act.pickPivot(undefined)}>
            Another pivot
          </button>
        )}
        {pivot && said.length > 0 && (
          <button type="button" className="button medium no-wrap" onClick={() => say(pivot.id, () => NONE)}>
            Start again
          </button>
        )}
      </PlaceHead>
      <div className="felt-page scroll fit">
        {pivot ? (
          all && (
            <Bench
              key={`${build} ${pivot.id}`}
              analysis={analysis}
              pivotId={pivot.id}
              said={said}
              say={(change) => say(pivot.id, change)}
            />
          )
        ) : (
          <ul className="felt-pivots stack gap-2">
            {analysis.pivots.map(({ id, name }) => (
              <li key={id}>
                <button type="button" className="go-button warms press strong" onClick={() => act.pickPivot(id)}>
                  {name}
                </button>
              </li>
            ))}
          </ul>
        )}
      </div>
    </main>
  );
}

interface BenchProps {
  readonly analysis: Analysis;
  readonly pivotId: string;
  readonly said: readonly FeltAnswer[];
  readonly say: (change: (said: readonly FeltAnswer[]) => readonly FeltAnswer[]) => void;
}

function Bench({ analysis, pivotId, said, say }: BenchProps): ReactNode {
  const work = useWork(analysis, pivotId, { kind: 'felt', asked: { analysis, pivotId } });
  const set = work.state.is === 'done' ? work.state.given : undefined;
  const [asked, setAsked] = useState<SymptomCode | undefined>(undefined);
  const top = useRef<HTMLDivElement>(null);
  const answer = (answers: readonly FeltAnswer[]): void => {
    say((before) => withAnswers(before, answers));
    setAsked(undefined);
    top.current?.focus();
  };
  const isSaid = said.length > 0;
  const tiles = (
    <section key="tiles" className="felt-more stack gap-4">
      <h3>{isSaid ? 'Anything else?' : 'What do you feel, see or hear?'}</h3>
      <ul className="felt-tiles">
        {FELT_CODES.map((code) => {
          const own = said.filter(({ key }) => key === code || key.startsWith(`${code}:`));
          const mark = own.find(({ is }) => is === 'yes') ?? own[0];
          return (
            <li key={code}>
              <button
                type="button"
                className="felt-tile press warms line gap-3 medium"
                aria-pressed={mark !== undefined}
                onClick={() => {
                  setAsked(code);
                  top.current?.focus();
                  top.current?.scrollIntoView({ block: 'nearest' });
                }}
              >
                <Pictogram code={code} size="2.5rem" />
                <span className="stack">
                  <span>{wordSymptom(code)}</span>
                  {mark && <span className="small">{MARKS[mark.is]}</span>}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
  const causes = (
    <section key="causes" className="felt-causes stack gap-4" aria-label="What it may be">
      <WorkProgress work={work} label="Every cause is tried" />
      {set && isSaid && <Found set={set} said={said} analysis={analysis} />}
      {set && !isSaid && <p className="soft">Say one thing first. Then the causes stand here.</p>}
      <Chances />
      <Deference />
    </section>
  );
  return (
    <div className="felt-bench">
      <div key="said" className="felt-said stack gap-4">
        <div className="stack gap-4" ref={top} tabIndex={-1}>
          {asked ? (
            <AskCard
              ask={{ key: asked, code: asked }}
              analysis={analysis}
              title="You say"
              onAnswer={answer}
              onLeave={() => setAsked(undefined)}
            />
          ) : (
            set && isSaid && <NextCard set={set} said={said} analysis={analysis} onAnswer={answer} />
          )}
        </div>
        {isSaid && <SaidList said={said} asks={set?.asks ?? []} analysis={analysis} onTake={say} />}
      </div>
      {isSaid ? [causes, tiles] : [tiles, causes]}
    </div>
  );
}

interface OfSet {
  readonly set: Diagnosing;
  readonly said: readonly FeltAnswer[];
  readonly analysis: Analysis;
}

function useFound(set: Diagnosing, said: readonly FeltAnswer[]): Diagnosis {
  const own = useFelt((state) => state.own);
  return useMemo(() => diagnose(set, said, own), [set, said, own]);
}

function NextCard({ set, said, analysis, onAnswer }: OfSet & { onAnswer: (a: readonly FeltAnswer[]) => void }) {
  const { next } = useFound(set, said);
  if (!next) return null;
  const { text, why } = wordNextCheck(next, set.pivot, analysis);
  return <AskCard ask={next.ask} analysis={analysis} title="Check next" how={text} why={why} onAnswer={onAnswer} />;
}

function Found({ set, said, analysis }: OfSet): ReactNode {
  const found = useFound(set, said);
  const { title, text } = wordDiagnosis(found, set.pivot, analysis);
  return (
    <>
      <div className="callout stack gap-1" role="status">
        <h3>{title}</h3>
        <p>{text}</p>
      </div>
      <CauseList found={found} pivotId={set.pivot} analysis={analysis} />
    </>
  );
}

interface SaidProps {
  readonly said: readonly FeltAnswer[];
  readonly asks: readonly Ask[];
  readonly analysis: Analysis;
  readonly onTake: BenchProps['say'];
}

function SaidList({ said, asks, analysis, onTake }: SaidProps): ReactNode {
  const wordOf = (key: string): string => {
    const ask = asks.find((one) => one.key === key);
    const code = FELT_CODES.find((known) => known === key.split(':')[0]);
    return ask ? wordAsk(ask, analysis) : code ? wordSymptom(code) : key;
  };
  return (
    <ul className="flow gap-2" aria-label="What you said">
      {said.map(({ key, is }) => (
        <li key={key}>
          <button
            type="button"
            className="button button-small medium"
            aria-label={`${wordOf(key)}: ${MARKS[is]}. Take it back`}
            onClick={() => onTake((before) => before.filter((one) => one.key !== key))}
          >
            {wordOf(key)}: {`${MARKS[is]}\u00a0×`}
          </button>
        </li>
      ))}
    </ul>
  );
}
