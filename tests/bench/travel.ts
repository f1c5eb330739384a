/**
 * How long a stroke of 200 poses takes on the largest demo linkage, against plain Newton over a general dense solver
 * (`ml-matrix` LU) on the same equations, and what gaps, forces and the whole report cost beside it.
 *
 * Medians of turns taken in one run; compare the ratios. Nothing here passes or fails; both ways must end in the same
 * pose, else it throws.
 */
import { LuDecomposition, Matrix } from 'ml-matrix';
import { clearances, runShock, travel, type LinkageModel } from '../../shared/index.ts';
import { linkageOf, systemOf } from '../../shared/travel/linkage.ts';
import { GROUND, Planar, type Place, type PlanarSystem } from '../../shared/travel/planar.ts';
import { staticsAt } from '../../shared/travel/statics.ts';
import { demoModels } from './models.ts';
import type { TheRow } from './row.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const POSES = 200;
const TURNS = 15;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

function timed(...works: readonly (() => unknown)[]): number[] {
  const times = works.map((): number[] => []);
  for (let turn = -5; turn < TURNS; turn++) {
    works.forEach((work, k) => {
      const from = performance.now();
      work();
      if (turn >= 0) times[k]!.push(performance.now() - from);
    });
  }
  return times.map(median);
}

/** Plain Newton from the last pose, every matrix built afresh: what a general library invites to write. */
function plainNewton(system: PlanarSystem, q: number[], value: number): void {
  const n = q.length;
  const m = 2 * (system.pins.length + system.sliders.length) + 1;
  for (let step = 0; step < 30; step++) {
    const r = new Array<number>(m).fill(0);
    const jacobian = Matrix.zeros(m, n);
    const add = (row: number, column: number, by: number): void => {
      jacobian.set(row, column, jacobian.get(row, column) + by);
    };
    const pointOf = (body: number, place: Place) => {
      if (body === GROUND) return { x: place.x_mm, y: place.y_mm, u: 0, v: 0 };
      const middle = system.bodies[body]!;
      const [c, s] = [Math.cos(q[3 * body + 2]!), Math.sin(q[3 * body + 2]!)];
      const [u, v] = [
        c * (place.x_mm - middle.x_mm) - s * (place.y_mm - middle.y_mm),
        s * (place.x_mm - middle.x_mm) + c * (place.y_mm - middle.y_mm),
      ];
      return { x: middle.x_mm + q[3 * body]! + u, y: middle.y_mm + q[3 * body + 1]! + v, u, v };
    };
    system.pins.forEach(({ a, b, onA, onB }, k) => {
      for (const [body, place, sign] of [
        [a, onA, -1],
        [b, onB, 1],
      ] as const) {
        const { x, y, u, v } = pointOf(body, place);
        r[2 * k]! += sign * x;
        r[2 * k + 1]! += sign * y;
        if (body === GROUND) continue;
        add(2 * k, 3 * body, sign);
        add(2 * k + 1, 3 * body + 1, sign);
        add(2 * k, 3 * body + 2, -sign * v);
        add(2 * k + 1, 3 * body + 2, sign * u);
      }
    });
    const { a, b, from, to } = system.sliders[0]!;
    const at = 2 * system.pins.length;
    const [p, e] = [pointOf(a, from), pointOf(b, to)];
    const turnOf = (body: number): number => (body === GROUND ? 0 : q[3 * body + 2]!);
    const drawn = Math.atan2(to.y_mm - from.y_mm, to.x_mm - from.x_mm) + turnOf(a);
    const [ux, uy] = [Math.cos(drawn), Math.sin(drawn)];
    const [wx, wy] = [e.x - p.x, e.y - p.y];
    r[at] = ux * wy - uy * wx;
    r[at + 1] = turnOf(b) - turnOf(a);
    r[m - 1] = ux * wx + uy * wy - value;
    for (const [body, sign, { u, v }] of [
      [a, -1, p],
      [b, 1, e],
    ] as const) {
      if (body === GROUND) continue;
      add(at, 3 * body, -sign * uy);
      add(at, 3 * body + 1, sign * ux);
      add(at, 3 * body + 2, sign * (ux * u + uy * v));
      add(at + 1, 3 * body + 2, sign);
      add(m - 1, 3 * body, sign * ux);
      add(m - 1, 3 * body + 1, sign * uy);
      add(m - 1, 3 * body + 2, sign * (uy * u - ux * v));
    }
    if (a !== GROUND) {
      add(at, 3 * a + 2, -(ux * wx + uy * wy));
      add(m - 1, 3 * a + 2, ux * wy - uy * wx);
    }
    if (Math.max(...r.map(Math.abs)) < 1e-10) return;
    const change = new LuDecomposition(jacobian).solve(Matrix.columnVector(r.map((error) => -error))).to1DArray();
    for (let k = 0; k < n; k++) q[k]! += change[k]!;
  }
  throw new Error('bench travel: plain Newton did not settle');
}

/** The largest demo linkage with a shock: most members. */
function largest(models: readonly LinkageModel[]): LinkageModel {
  return models
    .filter((model) => model.shock)
    .reduce((most, model) => (Object.keys(model.members).length > Object.keys(most.members).length ? model : most));
}

/** The rows. */
export function benchTravel(): TheRow[] {
  const model = largest(demoModels());
  const linkage = linkageOf(resolveModel(model));
  const system = systemOf(linkage, { kind: 'slider', slider: 0 });
  const { eye_to_eye_mm, stroke_mm } = model.shock!;
  const values = Array.from({ length: POSES }, (_, k) => eye_to_eye_mm - (stroke_mm * k) / (POSES - 1));
  const ours = (): Float64Array => {
    const planar = new Planar(system);
    const q = planar.drawn();
    if (!planar.sweep(q, values).isThere) throw new Error('bench travel: the stroke did not come to its end');
    return q;
  };
  const theirs = (): number[] => {
    const q = new Array<number>(3 * system.bodies.length).fill(0);
    for (const value of values) plainNewton(system, q, value);
    return q;
  };
  const [mine, other] = [ours(), theirs()];
  const apart = Math.max(...other.map((value, k) => Math.abs(value - mine[k]!)));
  if (apart > 1e-7) throw new Error(`bench travel: the two ways end ${apart} apart`);
  const [ours_ms, theirs_ms] = timed(ours, theirs);
  const run = runShock(model, POSES)!;
  const [run_ms, gaps_ms, forces_ms, whole_ms] = timed(
    () => runShock(model, POSES),
    () => clearances(run),
    () => run.poses.map((pose) => staticsAt(run, pose, { x_N: 0, y_N: 1000 })),
    () => travel(model, { poses: POSES }),
  );
  return [
    {
      what: `${model.id}, ${POSES} poses: the stroke; theirs: plain Newton over ml-matrix LU`,
      ours_ms: ours_ms!,
      theirs_ms: theirs_ms!,
      ratio: theirs_ms! / ours_ms!,
      goal: '< 30 ms',
    },
    { what: 'the stroke with every loop checked in every pose', ours_ms: run_ms! },
    { what: 'all gaps of all poses', ours_ms: gaps_ms! },
    { what: 'forces of all poses, with virtual work beside them', ours_ms: forces_ms! },
    { what: 'the whole report', ours_ms: whole_ms! },
  ];
}
