/**
 * Position solve of a planar linkage: rigid bodies joined by pins and sliders, one of its motions driven.
 *
 * A body's pose is its shift and turn against the drawn pose, three unknowns. Each pin gives two closure equations, a
 * slider two (no turn, no step aside), the driver one: the length of a slider or the turn of a body. Method: damped
 * Newton on those equations from a predicted pose, carried from pose to pose along the tangent; a step is halved when
 * it bends away from the tangent or the determinant changes its sign, so that the branch is kept and a dead centre
 * stops the motion instead of jumping over it. Of redundant pins (a left and a right plate) an independent set is
 * chosen by a rank-revealing factorisation and the rest must agree; where nothing square is left, or the pose is
 * singular, the step of least norm is taken. Textbook methods. x forward, y up, angles anticlockwise seen from +z; mm,
 * rad. Turns are scaled by a length of the linkage inside, so that every equation and unknown is in mm.
 */
import { Lu, Qr } from '../numbers/dense.ts';
import { leastNormOf } from '../numbers/skyline.ts';

/** A place in the side plane, mm. */
export interface Place {
  readonly x_mm: number;
  readonly y_mm: number;
}

/** The body that stands still. */
export const GROUND = -1;

/** A pin between two bodies; in a drawn pose that is put together both places are the same. */
export interface Pin {
  readonly a: number;
  readonly b: number;
  readonly onA: Place;
  readonly onB: Place;
}

/** Body b slides without turning along a line of body a: from a place of a through a place of b, as drawn. */
export interface Slider {
  readonly a: number;
  readonly b: number;
  readonly from: Place;
  readonly to: Place;
}

/** What is driven: the distance `from`–`to` of a slider, mm, or the turn of a body against its drawn pose, rad. */
export type Driver =
  | { readonly kind: 'slider'; readonly slider: number }
  | { readonly kind: 'turn'; readonly body: number };

/** A linkage as the solver takes it. `bodies` are the places about which the turns of the bodies are counted. */
export interface PlanarSystem {
  readonly bodies: readonly Place[];
  readonly pins: readonly Pin[];
  readonly sliders: readonly Slider[];
  readonly driver: Driver;
}

/** Shift x, shift y (mm) and turn (rad) of every body in turn; all nothing as drawn. */
export type Coordinates = Float64Array;

/** A rigid motion of the side plane: p ↦ turn(p) + shift, for points given as drawn. */
export interface Motion {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly angle_rad: number;
}

/** How a position solve ended. */
export interface Settled {
  readonly isSolved: boolean;
  readonly steps: number;
  /** Largest closure error of any equation, those of redundant pins included; mm. */
  readonly error_mm: number;
}

/** How far a motion could be carried. */
export interface Carried {
  readonly isThere: boolean;
  /** Value of the driver in the pose reached, mm or rad. */
  readonly value: number;
  /** Newton steps in all. */
  readonly steps: number;
}

/** An equation within this of nothing is closed, mm. */
const CLOSED_mm = 1e-10;
/** Redundant pins may disagree by this much: the figures of a file are rounded to a hundredth, mm. */
const AGREED_mm = 0.02;
const MOST_STEPS = 40;
const MOST_HALVINGS = 12;
const LARGEST_TURN_rad = 0.5;
/**
 * How much of a predicted step the correction may take back: more means that the path bends too fast to be sure of it.
 */
const LARGEST_BEND = 0.3;
/** Of more unknowns a step of least norm is looked for in the equations' own band first. */
const MANY = 60;
/** Shortest share of a motion that is still tried. */
const SHORTEST = 1e-10;

/**
 * The solver of one linkage; its work space is kept between solves, so that one instance serves one caller at a time.
 */
export class Planar {
  readonly system: PlanarSystem;
  /** Unknowns: three a body. */
  readonly unknowns: number;
  /** Closure equations without the driver's. */
  readonly equations: number;
  /** The length that turns are scaled by, mm. */
  readonly length_mm: number;
  private readonly residual: Float64Array;
  private readonly jacobian: Float64Array;
  private readonly square: Float64Array;
  private readonly rhs: Float64Array;
  private readonly lu: Lu;
  /** The equations the square solve uses, the driver's last; undefined until a regular pose has been met. */
  private chosen: Int32Array | undefined;

  constructor(system: PlanarSystem) {
    this.system = system;
    this.unknowns = 3 * system.bodies.length;
    this.equations = 2 * (system.pins.length + system.sliders.length);
    this.length_mm = typicalLength(system);
    this.residual = new Float64Array(this.equations + 1);
    this.jacobian = new Float64Array((this.equations + 1) * this.unknowns);
    this.square = new Float64Array(this.unknowns * this.unknowns);
    this.rhs = new Float64Array(this.unknowns);
    this.lu = new Lu(this.unknowns);
  }

  /** The drawn pose. */
  drawn(): Coordinates {
    return new Float64Array(this.unknowns);
  }

  /** Value of the driver in a pose, mm or rad. */
  valueAt(q: Coordinates): number {
    const { driver, sliders } = this.system;
    if (driver.kind === 'turn') return q[3 * driver.body + 2]!;
    return sliderLength(this.system, q, sliders[driver.slider]!);
  }

  /** Bring `q` to the pose where the driver has `value`, from wherever it is. `q` is changed in place. */
  settle(q: Coordinates, value: number): Settled {
    this.evaluate(q, value);
    let steps = 0;
    for (; steps < MOST_STEPS; steps++) {
      const before = this.norm();
      if (this.worst() <= CLOSED_mm) break;
      const step = this.newtonStep();
      this.limit(step);
      const start = Float64Array.from(q);
      let share = 1;
      for (let halving = 0; ; halving++, share /= 2) {
        for (let k = 0; k < q.length; k++) q[k] = start[k]! + share * step[k]!;
        this.evaluate(q, value);
        if (this.norm() < before || halving >= MOST_HALVINGS) break;
      }
      // Rounding: nothing that a further step could win.
      if (this.norm() >= before) {
        q.set(start);
        this.evaluate(q, value);
        break;
      }
    }
    const error_mm = largest(this.residual);
    return { isSolved: this.worst() <= 1e3 * CLOSED_mm && error_mm <= AGREED_mm, steps, error_mm };
  }

  /** Carry `q` from where the driver is to `value`, keeping its branch. `q` is changed in place. */
  carry(q: Coordinates, value: number): Carried {
    return this.sweep(q, [value]);
  }

  /**
   * Carry `q` through one value of the driver after another, keeping its branch. `visit` is told each pose reached and
   * its tangent, which are overwritten later. `q` is changed in place and ends in the last pose that could be reached.
   */
  sweep(
    q: Coordinates,
    values: readonly number[],
    visit?: (q: Coordinates, tangent: Float64Array, at: number) => void,
  ): Carried {
    let at = this.valueAt(q);
    let steps = 0;
    let tangent = this.tangent(q);
    let sign = this.lu.sign;
    const trial = new Float64Array(q.length);
    const predicted = new Float64Array(q.length);
    for (const value of values) {
      const whole = Math.abs(value - at);
      let step = value - at;
      while (at !== value) {
        if (!tangent || Math.abs(step) < SHORTEST * whole) return { isThere: false, value: at, steps };
        if (Math.abs(step) >= Math.abs(value - at)) step = value - at;
        const next = step === value - at ? value : at + step;
        for (let k = 0; k < q.length; k++) trial[k] = q[k]! + tangent[k]! * step;
        predicted.set(trial);
        const settled = this.turnOf(tangent, step) <= LARGEST_TURN_rad ? this.settle(trial, next) : undefined;
        steps += settled?.steps ?? 0;
        const isOnTangent =
          settled?.isSolved === true &&
          this.distance(trial, predicted) <= LARGEST_BEND * this.distance(predicted, q) + CLOSED_mm;
        const reached: Float64Array | undefined = isOnTangent ? this.tangent(trial) : undefined;
        if (!reached || (sign !== 0 && this.lu.sign !== sign)) {
          step /= 2;
          continue;
        }
        q.set(trial);
        at = next;
        tangent = reached;
        sign = this.lu.sign;
        step *= 2;
      }
      if (tangent) visit?.(q, tangent, value);
    }
    return { isThere: true, value: at, steps };
  }

  /**
   * How every coordinate changes when the driver goes on by one, per mm or rad; undefined where the pose is a dead
   * centre.
   */
  tangent(q: Coordinates): Float64Array | undefined {
    this.evaluate(q, this.valueAt(q));
    const pull = this.system.driver.kind === 'turn' ? this.length_mm : 1;
    if (this.factorise()) {
      const x = new Float64Array(this.unknowns);
      x[this.unknowns - 1] = pull;
      this.lu.solve(x);
      this.unscale(x);
      return x;
    }
    const rows = this.equations + 1;
    const b = new Float64Array(rows);
    b[rows - 1] = pull;
    const x = this.leastNorm(b);
    for (let i = 0; i < rows; i++) {
      let sum = -b[i]!;
      for (let j = 0; j < this.unknowns; j++) sum += this.jacobian[i * this.unknowns + j]! * x[j]!;
      if (Math.abs(sum) > 1e-6 * pull) return undefined;
    }
    this.unscale(x);
    return x;
  }

  /** How many independent motions the joints leave at a pose, the driver let go. */
  mobility(q: Coordinates): number {
    this.evaluate(q, 0);
    return this.unknowns - new Qr(this.jacobian, this.equations, this.unknowns).rank;
  }

  /** The motions that joints (and, where it is held, the driver) leave at a pose: an orthonormal basis, mm and rad. */
  freedom(q: Coordinates, isDriverHeld: boolean): Float64Array[] {
    this.evaluate(q, 0);
    const rows = this.equations + (isDriverHeld ? 1 : 0);
    const basis = new Qr(this.jacobian, rows, this.unknowns).free();
    for (const x of basis) this.unscale(x);
    return basis;
  }

  /** How near a pose is to a dead centre: 1 far, 0 there. */
  clearOfDeadCentre(q: Coordinates): number {
    this.evaluate(q, 0);
    return this.factorise() ? this.lu.pivotShare : 0;
  }

  /**
   * How the pose would change if the given joint equation were opened by 1 mm and all others kept, the driver held; mm
   * and rad. Equations run two a pin (x, y of b against a), then two a slider (step aside, turn). Undefined at a dead
   * centre. By virtual work its value at a load is the joint's force.
   */
  opened(q: Coordinates, equation: number): Float64Array | undefined {
    this.evaluate(q, this.valueAt(q));
    if (!this.factorise()) return undefined;
    const x = new Float64Array(this.unknowns);
    const row = this.chosen!.indexOf(equation);
    if (row < 0) return undefined;
    x[row] = 1;
    this.lu.solve(x);
    this.unscale(x);
    return x;
  }

  private turnOf(direction: Float64Array, share: number): number {
    let most = 0;
    for (let k = 2; k < direction.length; k += 3) most = Math.max(most, Math.abs(direction[k]! * share));
    return most;
  }

  private distance(one: Float64Array, other: Float64Array): number {
    let sum = 0;
    for (let k = 0; k < one.length; k++) sum += ((one[k]! - other[k]!) * (k % 3 === 2 ? this.length_mm : 1)) ** 2;
    return Math.sqrt(sum);
  }

  private limit(step: Float64Array): void {
    const turn = this.turnOf(step, 1);
    if (turn <= LARGEST_TURN_rad) return;
    for (let k = 0; k < step.length; k++) step[k]! *= LARGEST_TURN_rad / turn;
  }

  /** One Newton step from the equations as last evaluated. */
  private newtonStep(): Float64Array {
    if (this.factorise()) {
      const { chosen, rhs } = this;
      for (let i = 0; i < this.unknowns; i++) rhs[i] = -this.residual[chosen![i]!]!;
      this.lu.solve(rhs);
      const x = Float64Array.from(rhs);
      this.unscale(x);
      return x;
    }
    const x = this.leastNorm(this.residual.map((value) => -value));
    this.unscale(x);
    return x;
  }

  /** The least step that closes all equations as last evaluated by these amounts, as nearly as can be. */
  private leastNorm(b: Float64Array): Float64Array {
    const rows = this.equations + 1;
    const near = this.unknowns > MANY ? leastNormOf(this.jacobian, rows, this.unknowns, b) : undefined;
    return near ?? new Qr(this.jacobian, rows, this.unknowns).solve(b);
  }

  /** Factorise the square system at the equations as last evaluated; false where the pose is singular. */
  private factorise(): boolean {
    if (!this.chosen) this.choose();
    return this.chosen !== undefined && this.factoriseChosen(this.chosen);
  }

  private factoriseChosen(rows: Int32Array): boolean {
    const n = this.unknowns;
    rows.forEach((row, i) => this.square.set(this.jacobian.subarray(row * n, (row + 1) * n), i * n));
    return this.lu.factorise(this.square);
  }

  /** Choose independent joint equations where pose and driver leave exactly one way. */
  private choose(): void {
    const { unknowns: n, equations: m } = this;
    if (m + 1 < n) return;
    const transposed = new Float64Array(n * m);
    for (let i = 0; i < m; i++) for (let j = 0; j < n; j++) transposed[j * m + i] = this.jacobian[i * n + j]!;
    const { rank, order } = new Qr(transposed, n, m);
    if (rank + 1 !== n) return;
    const rows = [...order.subarray(0, rank)].sort((a, b) => a - b);
    this.chosen = Int32Array.from([...rows, m]);
    // At a dead centre the choice may be a poor one: leave it to a better pose.
    if (!this.factoriseChosen(this.chosen)) this.chosen = undefined;
  }

  private unscale(x: Float64Array): void {
    for (let k = 2; k < x.length; k += 3) x[k]! /= this.length_mm;
  }

  /** Largest error of the equations in use, mm. */
  private worst(): number {
    if (!this.chosen) return largest(this.residual);
    let most = 0;
    for (const row of this.chosen) most = Math.max(most, Math.abs(this.residual[row]!));
    return most;
  }

  private norm(): number {
    let sum = 0;
    if (this.chosen) for (const row of this.chosen) sum += this.residual[row]! ** 2;
    else for (const value of this.residual) sum += value * value;
    return sum;
  }

  /** Errors of all equations and their derivatives by the scaled coordinates. */
  private evaluate(q: Coordinates, value: number): void {
    const { system, residual: r, jacobian: j, unknowns: n, length_mm: scale } = this;
    j.fill(0);
    let row = 0;
    for (const pin of system.pins) {
      r[row] = 0;
      r[row + 1] = 0;
      this.addPoint(q, pin.a, pin.onA, -1, row);
      this.addPoint(q, pin.b, pin.onB, 1, row);
      row += 2;
    }
    for (const [k, slider] of system.sliders.entries()) {
      const drives = system.driver.kind === 'slider' && system.driver.slider === k;
      this.addSlider(q, slider, row, drives ? this.equations : -1);
      if (drives) r[this.equations]! -= value;
      row += 2;
    }
    if (system.driver.kind === 'turn') {
      r[this.equations] = (q[3 * system.driver.body + 2]! - value) * scale;
      j[this.equations * n + 3 * system.driver.body + 2] = 1;
    }
  }

  /** Add ± a body's point to two equations. */
  private addPoint(q: Coordinates, body: number, place: Place, sign: number, row: number): void {
    const { residual: r, jacobian: j, unknowns: n } = this;
    if (body === GROUND) {
      r[row]! += sign * place.x_mm;
      r[row + 1]! += sign * place.y_mm;
      return;
    }
    const middle = this.system.bodies[body]!;
    const at = 3 * body;
    const [cos, sin] = [Math.cos(q[at + 2]!), Math.sin(q[at + 2]!)];
    const [u, v] = [place.x_mm - middle.x_mm, place.y_mm - middle.y_mm];
    const [x, y] = [cos * u - sin * v, sin * u + cos * v];
    r[row]! += sign * (middle.x_mm + q[at]! + x);
    r[row + 1]! += sign * (middle.y_mm + q[at + 1]! + y);
    j[row * n + at]! += sign;
    j[(row + 1) * n + at + 1]! += sign;
    j[row * n + at + 2]! -= (sign * y) / this.length_mm;
    j[(row + 1) * n + at + 2]! += (sign * x) / this.length_mm;
  }

  private addSlider(q: Coordinates, slider: Slider, row: number, lengthRow: number): void {
    const { residual: r, jacobian: j, unknowns: n, length_mm: scale } = this;
    const { a, b } = slider;
    const turnA = a === GROUND ? 0 : q[3 * a + 2]!;
    const turnB = b === GROUND ? 0 : q[3 * b + 2]!;
    const from = worldOf(this.system, q, a, slider.from);
    const to = worldOf(this.system, q, b, slider.to);
    const [ux, uy] = directionOf(slider, turnA);
    const [wx, wy] = [to.x_mm - from.x_mm, to.y_mm - from.y_mm];
    r[row] = ux * wy - uy * wx;
    r[row + 1] = (turnB - turnA) * scale;
    if (lengthRow >= 0) r[lengthRow] = ux * wx + uy * wy;
    for (const [body, sign, point] of [
      [a, -1, from],
      [b, 1, to],
    ] as const) {
      if (body === GROUND) continue;
      const at = 3 * body;
      const middle = this.system.bodies[body]!;
      const [px, py] = [point.x_mm - middle.x_mm - q[at]!, point.y_mm - middle.y_mm - q[at + 1]!];
      j[row * n + at]! -= sign * uy;
      j[row * n + at + 1]! += sign * ux;
      j[row * n + at + 2]! += (sign * (ux * px + uy * py)) / scale;
      j[(row + 1) * n + at + 2]! += sign;
      if (lengthRow < 0) continue;
      j[lengthRow * n + at]! += sign * ux;
      j[lengthRow * n + at + 1]! += sign * uy;
      j[lengthRow * n + at + 2]! += (sign * (uy * px - ux * py)) / scale;
    }
    if (a === GROUND) return;
    // The line itself turns with body a.
    j[row * n + 3 * a + 2]! -= (ux * wx + uy * wy) / scale;
    if (lengthRow >= 0) j[lengthRow * n + 3 * a + 2]! += (ux * wy - uy * wx) / scale;
  }
}

function directionOf({ from, to }: Slider, turn_rad: number): readonly [number, number] {
  const [dx, dy] = [to.x_mm - from.x_mm, to.y_mm - from.y_mm];
  const length = Math.hypot(dx, dy);
  const [cos, sin] = [Math.cos(turn_rad), Math.sin(turn_rad)];
  return [(cos * dx - sin * dy) / length, (sin * dx + cos * dy) / length];
}

/** Unit vector along a slider in a pose, from its `from` to its `to`. */
export function sliderDirection(q: Coordinates, slider: Slider): readonly [x: number, y: number] {
  return directionOf(slider, slider.a === GROUND ? 0 : q[3 * slider.a + 2]!);
}

/** Length of a slider in a pose, mm. */
export function sliderLength(system: PlanarSystem, q: Coordinates, slider: Slider): number {
  const from = worldOf(system, q, slider.a, slider.from);
  const to = worldOf(system, q, slider.b, slider.to);
  const [ux, uy] = sliderDirection(q, slider);
  return ux * (to.x_mm - from.x_mm) + uy * (to.y_mm - from.y_mm);
}

/** Where a point of a body, given as drawn, stands in a pose; mm. */
export function worldOf(system: PlanarSystem, q: Coordinates, body: number, place: Place): Place {
  if (body === GROUND) return place;
  const middle = system.bodies[body]!;
  const at = 3 * body;
  const [cos, sin] = [Math.cos(q[at + 2]!), Math.sin(q[at + 2]!)];
  const [u, v] = [place.x_mm - middle.x_mm, place.y_mm - middle.y_mm];
  return { x_mm: middle.x_mm + q[at]! + cos * u - sin * v, y_mm: middle.y_mm + q[at + 1]! + sin * u + cos * v };
}

/** How a place of a pose on a body moves at given rates of the coordinates. */
export function rateOfPoint(
  system: PlanarSystem,
  q: Coordinates,
  rate: Float64Array,
  body: number,
  place: Place,
): Place {
  if (body === GROUND) return { x_mm: 0, y_mm: 0 };
  const middle = system.bodies[body]!;
  const at = 3 * body;
  return {
    x_mm: rate[at]! - rate[at + 2]! * (place.y_mm - middle.y_mm - q[at + 1]!),
    y_mm: rate[at + 1]! + rate[at + 2]! * (place.x_mm - middle.x_mm - q[at]!),
  };
}

/** The motion that takes a body from its drawn pose to a pose. */
export function motionOf(system: PlanarSystem, q: Coordinates, body: number): Motion {
  if (body === GROUND) return { x_mm: 0, y_mm: 0, angle_rad: 0 };
  const origin = worldOf(system, q, body, { x_mm: 0, y_mm: 0 });
  return { ...origin, angle_rad: q[3 * body + 2]! };
}

function largest(values: Float64Array): number {
  let most = 0;
  for (const value of values) most = Math.max(most, Math.abs(value));
  return most;
}

/** Mean distance of the joints from the middles of their bodies, mm; 1 where there is nothing to measure. */
function typicalLength({ bodies, pins, sliders }: PlanarSystem): number {
  const ends = [
    ...pins.flatMap(({ a, b, onA, onB }) => [[a, onA] as const, [b, onB] as const]),
    ...sliders.flatMap(({ a, b, from, to }) => [[a, from] as const, [b, to] as const]),
  ];
  const reaches = ends.flatMap(([body, place]) => {
    const middle = bodies[body];
    return middle ? [Math.hypot(place.x_mm - middle.x_mm, place.y_mm - middle.y_mm)] : [];
  });
  const mean = reaches.reduce((sum, reach) => sum + reach, 0) / Math.max(1, reaches.length);
  return mean > 0 ? mean : 1;
}

/** One loop of a linkage: from body to body through joints and back. */
export interface Loop {
  /** Bodies passed, in order; `GROUND` among them where it is. */
  readonly bodies: readonly number[];
  /** How far the walk round the loop misses its start, mm. */
  readonly error_mm: number;
}

interface Step {
  readonly body: number;
  readonly enter: Place;
  readonly leave: Place;
  /** Slider crossed on leaving, and whether along its direction. */
  readonly slider?: { readonly slider: Slider; readonly sign: 1 | -1 };
}

interface Edge {
  readonly from: number;
  readonly to: number;
  readonly leave: Place;
  readonly enter: Place;
  readonly slider?: { readonly slider: Slider; readonly sign: 1 | -1 };
}

/**
 * The solver's own check: every independent loop walked round member by member, from turns and drawn lengths alone. It
 * uses no equation and no shift of the solve, so that a pose which closes here is a pose of the linkage.
 */
export function loopsOf(system: PlanarSystem, q: Coordinates): Loop[] {
  return independentLoops(system).map((steps) => {
    let x = 0;
    let y = 0;
    for (const { body, enter, leave, slider } of steps) {
      const turn = body === GROUND ? 0 : q[3 * body + 2]!;
      const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
      const [u, v] = [leave.x_mm - enter.x_mm, leave.y_mm - enter.y_mm];
      x += cos * u - sin * v;
      y += sin * u + cos * v;
      if (!slider) continue;
      const [ux, uy] = sliderDirection(q, slider.slider);
      const length = slider.sign * sliderLength(system, q, slider.slider);
      x += ux * length;
      y += uy * length;
    }
    return { bodies: steps.map((step) => step.body), error_mm: Math.hypot(x, y) };
  });
}

/** A spanning tree of the joints; each joint left over closes one loop. */
function independentLoops({ bodies, pins, sliders }: PlanarSystem): Step[][] {
  const edges: Edge[] = [
    ...pins.map((pin): Edge => ({ from: pin.a, to: pin.b, leave: pin.onA, enter: pin.onB })),
    ...sliders.map(
      (slider): Edge => ({
        from: slider.a,
        to: slider.b,
        leave: slider.from,
        enter: slider.to,
        slider: { slider, sign: 1 },
      }),
    ),
  ];
  const back = ({ from, to, leave, enter, slider }: Edge): Edge => ({
    from: to,
    to: from,
    leave: enter,
    enter: leave,
    ...(slider ? { slider: { slider: slider.slider, sign: -slider.sign as 1 | -1 } } : {}),
  });
  // The way from a root to every body, as edges walked outward.
  const ways = new Map<number, readonly Edge[]>();
  const left = new Set(edges);
  for (const root of [GROUND, ...bodies.keys()]) {
    if (ways.has(root)) continue;
    ways.set(root, []);
    const queue = [root];
    for (let body = queue.shift(); body !== undefined; body = queue.shift()) {
      for (const edge of edges) {
        const out = edge.from === body ? edge : edge.to === body ? back(edge) : undefined;
        if (!out || !left.has(edge) || ways.has(out.to)) continue;
        left.delete(edge);
        ways.set(out.to, [...ways.get(body)!, out]);
        queue.push(out.to);
      }
    }
  }
  return [...left].map((edge) => {
    const out = ways.get(edge.from)!;
    const home = ways.get(edge.to)!;
    let shared = 0;
    while (shared < out.length && out[shared] === home[shared]) shared++;
    const walk = [...out.slice(shared), edge, ...home.slice(shared).reverse().map(back)];
    return walk.map((step, k) => ({
      body: step.from,
      enter: walk.at(k - 1)!.enter,
      leave: step.leave,
      ...(step.slider ? { slider: step.slider } : {}),
    }));
  });
}
