/**
 * Sizes of one thing that cannot all be true, as data: which key, what it says, what it would have to say.
 *
 * `key` is written from the part down (`head.land_mm`); who reads the file puts the place of the part before it.
 */

/** One size that the others contradict. */
export interface Contradiction {
  readonly code: 'impossible-size' | 'missing' | 'bearing-unknown' | 'bearing-contradicts';
  readonly key: string;
  readonly met: unknown;
  readonly allowed: string;
  readonly suggestion?: string | undefined;
}

/** A key with what the file says there. */
export type Told = readonly [key: string, value: number];

/** Refuses `larger` unless it is more than `smaller`. */
export function within(smaller: Told, larger: Told): Contradiction[] {
  return larger[1] > smaller[1] ? [] : [impossible(larger, `more than ${smaller[0]} (${smaller[1]})`)];
}

/** Refuses a size above `limit`, which is that of `what`. */
export function noMore(told: Told, limit: number, what: string): Contradiction[] {
  return told[1] <= limit + 1e-9 ? [] : [impossible(told, `at most ${limit} (${what})`)];
}

/** A size that cannot be. */
export function impossible([key, met]: Told, allowed: string): Contradiction {
  return { code: 'impossible-size', key, met, allowed };
}

/** A land must stand on its flange: wider than the hole under it, no wider or longer than what carries it. */
export function landFits(
  { land_mm, land_height_mm }: { readonly land_mm?: number | undefined; readonly land_height_mm?: number | undefined },
  bounds: { readonly inside: number; readonly outside: number; readonly length?: number },
  under = '',
): Contradiction[] {
  if (land_mm === undefined && land_height_mm === undefined) return [];
  if (land_mm === undefined || land_height_mm === undefined) {
    const key = `${under}${land_mm === undefined ? 'land_mm' : 'land_height_mm'}`;
    return [{ code: 'missing', key, met: undefined, allowed: 'land_mm and land_height_mm together, or neither' }];
  }
  return [
    ...within(['the hole under it', bounds.inside], [`${under}land_mm`, land_mm]),
    ...noMore([`${under}land_mm`, land_mm], bounds.outside, 'the flange'),
    ...noMore([`${under}land_height_mm`, land_height_mm], bounds.length ?? Infinity, 'the whole length'),
  ];
}
