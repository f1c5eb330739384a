/**
 * Forces in a linkage that carries a load at the wheel: equilibrium of its members, and virtual work as the check.
 *
 * Unknown are two components of every pin, the side push and the couple of the shock's shaft in its body, and the
 * shock's force; three equations a body fix them. They are written from the places of a pose alone and solved by
 * elimination, or where pins are redundant by the split of least squares. The independent check uses no equilibrium:
 * the shock's force times its shortening is the load times the axle's rise, and each pin's force is the load times the
 * rise when that pin alone is opened. Members are without weight, pivots without friction; one push at the axle,
 * upright unless told otherwise: no chain, no brake. N, N·mm, mm; x forward, y up.
 */
import { Lu, Qr } from '../numbers/dense.ts';
import { GROUND, Planar, rateOfPoint, sliderDirection, worldOf, type Coordinates, type Place } from './planar.ts';
import { axleAt, type Pose, type Run } from './poses.ts';

/** A force in the side plane, N. */
export interface Force {
  readonly x_N: number;
  readonly y_N: number;
}

/** What one body feels at one pivot. */
export interface BodyForce {
  readonly body: number;
  /** From the pivot's axle on the body. */
  readonly force: Force;
  readonly size_N: number;
}

/** Forces in one pose. */
export interface Statics {
  /** Push of the shock on its two ends, N: + when it is pushed together. */
  readonly shock_N: number;
  /** Push of the shaft on the body across their line, N, and the couple between them, N·mm. */
  readonly shockSide_N: number;
  readonly shockCouple_Nmm: number;
  /** Every pivot with what each of its bodies feels. */
  readonly pivots: readonly {
    readonly pivot: string;
    readonly bodies: readonly BodyForce[];
    readonly most_N: number;
  }[];
  readonly check: StaticsCheck;
}

/** How well the forces hold; all are 0 in exact arithmetic, N. */
export interface StaticsCheck {
  /** Largest unbalanced force of any body, moments counted at the linkage's typical length. */
  readonly residual_N: number;
  /** Driving force (a couple over the typical length) against virtual work. */
  readonly driverWork_N: number;
  /** Largest difference of any pin force against virtual work; 0 where pins are redundant. */
  readonly pinWork_N: number;
  /** True where pins are redundant, so that the split between them is only the likeliest. */
  readonly isShared: boolean;
}

/** A force on a body at a place of the pose, N. */
export interface Load extends Force {
  readonly body: number;
  readonly place: Place;
}

/** Forces of all joints of a linkage in balance. */
export interface JointForces {
  /** On body b of every pin, from its axle. */
  readonly pins: readonly Force[];
  /** On body b of every slider: the push across the line, to the left of its direction, and the couple. */
  readonly sliders: readonly { readonly side_N: number; readonly couple_Nmm: number }[];
  /**
   * What holds the driver: the push that drives the two ends of its slider apart, N, or the couple on its body, N·mm.
   */
  readonly driver: number;
  readonly check: StaticsCheck;
}

/** Forces that keep a linkage in a pose under loads; undefined at a dead centre, or with members nothing holds. */
export function jointForces(planar: Planar, q: Coordinates, loads: readonly Load[]): JointForces | undefined {
  const { system, unknowns, equations, length_mm } = planar;
  const matrix = balanceOf(planar, q);
  const rhs = new Float64Array(unknowns);
  for (const { body, place, x_N, y_N } of loads) addForce(planar, q, rhs, 1, body, place, -x_N, -y_N);
  const solved = solveBalance(matrix, unknowns, equations + 1, rhs);
  if (!solved) return undefined;
  const { x, isShared } = solved;
  const from = 2 * system.pins.length;
  return {
    pins: system.pins.map((_, k) => ({ x_N: x[2 * k]!, y_N: x[2 * k + 1]! })),
    sliders: system.sliders.map((_, k) => ({ side_N: x[from + 2 * k]!, couple_Nmm: x[from + 2 * k + 1]! * length_mm })),
    driver: x[equations]! * (system.driver.kind === 'turn' ? length_mm : 1),
    check: {
      residual_N: residual(matrix, equations + 1, x, rhs),
      ...workCheck(planar, q, loads, x, isShared),
      isShared,
    },
  };
}

/** Forces of a run's pose under `load` at the wheel's axle; undefined without wheel or shock, or in a dead centre. */
export function staticsAt(run: Run, pose: Pose, load: Force): Statics | undefined {
  const { linkage } = run;
  const { wheel, shock } = linkage;
  const axle = axleAt(run, pose);
  if (!wheel || !shock || !axle || run.drive.kind !== 'shock') return undefined;
  const planar = new Planar(run.system);
  const forces = jointForces(planar, pose.q, [{ ...load, body: wheel.body, place: axle }]);
  if (!forces) return undefined;
  const pivots = linkage.pivots.map((pivot) => {
    const sums = new Map(pivot.bodies.map((body) => [body, { x: 0, y: 0 }]));
    for (const pin of pivot.pins) {
      const { a, b } = planar.system.pins[pin]!;
      const { x_N, y_N } = forces.pins[pin]!;
      for (const [body, sign] of [
        [b, 1],
        [a, -1],
      ] as const) {
        const sum = sums.get(body)!;
        sum.x += sign * x_N;
        sum.y += sign * y_N;
      }
    }
    const bodies = [...sums].map(
      ([body, sum]): BodyForce => ({ body, force: { x_N: sum.x, y_N: sum.y }, size_N: Math.hypot(sum.x, sum.y) }),
    );
    return { pivot: pivot.id, bodies, most_N: Math.max(0, ...bodies.map((body) => body.size_N)) };
  });
  const { side_N, couple_Nmm } = forces.sliders[0]!;
  return { shock_N: forces.driver, shockSide_N: side_N, shockCouple_Nmm: couple_Nmm, pivots, check: forces.check };
}

/**
 * Three rows a body (force x, force y, moment over the typical length); a column for each joint force in the order of
 * the solver's equations (two a pin, two a slider), couples over the typical length too, and the driver's last.
 * Row-major.
 */
function balanceOf(planar: Planar, q: Coordinates): Float64Array {
  const { system, unknowns, equations } = planar;
  const columns = equations + 1;
  const matrix = new Float64Array(unknowns * columns);
  const put = (column: number, body: number, place: Place, x: number, y: number): void =>
    addForce(planar, q, matrix.subarray(column), columns, body, place, x, y);
  const twist = (column: number, body: number, couple: number): void => {
    if (body !== GROUND) matrix[(3 * body + 2) * columns + column]! += couple;
  };
  system.pins.forEach(({ a, b, onA, onB }, k) => {
    for (const [body, place, sign] of [
      [a, onA, -1],
      [b, onB, 1],
    ] as const) {
      const here = worldOf(system, q, body, place);
      put(2 * k, body, here, sign, 0);
      put(2 * k + 1, body, here, 0, sign);
    }
  });
  system.sliders.forEach((slider, k) => {
    const [ux, uy] = sliderDirection(q, slider);
    const at = 2 * system.pins.length + 2 * k;
    const isDriver = system.driver.kind === 'slider' && system.driver.slider === k;
    // Both halves meet where the eye of b is: the couple takes up the choice of that place.
    const here = worldOf(system, q, slider.b, slider.to);
    for (const [body, sign] of [
      [slider.a, -1],
      [slider.b, 1],
    ] as const) {
      put(at, body, here, -sign * uy, sign * ux);
      twist(at + 1, body, sign);
      if (isDriver) put(equations, body, here, sign * ux, sign * uy);
    }
  });
  if (system.driver.kind === 'turn') twist(equations, system.driver.body, 1);
  return matrix;
}

/** Add a force at a place to the three rows of a body, in a matrix column or a vector. */
function addForce(
  planar: Planar,
  q: Coordinates,
  column: Float64Array,
  stride: number,
  body: number,
  place: Place,
  x: number,
  y: number,
): void {
  if (body === GROUND) return;
  const middle = planar.system.bodies[body]!;
  const at = 3 * body;
  const [u, v] = [place.x_mm - middle.x_mm - q[at]!, place.y_mm - middle.y_mm - q[at + 1]!];
  column[at * stride]! += x;
  column[(at + 1) * stride]! += y;
  column[(at + 2) * stride]! += (u * y - v * x) / planar.length_mm;
}

function solveBalance(
  matrix: Float64Array,
  rows: number,
  columns: number,
  rhs: Float64Array,
): { x: Float64Array; isShared: boolean } | undefined {
  if (columns < rows) return undefined;
  if (columns === rows) {
    const lu = new Lu(rows);
    if (!lu.factorise(matrix)) return undefined;
    const x = Float64Array.from(rhs);
    lu.solve(x);
    return { x, isShared: false };
  }
  const qr = new Qr(matrix, rows, columns);
  return qr.rank < rows ? undefined : { x: qr.solve(rhs), isShared: true };
}

function residual(matrix: Float64Array, columns: number, x: Float64Array, rhs: Float64Array): number {
  let most = 0;
  for (let i = 0; i < rhs.length; i++) {
    let sum = -rhs[i]!;
    for (let j = 0; j < columns; j++) sum += matrix[i * columns + j]! * x[j]!;
    most = Math.max(most, Math.abs(sum));
  }
  return most;
}

/** The same forces from motion alone: what the loads do when the driver goes on, or one pin gives way, by a unit. */
function workCheck(
  planar: Planar,
  q: Coordinates,
  loads: readonly Load[],
  x: Float64Array,
  isShared: boolean,
): { driverWork_N: number; pinWork_N: number } {
  const workOf = (rate: Float64Array): number =>
    loads.reduce((sum, { body, place, x_N, y_N }) => {
      const { x_mm, y_mm } = rateOfPoint(planar.system, q, rate, body, place);
      return sum + x_N * x_mm + y_N * y_mm;
    }, 0);
  const { driver, pins } = planar.system;
  const tangent = planar.tangent(q);
  const unit = driver.kind === 'turn' ? planar.length_mm : 1;
  const driverWork_N = tangent ? Math.abs(x[planar.equations]! + workOf(tangent) / unit) : 0;
  let pinWork_N = 0;
  // A redundant pin that gives way moves nothing: work says nothing about its share.
  for (let equation = 0; equation < (isShared ? 0 : 2 * pins.length); equation++) {
    const opened = planar.opened(q, equation);
    if (opened) pinWork_N = Math.max(pinWork_N, Math.abs(x[equation]! + workOf(opened)));
  }
  return { driverWork_N, pinWork_N };
}
