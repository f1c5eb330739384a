/**
 * What the torque screen draws, as plain numbers: the zones of a window along its strip, the bars of a histogram with
 * their axis, and what a person types read as a number.
 *
 * Shares run from 0 to 1 along a strip, lengths are mm or CSS pixels as their names say.
 */
import { BUILD_CLASSES, type Bin, type BuildClass, type TorqueWindow } from '../../shared/index.ts';

export type ZoneKind = 'too-little' | 'perhaps-little' | 'right' | 'perhaps-much' | 'too-much' | 'doubtful';

/** A stretch of the strip. */
interface Zone {
  readonly kind: ZoneKind;
  readonly from: number;
  readonly to: number;
}

/** A strip laid out: shares along it. */
interface Strip {
  readonly zones: readonly Zone[];
  readonly spec: number;
  /** Where the right zone begins and ends for sure; undefined where there is none. */
  readonly from?: number;
  readonly to: number;
  /** Torque at the strip's right end, N·m. */
  readonly end_Nm: number;
}

/** Lay a window out along a strip that begins at nothing. */
export function layStrip(window: TorqueWindow): Strip {
  const top = Math.min(...window.most.map((limit) => limit.possible_Nm));
  const end_Nm = 1.06 * Math.max(top, window.spec_Nm * 1.1);
  const share = (torque_Nm: number): number => Math.min(1, Math.max(0, torque_Nm / end_Nm));
  const { least, to_Nm, from_Nm, spec_Nm } = window;
  const low = least ? share(least.possible_Nm) : 1;
  const sure = from_Nm === undefined ? 1 : share(from_Nm);
  const end = share(to_Nm);
  const over = share(top);
  const edges: Zone[] = [
    { kind: 'too-little', from: 0, to: Math.min(low, over) },
    // Where friction leaves no sure torque the two doubts overlap.
    ...(sure <= end
      ? [
          { kind: 'perhaps-little' as const, from: low, to: sure },
          { kind: 'right' as const, from: sure, to: end },
          { kind: 'perhaps-much' as const, from: end, to: over },
        ]
      : [{ kind: 'doubtful' as const, from: Math.min(low, over), to: over }]),
    { kind: 'too-much', from: over, to: 1 },
  ];
  return {
    zones: edges.filter(({ from, to }) => to - from > 1e-9),
    spec: share(spec_Nm),
    ...(from_Nm === undefined ? {} : { from: sure }),
    to: end,
    end_Nm,
  };
}

/** One bar of a histogram: its stretch along the axis and the pixels each class takes, from the ground up. */
interface Bar {
  readonly x_px: number;
  readonly width_px: number;
  readonly stacks: readonly {
    readonly class: BuildClass;
    readonly from_px: number;
    readonly height_px: number;
    readonly count: number;
  }[];
}

/** Least height at which a bar of a few builds can still be seen. */
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
  const total = (bin: Bin): number => BUILD_CLASSES.reduce((sum, name) => sum + bin.counts[name], 0);
  const most = Math.max(1, ...bins.map(total));
  return bins.map((bin) => {
    let from_px = 0;
    const stacks = BUILD_CLASSES.flatMap((name) => {
      const count = bin.counts[name];
      if (count === 0) return [];
      const bar = { class: name, from_px, height_px: Math.max(LEAST_px, (count / most) * height_px), count };
      from_px += bar.height_px;
      return [bar];
    });
    return { x_px: axis.at(bin.from_mm), width_px: axis.at(bin.to_mm) - axis.at(bin.from_mm), stacks };
  });
}

/** A number as a person types it, comma or point; undefined for an empty field, NaN for what is none. */
export function readTyped(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return plain === '' ? undefined : Number(plain);
}
