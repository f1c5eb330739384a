/**
 * The free check as a computation: with the shock out, does the linkage fall through its travel under its own weight?
 *
 * Each pivot's drag follows from how its parts touch (an `Analysis`): what presses on an outer ring, a seal or an arm
 * rubs there (faces as in `mistakes/felt.ts`); a bearing pushed sideways beyond its limit no longer rolls; a sound one
 * has the drag of its seals. The linkage is lifted to full travel and let go. Per mm of stroke the weight of its
 * members gives what their middles sink, the pivots take drag times turn; it goes on while weight and what it has
 * gathered on the way outdo the drag. Members weigh what their outlines hold: an estimate, and so is every drag. N·m,
 * N, mm, s.
 */
import { material } from '../standards/materials.ts';
import { friction } from '../standards/friction.ts';
import { SLIDING_FRICTION } from '../standards/ring-drag.ts';
import { axialLimit_N } from '../standards/static-load.ts';
import type { ResolvedEntry, ResolvedModel } from '../model/resolve.ts';
import { frictionTorque_Nm, isGreased } from '../joint/rubbing.ts';
import { GRAVITY_m_s2, MISTAKE_LIMITS } from '../mistakes/limits.ts';
import type { Analysis, PivotAnalysis, PlacedItem, Touch } from '../types.ts';
import { linkageOf, type Joint } from './linkage.ts';
import { jointOf, sidePush_N } from './loads.ts';
import { outlinesOf } from './outline.ts';
import { GROUND, type Place } from './planar.ts';
import { rateOf, type Pose, type Run } from './poses.ts';

/** Drag of a seal that something rubs on, N·m. An estimate of ours. */
const RUBBED_SEAL_Nm = 0.1;

/** What slows one joint. */
export interface PivotDrag {
  /** As the travel names it. */
  readonly joint: string;
  readonly pivot: string;
  /** The two that turn against one another; absent where nothing does. */
  readonly members?: readonly [string, string];
  readonly drag_Nm: number;
  /** The worst thing in it and the parts concerned; absent where only seals drag. */
  readonly cause?: {
    readonly kind: 'outer-ring' | 'seal' | 'arm' | 'side-load';
    readonly items: readonly string[];
    readonly drag_Nm: number;
  };
}

/**
 * The drag of every joint of an analysed build, N·m, ≥ 0, with the worst thing in it; a pivot where nothing turns has
 * one entry. O(items).
 */
export function pivotDrags(analysis: Analysis): PivotDrag[] {
  const { pivots, bodyOf } = linkageOf(analysis.resolved);
  return analysis.pivots.flatMap((pivot, k) => {
    const { joints } = pivots[k]!;
    const items = new Map(pivot.stacks.flatMap((stack) => stack.items).map((item) => [item.id, item]));
    const jointIdOf = (item: PlacedItem): string => {
      const member = item.member ?? item.seat?.member;
      return (jointOf(joints, member === undefined ? undefined : bodyOf.get(member)) ?? pivot).id;
    };
    // Of a cause the last part is the one that should turn.
    const causes = [...rubs(analysis.resolved, pivot), ...sidePushed(analysis.resolved, pivot)].map((cause) => ({
      cause,
      joint: jointIdOf(items.get(cause.items.at(-1)!)!),
    }));
    const sealed = new Set([...items.values()].flatMap((item) => (item.role === 'bearing' ? [jointIdOf(item)] : [])));
    const named: readonly (Pick<Joint, 'id'> & Partial<Joint>)[] = joints.length > 0 ? joints : [{ id: pivot.id }];
    return named.map(({ id, members }): PivotDrag => {
      const own = causes.flatMap(({ cause, joint }) => (joint === id ? [cause] : []));
      const worst = [...own].sort((one, other) => other.drag_Nm - one.drag_Nm)[0];
      const seals = sealed.has(id) ? MISTAKE_LIMITS.sealDrag_Nm.value : 0;
      return {
        joint: id,
        pivot: pivot.id,
        ...(members ? { members } : {}),
        drag_Nm: seals + own.reduce((sum, cause) => sum + cause.drag_Nm, 0),
        ...(worst ? { cause: worst } : {}),
      };
    });
  });
}

type Cause = NonNullable<PivotDrag['cause']>;

/** Free parts that press on the column: each touch once, seen from the free part. */
function rubs(model: ResolvedModel, pivot: PivotAnalysis): Cause[] {
  const items = new Map(pivot.stacks.flatMap((stack) => stack.items).map((item) => [item.id, item]));
  return [...items.values()].flatMap((item) =>
    [...item.nonDrive.touches, ...item.drive.touches].flatMap((touch): Cause[] => {
      const other = items.get(touch.with);
      if (!other || !isFree(item, touch) || !isColumn(other, touch, item)) return [];
      const kind = touch.own === 'outer-ring' ? 'outer-ring' : touch.own === 'seal' ? 'seal' : 'arm';
      const isPressedSeal = kind === 'seal' && touch.gap_mm <= 0;
      const drag_Nm = isPressedSeal
        ? RUBBED_SEAL_Nm
        : frictionTorque_Nm({ ...touch, friction: faceFriction(model, other, item) });
      return drag_Nm > 0 ? [{ kind, items: [other.id, item.id], drag_Nm }] : [];
    }),
  );
}

/** The side of a touch that turns with its arm. */
function isFree(item: PlacedItem, touch: Touch): boolean {
  return item.role === 'bearing'
    ? touch.own === 'outer-ring' || touch.own === 'seal'
    : item.role === 'boss' && !item.inColumn;
}

/**
 * The other side of the touch stands still: the column, but not the member the bearing sits in, nor another free ring.
 */
function isColumn(other: PlacedItem, touch: Touch, free: PlacedItem): boolean {
  if (other.role === 'boss')
    return other.inColumn && !(free.seat && other.member === free.seat.member && other.bore === free.seat.bore);
  if (other.role === 'bearing') return touch.bears === 'inner-ring';
  return true;
}

/** Of two faces, greased where either was. */
function faceFriction(model: ResolvedModel, ...items: readonly PlacedItem[]): number {
  const stacks = model.pivots.flatMap((pivot) => pivot.stacks);
  const hasGrease = items.some(({ stackId, rowId }) => isGreased(stacks.find(({ id }) => id === stackId)!, rowId));
  return friction(hasGrease ? 'greased' : 'dry').face.nominal;
}

/**
 * Bearings pushed sideways beyond their limit: their balls climb the edge of the groove and slide. An upper estimate.
 */
function sidePushed(model: ResolvedModel, pivot: PivotAnalysis): Cause[] {
  const entries = new Map<string, ResolvedEntry>(
    model.pivots
      .find(({ id }) => id === pivot.id)!
      .stacks.flatMap(({ id, row }) => row.map((entry) => [`${id}/${entry.id}`, entry] as const)),
  );
  return pivot.stacks.flatMap((stack) =>
    stack.items.flatMap((item): Cause[] => {
      const entry = entries.get(item.id);
      if (entry?.role !== 'bearing') return [];
      const { bearing } = entry;
      const push = sidePush_N(item);
      if (push <= axialLimit_N(bearing.staticRating_N, bearing.bore_mm)) return [];
      return [
        {
          kind: 'side-load',
          items: [item.id],
          drag_Nm: (SLIDING_FRICTION * push * (bearing.bore_mm + bearing.outside_mm)) / 4000,
        },
      ];
    }),
  );
}

/** How a linkage that was lifted to full travel comes down. */
export interface Fall {
  /** Pose by pose from where it was lifted to, as far down as it came. */
  readonly steps: readonly FallStep[];
  /** Stroke at which it rests, mm; 0 when it fell through. */
  readonly rests: number;
  readonly isFree: boolean;
  /**
   * The joint that takes most of the drag where it hangs, and what the weight gives against what the joints take there,
   * N per mm of stroke.
   */
  readonly held?: {
    readonly joint: string;
    readonly pivot: string;
    readonly weight_N: number;
    readonly drag_N: number;
  };
  /** Weight of all moving members, N: an estimate. */
  readonly weight_N: number;
}

/** A moment of the fall. */
export interface FallStep {
  readonly stroke_mm: number;
  readonly time_s: number;
}

interface Lump {
  readonly body: number;
  readonly place: Place;
  readonly mass_kg: number;
}

/**
 * Let the linkage of a run go from its fullest pose, or from a stroke in mm. The run must be a shock's, `drags` (N·m)
 * those of the build. About 50 ms. Where nothing falls it says where it stays; it does not throw.
 */
export function fall(run: Run, drags: readonly PivotDrag[], from_mm = Infinity): Fall {
  const shock = run.linkage.shock;
  const away = new Set(shock ? [shock.a, shock.b] : []);
  const lumps = lumpsOf(run, away);
  const dragOf = new Map(drags.map(({ joint, drag_Nm }) => [joint, drag_Nm]));
  const steps: FallStep[] = [];
  let energy_mJ = 0;
  let time_s = 0;
  let held: Fall['held'];
  const poses = run.poses.filter(({ drive }) => drive <= from_mm).reverse();
  for (const [k, pose] of poses.entries()) {
    steps.push({ stroke_mm: pose.drive, time_s });
    const next = poses[k + 1];
    if (!next) break;
    const here = balanceAt(run, pose, lumps, away, dragOf);
    const there = balanceAt(run, next, lumps, away, dragOf);
    const length = pose.drive - next.drive;
    const gained = ((here.weight_N - here.drag_N + there.weight_N - there.drag_N) / 2) * length;
    const starts = energy_mJ > 0 || here.weight_N > here.drag_N;
    if (!starts || energy_mJ + gained <= 0) {
      held = { ...here.worst, weight_N: here.weight_N, drag_N: here.drag_N };
      break;
    }
    const mass_kg = (here.mass_kg + there.mass_kg) / 2;
    // From rest the mean speed over a step is half the end's.
    const speed = (energy: number): number => Math.sqrt((2 * energy) / 1000 / mass_kg) * 1000;
    time_s += (2 * length) / (speed(energy_mJ) + speed(energy_mJ + gained));
    energy_mJ += gained;
  }
  const last = steps.at(-1);
  const weight_N = lumps.reduce((sum, { mass_kg }) => sum + mass_kg, 0) * GRAVITY_m_s2;
  return { steps, rests: last?.stroke_mm ?? 0, isFree: held === undefined, ...(held ? { held } : {}), weight_N };
}

/** Weight and drag per mm of stroke, N, the mass that moves with the stroke, kg, and the pivot that takes most. */
function balanceAt(
  run: Run,
  pose: Pose,
  lumps: readonly Lump[],
  away: ReadonlySet<number>,
  dragOf: ReadonlyMap<string, number>,
) {
  let weight_N = 0;
  let mass_kg = 0;
  for (const lump of lumps) {
    const rate = rateOf(run, pose, lump.body, lump.place);
    weight_N += lump.mass_kg * GRAVITY_m_s2 * rate.y_mm;
    mass_kg += lump.mass_kg * (rate.x_mm ** 2 + rate.y_mm ** 2);
  }
  const rateOfBody = (body: number): number => (body === GROUND ? 0 : pose.rate[3 * body + 2]!);
  const taken = run.linkage.pivots.flatMap(({ joints }) =>
    joints.map(({ id, pivot, bodies: [one, other] }) => {
      const turn = away.has(one) || away.has(other) ? 0 : Math.abs(rateOfBody(one) - rateOfBody(other));
      return { joint: id, pivot, drag_N: (dragOf.get(id) ?? 0) * 1000 * turn };
    }),
  );
  const worst = taken.reduce((most, next) => (next.drag_N > most.drag_N ? next : most));
  return {
    weight_N,
    drag_N: taken.reduce((sum, { drag_N }) => sum + drag_N, 0),
    mass_kg,
    worst: { joint: worst.joint, pivot: worst.pivot },
  };
}

/** The moving members as points of mass, the shock left out. */
function lumpsOf(run: Run, away: ReadonlySet<number>): Lump[] {
  const { model, bodyOf } = run.linkage;
  return [...bodyOf].flatMap(([id, body]) => {
    if (body === GROUND || away.has(body)) return [];
    const member = model.members[id]!;
    const isSolid = member.kind === 'rocker' || member.kind === 'link';
    const density_kg_mm3 = material(member.material).density_kg_m3 / 1e9;
    return outlinesOf(model, id).map(({ what, a, b, volume_mm3 }): Lump => {
      const share = isSolid || Object.hasOwn(member.bores, what) ? 1 : MISTAKE_LIMITS.hollowShare.value;
      return {
        body,
        place: { x_mm: (a.x_mm + b.x_mm) / 2, y_mm: (a.y_mm + b.y_mm) / 2 },
        mass_kg: volume_mm3 * density_kg_mm3 * share,
      };
    });
  });
}
