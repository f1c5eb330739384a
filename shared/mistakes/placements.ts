/**
 * Is it the only way? Every way to lay a pivot's loose spacers into its slots, and which of them pass the fit check.
 *
 * A placement gives each slot one of the pivot's own spacers, one way round; none is left out, seals, axle and torque
 * stay as written. Equal spacers exchanged, and spacers that are the same both ways turned, are one placement. Search:
 * spacers lie in runs between bearings and bosses, and what a run must satisfy whatever the other runs hold is tried
 * run by run, on the unsolved geometry; the fillings that survive are combined and solved. A run is struck out only
 * where the fit check could not pass it: its length misses its place by more than play, bend, drift and squash could
 * ever make up, a face that reaches a free spacer stands level with it, or the axle does not go through. Kept honest by
 * a brute-force twin in the tests, which lays and solves them all by itself. mm.
 */
import { hasStop, judge, verdictOf } from '../findings/judge.ts';
import { toldVerdict } from '../findings/told.ts';
import {
  boreRadius_mm,
  makeJoint,
  type Joint,
  type JointItem,
  type JointStack,
  type Meeting,
  type Piece,
} from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import { pivotOf, resolveChange, resolveModel, type ResolvedModel, type ResolvedPivot } from '../model/resolve.ts';
import type { LinkageModel, Part, Stack } from '../model/schema.ts';
import { kindOf, partProfile, stands } from '../parts/kinds.ts';
import { signature } from '../parts/look-alike.ts';
import { radiusRange } from '../profile/polygon.ts';
import { sideLimit_N } from '../standards/bearings.ts';
import { armLimit } from '../joint/arm.ts';
import type { Verdict } from '../types.ts';

/** One slot of a pivot and what a placement lays into it. */
export interface Filled {
  readonly stack: string;
  readonly row: string;
  readonly part: string;
  readonly turned: boolean;
}

/** A placement that passes the fit check; `unsure` where an estimate decides or something is to be looked at. */
export interface Placement {
  readonly filled: readonly Filled[];
  readonly isWritten: boolean;
  readonly verdict: Exclude<Verdict, 'faulty'>;
}

export interface Placements {
  readonly pivot: string;
  /** Ways that differ to the solve. */
  readonly ways: number;
  /** How many of them were solved; the others were struck out on their geometry. */
  readonly solved: number;
  /** False where there are more ways than are worth solving: what is listed passes, what is not may as well. */
  readonly isWhole: boolean;
  readonly passing: readonly Placement[];
}

/** Ways solved at the most; a real pivot has a few dozen. */
const MOST_SOLVED = 4000;

interface Slot {
  readonly stack: string;
  readonly row: string;
  readonly part: Part;
  readonly written: Filled;
}
/** A loose spacer of the pivot, up to likeness. */
interface Kind {
  readonly part: string;
  readonly hasTwoWays: boolean;
  readonly count: number;
}

/**
 * The placements of a pivot's loose spacers that pass, the one as written first. Cost: one judging a placement that its
 * geometry does not rule out, at the most 4,000; mostly under 100 ms. Throws a RangeError when the model has no such
 * pivot.
 */
export function placements(model: LinkageModel, pivotId: string): Placements {
  const written = resolveModel(model);
  const pivot = pivotOf(written, pivotId, 'placements');
  const slots = slotsOf(pivot);
  const kinds = kindsOf(slots);
  const found: Placement[] = [];
  let solved = 0;
  const fillings = runsOf(pivot, slots).map((run) => [...fillRun(written, pivotId, run, kinds)]);
  for (const filled of combine(fillings, kinds)) {
    if (solved >= MOST_SOLVED) break;
    solved++;
    const placement = solvePlacement(written, pivotId, slots, filled);
    if (placement) found.push(placement);
  }
  return {
    pivot: pivotId,
    ways: countWays(kinds, slots.length),
    solved,
    isWhole: solved < MOST_SOLVED,
    passing: found.sort((a, b) => Number(b.isWritten) - Number(a.isWritten)),
  };
}

function solvePlacement(
  model: ResolvedModel,
  pivotId: string,
  slots: readonly Slot[],
  filled: readonly Filled[],
): Placement | undefined {
  const judged = judge(layInto(model, pivotId, filled), pivotId);
  if (hasStop(judged.findings)) return undefined;
  const verdict = toldVerdict({ verdict: verdictOf(judged), findings: judged.findings });
  const isWritten = slots.every((slot, k) => isSameFilling(model, slot, filled[k]!));
  return verdict === 'faulty' ? undefined : { filled, isWritten, verdict };
}

function slotsOf({ stacks }: ResolvedPivot): Slot[] {
  return stacks.flatMap((stack) =>
    stack.row.flatMap((entry): Slot[] => {
      if (entry.role !== 'spacer' || !stands(entry.part, 'loose') || kindOf(entry.part).seals) return [];
      const place = { stack: stack.id, row: entry.id };
      return [{ ...place, part: entry.part, written: { ...place, part: entry.partId, turned: entry.turned === true } }];
    }),
  );
}

/** The pivot's spacers, equal ones counted together under the first one's name. */
function kindsOf(slots: readonly Slot[]): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const { part, written } of slots) {
    const key = signature(part);
    const { part: first, count } = kinds.get(key) ?? { part: written.part, count: 0 };
    kinds.set(key, { part: first, hasTwoWays: partProfile(part).hasTwoWays, count: count + 1 });
  }
  return [...kinds.values()];
}

function isSameFilling({ parts }: ResolvedModel, { part, written }: Slot, now: Filled): boolean {
  return (
    signature(part) === signature(parts[now.part]!) && (!partProfile(part).hasTwoWays || written.turned === now.turned)
  );
}

/** Ways to fill slots from a supply, each spacer both ways round where that matters. */
function* layOut(
  slots: readonly Slot[],
  kinds: readonly Kind[],
  filled: readonly Filled[] = [],
): Generator<readonly Filled[]> {
  const slot = slots[filled.length];
  if (!slot) {
    yield filled;
    return;
  }
  for (const kind of kinds) {
    if (filled.filter(({ part }) => part === kind.part).length >= kind.count) continue;
    for (const turned of kind.hasTwoWays ? [false, true] : [false])
      yield* layOut(slots, kinds, [...filled, { stack: slot.stack, row: slot.row, part: kind.part, turned }]);
  }
}

/** Number of different ways: the orders of the spacers, equal ones folded, times two for each that has two faces. */
function countWays(kinds: readonly Kind[], slots: number): number {
  let ways = 1;
  let left = slots;
  for (const { count, hasTwoWays } of kinds) {
    for (let k = 0; k < count; k++) ways = (ways * (left - k)) / (k + 1);
    if (hasTwoWays) ways *= 2 ** count;
    left -= count;
  }
  return Math.round(ways);
}

/** The model with a placement laid into the pivot. */
function layInto(model: ResolvedModel, pivotId: string, filled: readonly Filled[]): ResolvedModel {
  const byPlace = new Map(filled.map((one) => [`${one.stack}/${one.row}`, one] as const));
  const fill = (stack: Stack): Stack => ({
    ...stack,
    row: stack.row.map((entry) => {
      const now = byPlace.get(`${stack.id}/${entry.id}`);
      return now ? { ...entry, part: now.part, turned: now.turned } : entry;
    }),
  });
  const pivots = model.written.pivots.map((pivot) =>
    pivot.id === pivotId ? { ...pivot, stacks: pivot.stacks.map(fill) } : pivot,
  );
  return resolveChange(model, { ...model.written, pivots });
}

/** The slots between two fixed neighbours. */
type Run = readonly Slot[];

function runsOf({ stacks }: ResolvedPivot, slots: readonly Slot[]): Run[] {
  return stacks.flatMap((stack) => {
    const runs: Slot[][] = [[]];
    for (const entry of stack.row) {
      const slot = slots.find((one) => one.stack === stack.id && one.row === entry.id);
      if (slot) runs.at(-1)!.push(slot);
      else runs.push([]);
    }
    return runs.filter((run) => run.length > 0);
  });
}

/** The fillings of one run that some build of the others might pass with. */
function* fillRun(
  model: ResolvedModel,
  pivotId: string,
  run: Run,
  kinds: readonly Kind[],
): Generator<readonly Filled[]> {
  for (const filled of layOut(run, kinds)) {
    if (mayPass(makeJoint(layInto(model, pivotId, filled), pivotId), filled)) yield filled;
  }
}

/** One filling of every run such that each spacer is used as often as there is one. */
function* combine(
  fillings: readonly (readonly (readonly Filled[])[])[],
  kinds: readonly Kind[],
  chosen: readonly Filled[] = [],
): Generator<readonly Filled[]> {
  const [first, ...rest] = fillings;
  if (!first) {
    yield chosen;
    return;
  }
  for (const filled of first) {
    const all = [...chosen, ...filled];
    if (kinds.every(({ part, count }) => all.filter((one) => one.part === part).length <= count))
      yield* combine(rest, kinds, all);
  }
}

/** What two pressed faces may give way by, mm: far above what any clamp force in a model squashes a sleeve by. */
const SQUASH_mm = 0.1;

/** False where no build of the other runs could make this one pass. */
function mayPass(joint: Joint, filled: readonly Filled[]): boolean {
  const ids = new Set(filled.map(({ stack, row }) => `${stack}/${row}`));
  const own = joint.stacks.find(({ stack }) => stack.id === filled[0]!.stack)!;
  const spacers = own.items.filter((item) => ids.has(item.id));
  return passesAxle(joint, own, spacers) && hasLength(joint, own, spacers) && isClear(joint, own, spacers);
}

/** The thinnest the axle gets must go through every spacer; a screw may carry spacers that its sleeve never meets. */
function passesAxle(joint: Joint, own: JointStack, spacers: readonly JointItem[]): boolean {
  const axle = own.stack.axle.part;
  if (axle.kind === 'sleeve') return true;
  const thinnest = Math.min(...axle.shank.map((cylinder) => cylinder.diameter_mm));
  return spacers.every((spacer) => 2 * boreRadius_mm(joint.pieces, spacer) > thinnest - SQUASH_mm);
}

/** The run's length against its place: what is missing must be made up by play, bend and drift within their limits. */
function hasLength(joint: Joint, own: JointStack, spacers: readonly JointItem[]): boolean {
  // A spring makes up for what its run is short or long.
  if (spacers.some(({ nearBody }) => nearBody !== undefined)) return true;
  const slack = own.slack.find(({ items }) => spacers.every((spacer) => items.includes(spacer)));
  if (!slack?.before || !slack.after) return true;
  return Math.abs(slack.free_mm) <= give_mm(joint, slack.before) + give_mm(joint, slack.after) + SQUASH_mm;
}

/**
 * How far a fixed item may stand off its place in a build that passes: its ring in the bearing, its arm, its member.
 */
function give_mm(joint: Joint, item: JointItem): number {
  const body = item.seatBody ?? item.body;
  const isSprung = joint.arms.some((arm) => arm.body === body);
  const bend = isSprung ? armLimit(item.boss!).value : 0;
  return LIMITS.offLine_mm.value + bend + ringGive_mm(item);
}

/** Travel of an inner ring in its outer ring up to the load that the fit check stops at. */
function ringGive_mm({ bearing }: JointItem): number {
  if (!bearing) return 0;
  return bearing.axialPlay_mm / 2 + sideLimit_N(bearing) / bearing.axialStiffness_N_per_mm;
}

/**
 * A spacer that must press on an inner ring may not reach what turns round it. The two gaps of the one face differ by
 * its `level`; when it is pressed home only the bearing's own travel can part it further from what is free.
 */
function isClear(joint: Joint, own: JointStack, spacers: readonly JointItem[]): boolean {
  return own.items.every((bearing, at) => {
    if (bearing.role !== 'bearing') return true;
    const beside = [own.items[at - 1], own.items[at + 1]].filter(
      (item): item is JointItem => item !== undefined && spacers.includes(item),
    );
    return beside.every((spacer) => {
      const faces = joint.meetings.flatMap((meeting) => {
        const { a, b } = meeting;
        const piece =
          a.item === spacer && b.item === bearing ? b : b.item === spacer && a.item === bearing ? a : undefined;
        return piece ? [{ meeting, piece }] : [];
      });
      const pressed = faces.find(({ piece }) => piece.solid.role === 'inner-ring');
      if (!pressed) return true;
      return faces.every(({ meeting, piece }) => {
        const widest_mm = meeting.gap.gap_mm - pressed.meeting.gap.gap_mm + ringGive_mm(bearing) + ROUNDING_mm;
        if (piece.solid.role === 'outer-ring') return widest_mm > LIMITS.rubClearance_mm.value;
        return piece.solid.role !== 'seal' || !isOverSeal(meeting, piece) || widest_mm > LIMITS.sealClearance_mm.value;
      });
    });
  });
}

/** Keeps the bound on the safe side of the arithmetic, mm. */
const ROUNDING_mm = 1e-6;

function isOverSeal({ gap }: Meeting, { solid }: Piece): boolean {
  const [inner] = radiusRange(solid.polygon);
  return Math.max(...gap.bands_mm.map(([, r1]) => r1)) - inner >= LIMITS.sealCover_mm.value;
}
