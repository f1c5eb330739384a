/**
 * A flat thing in a picture without a lens: the map from its own places to those of the picture, from four marks or
 * more, by least squares on places brought to one size first (the normalised direct linear transform).
 */
import { Qr } from '../numbers/dense.ts';

/** A place of the plane or of the picture. */
export type Place = readonly [x: number, y: number];
/** The nine numbers of a map, row by row, the last of them 1 where that is possible. */
export type PlaneMap = readonly number[];

const LEAST_MARKS = 4;

/** The map that takes each place of `from` to its place of `to`; undefined where they do not tell one. */
export function planeMap(from: readonly Place[], to: readonly Place[]): PlaneMap | undefined {
  if (from.length < LEAST_MARKS || from.length !== to.length) return undefined;
  const [a, b] = [sized(from), sized(to)];
  const matrix = new Float64Array(from.length * 2 * 8);
  const wanted = new Float64Array(from.length * 2);
  from.forEach((_, k) => {
    const [x, y] = a.places[k]!;
    const [u, v] = b.places[k]!;
    matrix.set([x, y, 1, 0, 0, 0, -u * x, -u * y], 16 * k);
    matrix.set([0, 0, 0, x, y, 1, -v * x, -v * y], 16 * k + 8);
    wanted.set([u, v], 2 * k);
  });
  const qr = new Qr(matrix, from.length * 2, 8);
  if (qr.rank < 8) return undefined;
  const h = [...qr.solve(wanted), 1];
  const back = [1 / b.by, 0, b.middle[0], 0, 1 / b.by, b.middle[1], 0, 0, 1];
  const there = [a.by, 0, -a.by * a.middle[0], 0, a.by, -a.by * a.middle[1], 0, 0, 1];
  const map = times(times(back, h), there);
  return Math.abs(map[8]!) > 1e-12 ? map.map((value) => value / map[8]!) : map;
}

/** Where a map takes a place. */
export function mapped(map: PlaneMap, [x, y]: Place): Place {
  const w = map[6]! * x + map[7]! * y + map[8]!;
  return [(map[0]! * x + map[1]! * y + map[2]!) / w, (map[3]! * x + map[4]! * y + map[5]!) / w];
}

/** Places about their middle, a root of two away from it on the whole. */
function sized(places: readonly Place[]) {
  const middle = [0, 1].map((k) => places.reduce((sum, place) => sum + place[k]!, 0) / places.length);
  const away = places.reduce((sum, [x, y]) => sum + Math.hypot(x - middle[0]!, y - middle[1]!), 0) / places.length;
  const by = Math.SQRT2 / Math.max(away, 1e-12);
  return {
    by,
    middle: middle as [number, number],
    places: places.map(([x, y]): Place => [(x - middle[0]!) * by, (y - middle[1]!) * by]),
  };
}

function times(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, k) => {
    const [row, column] = [3 * Math.floor(k / 3), k % 3];
    return a[row]! * b[column]! + a[row + 1]! * b[column + 3]! + a[row + 2]! * b[column + 6]!;
  });
}
