/**
 * What would put a measured span right: a stack of standard shim rings, or a spacer of another length.
 *
 * A gap above 0 takes shims of that thickness, if there is a place in the span where a ring of the standard's outside
 * diameter bears on what stands still and nothing else: beside a bearing it must end on the inner ring's face, short of
 * seal and outer ring, else no shim is advised there. A gap below 0 takes a shorter spacer; no shim can shorten a
 * column. Advice is tried out in the solve before it is given. Shims: DIN 988. Lengths mm.
 */
import type { JointItem } from '../joint/joint.ts';
import { radiusRange } from '../profile/polygon.ts';
import { refuse } from '../standards/guard.ts';
import { SHIM_THICKNESSES_mm, shimFor, type ShimSize } from '../standards/shim-washers.ts';
import { kindOf } from '../parts/kinds.ts';
import { differOnlyInLength } from '../parts/look-alike.ts';
import { thickest_mm } from '../joint/thread.ts';
import type { SetTrial, SetClass } from './sets.ts';
import type { Chain } from './chain.ts';
import { spanLimits, type SpanLimits } from './span-limits.ts';

/** Why a shim may not go into a place. */
export type ShimRefusal = 'on-seal' | 'on-outer-ring' | 'overhangs' | 'hole-too-small';

/** A joint of the span into which a shim might go. */
export interface ShimPlace {
  /** Scene ids of the two parts it would lie between. */
  readonly between: readonly [string, string];
  readonly refusal?: ShimRefusal;
  /** Scene id of the part in whose way it would be. */
  readonly against?: string;
  /** Largest outside diameter that would do there, mm. */
  readonly widest_mm: number;
}

/** A spacer of the span in another length. */
export interface SpacerAdvice {
  /** Scene id of the spacer to replace. */
  readonly replaces: string;
  readonly now_mm: number;
  readonly wanted_mm: number;
  /** A part of the model's own list that has the length, else the nearest tenth to have turned. */
  readonly part?: string;
  readonly length_mm: number;
  readonly leaves_mm: number;
  readonly becomes: SetClass;
}

/** What to do about a span. */
export interface ShimAdvice {
  readonly chainId: string;
  readonly gap_mm: number;
  readonly limits?: SpanLimits;
  /** What the joint does as measured. */
  readonly now: SetClass;
  /** `none`: nothing to mend; `shim`; `spacer`: only another length helps. */
  readonly what: 'none' | 'shim' | 'spacer';
  readonly ring?: ShimSize;
  readonly thicknesses_mm?: readonly number[];
  readonly leaves_mm?: number;
  readonly becomes?: SetClass;
  readonly places: readonly ShimPlace[];
  readonly spacers: readonly SpacerAdvice[];
}

/** A gap nearer to nothing than this is left alone, mm: thinner than the thinnest pair of shims can mend, ours. */
const NOTHING_mm = 0.05;
/** Most of one stack of shims: more than two slide on one another. Common practice, no source. */
const MOST_SHIMS = 2;
/** Lengths a lathe is asked for, mm. */
const TURNED_mm = 0.1;
/** How far a shim may stand over the face it bears on, mm on the radius: ours, no source. */
const OVERHANG_mm = 0.75;

/**
 * Advice for a span whose gap is `gap_mm` (from measured lengths, else the middle of what the tolerances allow).
 * Refuses a chain that is no span.
 */
export function adviseShims(trial: SetTrial, chainId: string): ShimAdvice {
  const chain = trial.chains.find(({ id, kind }) => id === chainId && kind === 'span');
  if (!chain)
    return refuse(
      'shims',
      'span',
      chainId,
      trial.chains.flatMap(({ id, kind }) => (kind === 'span' ? [id] : [])).join(', ') ||
        'none: this pivot has no one-piece span',
    );
  const middle = measuredMiddle(trial);
  const gap_mm = chain.gap_mm + [...chain.effect].reduce((sum, [k, value]) => sum + value * middle[k]!, 0);
  const limits = spanLimits(trial, chain);
  const now = trial.build(middle).class;
  const ring = shimFor(shaft_mm(trial, chain));
  const places = ring ? placesOf(trial, chain, ring) : [];
  const spacers = spacersOf(trial, chain, gap_mm, middle);
  const base = { chainId, gap_mm, now, ...(limits ? { limits } : {}), places, spacers };
  if (Math.abs(gap_mm) < NOTHING_mm) return { ...base, what: 'none' };
  const isOpen = places.some(({ refusal }) => refusal === undefined);
  const thicknesses = gap_mm > 0 ? thicknessesFor(gap_mm) : undefined;
  if (ring && thicknesses && isOpen) {
    const added = thicknesses.reduce((sum, value) => sum + value, 0);
    const becomes = classAt(trial, chain, middle, -added);
    // A shim that leaves trouble where another spacer would not (a span within the span is off as well) is no advice.
    const isBest = becomes === 'clamps' || !spacers.some((spacer) => spacer.becomes === 'clamps');
    if (isBest) return { ...base, what: 'shim', ring, thicknesses_mm: thicknesses, leaves_mm: gap_mm - added, becomes };
  }
  return { ...base, what: 'spacer', ...(ring ? { ring } : {}) };
}

/** Deviations with every measured dimension at its measure, the others nominal. */
function measuredMiddle({ dimensions }: SetTrial): Float64Array {
  return Float64Array.from(dimensions.list, ({ basis, lower_mm, upper_mm }) =>
    basis === 'measured' ? (lower_mm + upper_mm) / 2 : 0,
  );
}

/** What a build becomes when the column of the span is made longer by −`by_mm`. */
function classAt(trial: SetTrial, chain: Chain, middle: Float64Array, by_mm: number): SetClass {
  const [dimension, coefficient] = spacerTerm(trial, chain) ?? [...chain.effect][0]!;
  const deviation = Float64Array.from(middle);
  deviation[dimension]! += by_mm / coefficient;
  return trial.build(deviation).class;
}

/** A loose length of the span that a shim adds to. */
function spacerTerm({ dimensions }: SetTrial, chain: Chain): readonly [number, number] | undefined {
  return [...chain.effect].find(([k]) => dimensions.list[k]!.kind === 'length');
}

/** One or two standard thicknesses nearest to a gap, the fewest first. */
function thicknessesFor(gap_mm: number): number[] | undefined {
  let best: number[] | undefined;
  let off = Math.abs(gap_mm);
  const tryOut = (set: number[]): void => {
    const left = Math.abs(gap_mm - set.reduce((sum, value) => sum + value, 0));
    // A second shim must be worth its while.
    if (left < off - (set.length > 1 ? 0.02 : 1e-9)) [best, off] = [set, left];
  };
  for (const one of SHIM_THICKNESSES_mm) tryOut([one]);
  if (MOST_SHIMS > 1)
    for (const one of SHIM_THICKNESSES_mm)
      for (const other of SHIM_THICKNESSES_mm) if (other <= one) tryOut([one, other]);
  return best;
}

/** Thickest of the axle within the span, mm. */
function shaft_mm(trial: SetTrial, chain: Chain): number {
  const own = trial.joint.stacks.find(({ stack }) => stack.id === chain.stackId)!;
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const places = itemsOf(trial, chain).map((item) => sign * (placeOf(trial, item) - own.axle.z0));
  const [near, far] = [Math.min(...places), Math.max(...places)];
  return thickest_mm(own.stack.axle.part, near, far);
}

function itemsOf({ joint }: SetTrial, chain: Chain): JointItem[] {
  const items = joint.stacks.flatMap((own) => own.items);
  return chain.parts.map((id) => items.find((item) => item.id === id)!);
}

/** Middle of an item along the axis before tightening, mm. */
function placeOf({ joint }: SetTrial, item: JointItem): number {
  const own = joint.pieces
    .filter((piece) => piece.item === item)
    .flatMap((piece) => piece.solid.polygon.map(([, z]) => z));
  return (Math.min(...own) + Math.max(...own)) / 2;
}

function placesOf(trial: SetTrial, chain: Chain, ring: ShimSize): ShimPlace[] {
  const items = itemsOf(trial, chain);
  return items.slice(1).map((to, k): ShimPlace => {
    const from = items[k]!;
    const judged = [faceLimit(trial, from), faceLimit(trial, to)];
    const tightest = judged.reduce((a, b) => (b.widest_mm < a.widest_mm ? b : a));
    const between = [from.id, to.id] as const;
    const hole = Math.max(...judged.map(({ hole_mm }) => hole_mm));
    if (tightest.widest_mm <= hole)
      return { between, widest_mm: tightest.widest_mm, refusal: 'hole-too-small', against: tightest.item.id };
    if (ring.outside_mm <= tightest.widest_mm + 1e-9) return { between, widest_mm: tightest.widest_mm };
    const { bearing } = tightest.item;
    const refusal: ShimRefusal = bearing
      ? ring.outside_mm > bearing.outerShoulder_mm
        ? 'on-outer-ring'
        : 'on-seal'
      : 'overhangs';
    return { between, widest_mm: tightest.widest_mm, refusal, against: tightest.item.id };
  });
}

/** Widest ring that bears on an item's face and no further, and the hole a ring must pass there. */
function faceLimit(
  trial: SetTrial,
  item: JointItem,
): { readonly item: JointItem; readonly widest_mm: number; readonly hole_mm: number } {
  if (item.bearing)
    return {
      item,
      widest_mm: Math.min(item.bearing.innerShoulder_mm, item.bearing.abutmentMax_mm),
      hole_mm: item.bearing.bore_mm,
    };
  const radii = trial.joint.pieces
    .filter((piece) => piece.item === item)
    .map((piece) => radiusRange(piece.solid.polygon));
  return {
    item,
    widest_mm: 2 * (Math.max(...radii.map(([, high]) => high)) + OVERHANG_mm),
    hole_mm: 2 * Math.min(...radii.map(([low]) => low)),
  };
}

function spacersOf(trial: SetTrial, chain: Chain, gap_mm: number, middle: Float64Array): SpacerAdvice[] {
  const { list } = trial.dimensions;
  const items = itemsOf(trial, chain);
  const found = [...chain.effect].flatMap(([k, coefficient]): SpacerAdvice[] => {
    const dimension = list[k]!;
    const item = items.find((candidate) => candidate.id === dimension.items[0]);
    if (dimension.kind !== 'length' || item?.role !== 'spacer') return [];
    const now_mm = dimension.nominal_mm + middle[k]!;
    const wanted_mm = now_mm - gap_mm / coefficient;
    if (wanted_mm <= 0.5 || Math.abs(gap_mm) < NOTHING_mm) return [];
    const known = sameButLength(trial, item, wanted_mm);
    const length_mm = known?.length_mm ?? Math.round(wanted_mm / TURNED_mm) / Math.round(1 / TURNED_mm);
    const deviation = Float64Array.from(middle);
    deviation[k] = length_mm - dimension.nominal_mm;
    return [
      {
        replaces: item.id,
        now_mm,
        wanted_mm,
        ...(known ? { part: known.id } : {}),
        length_mm,
        leaves_mm: gap_mm + coefficient * (length_mm - now_mm),
        becomes: trial.build(deviation).class,
      },
    ];
  });
  // What mends this span and spoils another is advice for nobody, unless nothing better is left.
  const good = found.filter(({ becomes }) => becomes === 'clamps');
  return good.length > 0 ? good : found;
}

/** A part of the list that could stand in for a ring but for its length, nearest to the wanted one. */
function sameButLength(
  { joint }: SetTrial,
  item: JointItem,
  wanted_mm: number,
): { readonly id: string; readonly length_mm: number } | undefined {
  const own = item.made!;
  const found = Object.entries(joint.model.parts).flatMap(([id, part]) =>
    id !== item.part && 'length_mm' in part && kindOf(own).fillsGap && differOnlyInLength(own, part)
      ? [{ id, length_mm: part.length_mm }]
      : [],
  );
  return found
    .filter(({ length_mm }) => Math.abs(length_mm - wanted_mm) <= NOTHING_mm)
    .sort((a, b) => Math.abs(a.length_mm - wanted_mm) - Math.abs(b.length_mm - wanted_mm))[0];
}
