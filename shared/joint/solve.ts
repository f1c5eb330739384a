/**
 * One pivot solved at hand-tight, at the spec torque, and at both ends of its preload band.
 *
 * A stack whose threads do not match or never meet pulls nothing. Each level starts from the one before, so that the
 * result does not depend on the order in which levels are asked for. N, mm.
 */
import { checkClamp, clamp, type ClampProblem, type ClampResult } from './clamp.ts';
import { clampProblem, receiverDistance_mm, type Joint, type JointStack } from './joint.ts';
import { meanDiameter_mm } from './rubbing.ts';
import { tighten, turningItem } from './tightening.ts';
import type { ClampCheck, Tightening } from '../types.ts';

export interface SolvedJoint {
  readonly joint: Joint;
  readonly hand: ClampResult;
  readonly low: ClampResult;
  readonly spec: ClampResult;
  readonly high: ClampResult;
  readonly check: ClampCheck;
  readonly tightening: ReadonlyMap<string, Tightening>;
  /** Preload that reaches the column at the spec torque: 0 where the thread does not take hold. */
  readonly pull_N: ReadonlyMap<string, number>;
}

/**
 * Solve a joint; `preload_N` replaces the preload of the torque (for reference cases). The two ends of the band are
 * solved when they are asked for.
 */
export function solveJoint(joint: Joint, preload_N?: number): SolvedJoint {
  const hand = settle(clampProblem(joint, () => 0));
  const tight = settleRubbing(
    joint,
    rubbingOf(joint),
    (rubbing) => tightFrom(joint, hand, rubbing, preload_N),
    ({ spec }) => spec,
  );
  return new Solved(joint, hand, tight);
}

class Solved implements SolvedJoint {
  readonly hand: ClampResult;
  readonly spec: ClampResult;
  readonly tightening: ReadonlyMap<string, Tightening>;
  readonly pull_N: ReadonlyMap<string, number>;
  readonly joint: Joint;
  private readonly tight: Tight;
  private readonly ends = new Map<Level, ClampResult>();

  constructor(joint: Joint, hand: ClampResult, tight: Tight) {
    this.joint = joint;
    this.tight = tight;
    this.hand = anchored(joint, hand);
    this.spec = anchored(joint, tight.spec);
    this.tightening = tight.tightening;
    this.pull_N = new Map(joint.stacks.map((own) => [own.stack.id, tight.pullAt('spec')(own)]));
  }

  get check(): ClampCheck {
    return checkClamp(clampProblem(this.joint, this.tight.pullAt('spec')), this.tight.spec);
  }

  get low(): ClampResult {
    return this.end('low');
  }

  get high(): ClampResult {
    return this.end('high');
  }

  private end(level: 'low' | 'high'): ClampResult {
    const known = this.ends.get(level);
    if (known) return known;
    const { joint, tight } = this;
    const found = anchored(joint, settle(clampProblem(joint, tight.pullAt(level)), tight.spec.shift_mm));
    this.ends.set(level, found);
    return found;
  }
}

/** Mean diameter of what rubs under the turning end of each stack, mm; undefined where nothing can touch it. */
export type Rubbing = ReadonlyMap<string, number | undefined>;

/**
 * Solve until the faces that rub are those the preload was worked out from. What rubs decides the preload and the
 * preload what rubs; where a second face comes to bear the two settle quickly.
 */
export function settleRubbing<T>(
  joint: Joint,
  first: Rubbing,
  solve: (rubbing: Rubbing) => T,
  tightOf: (solved: T) => ClampResult,
): T {
  let rubbing = first;
  for (let round = 1; ; round++) {
    const solved = solve(rubbing);
    const found = rubbingOf(joint, tightOf(solved));
    if (isSameRubbing(rubbing, found) || round === MOST_ROUNDS) return solved;
    rubbing = found;
  }
}

const MOST_ROUNDS = 12;
/** Mean diameters nearer than this are one, mm: a millionth of the preload at most. */
const SAME_mm = 1e-5;

/** True where the preload from either is one. */
export function isSameRubbing(one: Rubbing, other: Rubbing): boolean {
  return [...one].every(([id, face_mm]) => isSame(face_mm, other.get(id)));
}

function isSame(a: number | undefined, b: number | undefined): boolean {
  return a === b || (a !== undefined && b !== undefined && Math.abs(a - b) < SAME_mm);
}

/** What rubs under the turning end of every stack: by force in a solved state, else what a hand feels first. */
export function rubbingOf(joint: Joint, spec?: ClampResult): Rubbing {
  return new Map(
    joint.stacks.map((own) => {
      const turning = turningItem(own);
      const faces = joint.meetings.flatMap(({ a, b, gap, law }) => {
        const isUnder =
          law !== undefined && (a.item === turning || b.item === turning) && a.item.stack === b.item.stack;
        return isUnder ? [{ bands: gap.bands_mm, gap_mm: gap.gap_mm, force_N: spec?.contact_N[law] ?? 0 }] : [];
      });
      const sum_N = faces.reduce((sum, { force_N }) => sum + force_N, 0);
      if (sum_N > 0) {
        const mean = faces.reduce((sum, { bands, force_N }) => sum + (force_N / sum_N) * meanDiameter_mm(bands), 0);
        return [own.stack.id, mean] as const;
      }
      const first = faces.reduce<(typeof faces)[number] | undefined>(
        (least, face) => (least === undefined || face.gap_mm < least.gap_mm ? face : least),
        undefined,
      );
      return [own.stack.id, first && meanDiameter_mm(first.bands)] as const;
    }),
  );
}

interface Tight {
  readonly spec: ClampResult;
  readonly tightening: ReadonlyMap<string, Tightening>;
  readonly pullAt: (level: Level) => (own: JointStack) => number;
}

type Level = 'low' | 'spec' | 'high';

function tightFrom(joint: Joint, hand: ClampResult, rubbing: Rubbing, preload_N: number | undefined): Tight {
  const tightening = new Map(
    joint.stacks.map((own) => {
      const { id } = own.stack;
      return [id, tighten(own, { engagement_mm: 0, rubbing_mm: rubbing.get(id) })] as const;
    }),
  );
  const holds = new Map(joint.stacks.map((own) => [own.stack.id, own.thread.matches]));
  const pullAt = (level: Level) => (own: JointStack) =>
    holds.get(own.stack.id) === true ? (preload_N ?? tightening.get(own.stack.id)!.preload_N[level]) : 0;
  let spec = settle(clampProblem(joint, pullAt('spec')), hand.shift_mm);
  // A thread that is still short of its partner when everything is drawn home cannot have drawn it there.
  for (const own of joint.stacks) {
    const engagement = engagementAt(own, spec);
    if (engagement <= own.thread.axle.pitch_mm && holds.get(own.stack.id) === true) holds.set(own.stack.id, false);
  }
  if ([...holds.values()].includes(false)) spec = settle(clampProblem(joint, pullAt('spec')), hand.shift_mm);
  for (const own of joint.stacks)
    tightening.set(own.stack.id, { ...tightening.get(own.stack.id)!, engagement_mm: engagementAt(own, spec) });
  return { spec, tightening, pullAt };
}

/**
 * The same state seen from the bike: nothing holds a joint as a whole, so its common drift is taken out: the frame
 * stays where the model puts it, or without one the middle of its members.
 */
function anchored(joint: Joint, result: ClampResult): ClampResult {
  const frame = frameOf(joint);
  const bases = frame === undefined ? [...joint.bases.values()] : [joint.bases.get(frame)!];
  const drift = bases.reduce((sum, base) => sum + result.shift_mm[base]! / bases.length, 0);
  return { ...result, shift_mm: result.shift_mm.map((shift) => shift - drift) };
}

/** The frame where it takes part in the joint: what the other members are measured against. */
export function frameOf(joint: Joint): string | undefined {
  return [...joint.bases.keys()].find((id) => joint.model.members[id]!.kind === 'frame');
}

function settle(problem: ClampProblem, start?: Float64Array): ClampResult {
  const result = clamp(problem, start);
  if (!result.isSolved)
    throw new Error(
      `clamp: no balance after ${result.steps} steps (${problem.bodies} bodies, ${problem.contacts.length} contacts)`,
    );
  return result;
}

/** Shared thread length in a solved state, mm. */
function engagementAt(own: JointStack, result: ClampResult): number {
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const moved = sign * (result.shift_mm[own.receiver.body]! - result.shift_mm[own.axle.body]!);
  return own.thread.engagement(receiverDistance_mm(own) + moved);
}
