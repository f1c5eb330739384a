/**
 * How far a span's gap may be off before the build no longer clamps, everything else as it is.
 *
 * One dimension of the span alone is moved off in small steps both ways through the clamp solve, and the place where
 * the class changes is narrowed down: the limits a histogram of gaps is read against. Lengths mm.
 */
import { DIMENSION_KINDS, type Dimension } from './dimensions.ts';
import type { SetTrial } from './sets.ts';
import type { Chain } from './chain.ts';

/** Gaps between which the joint clamps; an end is left out where no trouble is met within reach. */
export interface SpanLimits {
  readonly low_mm?: number;
  readonly high_mm?: number;
}

const STEP_mm = 0.05;
const REACH_mm = 3;
/** How finely an end is narrowed down, mm. */
const FINE_mm = 0.002;

/** Limits of a span's gap; undefined for a chain that is no span, or where the joint does not clamp as it stands. */
export function spanLimits(trial: SetTrial, chain: Chain): SpanLimits | undefined {
  const { list } = trial.dimensions;
  if (chain.kind !== 'span') return undefined;
  const term = [...chain.effect].sort(([a], [b]) => preference(list[a]!) - preference(list[b]!))[0];
  if (!term) return undefined;
  const [dimension, coefficient] = term;
  const middle = Float64Array.from(list, ({ lower_mm, upper_mm, basis }) =>
    basis === 'measured' ? (lower_mm + upper_mm) / 2 : 0,
  );
  const start = chain.gap_mm + [...chain.effect].reduce((sum, [k, value]) => sum + value * middle[k]!, 0);
  const clampsAt = (gap_mm: number): boolean => {
    const deviation = Float64Array.from(middle);
    deviation[dimension]! += (gap_mm - start) / coefficient;
    return trial.build(deviation).class === 'clamps';
  };
  if (!clampsAt(start)) return undefined;
  const edge = (sign: 1 | -1): number | undefined => {
    let inside = start;
    for (let away = STEP_mm; away <= REACH_mm; away += STEP_mm) {
      const next = start + sign * away;
      if (clampsAt(next)) inside = next;
      else return narrow(clampsAt, inside, next);
    }
    return undefined;
  };
  const [low_mm, high_mm] = [edge(-1), edge(1)];
  return { ...(low_mm === undefined ? {} : { low_mm }), ...(high_mm === undefined ? {} : { high_mm }) };
}

/** What is moved off: the member's own distance before a loose part. */
function preference({ kind }: Dimension): number {
  return kind === 'span' ? -2 : kind === 'between-seats' ? -1 : DIMENSION_KINDS.indexOf(kind);
}

function narrow(clampsAt: (gap_mm: number) => boolean, inside: number, outside: number): number {
  let [good, bad] = [inside, outside];
  while (Math.abs(bad - good) > FINE_mm) {
    const middle = (good + bad) / 2;
    if (clampsAt(middle)) good = middle;
    else bad = middle;
  }
  return good;
}
