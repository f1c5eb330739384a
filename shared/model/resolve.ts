/**
 * Look-ups on a model that has passed its checks: seats of bearings, places of bores.
 */
export { resolveBearing, type ResolvedBearing } from '../parts/bearing.ts';
import type { LinkageModel, MemberBore, Pivot, Side, Stack } from './schema.ts';

/** The entry a file defines under `key`: never what every object inherits, such as `constructor`. */
export function entryOf<T>(record: Readonly<Record<string, T>> | undefined, key: string | undefined): T | undefined {
  return record !== undefined && key !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
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
