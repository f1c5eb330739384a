/**
 * The track of a run: a slider with the sides one stands on along it, and a mark where another task begins.
 *
 * The letter of a side stands where one goes there; letters that would touch give way, the one of the step shown never.
 */
import { useMemo, useRef, type ReactNode } from 'react';
import { standOf, taskStarts, type Run } from './orderRun.ts';
import { useSize } from '../widgets/useSize.ts';

interface Props {
  readonly run: Run;
  /** Steps done, 0 before the first. */
  readonly at: number;
  /** What a screen reader says of it. */
  readonly said: string;
  readonly onTo: (at: number) => void;
}

/** Room a letter takes, px. */
const LETTER_px = 18;
/** More marks than one in so many px would be a grey bar. */
const MARK_px = 5;

export function Track({ run, at, said, onTo }: Props): ReactNode {
  const track = useRef<HTMLLabelElement>(null);
  const { width_px, typeScale } = useSize(track);
  const total = run.steps.length;
  const sides = useMemo(() => sidesOf(run), [run]);
  const tasks = useMemo(() => new Set(taskStarts(run)), [run]);
  const isWith = (from: number): boolean => from <= at && at > 0;
  const here = sides.findLast(({ from }) => isWith(from)) ?? sides[0];
  const px = (step: number): number => (step / Math.max(1, total)) * width_px;
  return (
    <label className="track slim anchor as-block" ref={track}>
      <span className="away clip no-wrap">Step</span>
      <span className="track-marks" aria-hidden="true">
        {lettered(sides, here, (from) => px(from), LETTER_px * typeScale).map(({ from, letter }) => (
          <span
            key={`side ${from}`}
            className="track-side small bold"
            data-here={from === here?.from}
            style={{ left: `${(from / total) * 100}%` }}
          >
            {letter}
          </span>
        ))}
        {ticked(total, tasks, px).map((from) => (
          <span
            key={from}
            className={tasks.has(from) ? 'tick tick-first' : 'tick'}
            data-passed={isWith(from)}
            style={{ left: `${(from / total) * 100}%` }}
          />
        ))}
      </span>
      <input
        type="range"
        className="range full"
        min={0}
        max={total}
        step={1}
        value={at}
        disabled={total === 0}
        aria-valuetext={said}
        onChange={(event) => onTo(event.target.valueAsNumber)}
      />
    </label>
  );
}

interface SideMark {
  /** The step at which one goes there, from 1. */
  readonly from: number;
  readonly letter: 'N' | 'D' | 'B';
}

const LETTERS = { drive: 'D', 'non-drive': 'N', bench: 'B' } as const;

/** Where one goes to another side. */
function sidesOf({ steps }: Run): readonly SideMark[] {
  return steps.flatMap((step, k) => {
    const [stand, before] = [standOf(step), k > 0 ? standOf(steps[k - 1]!) : undefined];
    return stand === before ? [] : [{ from: k + 1, letter: LETTERS[stand] }];
  });
}

/** The letters that have room: the one that holds now, then from the left. */
function lettered(
  sides: readonly SideMark[],
  here: SideMark | undefined,
  px: (from: number) => number,
  room_px: number,
): readonly SideMark[] {
  const kept: SideMark[] = here ? [here] : [];
  for (const side of sides)
    if (kept.every(({ from }) => Math.abs(px(from) - px(side.from)) >= room_px)) kept.push(side);
  return kept;
}

/** The steps that are marked, with air between them: all of them, or where tasks begin, as far as there is room. */
function ticked(total: number, tasks: ReadonlySet<number>, px: (from: number) => number): readonly number[] {
  const all = Array.from({ length: total }, (_, k) => k + 1);
  if (px(1) >= MARK_px) return all;
  let last = Number.NEGATIVE_INFINITY;
  return all.filter((from) => {
    if (!tasks.has(from) || px(from) - last < MARK_px) return false;
    last = px(from);
    return true;
  });
}
