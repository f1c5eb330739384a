/**
 * The bars of a histogram with their axis, as plain numbers: lengths are mm or CSS pixels as their names say.
 */
import { SET_CLASSES, type Bin, type SetClass } from '../../shared/index.ts';

/** One bar of a histogram: its stretch along the axis and the pixels each class takes, from the ground up. */
interface Bar {
  readonly x_px: number;
  readonly width_px: number;
  readonly stacks: readonly {
    readonly class: SetClass;
    readonly from_px: number;
    readonly height_px: number;
    readonly count: number;
  }[];
}

/** Least height at which a bar of a few sets can still be seen. */
const LEAST_px = 3;

/** An axis in mm laid over pixels. */
interface Axis {
  readonly low_mm: number;
  readonly high_mm: number;
  at(value_mm: number): number;
  readonly ticks: readonly number[];
}

/** The axis of a histogram: over the bins and whatever else must be seen, in round steps. */
export function layAxis(bins: readonly Bin[], also_mm: readonly number[], width_px: number): Axis {
  const ends = [...bins.flatMap(({ from_mm, to_mm }) => [from_mm, to_mm]), ...also_mm, 0];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const margin = 0.04 * (most - least || 0.1);
  const [low_mm, high_mm] = [least - margin, most + margin];
  const step = roundStep((high_mm - low_mm) / Math.max(2, Math.floor(width_px / 90)));
  const ticks: number[] = [];
  for (let k = Math.ceil(low_mm / step); k * step <= high_mm; k++) ticks.push(Number((k * step).toFixed(6)));
  return { low_mm, high_mm, ticks, at: (value_mm) => ((value_mm - low_mm) / (high_mm - low_mm)) * width_px };
}

/** A step of 1, 2 or 5 times a power of ten, no smaller than asked for. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return ([1, 2, 5, 10].find((factor) => factor * power >= least - 1e-12) ?? 10) * power;
}

/** The bars of a histogram `height_px` high. */
export function layBars(bins: readonly Bin[], axis: Axis, height_px: number): Bar[] {
  const total = (bin: Bin): number => SET_CLASSES.reduce((sum, name) => sum + bin.counts[name], 0);
  const most = Math.max(1, ...bins.map(total));
  return bins.map((bin) => {
    let from_px = 0;
    const stacks = SET_CLASSES.flatMap((name) => {
      const count = bin.counts[name];
      if (count === 0) return [];
      const bar = { class: name, from_px, height_px: Math.max(LEAST_px, (count / most) * height_px), count };
      from_px += bar.height_px;
      return [bar];
    });
    return { x_px: axis.at(bin.from_mm), width_px: axis.at(bin.to_mm) - axis.at(bin.from_mm), stacks };
  });
}
