/**
 * What every bearing of a linkage carries through the travel, and which pivots work hardest.
 *
 * The force on a body at a pivot (`statics.ts`) is shared among the bearings pressed into its members there: by the
 * lever rule along the axle for a push in the middle plane of the bike, by least squares for more than two. The push
 * along the axle is what the tightened assembly alone leaves in the bearing. Static safety after ISO 76
 * (`standards/static-load.ts`). How hard a pivot works is the sum of its force times the angle it turns, N·m of force
 * on turn: what wears a bearing and works a thread loose. N, mm.
 */
import type { Limit } from '../limits.ts';
import type { ResolvedBearing } from '../parts/bearing.ts';
import { kindOf } from '../parts/kinds.ts';
import { bushPressure_MPa } from '../standards/index.ts';
import { axialLimit_N, staticEquivalentLoad_N, staticSafety } from '../standards/static-load.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import type { Joint, Linkage } from './linkage.ts';
import type { JointTurn, Run } from './poses.ts';
import type { Statics } from './statics.ts';

/** A bearing of the linkage and its share of what its body feels. */
export interface BearingPlace {
  /** Scene id, `stackId/rowId`. */
  readonly id: string;
  readonly part: string;
  readonly bearing: ResolvedBearing;
  readonly pivot: string;
  /** The joint it turns in. */
  readonly joint: string;
  readonly body: number;
  readonly z_mm: number;
  /** Of the force on its body at its pivot; more than 1 where the bearings stand to one side. */
  readonly share: number;
}

/** Every bearing that a member carries, with its share. */
export function bearingPlaces({ model, pivots, bodyOf }: Linkage): BearingPlace[] {
  return pivots.flatMap(({ id, bodies, joints }, k) => {
    const found = model.pivots[k]!.stacks.flatMap((stack) =>
      stack.row.flatMap((entry): Omit<BearingPlace, 'share'>[] => {
        const body = entry.role === 'bearing' ? bodyOf.get(entry.seat.bore.memberId) : undefined;
        if (entry.role !== 'bearing' || body === undefined) return [];
        const { partId: part, bearing, seat } = entry;
        const half = bearing.width_mm / 2;
        const z_mm =
          seat.side === 'drive' ? seat.bore.z_to_mm - seat.rest_mm + half : seat.bore.z_from_mm + seat.rest_mm - half;
        const joint = (jointOf(joints, body) ?? { id }).id;
        return [{ id: `${stack.id}/${entry.id}`, part, bearing, pivot: id, joint, body, z_mm }];
      }),
    );
    return bodies.flatMap((body) => shared(found.filter((bearing) => bearing.body === body)));
  });
}

/** The joint in which a body of a pivot turns on its axle; of the body that the axle is clamped in the first. */
export function jointOf(joints: readonly Joint[], body: number | undefined): Joint | undefined {
  return joints.find(({ rider }) => rider === body) ?? joints[0];
}

/** The lever rule: shares that add up to 1 and turn nothing about the middle plane. */
function shared(bearings: readonly Omit<BearingPlace, 'share'>[]): BearingPlace[] {
  const middle = bearings.reduce((sum, { z_mm }) => sum + z_mm, 0) / Math.max(1, bearings.length);
  const spread = bearings.reduce((sum, { z_mm }) => sum + (z_mm - middle) ** 2, 0);
  return bearings.map((bearing) => ({
    ...bearing,
    share: 1 / bearings.length - (spread > 1e-6 ? (middle * (bearing.z_mm - middle)) / spread : 0),
  }));
}

/** What a bearing carries at its worst. */
export interface BearingLoad extends Omit<BearingPlace, 'bearing'> {
  readonly radial_N: number;
  /** Left by the tightened assembly, N; 0 where no analysis was given. */
  readonly axial_N: number;
  readonly equivalent_N: number;
  readonly staticRating_N: number;
  readonly isRatingEstimated: boolean;
  /** s0 = C0/P0; left out where the bearing carries nothing. */
  readonly safety?: number;
  readonly axialLimit_N: number;
}

/** A load up to this is the rounding of the sums, not something that a pin carries, N. */
export const CARRIES_N = 0.5;

/** Loads of all bearings at the worst pose for each; `analysis` adds the push along the axle. */
export function bearingLoads(linkage: Linkage, statics: readonly Statics[], analysis?: Analysis): BearingLoad[] {
  const items = new Map(
    (analysis?.pivots ?? [])
      .flatMap((pivot) => pivot.stacks.flatMap((stack) => stack.items))
      .map((item) => [item.id, item]),
  );
  return bearingPlaces(linkage).map(({ bearing, ...place }) => {
    const most = statics.reduce((largest, pose) => Math.max(largest, forceOn(pose, place.pivot, place.body)), 0);
    const radial_N = Math.abs(place.share) * most;
    const item = items.get(place.id);
    const axial_N = item ? sidePush_N(item) : 0;
    const equivalent_N = staticEquivalentLoad_N(radial_N, axial_N);
    const { staticRating_N } = bearing;
    return {
      ...place,
      radial_N,
      axial_N,
      equivalent_N,
      staticRating_N,
      isRatingEstimated: bearing.estimated.includes('static-rating'),
      ...(equivalent_N > CARRIES_N ? { safety: staticSafety(staticRating_N, equivalent_N) } : {}),
      axialLimit_N: axialLimit_N(staticRating_N, bearing.bore_mm),
    };
  });
}

/** A bush of the linkage at its worst: the force on it and the mean pressure of that on its bore. */
export interface BushLoad {
  readonly id: string;
  readonly pivot: string;
  readonly joint: string;
  readonly load_N: number;
  readonly pressure_MPa: number;
  readonly limit: Limit;
}

/** Loads of all bushes that line a bore: what its body feels, shared among those that carry it there. */
export function bushLoads({ model, pivots, bodyOf }: Linkage, statics: readonly Statics[]): BushLoad[] {
  return pivots.flatMap(({ id: pivot, joints }, k) => {
    const linings = model.pivots[k]!.stacks.flatMap((stack) =>
      stack.row.flatMap((entry) => {
        const body = entry.role === 'lining' ? bodyOf.get(entry.lines.memberId) : undefined;
        if (entry.role !== 'lining' || body === undefined) return [];
        const { bore_mm, length_mm, pressure } = kindOf(entry.part).lines!(entry.part);
        return [{ id: `${stack.id}/${entry.id}`, body, bore_mm, length_mm, limit: pressure }];
      }),
    );
    return linings.map(({ id, body, bore_mm, length_mm, limit }): BushLoad => {
      const most = statics.reduce((largest, pose) => Math.max(largest, forceOn(pose, pivot, body)), 0);
      const load_N = most / linings.filter((other) => other.body === body).length;
      const joint = (jointOf(joints, body) ?? { id: pivot }).id;
      return { id, pivot, joint, load_N, pressure_MPa: bushPressure_MPa(load_N, bore_mm, length_mm), limit };
    });
  });
}

/** What a body feels at a pivot in a pose, N. */
function forceOn(statics: Statics, pivot: string, body: number): number {
  return (
    statics.pivots.find((candidate) => candidate.pivot === pivot)?.bodies.find((candidate) => candidate.body === body)
      ?.size_N ?? 0
  );
}

/**
 * The push along the axle that a tightened column leaves in a bearing: what its inner ring's two faces do not balance,
 * N.
 */
export function sidePush_N(item: PlacedItem): number {
  const onInner = (face: 'nonDrive' | 'drive'): number =>
    item[face].touches.reduce((sum, touch) => sum + (touch.own === 'inner-ring' ? touch.force_N : 0), 0);
  return Math.abs(onInner('nonDrive') - onInner('drive'));
}

/** How hard a joint works in a run: a pivot has one, or one for each member that turns on its axle. */
export interface PivotWork {
  readonly joint: string;
  readonly pivot: string;
  /** The two that turn against one another. */
  readonly members: readonly [string, string];
  /** Largest force, N, and the stroke where, mm. */
  readonly most_N: number;
  readonly at: number;
  readonly turn_deg: number;
  /** Force times angle summed over the run, N·rad. */
  readonly work_Nrad: number;
  /** Between its outermost bearings along the axle, mm; 0 with one or none. */
  readonly base_mm: number;
  /** Bearings that turn in it. */
  readonly bearings: number;
  /** Hardly higher than the wheel's axle, where the wheel throws water and grit. */
  readonly isLow: boolean;
}

/**
 * A pivot less than this above the rear axle as drawn sits low, mm: our own rule, about where a crank's mud reaches.
 */
const LOW_mm = 100;

/**
 * The work of every joint, hardest first, without a load by their turn. `statics` holds one entry a pose of the run.
 */
export function pivotWork(run: Run, turns: readonly JointTurn[], statics: readonly Statics[]): PivotWork[] {
  const places = bearingPlaces(run.linkage);
  const { wheel, pivots } = run.linkage;
  return turns
    .map(({ joint, turn_deg, range_deg }): PivotWork => {
      const pivot = pivots.find(({ id }) => id === joint.pivot)!;
      const forces = statics.map((pose) => jointForce_N(pose, joint));
      const most_N = Math.max(0, ...forces);
      const own = places.filter((place) => place.joint === joint.id).map(({ z_mm }) => z_mm);
      return {
        joint: joint.id,
        pivot: joint.pivot,
        members: joint.members,
        most_N,
        at: run.poses[Math.max(0, forces.indexOf(most_N))]?.drive ?? 0,
        turn_deg: range_deg,
        work_Nrad: workOf(turn_deg, forces),
        base_mm: own.length < 2 ? 0 : Math.max(...own) - Math.min(...own),
        bearings: own.length,
        isLow: wheel !== undefined && pivot.place.y_mm < wheel.place.y_mm + LOW_mm,
      };
    })
    .sort(
      (one, other) =>
        other.work_Nrad - one.work_Nrad || other.turn_deg - one.turn_deg || one.joint.localeCompare(other.joint),
    );
}

/** The force of a joint in a pose, N: what the body that turns on the axle feels. */
export function jointForce_N(statics: Statics, { pivot, rider }: Joint): number {
  return forceOn(statics, pivot, rider);
}

function workOf(turn_deg: readonly number[], forces: readonly number[]): number {
  let sum = 0;
  for (let k = 1; k < Math.min(turn_deg.length, forces.length); k++) {
    sum += ((forces[k]! + forces[k - 1]!) / 2) * Math.abs(((turn_deg[k]! - turn_deg[k - 1]!) * Math.PI) / 180);
  }
  return sum;
}
