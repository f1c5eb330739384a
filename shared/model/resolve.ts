/**
 * Look-ups on a model that has passed its checks: bearings with their table row, seats of bearings, places of bores.
 *
 * Where a ring's shoulders are not known they are estimated by the stated rule of `standards/bearings.ts`, and the
 * resolved bearing says so.
 */
import {
  estimateAxialPlay_mm,
  estimateAxialStiffness_N_per_mm,
  estimateShoulders,
  findBearing,
} from '../standards/bearings.ts';
import type { LinkageModel, MemberBore, Pivot, PartOf, Side, Stack } from './schema.ts';

/** The entry a file defines under `key`: never what every object inherits, such as `constructor`. */
export function entryOf<T>(record: Readonly<Record<string, T>> | undefined, key: string | undefined): T | undefined {
  return record !== undefined && key !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
}

/** A bearing with every size known; mm, N/mm, N. `estimated` lists what no source gives. */
export interface ResolvedBearing {
  readonly designation?: string;
  readonly bore_mm: number;
  readonly outside_mm: number;
  readonly width_mm: number;
  readonly chamfer_mm: number;
  readonly innerShoulder_mm: number;
  readonly outerShoulder_mm: number;
  /** Largest outside diameter of a ring against the inner ring, by the maker's table or the estimate. */
  readonly abutmentMax_mm: number;
  /** Whole axial play of the inner ring against the outer ring. */
  readonly axialPlay_mm: number;
  readonly axialStiffness_N_per_mm: number;
  readonly staticRating_N?: number;
  readonly source: string;
  readonly estimated: readonly ('shoulders' | 'axial-play' | 'axial-stiffness')[];
  /** How far an estimated shoulder diameter may be off; 0 when known. */
  readonly shoulderDoubt_mm: number;
}

/** Spread of ring faces between makers and editions, mm: what a table row taken over from a like bearing may be off by (published-values 1.2). */
const MAKER_SPREAD_mm = 0.6;

/** Sizes of a bearing part: the file's own first, then the table's, then the estimate. */
export function resolveBearing(part: PartOf<'bearing'>): ResolvedBearing {
  const row = part.designation === undefined ? undefined : findBearing(part.designation);
  const bore_mm = part.bore_mm ?? row?.bore_mm;
  const outside_mm = part.outside_mm ?? row?.outside_mm;
  const width_mm = part.width_mm ?? row?.width_mm;
  if (bore_mm === undefined || outside_mm === undefined || width_mm === undefined) {
    throw new Error(`resolve: bearing ${part.name}: no size known; the model was not checked`);
  }
  const guess = estimateShoulders({ bore_mm, outside_mm });
  const innerKnown = part.inner_shoulder_mm ?? row?.innerShoulder_mm;
  const outerKnown = part.outer_shoulder_mm ?? row?.outerShoulder_mm;
  const estimated: ('shoulders' | 'axial-play' | 'axial-stiffness')[] = [];
  const isGuessed = innerKnown === undefined || outerKnown === undefined;
  const isBorrowed =
    (part.inner_shoulder_mm === undefined && row?.estimated.includes('innerShoulder_mm') === true) ||
    (part.outer_shoulder_mm === undefined && row?.estimated.includes('outerShoulder_mm') === true);
  if (isGuessed || isBorrowed) estimated.push('shoulders');
  if (part.axial_play_mm === undefined) estimated.push('axial-play');
  if (part.axial_stiffness_N_per_mm === undefined) estimated.push('axial-stiffness');
  const innerShoulder_mm = innerKnown ?? guess.innerShoulder_mm;
  return {
    ...(row ? { designation: row.designation, staticRating_N: row.staticRating_N } : {}),
    bore_mm,
    outside_mm,
    width_mm,
    chamfer_mm: part.chamfer_mm ?? row?.chamfer_mm ?? Math.min(0.3, width_mm / 20),
    innerShoulder_mm,
    outerShoulder_mm: outerKnown ?? guess.outerShoulder_mm,
    abutmentMax_mm:
      part.inner_shoulder_mm ?? row?.innerAbutmentMax_mm ?? (isGuessed ? guess.innerAbutmentMax_mm : innerShoulder_mm),
    axialPlay_mm: part.axial_play_mm ?? estimateAxialPlay_mm({ bore_mm, outside_mm }),
    axialStiffness_N_per_mm: part.axial_stiffness_N_per_mm ?? stiffnessOf(bore_mm, outside_mm, row?.staticRating_N),
    source: row?.source ?? 'sizes from the model file',
    estimated,
    shoulderDoubt_mm: isGuessed ? guess.doubt_mm : isBorrowed ? MAKER_SPREAD_mm : 0,
  };
}

/** Estimates already made: the point-contact solve behind one costs more than the rest of a joint. */
const STIFFNESS = new Map<string, number>();

function stiffnessOf(bore_mm: number, outside_mm: number, staticRating_N: number | undefined): number {
  const key = `${bore_mm} ${outside_mm} ${staticRating_N ?? ''}`;
  const known = STIFFNESS.get(key);
  if (known !== undefined) return known;
  const stiffness = estimateAxialStiffness_N_per_mm({
    bore_mm,
    outside_mm,
    ...(staticRating_N === undefined ? {} : { staticRating_N }),
  });
  STIFFNESS.set(key, stiffness);
  return stiffness;
}

/** Where a bearing's outer ring is pressed in. */
export interface SeatPlace {
  readonly rowIndex: number;
  readonly member: string;
  readonly bore: string;
  readonly side: Side;
}

/**
 * The seat of every bearing of a row, keyed by row index. A bearing listed after a bore sits in its drive seat, one
 * listed before it in its non-drive seat; the nearest free seat wins, rings in between (a sleeve inside a shell) being
 * passed over. A bearing without an entry has no seat.
 */
export function seatsOf(model: LinkageModel, stack: Stack): ReadonlyMap<number, SeatPlace> {
  const seats = new Map<number, SeatPlace>();
  const taken = new Set<string>();
  const bearings = stack.row.flatMap((entry, k) => (entryOf(model.parts, entry.part)?.kind === 'bearing' ? [k] : []));
  for (let reach = 1; reach < stack.row.length; reach++) {
    for (const k of bearings) {
      if (seats.has(k)) continue;
      for (const [at, side] of [
        [k - reach, 'drive'],
        [k + reach, 'non-drive'],
      ] as const) {
        const entry = stack.row[at];
        if (!entry?.member || !entry.bore || !isClear(stack, k, at)) continue;
        const key = `${at} ${side}`;
        const bore = entryOf(entryOf(model.members, entry.member)?.bores, entry.bore);
        if (taken.has(key) || !bore?.seats?.some((seat) => seat.side === side)) continue;
        taken.add(key);
        seats.set(k, { rowIndex: at, member: entry.member, bore: entry.bore, side });
        break;
      }
    }
  }
  return seats;
}

/** No other bore stands between two row indices. */
function isClear(stack: Stack, a: number, b: number): boolean {
  return stack.row.slice(Math.min(a, b) + 1, Math.max(a, b)).every((entry) => entry.member === undefined);
}

/** A receiver named as `member/bore`, or undefined where it is a part. */
export function receiverBore(
  model: LinkageModel,
  stack: Stack,
): { member: string; bore: string; sizes: MemberBore } | undefined {
  const [member, bore] = stack.receiver.split('/');
  const sizes = entryOf(entryOf(model.members, member)?.bores, bore);
  return member && bore && sizes ? { member, bore, sizes } : undefined;
}

/** Where a bore of a member stands in the side plane, mm; undefined where neither a row nor the bore itself says. */
export function borePlace(
  model: LinkageModel,
  member: string,
  bore: string,
): { x_mm: number; y_mm: number; pivot?: Pivot } | undefined {
  const pivot = model.pivots.find((candidate) =>
    candidate.stacks.some(
      (stack) =>
        stack.receiver === `${member}/${bore}` ||
        stack.row.some((entry) => entry.member === member && entry.bore === bore),
    ),
  );
  if (pivot) return { x_mm: pivot.x_mm, y_mm: pivot.y_mm, pivot };
  const own = entryOf(entryOf(model.members, member)?.bores, bore);
  return own?.x_mm !== undefined && own.y_mm !== undefined ? { x_mm: own.x_mm, y_mm: own.y_mm } : undefined;
}
