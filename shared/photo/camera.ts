/**
 * The camera behind a photo of a bike's side: where it stood, how it was turned, its focal length and its lens, from
 * marks whose places are known and from how far off it was; then the place of anything clicked, once it is said how far
 * from the middle plane it stands.
 *
 * Least squares over eight numbers by the method of Levenberg and Marquardt, a mark clicked wrongly counting less
 * (`robust.ts`). A photo that shows no perspective cannot tell a far camera with a long lens from a near one with a
 * short one: how far off it stood, measured by a tape, tells. Axes as the bike's: x forward, y up, z to the drive side,
 * where the camera is. mm; places of the photo in px from its upper left corner.
 */
import { Qr } from '../numbers/dense.ts';
import { distorted, undistorted } from './lens.ts';
import { PHOTO_LIMITS } from './limits.ts';
import { mapped, planeMap, type Place } from './plane.ts';
import { huberWeights, spreadOf } from './robust.ts';

/** A mark that was clicked: where it is on the bike, and where on the photo. */
export interface Mark {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly z_mm: number;
  readonly u_px: number;
  readonly v_px: number;
}

/** What is known of a photo. */
export interface PhotoKnown {
  readonly width_px: number;
  readonly height_px: number;
  readonly marks: readonly Mark[];
  /** From the lens to the middle plane, by a tape. */
  readonly distance_mm: number;
  /** How far a click is off; the usual where it is not said. */
  readonly click_px?: number;
}

/** A camera that was found. */
export interface Camera {
  readonly width_px: number;
  readonly height_px: number;
  readonly focal_px: number;
  readonly k1: number;
  /** Angle between the camera's axis and the bike's, degrees. */
  readonly tilt_deg: number;
  /** Where it stood, mm. */
  readonly place_mm: readonly [x: number, y: number, z: number];
  /** How far marks are off, px; of good clicks about as much as a click is. */
  readonly spread_px: number;
  /** Numbers of marks that do not fit the others. */
  readonly doubtful: readonly number[];
  /** The eight numbers, and how they move with one another: what the error of a place is worked out of. */
  readonly numbers: readonly number[];
  readonly factor: readonly (readonly number[])[];
  readonly click_px: number;
}

/** A place of the bike with how far it may be off, mm: one standard deviation, the worse way. */
export interface Found {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly error_mm: number;
}

const COUNT = 8;
const MOST_ROUNDS = 60;
const MOST_PASSES = 25;
/** A change of the eight numbers, all about one, below which they stand still. */
const STILL = 1e-9;
/** Marks off by more than so many clicks are doubted. */
const DOUBT = 4;

/** The camera; undefined where there are too few marks or they stand in one line. */
export function findCamera(known: PhotoKnown): Camera | undefined {
  const { marks, width_px, height_px, distance_mm, click_px = PHOTO_LIMITS.click_px.value } = known;
  if (marks.length < PHOTO_LIMITS.leastMarks.value || !(distance_mm > 0)) return undefined;
  const begun = startOf(known);
  if (!begun) return undefined;
  let numbers: readonly number[] = begun;
  let weights = marks.map(() => 1);
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    numbers = settled(numbers, known, weights, click_px);
    const off = marks.map((mark) => missOf(numbers, mark, known));
    // Where all fit within a click, none is doubted.
    const next = huberWeights(off, Math.max(click_px, spreadOf(off) / Math.SQRT2));
    const isStill = next.every((weight, k) => Math.abs(weight - weights[k]!) < 1e-3);
    weights = next;
    if (isStill) break;
  }
  const off = marks.map((mark) => missOf(numbers, mark, known));
  const model = modelOf(numbers, known);
  const jacobian = slopes(numbers, known, weights, click_px);
  return {
    width_px,
    height_px,
    focal_px: model.focal_px,
    k1: model.k1,
    tilt_deg: (Math.acos(Math.min(1, Math.max(-1, -model.turn[8]!))) * 180) / Math.PI,
    place_mm: model.place_mm,
    spread_px: spreadOf(off),
    doubtful: off.flatMap((miss, k) => (miss > DOUBT * click_px ? [k] : [])),
    numbers,
    factor: covarianceOf(jacobian),
    click_px,
  };
}

/** The place of a click on what stands `z_mm` from the middle plane; undefined where no ray meets it. */
export function placeAt(camera: Camera, [u, v]: Place, z_mm: number): Found | undefined {
  const at = (numbers: readonly number[], du = 0, dv = 0): Place | undefined =>
    backOf(numbers, camera, [u + du, v + dv], z_mm);
  const place = at(camera.numbers);
  if (!place) return undefined;
  const h = 1e-5;
  const byNumber = camera.numbers.map((_, k) => {
    const more = at(camera.numbers.map((value, j) => (j === k ? value + h : value)));
    return more ? [(more[0] - place[0]) / h, (more[1] - place[1]) / h] : [Infinity, Infinity];
  });
  const byClick = [at(camera.numbers, 1), at(camera.numbers, 0, 1)].map((more) =>
    more ? [more[0] - place[0], more[1] - place[1]] : [Infinity, Infinity],
  );
  const variance = [0, 1].map((axis) => {
    const slope = byNumber.map((each) => each[axis]!);
    const ofCamera = slope.reduce(
      (sum, a, k) => sum + slope.reduce((inner, b, j) => inner + a * camera.factor[k]![j]! * b, 0),
      0,
    );
    return ofCamera + byClick.reduce((sum, each) => sum + (each[axis]! * camera.click_px) ** 2, 0);
  });
  return { x_mm: place[0], y_mm: place[1], error_mm: Math.sqrt(Math.max(...variance)) };
}

interface Model {
  readonly focal_px: number;
  readonly k1: number;
  /** From the bike's axes to the camera's: to the right, down, ahead; row by row. */
  readonly turn: readonly number[];
  readonly place_mm: readonly [number, number, number];
}

type Frame = Pick<PhotoKnown, 'width_px' | 'height_px'>;

/** In mm, so that the numbers are all about one. */
const METRE_mm = 1000;

function modelOf(numbers: readonly number[], { width_px, height_px }: Frame): Model {
  const [focal, k1, a, b, c, x, y, z] = numbers as [number, number, number, number, number, number, number, number];
  return {
    focal_px: Math.exp(focal) * Math.max(width_px, height_px),
    k1,
    turn: turned([a, b, c]),
    place_mm: [x * METRE_mm, y * METRE_mm, z * METRE_mm],
  };
}

/** A turn by a vector (Rodrigues), of a camera that looks straight at the side. */
function turned([a, b, c]: readonly [number, number, number]): number[] {
  const angle = Math.hypot(a, b, c);
  const s = angle < 1e-12 ? 1 : Math.sin(angle) / angle;
  const t = angle < 1e-12 ? 0.5 : (1 - Math.cos(angle)) / angle ** 2;
  const cos = Math.cos(angle);
  const turn = [
    cos + t * a * a,
    t * a * b - s * c,
    t * a * c + s * b,
    t * a * b + s * c,
    cos + t * b * b,
    t * b * c - s * a,
    t * a * c - s * b,
    t * b * c + s * a,
    cos + t * c * c,
  ];
  // Straight at the side: right is forward, down is down, ahead is away from the drive side.
  return turn.map((value, k) => (k % 3 === 0 ? value : -value));
}

function projected(
  { focal_px, k1, turn, place_mm }: Model,
  at_mm: readonly [number, number, number],
  { width_px, height_px }: Frame,
): Place | undefined {
  const from = at_mm.map((value, k) => value - place_mm[k]!);
  const [x, y, ahead] = [0, 3, 6].map(
    (row) => turn[row]! * from[0]! + turn[row + 1]! * from[1]! + turn[row + 2]! * from[2]!,
  );
  if (!(ahead! > 1)) return undefined;
  const [u, v] = distorted([x! / ahead!, y! / ahead!], k1);
  return [width_px / 2 + focal_px * u, height_px / 2 + focal_px * v];
}

function backOf(numbers: readonly number[], frame: Frame, [u, v]: Place, z_mm: number): Place | undefined {
  const { focal_px, k1, turn, place_mm } = modelOf(numbers, frame);
  const ray = undistorted([(u - frame.width_px / 2) / focal_px, (v - frame.height_px / 2) / focal_px], k1);
  if (!ray) return undefined;
  const [x, y, z] = [0, 1, 2].map((k) => turn[k]! * ray[0] + turn[k + 3]! * ray[1] + turn[k + 6]!);
  if (!(z! < -1e-6)) return undefined;
  const by = (z_mm - place_mm[2]) / z!;
  return [place_mm[0] + by * x!, place_mm[1] + by * y!];
}

/** A camera that looks straight at the middle of the marks, as large as they are seen. */
function startOf({ marks, width_px, height_px, distance_mm }: PhotoKnown): number[] | undefined {
  const map = planeMap(
    marks.map(({ x_mm, y_mm }): Place => [x_mm, y_mm]),
    marks.map(({ u_px, v_px }): Place => [u_px, v_px]),
  );
  const back = planeMap(
    marks.map(({ u_px, v_px }): Place => [u_px, v_px]),
    marks.map(({ x_mm, y_mm }): Place => [x_mm, y_mm]),
  );
  if (!map || !back) return undefined;
  const middle = mapped(back, [width_px / 2, height_px / 2]);
  const along = mapped(map, [middle[0] + 1, middle[1]]);
  const [du, dv] = [along[0] - width_px / 2, along[1] - height_px / 2];
  const z_mm = marks.reduce((sum, mark) => sum + mark.z_mm, 0) / marks.length;
  const focal = (Math.hypot(du, dv) * (distance_mm - z_mm)) / Math.max(width_px, height_px);
  if (!(focal > 0.05 && focal < 20)) return undefined;
  const roll = Math.atan2(dv, du);
  return [Math.log(focal), 0, 0, 0, roll, middle[0] / METRE_mm, middle[1] / METRE_mm, distance_mm / METRE_mm];
}

/** How far a mark is off, px. */
function missOf(numbers: readonly number[], mark: Mark, frame: Frame): number {
  const seen = projected(modelOf(numbers, frame), [mark.x_mm, mark.y_mm, mark.z_mm], frame);
  return seen ? Math.hypot(seen[0] - mark.u_px, seen[1] - mark.v_px) : 1e6;
}

/** Everything that should be nothing, each in units of how far it may be off. */
function residuals(
  numbers: readonly number[],
  known: PhotoKnown,
  weights: readonly number[],
  click_px: number,
): number[] {
  const model = modelOf(numbers, known);
  const { distance_share, focal_share, focal_factor, lens_k1 } = PHOTO_LIMITS;
  return [
    ...known.marks.flatMap((mark, k) => {
      const seen = projected(model, [mark.x_mm, mark.y_mm, mark.z_mm], known);
      const by = Math.sqrt(weights[k]!) / click_px;
      return seen ? [(seen[0] - mark.u_px) * by, (seen[1] - mark.v_px) * by] : [1e3, 1e3];
    }),
    (model.place_mm[2] / known.distance_mm - 1) / distance_share.value,
    (numbers[0]! - Math.log(focal_share.value)) / Math.log(focal_factor.value),
    numbers[1]! / lens_k1.value,
  ];
}

/** By how much each residual moves with each number, row by row. */
function slopes(
  numbers: readonly number[],
  known: PhotoKnown,
  weights: readonly number[],
  click_px: number,
): { readonly values: Float64Array; readonly rows: number; readonly now: readonly number[] } {
  const now = residuals(numbers, known, weights, click_px);
  const values = new Float64Array(now.length * COUNT);
  const h = 1e-6;
  for (let k = 0; k < COUNT; k++) {
    const at = (by: number): number[] =>
      residuals(
        numbers.map((value, j) => (j === k ? value + by : value)),
        known,
        weights,
        click_px,
      );
    const [more, less] = [at(h), at(-h)];
    now.forEach((_, row) => {
      values[row * COUNT + k] = (more[row]! - less[row]!) / (2 * h);
    });
  }
  return { values, rows: now.length, now };
}

function settled(
  begun: readonly number[],
  known: PhotoKnown,
  weights: readonly number[],
  click_px: number,
): readonly number[] {
  const cost = (numbers: readonly number[]): number =>
    residuals(numbers, known, weights, click_px).reduce((sum, value) => sum + value * value, 0);
  let numbers = begun;
  let best = cost(numbers);
  let damping = 1e-3;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { values, rows, now } = slopes(numbers, known, weights, click_px);
    const matrix = new Float64Array((rows + COUNT) * COUNT);
    matrix.set(values);
    const wanted = new Float64Array(rows + COUNT);
    now.forEach((value, k) => {
      wanted[k] = -value;
    });
    let step: Float64Array | undefined;
    for (; damping < 1e12; damping *= 10) {
      for (let k = 0; k < COUNT; k++) {
        let size = 0;
        for (let row = 0; row < rows; row++) size += values[row * COUNT + k]! ** 2;
        matrix[(rows + k) * COUNT + k] = Math.sqrt(damping * Math.max(size, 1e-12));
      }
      const tried = new Qr(matrix, rows + COUNT, COUNT, 1e-14).solve(wanted);
      const next = numbers.map((value, k) => value + tried[k]!);
      const reached = cost(next);
      if (reached < best) {
        [numbers, best, step] = [next, reached, tried];
        damping = Math.max(1e-12, damping / 10);
        break;
      }
    }
    if (!step || step.every((value) => Math.abs(value) < STILL)) break;
  }
  return numbers;
}

/** How the numbers move together: the inverse of the normal matrix, column by column. */
function covarianceOf({ values, rows }: ReturnType<typeof slopes>): number[][] {
  const normal = new Float64Array(COUNT * COUNT);
  for (let a = 0; a < COUNT; a++)
    for (let b = 0; b < COUNT; b++)
      for (let row = 0; row < rows; row++)
        normal[a * COUNT + b]! += values[row * COUNT + a]! * values[row * COUNT + b]!;
  const qr = new Qr(normal, COUNT, COUNT, 1e-15);
  return Array.from({ length: COUNT }, (_, k) => {
    const unit = new Float64Array(COUNT);
    unit[k] = 1;
    return [...qr.solve(unit)];
  });
}
