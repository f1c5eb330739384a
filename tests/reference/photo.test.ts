// The photo's numbers against published ones, and against a synthetic camera whose every place is known.
import { Matrix, SVD } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import {
  distorted,
  findCamera,
  huberWeights,
  mapped,
  placeAt,
  planeMap,
  sideOf,
  spreadOf,
  undistorted,
  type PhotoMark,
} from '../../shared/index.ts';
import { randomStream } from '../../shared/numbers/random.ts';
import { seeds } from '../setup/series.ts';

describe('a plane in a picture', () => {
  // Another library's documentation of a perspective map; its coefficients are rounded to 1e-10.
  test('four marks of a published example', () => {
    const map = planeMap(
      [
        [158, 64],
        [494, 69],
        [495, 404],
        [158, 404],
      ],
      [
        [100, 500],
        [152, 564],
        [148, 604],
        [100, 560],
      ],
    )!;
    const [x, y] = mapped(map, [250, 120]);
    expect(x).toBeCloseTo(117.27521125839255, 4);
    expect(y).toBeCloseTo(530.9202410878403, 4);
    const known = [
      0.386974938, 0.0426817448, 59.2427948, 0.958961062, 0.456282124, 434.86443, 0.00129017943, 0.000426817448,
    ];
    known.forEach((value, k) => expect(map[k]! / value).toBeCloseTo(1, 7));
  });

  test('the unit square as a trapezium, exactly', () => {
    const map = planeMap(
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
      [
        [0, 0],
        [2, 0],
        [1.5, 1],
        [0.5, 1],
      ],
    )!;
    [2, 1, 0, 0, 2, 0, 0, 1, 1].forEach((value, k) => expect(map[k]).toBeCloseTo(value, 10));
    expect(mapped(map, [0.5, 0.5])[1]).toBeCloseTo(2 / 3, 10);
  });

  test('a sheet of A4: a distance on it', () => {
    const map = planeMap(
      [
        [412, 310],
        [1586, 352],
        [1660, 1190],
        [330, 1105],
      ],
      [
        [0, 0],
        [297, 0],
        [297, 210],
        [0, 210],
      ],
    )!;
    const [a, b] = [mapped(map, [700, 600]), mapped(map, [1300, 900])];
    expect([a[0], a[1], b[0], b[1]].map((value) => Number(value.toFixed(4)))).toEqual([
      78.9586, 78.7188, 221.5142, 147.6775,
    ]);
    expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo(158.3585, 4);
  });

  test('many marks as the smallest singular vector gives them', () => {
    const random = randomStream(7);
    const from = Array.from({ length: 12 }, (): [number, number] => [random.even() * 900, random.even() * 600]);
    const true_ = [1.1, 0.05, 30, -0.04, 0.95, 12, 1e-4, -5e-5, 1];
    const to = from.map((place) => mapped(true_, place));
    const map = planeMap(from, to)!;
    true_.forEach((value, k) => expect(map[k]).toBeCloseTo(value, 7));
    const rows = from.flatMap(([x, y], k) => {
      const [u, v] = to[k]!;
      return [
        [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
        [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
      ];
    });
    const last = new SVD(new Matrix(rows)).rightSingularVectors.getColumn(8);
    map.forEach((value, k) => expect(last[k]! / last[8]!).toBeCloseTo(value, 4));
  });

  test('three marks, or four in one line, tell nothing', () => {
    const line: [number, number][] = [0, 1, 2, 3].map((k) => [k, 2 * k]);
    expect(planeMap(line, line)).toBeUndefined();
    expect(planeMap(line.slice(1), line.slice(1))).toBeUndefined();
  });
});

describe('a lens', () => {
  test('of published coefficients', () => {
    expect(distorted([0.3, 0.4], -0.2, 0.05)).toEqual([expect.closeTo(0.2859375, 12), expect.closeTo(0.38125, 12)]);
    const [x, y] = distorted([0.3, 0.2], -0.28, 0.08);
    expect([3000 * x + 2000, 3000 * y + 1500]).toEqual([expect.closeTo(2868.457, 3), expect.closeTo(2078.971, 3)]);
    expect(distorted([0.3, 0.2], 0.2302, -0.6724, 0.652044)).toEqual([
      expect.closeTo(0.3059985, 7),
      expect.closeTo(0.203999, 7),
    ]);
  });

  test('taken out again gives the ray, and nothing beyond what the lens can show', () => {
    for (const k1 of [-0.28, -0.1, 0, 0.1]) {
      const seen = distorted([0.3, -0.2], k1, 0.08);
      expect(undistorted(seen, k1, 0.08)).toEqual([expect.closeTo(0.3, 10), expect.closeTo(-0.2, 10)]);
    }
    expect(undistorted([3, 0], -0.3)).toBeUndefined();
  });
});

describe('a mark that is wrong counts less', () => {
  // The stack-loss rows of Brownlee (1965), as the documentation of a statistics library fits them.
  const ROWS =
    '80 27 89 42;80 27 88 37;75 25 90 37;62 24 87 28;62 22 87 18;62 23 87 18;62 24 93 19;62 24 93 20;58 23 87 15;' +
    '58 18 80 14;58 18 89 14;58 17 88 13;58 18 82 11;58 19 93 12;50 18 89 8;50 18 86 7;50 19 72 8;50 19 79 8;' +
    '50 20 80 9;56 20 82 15;70 20 91 15';
  test('as much as in a published fit', () => {
    const rows = ROWS.split(';').map((row) => row.split(' ').map(Number));
    let weights = rows.map(() => 1);
    let fit: number[] = [];
    let scale = 0;
    for (let round = 0; round < 200; round++) {
      const [a, b] = [
        new Matrix(
          rows.map(([air, water, acid], k) => [air!, water!, acid!, 1].map((value) => value * Math.sqrt(weights[k]!))),
        ),
        Matrix.columnVector(rows.map((row, k) => row[3]! * Math.sqrt(weights[k]!))),
      ];
      fit = new SVD(a).solve(b).to1DArray();
      const off = rows.map(
        ([air, water, acid, loss]) => loss! - air! * fit[0]! - water! * fit[1]! - acid! * fit[2]! - fit[3]!,
      );
      scale = spreadOf(off);
      weights = huberWeights(off, scale);
    }
    expect(fit).toEqual([
      expect.closeTo(0.829374, 4),
      expect.closeTo(0.926108, 4),
      expect.closeTo(-0.127849, 4),
      expect.closeTo(-41.026531, 2),
    ]);
    expect(scale).toBeCloseTo(2.440714, 3);
    expect([weights[2], weights[3], weights[20]]).toEqual([
      expect.closeTo(0.785887, 3),
      expect.closeTo(0.504941, 3),
      expect.closeTo(0.368141, 3),
    ]);
  });
});

/** A photo of a phone that the bike fills, and a board of marks beside it. */
const [WIDTH_px, HEIGHT_px] = [8064, 6048];
const BIKE_mm = 1800;
const CLICK_px = 2;

/** A camera of our own, told by its angles, and what it sees: nothing of it is shared with what is tested. */
interface Eye {
  readonly yaw: number;
  readonly pitch: number;
  readonly roll: number;
  readonly focal_px: number;
  readonly k1: number;
  readonly off_mm: number;
}

/** Right, down and ahead of a camera as directions of the bike. */
function axesOf({ yaw, pitch, roll }: Eye): Matrix {
  const [cy, sy, cp, sp, cr, sr] = [yaw, pitch, roll].flatMap((angle) => [Math.cos(angle), Math.sin(angle)]) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const aboutUp = new Matrix([
    [cy, 0, sy],
    [0, 1, 0],
    [-sy, 0, cy],
  ]);
  const aboutSide = new Matrix([
    [1, 0, 0],
    [0, cp, -sp],
    [0, sp, cp],
  ]);
  const aboutAhead = new Matrix([
    [cr, -sr, 0],
    [sr, cr, 0],
    [0, 0, 1],
  ]);
  return aboutAhead
    .mmul(aboutSide)
    .mmul(aboutUp)
    .mmul(Matrix.diag([1, -1, -1]));
}

/** It looks at the middle of the bike from `off_mm`. */
function placeOf(eye: Eye): [number, number, number] {
  return axesOf(eye)
    .getRow(2)
    .map((part) => -part * eye.off_mm) as [number, number, number];
}

function seenBy(eye: Eye, at_mm: readonly [number, number, number]): [number, number] {
  const from = placeOf(eye);
  const [x, y, ahead] = axesOf(eye)
    .mmul(Matrix.columnVector(at_mm.map((value, k) => value - from[k]!)))
    .to1DArray() as [number, number, number];
  const [a, b] = [x / ahead, y / ahead];
  const by = 1 + eye.k1 * (a * a + b * b);
  return [WIDTH_px / 2 + eye.focal_px * a * by, HEIGHT_px / 2 + eye.focal_px * b * by];
}

/** One photo by chance: a camera, a board of marks, axle heads in their own places. */
function photo(seed: number) {
  const random = randomStream(seed);
  const between = (low: number, high: number): number => low + (high - low) * random.even();
  const off_mm = between(2000, 4000);
  const tilt = (between(3, 15) * Math.PI) / 180;
  const way = between(0, 2 * Math.PI);
  const eye: Eye = {
    yaw: Math.cos(way) * tilt,
    pitch: Math.sin(way) * tilt,
    roll: between(-0.03, 0.03),
    focal_px: (0.85 * WIDTH_px * off_mm) / BIKE_mm,
    k1: between(-0.1, 0.1),
    off_mm,
  };
  const click = (at_mm: readonly [number, number, number]): [number, number] => {
    const seen = seenBy(eye, at_mm);
    return [seen[0] + CLICK_px * random.bell(), seen[1] + CLICK_px * random.bell()];
  };
  // Hung against the drive side, near the heads: what stands far from it hangs more on where the camera is taken to be.
  const board_mm = between(10, 60);
  const marks = [-600, -300, 0, 300, 600].flatMap((x_mm) =>
    [-420, -140, 140, 420].map((y_mm): PhotoMark => {
      const [u_px, v_px] = click([x_mm, y_mm, board_mm]);
      return { x_mm, y_mm, z_mm: board_mm, u_px, v_px };
    }),
  );
  const heads = Array.from({ length: 6 }, () => {
    const at_mm = [between(-500, 400), between(-300, 300), between(45, 70)] as const;
    return { at_mm, click: click(at_mm) };
  });
  const told_mm = placeOf(eye)[2] * (1 + 0.02 * random.bell());
  return {
    known: { width_px: WIDTH_px, height_px: HEIGHT_px, marks, distance_mm: told_mm, click_px: CLICK_px },
    heads,
    eye,
  };
}

const percentile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))]!;

/** How far every head of some photos comes back from where it is, mm, by what the hand says of its height. */
function misses(which: readonly number[], heightOf: (z_mm: number) => number): number[] {
  return which.flatMap((seed) => {
    const { known, heads } = photo(seed);
    const camera = findCamera(known)!;
    return heads.map(({ at_mm, click }) => {
      const found = placeAt(camera, click, heightOf(at_mm[2]))!;
      return Math.hypot(found.x_mm - at_mm[0], found.y_mm - at_mm[1]);
    });
  });
}

describe('a synthetic photo', () => {
  test('without noise gives camera and lens back, and every head to a hundredth of a mm', () => {
    const { known, eye, heads } = photo(3);
    const exact = known.marks.map((mark) => {
      const [u_px, v_px] = seenBy(eye, [mark.x_mm, mark.y_mm, mark.z_mm]);
      return { ...mark, u_px, v_px };
    });
    const camera = findCamera({ ...known, marks: exact, distance_mm: placeOf(eye)[2], click_px: 0.01 })!;
    expect(camera.k1).toBeCloseTo(eye.k1, 3);
    expect(camera.doubtful).toEqual([]);
    placeOf(eye).forEach((value, k) => expect(camera.place_mm[k]).toBeCloseTo(value, -1));
    for (const { at_mm } of heads) {
      const found = placeAt(camera, seenBy(eye, at_mm), at_mm[2])!;
      expect(Math.hypot(found.x_mm - at_mm[0], found.y_mm - at_mm[1])).toBeLessThan(0.02);
    }
  });

  test('with clicks off by 2 px gives pivots within 1.5 mm, nineteen times of twenty; without their heights not', () => {
    const which = seeds(25);
    expect(
      percentile(
        misses(which, (z_mm) => z_mm),
        0.95,
      ),
    ).toBeLessThan(1.5);
    expect(
      percentile(
        misses(which, () => 0),
        0.95,
      ),
    ).toBeGreaterThan(4);
  });

  test('is off by about as much as it says', () => {
    const ratios = seeds(8).flatMap((seed) => {
      const { known, heads } = photo(seed);
      const camera = findCamera(known)!;
      return heads.map(({ at_mm, click }) => {
        const found = placeAt(camera, click, at_mm[2])!;
        return Math.hypot(found.x_mm - at_mm[0], found.y_mm - at_mm[1]) / found.error_mm;
      });
    });
    // A place is off two ways at once: of a fair error, half are within 1.18 of it, and 95 % within 2.45.
    expect(percentile(ratios, 0.5)).toBeGreaterThan(0.7);
    expect(percentile(ratios, 0.5)).toBeLessThan(1.6);
    expect(percentile(ratios, 0.95)).toBeLessThan(3.2);
  });

  test('with one mark clicked wrongly names it, and is not bent by it', () => {
    const { known, heads } = photo(5);
    const marks = known.marks.map((mark, k) => (k === 4 ? { ...mark, u_px: mark.u_px + 120 } : mark));
    const camera = findCamera({ ...known, marks })!;
    expect(camera.doubtful).toEqual([4]);
    for (const { at_mm, click } of heads) {
      const found = placeAt(camera, click, at_mm[2])!;
      expect(Math.hypot(found.x_mm - at_mm[0], found.y_mm - at_mm[1])).toBeLessThan(3);
    }
  });

  test('of too few marks, or of marks in one line, gives no camera', () => {
    const { known } = photo(1);
    expect(findCamera({ ...known, marks: known.marks.slice(0, 8) })).toBeUndefined();
    const line = known.marks.map((mark) => ({ ...mark, y_mm: 0, v_px: 3000 }));
    expect(findCamera({ ...known, marks: line })).toBeUndefined();
    expect(findCamera({ ...known, distance_mm: 0 })).toBeUndefined();
  });

  test('of a board that hangs askew is levelled by the wheels, and its pivots are told from the first', () => {
    const { eye } = photo(2);
    const still = { width_px: WIDTH_px, height_px: HEIGHT_px };
    const seen = (x: number, y: number, z: number): [number, number] => seenBy(eye, [x, y, z]);
    const lean = (2 * Math.PI) / 180;
    const board = { columns: 5, rows: 4, across_mm: 250, down_mm: 200, z_mm: 40 };
    const marks = Array.from({ length: 20 }, (_, k) => {
      const [x, y] = [(k % 5) * 250, -Math.floor(k / 5) * 200];
      return seen(-500 + x * Math.cos(lean) - y * Math.sin(lean), 300 + x * Math.sin(lean) + y * Math.cos(lean), 40);
    });
    const pivots = [
      [0, 0, 55],
      [-120, 260, 62],
    ] as const;
    const photographed = {
      ...still,
      board,
      marks,
      distance_mm: placeOf(eye)[2],
      pivots: pivots.map(([x, y, z]) => ({ at_px: seen(x, y, z), z_mm: z })),
    };
    const axles = {
      rear: { at_px: seen(-440, 20, 75), z_mm: 75 },
      front: { at_px: seen(760, 30, 55), z_mm: 55 },
      higher_mm: 10,
    };
    const side = sideOf({ ...photographed, axles })!;
    expect(side.level_deg).toBeCloseTo(-2, 1);
    expect(side.wheelbase_mm).toBeCloseTo(Math.hypot(1200, 10), 0);
    expect(side.pivots[0]).toMatchObject({ x_mm: 0, y_mm: 0 });
    expect(side.pivots[1]!.x_mm).toBeCloseTo(-120, 0);
    expect(side.pivots[1]!.y_mm).toBeCloseTo(260, 0);
    expect(sideOf(photographed)!.level_deg).toBeUndefined();
    expect(sideOf({ ...photographed, marks: marks.slice(1) })).toBeUndefined();
  });
});
