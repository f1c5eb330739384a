/**
 * What is left until the draft can be trusted: a list that ends there, each open line with what closes it.
 */
import { useState, type ReactNode } from 'react';
import {
  capital,
  proofKey,
  wordDraftSizeOf,
  wordProofEnd,
  wordProofStep,
  type Analysis,
  type DraftSize,
  type Proof,
  type ProofStep,
} from '../../shared/index.ts';
import { useWork } from '../page/useWork.ts';
import { today } from '../widgets/day.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { NumberAnswer, withReading } from './Answer.tsx';
import { placeOf, type Bench } from './bench.ts';
import { useMeasure } from './measureStore.ts';
import { Text } from './SizeRow.tsx';
import { MEASURE_WORDS, SIZE_BOUNDS } from './words.ts';

export function ProofCard({ bench }: { readonly bench: Bench }): ReactNode {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="draft-card fold" open={isOpen} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>Can it be trusted?</summary>
      {isOpen && bench.analysis && <Steps bench={bench} analysis={bench.analysis} />}
      {isOpen && !bench.analysis && <p>{MEASURE_WORDS.contradict}</p>}
    </details>
  );
}

function Steps({ bench, analysis }: { readonly bench: Bench; readonly analysis: Analysis }): ReactNode {
  const { draft } = bench;
  const { state } = useWork(analysis, JSON.stringify(draft), { kind: 'measure-proof', asked: { draft } });
  // The list stands while what was entered is weighed.
  const [last, setLast] = useState<Proof | undefined>(undefined);
  if (state.is === 'done' && state.given !== last) setLast(state.given);
  const proof = state.is === 'done' ? state.given : last;
  if (state.is === 'failed') return <FailedWork what="What is left" message={state.message} />;
  return (
    <div className="stack gap-3" data-is={state.is}>
      <p role="status" className={proof && state.is === 'done' ? 'large bold' : 'soft'}>
        {proof && state.is === 'done' ? wordProofEnd(proof) : MEASURE_WORDS.weighing}
      </p>
      {proof && (
        <ol className="stack gap-3">
          {proof.steps.map((step) => (
            <li key={step.code} className="size-row edged stack gap-2" data-step={step.code} data-done={step.isDone}>
              <p className="line gap-3">
                <VerdictMark verdict={step.isDone ? 'sound' : 'unsure'} />
                <span>{wordProofStep(step)}</span>
              </p>
              {!step.isDone && <Open bench={bench} analysis={analysis} step={step} proof={proof} />}
            </li>
          ))}
        </ol>
      )}
    </div>
  );
}

function Open({
  bench,
  analysis,
  step: { code, open },
  proof,
}: {
  readonly bench: Bench;
  readonly analysis: Analysis;
  readonly step: ProofStep;
  readonly proof: Proof;
}): ReactNode {
  const sizes = open.flatMap((path) => bench.sizes.find((size) => size.path === path) ?? []);
  if (code === 'settled')
    return (
      <p className="soft">
        {proof.verdicts.flatMap(({ pivot, name }) => (open.includes(pivot) ? [name] : [])).join('; ')}
      </p>
    );
  if (code === 'mistakes') return <RunMistakes bench={bench} analysis={analysis} />;
  if (code === 'second-reading') return <SecondPerson bench={bench} sizes={sizes} />;
  return <SizeButtons bench={bench} sizes={sizes} />;
}

function SizeButtons({ bench, sizes }: { readonly bench: Bench; readonly sizes: readonly DraftSize[] }): ReactNode {
  const ask = useMeasure((state) => state.ask);
  return (
    <ul className="flow gap-2">
      {sizes.map((size) => {
        const place = placeOf(bench.model, size);
        return (
          place && (
            <li key={size.path}>
              <button type="button" className="button medium" onClick={() => ask(place.stackId, place.item, size.path)}>
                {capital(wordDraftSizeOf(size))}
              </button>
            </li>
          )
        );
      })}
    </ul>
  );
}

/** Every single mistake, built and solved on the draft as it stands. */
function RunMistakes({ bench, analysis }: { readonly bench: Bench; readonly analysis: Analysis }): ReactNode {
  const put = useMeasure((state) => state.put);
  const [isAsked, setAsked] = useState(false);
  const asked = { model: analysis.model, two: false };
  const work = useWork(analysis, 'draft', isAsked ? { kind: 'mistakes', asked } : undefined);
  const { state } = work;
  if (!isAsked)
    return (
      <div>
        <button type="button" className="button medium no-wrap" onClick={() => setAsked(true)}>
          Run the mistakes
        </button>
      </div>
    );
  if (state.is !== 'done') return <WorkProgress work={work} label="Running the mistakes" />;
  const { rows } = state.given;
  const unseen = rows.filter(({ verdict }) => verdict === 'sound').length;
  return (
    <div className="stack gap-3 from-start">
      <p>
        {rows.length} mistakes were built. {unseen === 0 ? 'Each of them shows.' : `${unseen} of them show nowhere:`}
        {unseen > 0 && ' open the draft as a model to see which.'}
      </p>
      <button
        type="button"
        className="button button-main medium no-wrap"
        onClick={() => put((draft) => ({ ...draft, mistakes_run: proofKey(bench.draft) }))}
      >
        I have looked at them
      </button>
    </div>
  );
}

const LONGEST_NAME = 60;

/** The sizes that matter most, read again by somebody who does not see what the first one read. */
function SecondPerson({ bench, sizes }: { readonly bench: Bench; readonly sizes: readonly DraftSize[] }): ReactNode {
  const put = useMeasure((state) => state.size);
  const [by, setBy] = useState('');
  if (sizes.length === 0) return <p className="soft">{MEASURE_WORDS.nothingRead}</p>;
  return (
    <div className="stack gap-3">
      <p className="soft">{MEASURE_WORDS.second}</p>
      <Text label="Name of the second person" longest={LONGEST_NAME} value={by} onText={setBy} />
      {by !== '' &&
        sizes.map((size) => (
          <NumberAnswer
            key={size.path}
            label={capital(wordDraftSizeOf(size))}
            unit={size.unit}
            least={SIZE_BOUNDS[size.unit][0]}
            most={SIZE_BOUNDS[size.unit][1]}
            isFirst={false}
            button="Enter it"
            onEnter={(value) => put(size.path, withReading(size.entry, { value, from: 'measured', when: today(), by }))}
          />
        ))}
    </div>
  );
}
