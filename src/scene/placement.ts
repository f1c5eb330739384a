/**
 * Where everything of the picture stands: item offsets along the axis, bosses and points of members, boxes to frame.
 *
 * A pure function of analysis, pivot, apart-ness, sight and step. Offsets come from `layApart`; where one pivot has two
 * stacks each goes outward from its inner end, so that they never run through one another. mm, bike axes.
 */
import {
  type Analysis,
  type LinkageModel,
  type PivotAnalysis,
  type PlacedItem,
  type StepPlace,
} from '../../shared/index.ts';
import type { WebEnd } from './web.ts';
import type { Point3 } from './vector.ts';

/** Offset of an item from its tight place, mm, and whether it is drawn as not yet fitted. */
export interface ItemPlace {
  readonly offset_mm: number;
  readonly isAway: boolean;
}

/** Offsets of all items of a pivot when it is fully apart, mm, by scene id. */
export type Layout = Readonly<Record<string, number>>;

/** Where the items of one pivot stand at an apart-ness, or within a step; what is not fitted yet stands fully apart. */
export function placeItems(
  pivot: PivotAnalysis,
  layout: Layout,
  apart: number,
  places?: Readonly<Record<string, StepPlace>>,
): Readonly<Record<string, ItemPlace>> {
  const result: Record<string, ItemPlace> = {};
  for (const { id } of itemsOf(pivot)) {
    const place = places?.[id];
    const full = layout[id] ?? 0;
    if (!place) result[id] = { offset_mm: full * apart, isAway: false };
    else if (place.on) result[id] = { offset_mm: place.offset_mm, isAway: false };
    else result[id] = { offset_mm: full, isAway: true };
  }
  return result;
}

const FREED = new WeakMap<PlacedItem, PlacedItem>();

/** An item as it is with nothing pressing on it: a spring stands up, all else is what it is. */
export function freed(item: PlacedItem): PlacedItem {
  if (!item.free) return item;
  let free = FREED.get(item);
  if (!free) FREED.set(item, (free = { ...item, solids: item.free }));
  return free;
}

/** Item ids named by a finding that stops the task. */
export function troubledItems(analysis: Analysis): ReadonlySet<string> {
  const findings = [...analysis.findings, ...analysis.pivots.flatMap((pivot) => pivot.findings)];
  return new Set(findings.filter((finding) => finding.severity === 'stop').flatMap((finding) => finding.parts));
}

const RUBS: ReadonlySet<string> = new Set(['outer-ring-touched', 'seal-rubbed', 'arm-rubbed']);

/** Pairs of items that touch although they must stay clear of one another, as `a b` and `b a`. */
export function rubbingPairs(analysis: Analysis): ReadonlySet<string> {
  const pairs = new Set<string>();
  for (const pivot of analysis.pivots) {
    for (const { code, severity, parts } of pivot.findings) {
      if (severity !== 'stop' || !RUBS.has(code)) continue;
      for (const a of parts) for (const b of parts) if (a !== b) pairs.add(`${a} ${b}`);
    }
  }
  return pairs;
}

/** A picture of more pivots than this would be neither readable nor quick. */
const MOST_DRAWN = 60;

/** The pivots that are drawn: all, or of a model with very many the first ones and the opened one. */
export function drawnPivots(analysis: Analysis, pivotId: string | undefined): readonly PivotAnalysis[] {
  if (analysis.pivots.length <= MOST_DRAWN) return analysis.pivots;
  return analysis.pivots.filter((pivot, k) => k < MOST_DRAWN || pivot.id === pivotId);
}

/** All items of a pivot, axles and receivers included; an item that two stacks share comes once. */
export function itemsOf(pivot: PivotAnalysis): readonly PlacedItem[] {
  return [...new Map(pivot.stacks.flatMap((stack) => stack.items.map((item) => [item.id, item] as const))).values()];
}

/** Largest radius of an item, mm. */
export function radiusOf(item: PlacedItem): number {
  let radius = 0;
  for (const solid of item.solids) for (const [r] of solid.polygon) if (r > radius) radius = r;
  return radius;
}

/**
 * Twelve directions round an axis; the polygon through them reaches out over the circle, so that nothing is cut off.
 */
const ROUND = Array.from(
  { length: 12 },
  (_, k) => [Math.cos((k * Math.PI) / 6) * 1.036, Math.sin((k * Math.PI) / 6) * 1.036] as const,
);

/** A point of the bike, mm. */
export type Place = Point3;

/** Points round the two ends of each item where they stand, mm: what the camera must keep in view. */
export function cornersOf(pivot: PivotAnalysis, places: Readonly<Record<string, ItemPlace>>): Place[] {
  return itemsOf(pivot).flatMap((item) => {
    const r = radiusOf(item);
    const offset = places[item.id]?.offset_mm ?? 0;
    return [item.from_mm + offset, item.to_mm + offset].flatMap((z) =>
      ROUND.map(([cos, sin]): Place => [pivot.x_mm + r * cos, pivot.y_mm + r * sin, z]),
    );
  });
}

/** The two ends of a pivot's parts along its axis, mm. */
export function accessOf(pivot: PivotAnalysis, places: Readonly<Record<string, ItemPlace>>): readonly [number, number] {
  const ends = itemsOf(pivot).flatMap((item) => {
    const offset = places[item.id]?.offset_mm ?? 0;
    return [item.from_mm + offset, item.to_mm + offset];
  });
  return ends.length === 0 ? [-40, 40] : [Math.min(...ends), Math.max(...ends)];
}

/** A bored or plain end of a member as the picture needs it; mm. */
export interface Anchor extends WebEnd {
  readonly from_mm: number;
  readonly to_mm: number;
  /** Through bore, mm; 0 at a plain point. */
  readonly bore_mm: number;
  /** True when an item of a pivot already draws this boss. */
  readonly isItem: boolean;
}

const PLAIN_POINT_mm = 9;

/**
 * Bores and points of every member, by member id and then bore or point id. A bore stands at the pivot whose rows or
 * receivers name it, else where the file puts it; one with neither place is left out.
 */
export function anchorsOf(model: LinkageModel): Readonly<Record<string, Readonly<Record<string, Anchor>>>> {
  const pivotOf = new Map<string, { x_mm: number; y_mm: number }>();
  for (const pivot of model.pivots) {
    for (const stack of pivot.stacks) {
      if (stack.receiver.includes('/')) pivotOf.set(stack.receiver, pivot);
      for (const entry of stack.row) {
        if (entry.member !== undefined && entry.bore !== undefined) pivotOf.set(`${entry.member}/${entry.bore}`, pivot);
      }
    }
  }
  const all: Record<string, Record<string, Anchor>> = {};
  for (const [memberId, member] of Object.entries(model.members)) {
    const own: Record<string, Anchor> = {};
    for (const [boreId, bore] of Object.entries(member.bores)) {
      const pivot = pivotOf.get(`${memberId}/${boreId}`);
      const x_mm = pivot?.x_mm ?? bore.x_mm;
      const y_mm = pivot?.y_mm ?? bore.y_mm;
      if (x_mm === undefined || y_mm === undefined) continue;
      own[boreId] = {
        x_mm,
        y_mm,
        z_mm: (bore.z_from_mm + bore.z_to_mm) / 2,
        radius_mm: bore.boss_mm / 2,
        from_mm: Math.min(bore.z_from_mm, bore.z_to_mm),
        to_mm: Math.max(bore.z_from_mm, bore.z_to_mm),
        bore_mm: bore.bore_mm,
        isItem: pivot !== undefined,
      };
    }
    for (const [pointId, point] of Object.entries(member.points ?? {})) {
      const radius_mm = point.boss_mm === undefined ? PLAIN_POINT_mm : point.boss_mm / 2;
      own[pointId] = { ...point, radius_mm, from_mm: point.z_mm, to_mm: point.z_mm, bore_mm: 0, isItem: false };
    }
    all[memberId] = own;
  }
  return all;
}
