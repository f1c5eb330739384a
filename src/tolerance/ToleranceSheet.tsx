/**
 * How far the parts of a pivot may differ: limits of each length, measured ones in their place, sampled sets with
 * progress and stop, a histogram a span, and what would mend a span that is off.
 */
import { useId, useMemo, useRef, useState, type ReactNode } from 'react';
import {
  DEFAULT_SETS,
  GENERAL_CLASSES,
  listDimensions,
  wordDimension,
  wordDimensionLimits,
  wordSampling,
  wordShims,
  type Analysis,
  type Dimension,
  type GeneralClass,
  type PivotAnalysis,
  type ToleranceQuestion,
  type ToleranceReport,
} from '../../shared/index.ts';
import { readTyped } from '../words.ts';
import { useWork } from '../page/useWork.ts';
import { Dialog } from '../widgets/Dialog.tsx';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { ChainView } from './ChainView.tsx';
import { CountBar } from './CountBar.tsx';

const CLASS_WORDS: Readonly<Record<GeneralClass, string>> = { f: 'fine (f)', m: 'medium (m)', c: 'coarse (c)' };
const BUILD_COUNTS = [1000, DEFAULT_SETS, 50_000] as const;

interface Props {
  readonly pivot: PivotAnalysis;
  readonly analysis: Analysis;
  readonly onClose: () => void;
}

export function ToleranceSheet({ pivot, analysis, onClose }: Props): ReactNode {
  const { model } = analysis;
  const [generalClass, setClass] = useState<GeneralClass>('f');
  const [draw, setDraw] = useState<'bell' | 'even'>('bell');
  const [sets, setSets] = useState<number>(DEFAULT_SETS);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [asked, setAsked] = useState<ToleranceQuestion | undefined>(undefined);
  const go = useRef<HTMLButtonElement>(null);
  const work = useWork(
    analysis,
    JSON.stringify(asked),
    asked && { kind: 'tolerance', asked: { model, question: asked } },
  );
  const dimensions = useMemo(() => listDimensions(model, pivot.id, { generalClass }), [model, pivot.id, generalClass]);
  const measured = measuredOf(typed, dimensions);
  const isRunning = work.state.is === 'running';
  const start = (): void => {
    work.again();
    setAsked({
      pivotId: pivot.id,
      generalClass,
      draw,
      sets,
      ...(Object.keys(measured.lengths).length > 0 ? { measured_mm: measured.lengths } : {}),
    });
  };
  return (
    <Dialog title={`What tolerances do: ${pivot.name}`} isWide onClose={onClose}>
      <div className="tolerance stack gap-5 usual">
        <p>
          Bearing rings by ISO 492; every other length by the class of ISO 2768-1 chosen here, since the model gives no
          tolerances. Measured lengths take the place of the written ones.
        </p>
        <div className="tolerance-asks stack gap-4">
          <Choose
            word="Class of the other lengths"
            value={generalClass}
            onChange={setClass}
            choices={GENERAL_CLASSES.map((name) => [name, CLASS_WORDS[name]])}
          />
          <Choose
            word="How sizes spread"
            value={draw}
            onChange={setDraw}
            choices={[
              ['bell', 'most near the middle'],
              ['even', 'anywhere in their limits'],
            ]}
          />
          <Choose
            word="Sets of parts"
            value={String(sets)}
            onChange={(value) => setSets(Number(value))}
            choices={BUILD_COUNTS.map((count) => [String(count), count.toLocaleString('en-GB')])}
          />
        </div>
        <Measures
          dimensions={dimensions}
          typed={typed}
          wrong={measured.wrong}
          analysis={analysis}
          onType={(id, text) => setTyped((known) => ({ ...known, [id]: text }))}
        />
        <div className="tolerance-go line wrap gap-5">
          <button
            ref={go}
            type="button"
            className="button button-main medium no-wrap"
            aria-disabled={isRunning || measured.wrong.size > 0}
            onClick={() => !isRunning && measured.wrong.size === 0 && start()}
          >
            Draw them
          </button>
          <WorkProgress
            work={{
              ...work,
              stop: () => {
                work.stop();
                go.current?.focus();
              },
            }}
            label="Building"
            isBegunElsewhere
          />
        </div>
        {work.state.is === 'done' && <Result report={work.state.given} analysis={analysis} />}
      </div>
    </Dialog>
  );
}

interface Measured {
  readonly lengths: Readonly<Record<string, number>>;
  /** Ids whose text is no length that part could have. */
  readonly wrong: ReadonlySet<string>;
}

/** Furthest a measured length is taken for that part's, mm: what the core allows. */
const FURTHEST_mm = 3;

function measuredOf(typed: Readonly<Record<string, string>>, dimensions: readonly Dimension[]): Measured {
  const lengths: Record<string, number> = {};
  const wrong = new Set<string>();
  for (const { id, nominal_mm } of dimensions) {
    const value = readTyped(typed[id] ?? '');
    if (value === undefined) continue;
    if (Math.abs(value - nominal_mm) <= FURTHEST_mm) lengths[id] = value;
    else wrong.add(id);
  }
  return { lengths, wrong };
}

function Choose<T extends string>({
  word,
  value,
  choices,
  onChange,
}: {
  readonly word: string;
  readonly value: T;
  readonly choices: readonly (readonly [T, string])[];
  readonly onChange: (value: T) => void;
}): ReactNode {
  const id = useId();
  return (
    <label className="field stack gap-1 medium" htmlFor={id}>
      {word}
      <select
        id={id}
        className="select strong slim on-sheet"
        value={value}
        onChange={(event) => onChange(event.target.value as T)}
      >
        {choices.map(([name, said]) => (
          <option key={name} value={name}>
            {said}
          </option>
        ))}
      </select>
    </label>
  );
}

interface MeasuresProps {
  readonly dimensions: readonly Dimension[];
  readonly typed: Readonly<Record<string, string>>;
  readonly wrong: ReadonlySet<string>;
  readonly analysis: Analysis;
  readonly onType: (id: string, text: string) => void;
}

/** The lengths that count in a chain are the loose parts' and the members' own; steps and lands are measured rarely. */
const USUAL: readonly Dimension['kind'][] = ['length', 'bearing-width', 'boss-width', 'between-seats', 'span'];

function Measures({ dimensions, typed, wrong, analysis, onType }: MeasuresProps): ReactNode {
  const count = Object.values(typed).filter((text) => text.trim() !== '').length;
  return (
    <details className="fold fold-box">
      <summary>{count === 0 ? 'Measured lengths' : `Measured lengths: ${count}`}</summary>
      <div className="fold-page measures stack">
        {dimensions
          .filter(({ kind }) => USUAL.includes(kind))
          .map((dimension) => (
            <label key={dimension.id} className="measure stack gap-1 medium" htmlFor={`measure-${dimension.id}`}>
              <span>
                {wordDimension(dimension, analysis)}{' '}
                <span className="measure-limits soft small">{wordDimensionLimits(dimension)}</span>
              </span>
              <input
                id={`measure-${dimension.id}`}
                className="input numbers strong slim full on-sheet"
                inputMode="decimal"
                placeholder={String(Number(dimension.nominal_mm.toFixed(2)))}
                value={typed[dimension.id] ?? ''}
                aria-invalid={wrong.has(dimension.id)}
                onChange={(event) => onType(dimension.id, event.target.value)}
              />
              {wrong.has(dimension.id) && (
                <span className="small trouble-words" role="alert">
                  A length in mm within {FURTHEST_mm} mm of the written one.
                </span>
              )}
            </label>
          ))}
      </div>
    </details>
  );
}

function Result({ report, analysis }: { readonly report: ToleranceReport; readonly analysis: Analysis }): ReactNode {
  const { title, text } = wordSampling(report.sampling, report.dimensions, analysis);
  const spans = report.chains.filter(({ kind }) => kind === 'span');
  const rest = report.chains.filter(({ kind }) => kind !== 'span');
  return (
    <section className="tolerance-result stack gap-5 usual" aria-label="What came of it">
      <h3>{title}</h3>
      <CountBar counts={report.sampling.counts} />
      <p>{text}</p>
      {report.shims.map((advice) => {
        const words = wordShims(advice, analysis);
        return (
          <div key={advice.chainId} className="shim callout stack gap-1">
            <h4>{words.title}</h4>
            <p>{words.text}</p>
          </div>
        );
      })}
      {[...spans, ...rest].map((chain) => (
        <ChainView key={chain.id} chain={chain} report={report} analysis={analysis} />
      ))}
    </section>
  );
}
