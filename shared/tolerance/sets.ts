/**
 * One joint made ready to be built ten thousand times: the laws stay, only their gaps spread, and each build is judged
 * as the fit check would judge it.
 *
 * The joint is built and solved once at the spec preload; a build adds the travel of every gap to it and solves again
 * from there, with the preload that its own rubbing faces give. Judged by the same limits as the findings that stop a
 * pivot: a build plays when the column does not clamp its rings (inner ring loose, column open, bottomed), pinches when
 * something is pressed that must not be (side load, arms bent, member off its line, outer ring or arm touched), and
 * clamps otherwise. Stiffness is that of the nominal lengths: a tolerance changes it by less than a hundredth. N, mm.
 */
import { clamp, type ClampResult, type ContactLaw } from '../joint/clamp.ts';
import { armLimit } from '../joint/arm.ts';
import { isColumnPiece, clampProblem, type Joint, type JointStack, linedBores } from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import { bypassOf, cutsOf, HOLDS_N, innerRingMeets, meetAll, runsOf, type Met } from '../joint/reading.ts';
import {
  frameOf,
  isSameRubbing,
  rubbingOf,
  settleRubbing,
  solveJoint,
  type Rubbing,
  type SolvedJoint,
} from '../joint/solve.ts';
import { tighten } from '../joint/tightening.ts';
import { sideLimit_N } from '../standards/bearings.ts';
import { chainsOf, type Chain } from './chain.ts';
import { dimensionsOf, type Dimensions, type ToleranceOptions } from './dimensions.ts';
import { gapEffects } from './faces.ts';

/** What a build may do. */
export const SET_CLASSES = ['clamps', 'pinches', 'plays'] as const;
/** What a build does when its axle is tight. */
export type SetClass = (typeof SET_CLASSES)[number];

/** Findings that stop a build for the lengths of its parts. */
export const BUILD_REASONS = [
  'inner-ring-loose',
  'side-play',
  'bottoms-before-clamp',
  'outer-ring-touched',
  'arm-rubbed',
  'arm-drawn',
  'member-off-line',
  'bearing-side-loaded',
] as const;
/** Why a build does not clamp, by the code of the finding. */
export type SetReason = (typeof BUILD_REASONS)[number];

const PLAYS: readonly SetReason[] = ['inner-ring-loose', 'side-play', 'bottoms-before-clamp'];

/** One build solved and judged. */
export interface Build {
  readonly class: SetClass;
  readonly reasons: readonly SetReason[];
  /**
   * Least force of the column through a face of an inner ring (without bearings, through the column), N, over every
   * stack.
   */
  readonly clamp_N: number;
  /** Greatest side load of a bearing, N, without sign. */
  readonly sideLoad_N: number;
}

/** A joint ready to be built. */
export interface SetTrial {
  readonly joint: Joint;
  readonly solved: SolvedJoint;
  readonly dimensions: Dimensions;
  readonly chains: readonly Chain[];
  /** Build with the given deviations from nominal, mm, by dimension number. */
  build(deviation_mm: ArrayLike<number>): Build;
  /** The solve behind a build, for checks. */
  solve(deviation_mm: ArrayLike<number>): ClampResult;
}

/**
 * Make a joint ready; nothing is sampled yet. `build` takes one deviation a dimension, mm, and throws an Error only
 * where the clamp solve finds no balance. Throws a RangeError for options that mean nothing.
 */
export function setUpSets(joint: Joint, options: ToleranceOptions = {}): SetTrial {
  const dimensions = dimensionsOf(joint, options);
  const solved = solveJoint(joint);
  const laws = new LawBook(joint, solved, dimensions);
  return {
    joint,
    solved,
    dimensions,
    chains: chainsOf(joint, dimensions),
    build: (deviation_mm) => laws.judge(laws.solve(deviation_mm)),
    solve: (deviation_mm) => laws.solve(deviation_mm).result,
  };
}

/** A stack's laws sorted by what they say. */
interface StackLaws {
  readonly rings: readonly (readonly number[])[];
  readonly links: readonly { readonly across: readonly number[]; readonly between: readonly number[] }[];
  /** The links by number, as a loose part between two joins them. */
  readonly runs: readonly (readonly number[])[];
  readonly bottoming: readonly number[];
}

/** A build's balance, and what its faces let the torque of each stack pull with, in the order of the stacks. */
interface Balance {
  readonly result: ClampResult;
  readonly pull_N: readonly number[];
  readonly preload_N: readonly number[];
}

/** Every law with its travel, and which of them decide what. */
class LawBook {
  private readonly nominal_mm: Float64Array;
  private readonly laws: Mutable<ContactLaw>[];
  private readonly start: Float64Array;
  /** What rubs at the nominal lengths: where the search of a build's own begins. */
  private readonly rubbing: Rubbing;
  /** Travels of the gaps, flat: law, dimension and coefficient of each. */
  private readonly travelLaw: Int32Array;
  private readonly travelDimension: Int32Array;
  private readonly travelCoefficient: Float64Array;
  private readonly stacks: readonly StackLaws[];
  private readonly rubs: readonly { readonly law: number; readonly reason: SetReason }[];
  /** Laws on the two sides of each bore that turns on a bush. */
  private readonly floats: readonly { readonly low: readonly number[]; readonly high: readonly number[] }[];
  private readonly arms: readonly { readonly body: number; readonly base: number; readonly limit_mm: number }[];
  private readonly members: readonly number[];
  /** Bodies whose mean stands still: the frame's, else every member's. */
  private readonly still: readonly number[];
  private readonly loads: readonly { readonly spring: number; readonly limit_N: number }[];

  constructor(
    private readonly joint: Joint,
    private readonly solved: SolvedJoint,
    dimensions: Dimensions,
  ) {
    this.laws = joint.contacts.map((law) => ({ ...law }));
    this.nominal_mm = Float64Array.from(joint.contacts, (law) => law.gap_mm);
    const flat = gapEffects(joint, dimensions).flatMap((effect, law) =>
      [...effect].map(([dimension, coefficient]) => ({ law, dimension, coefficient })),
    );
    this.travelLaw = Int32Array.from(flat, (entry) => entry.law);
    this.travelDimension = Int32Array.from(flat, (entry) => entry.dimension);
    this.travelCoefficient = Float64Array.from(flat, (entry) => entry.coefficient);
    this.start = solved.spec.shift_mm;
    this.rubbing = rubbingOf(joint, solved.spec);
    const met = meetAll(solved);
    this.stacks = joint.stacks.map((own) => stackLaws(own, met));
    const lined = linedBores(joint);
    const floating = new Map([...lined].map((bore) => [bore, { low: [] as number[], high: [] as number[] }] as const));
    this.rubs = met.flatMap(({ shouldBeFree, law, a, b }) => {
      if (!shouldBeFree || law === undefined) return [];
      const free = isColumnPiece(a) ? b : a;
      const sides = free.item.boss && floating.get(free.item.boss);
      if (sides) {
        if (free.item.role === 'boss') sides[free === a ? 'high' : 'low'].push(law);
        return [];
      }
      const reason =
        free.solid.role === 'outer-ring' && isColumnPiece(free === a ? b : a)
          ? ('outer-ring-touched' as const)
          : ('arm-rubbed' as const);
      return [{ law, reason }];
    });
    this.floats = [...floating.values()];
    this.arms = joint.arms.map(({ body, base, item }) => ({ body, base, limit_mm: armLimit(item.boss!).value }));
    this.members = [...joint.bases.values()];
    const frame = frameOf(joint);
    this.still = frame === undefined ? this.members : [joint.bases.get(frame)!];
    this.loads = joint.bearingSprings.map(({ item, spring }) => ({
      spring,
      limit_N: sideLimit_N(item.bearing!),
    }));
  }

  solve(deviation_mm: ArrayLike<number>): Balance {
    const { joint, laws, nominal_mm, travelLaw, travelDimension, travelCoefficient } = this;
    for (let k = 0; k < laws.length; k++) laws[k]!.gap_mm = nominal_mm[k]!;
    for (let k = 0; k < travelLaw.length; k++)
      laws[travelLaw[k]!]!.gap_mm += travelCoefficient[k]! * deviation_mm[travelDimension[k]!]!;
    return settleRubbing(
      joint,
      this.rubbing,
      (rubbing) => this.balance(rubbing),
      ({ result }) => result,
    );
  }

  private balance(rubbing: Rubbing): Balance {
    const { joint, solved } = this;
    const isNominal = isSameRubbing(rubbing, this.rubbing);
    const preload_N = joint.stacks.map((own) => {
      const known = solved.tightening.get(own.stack.id)!;
      const card = isNominal ? known : tighten(own, { ...known, rubbing_mm: rubbing.get(own.stack.id) });
      return card.preload_N.spec;
    });
    // A thread that does not take hold at the nominal lengths pulls nothing in a build either.
    const pull_N = joint.stacks.map((own, k) => (solved.pull_N.get(own.stack.id)! > 0 ? preload_N[k]! : 0));
    const problem = clampProblem(joint, (own) => pull_N[joint.stacks.indexOf(own)]!);
    const result = clamp({ ...problem, contacts: this.laws }, this.start);
    if (!result.isSolved) throw new Error(`build: no balance after ${result.steps} steps`);
    return { result, pull_N, preload_N };
  }

  judge({ result: { shift_mm, contact_N, spring_N }, pull_N, preload_N }: Balance): Build {
    const reasons = new Set<SetReason>();
    const open = (law: number): number =>
      this.laws[law]!.gap_mm + shift_mm[this.laws[law]!.b]! - shift_mm[this.laws[law]!.a]!;
    const sum = (laws: readonly number[]): number => {
      let total = 0;
      for (const law of laws) total += contact_N[law]!;
      return total;
    };
    let clamp_N = Infinity;
    for (const [k, own] of this.stacks.entries()) {
      const least_N = LIMITS.leastRingShare.value * preload_N[k]!;
      for (const ring of own.rings) {
        const force = sum(ring);
        clamp_N = Math.min(clamp_N, force);
        if (force < least_N) reasons.add('inner-ring-loose');
      }
      if (own.rings.length === 0) for (const { across } of own.links) clamp_N = Math.min(clamp_N, sum(across));
      for (const run of own.runs) {
        let play = 0;
        for (const link of run) {
          const { across, between } = own.links[link]!;
          if (between.length === 0 || sum(across) > 0) continue;
          let gap = Infinity;
          for (const law of between) gap = Math.min(gap, Math.max(0, open(law)));
          play += gap;
        }
        if (play > LIMITS.touching_mm.value) reasons.add('side-play');
      }
      if (pull_N[k]! > 0 && sum(own.bottoming) > LIMITS.bottomShare.value * pull_N[k]!)
        reasons.add('bottoms-before-clamp');
    }
    for (const { law, reason } of this.rubs)
      if (contact_N[law]! > 0 || open(law) <= LIMITS.rubClearance_mm.value) reasons.add(reason);
    for (const { low, high } of this.floats) {
      const room = [low, high].map((laws) => Math.max(0, Math.min(...laws.map(open))));
      const isPressed = [...low, ...high].some((law) => contact_N[law]! >= HOLDS_N);
      if (isPressed || room[0]! + room[1]! <= LIMITS.rubClearance_mm.value) reasons.add('arm-rubbed');
    }
    for (const { body, base, limit_mm } of this.arms)
      if (Math.abs(shift_mm[body]! - shift_mm[base]!) > limit_mm) reasons.add('arm-drawn');
    let drift = 0;
    for (const body of this.still) drift += shift_mm[body]! / this.still.length;
    for (const body of this.members)
      if (Math.abs(shift_mm[body]! - drift) > LIMITS.offLine_mm.value) reasons.add('member-off-line');
    let sideLoad_N = 0;
    for (const { spring, limit_N } of this.loads) {
      const load = Math.abs(spring_N[spring]!);
      sideLoad_N = Math.max(sideLoad_N, load);
      if (load > limit_N) reasons.add('bearing-side-loaded');
    }
    const listed = [...reasons];
    const name: SetClass = listed.some((reason) => PLAYS.includes(reason))
      ? 'plays'
      : listed.length > 0
        ? 'pinches'
        : 'clamps';
    return { class: name, reasons: listed, clamp_N: clamp_N === Infinity ? 0 : clamp_N, sideLoad_N };
  }
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** The laws of one stack's column, as `joint/reading.ts` reads them. */
function stackLaws(own: JointStack, met: readonly Met[]): StackLaws {
  const lawsOf = (found: readonly Met[]): number[] => found.flatMap(({ law }) => law ?? []);
  const bypass = lawsOf(bypassOf(own, met));
  return {
    rings: own.items
      .filter((item) => item.bearing)
      .flatMap((item) => Object.values(innerRingMeets(item, met)).map(lawsOf)),
    links: cutsOf(own, met).map(({ across, between }) => ({ across: lawsOf(across), between: lawsOf(between) })),
    runs: runsOf(own),
    bottoming: own.threadLimit === undefined ? bypass : [...bypass, own.threadLimit],
  };
}
