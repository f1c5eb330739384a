/**
 * From a solved joint to what a mechanic would read off it: where each part stands, what each face bears on and with
 * what force, and how the clamp column runs.
 *
 * Nothing is declared: a face bears on whatever its contact band says. Where a face touches several things the worst
 * is named first (outer ring, seal, free arm), since that is the one that makes the build wrong. N, mm, MPa.
 */
import { EDGE_BAND_mm, gap as gapOf, pressedArea_mm2, zOn } from './contact.ts';
import {
  isColumnPiece,
  isSprung,
  freeSolid,
  movedSolid,
  type JointItem,
  type JointStack,
  type Meeting,
  type Piece,
} from './joint.ts';
import type { Arm } from './arm.ts';
import { LIMITS } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import { shankLength_mm, threadEnd_mm, type Shanked } from '../parts/shanked.ts';
import { sideLimit_N } from '../standards/bearings.ts';
import { staticEquivalentLoad_N, staticSafety } from '../standards/static-load.ts';
import { otherSide } from '../numbers/figures.ts';
import { zRange } from '../profile/polygon.ts';
import type { SolvedJoint } from './solve.ts';
import type { Bears, ColumnLink, FaceReading, PlacedItem, Touch } from '../types.ts';

/** A meeting in the tight joint. */
export interface Met extends Meeting {
  readonly force_N: number;
  /** Free distance when tight, 0 when pressed together. */
  readonly free_mm: number;
  readonly isTouching: boolean;
  readonly pressure_MPa: number;
}

/** Every meeting of a joint as the spec torque leaves it. */
export function meetAll({ joint, spec }: Pick<SolvedJoint, 'joint' | 'spec'>): Met[] {
  return joint.meetings.map(({ a, b, gap, law, shouldBeFree }) => {
    const open = openOf({ a, b, gap, shouldBeFree }, spec.shift_mm);
    const force_N = law === undefined ? 0 : spec.contact_N[law]!;
    const isSoft = law === undefined;
    const near =
      isSoft && shouldBeFree
        ? LIMITS.sealClearance_mm.value
        : shouldBeFree
          ? LIMITS.rubClearance_mm.value
          : LIMITS.touching_mm.value;
    return {
      a,
      b,
      gap,
      law,
      shouldBeFree,
      force_N,
      free_mm: force_N > 0 ? 0 : isSoft ? open : Math.max(0, open),
      isTouching: force_N > 0 || open <= near,
      pressure_MPa: force_N > 0 ? force_N / pressedArea_mm2(gap.bands_mm) : 0,
    };
  });
}

/** A spring changes its shape as it is pressed: what must stay free of it is held against the shape it has then. */
function openOf(
  { a, b, gap, shouldBeFree }: Pick<Meeting, 'a' | 'b' | 'gap' | 'shouldBeFree'>,
  shift_mm: Float64Array,
): number {
  if (a.body === b.body) return gap.gap_mm;
  const pressed =
    shouldBeFree && isSprung({ a, b })
      ? gapOf(movedSolid(a, shift_mm).polygon, movedSolid(b, shift_mm).polygon)
      : undefined;
  return pressed?.gap_mm ?? gap.gap_mm + shift_mm[b.nearBody]! - shift_mm[a.body]!;
}

/** What the other side of a meeting is, to a face that bears on it. */
function bearsOn(piece: Piece): Exclude<Bears, 'nothing'> {
  switch (piece.solid.role) {
    case 'inner-ring':
    case 'outer-ring':
    case 'seal':
    case 'land':
      return piece.solid.role;
    case 'body':
      return piece.item.role === 'boss' ? 'arm' : 'ring';
  }
}

function isSealed({ a, b }: Meeting): boolean {
  return a.item.sealedToward !== undefined || b.item.sealedToward !== undefined;
}

const WORST_FIRST: readonly Bears[] = ['outer-ring', 'seal'];

function readFace(item: JointItem, side: 'nonDrive' | 'drive', met: readonly Met[]): FaceReading {
  const mine = met.flatMap((meeting) => {
    // A loose seal gives way: it is no face to bear on, and only its own reading says what squeezes it.
    if (isSealed(meeting) && item.sealedToward === undefined) return [];
    if (side === 'drive' && meeting.a.item === item) return [{ meeting, own: meeting.a, other: meeting.b }];
    if (side === 'nonDrive' && meeting.b.item === item) return [{ meeting, own: meeting.b, other: meeting.a }];
    return [];
  });
  const touching = mine.filter(({ meeting }) => meeting.isTouching);
  const touches = touching
    .map(
      ({ meeting, own, other }): Touch => ({
        with: other.item.id,
        own: own.solid.role,
        bears: bearsOn(other),
        force_N: meeting.force_N,
        gap_mm: meeting.free_mm,
        bands_mm: meeting.gap.bands_mm,
        pressure_MPa: meeting.pressure_MPa,
      }),
    )
    .sort((p, q) => q.force_N - p.force_N);
  const wrong = WORST_FIRST.find((role) => touches.some((touch) => touch.bears === role));
  const freeArm = touching.find(({ meeting, other }) => meeting.shouldBeFree && bearsOn(other) === 'arm');
  const bears: Bears = wrong ?? (freeArm ? 'arm' : (touches[0]?.bears ?? 'nothing'));
  const ahead = mine
    .filter(({ meeting }) => !meeting.isTouching && meeting.free_mm > 0)
    .sort((p, q) => p.meeting.free_mm - q.meeting.free_mm)[0];
  return {
    bears,
    force_N: touches.reduce((sum, touch) => sum + touch.force_N, 0),
    touches,
    ...(touches.length === 0 && ahead ? { nearest: { with: ahead.other.item.id, gap_mm: ahead.meeting.free_mm } } : {}),
  };
}

/** Every item of a stack, from the non-drive to the drive side, where the tight joint holds it. */
export function placeItems(solved: SolvedJoint, own: JointStack, met: readonly Met[]): PlacedItem[] {
  const { joint, spec } = solved;
  return own.items.map((item) => {
    const pieces = joint.pieces.filter((piece) => piece.item === item);
    const solids = pieces.map((piece) => movedSolid(piece, spec.shift_mm));
    const [from_mm, to_mm] = zRange(solids.map((solid) => solid.polygon));
    const free = freeSolid(item, (from_mm + to_mm) / 2);
    // A spring's two faces move each its own way: it is where its middle is.
    const faces = [item.nearBody ?? item.body, item.body] as const;
    const shift_mm = (spec.shift_mm[faces[0]]! + spec.shift_mm[faces[1]]!) / 2;
    const frame = item.z0 + shift_mm;
    const balls = item.profile?.balls;
    const face = item.made && kindOf(item.made).smallFace?.(item.made);
    return {
      id: item.id,
      rowId: item.rowId,
      stackId: own.stack.id,
      pivotId: joint.pivot.id,
      role: item.role,
      kind: item.kind,
      name: item.name,
      ...(item.part === undefined ? {} : { part: item.part }),
      ...(item.member === undefined ? {} : { member: item.member }),
      ...(item.bore === undefined ? {} : { bore: item.bore }),
      ...(item.seat
        ? {
            seat: {
              member: item.seat.bore.memberId,
              bore: item.seat.bore.boreId,
              side: item.seat.side,
              ...(item.seat.on === undefined ? {} : { on: `${own.stack.id}/${item.seat.on}` }),
            },
          }
        : {}),
      ...(item.role === 'lining'
        ? { seat: { member: item.boss!.memberId, bore: item.boss!.boreId, side: 'drive' as const } }
        : {}),
      ...(item.clips
        ? { seat: { member: item.clips.bore.memberId, bore: item.clips.bore.boreId, side: item.clips.side } }
        : {}),
      turned: item.turned,
      solids,
      ...(free ? { free: [free] } : {}),
      ...(balls && item.seatBody !== undefined
        ? { balls: { ...balls, z_mm: (frame + item.z0 + spec.shift_mm[item.seatBody]!) / 2 + balls.z_mm } }
        : {}),
      ...threadOf(item, frame),
      drives: drivesOf(own, item),
      from_mm,
      to_mm,
      shift_mm,
      inColumn: item.inColumn,
      ...(face ? { smallFace: item.turned === (face === 'first') ? ('drive' as const) : ('non-drive' as const) } : {}),
      nonDrive: readFace(item, 'nonDrive', met),
      drive: readFace(item, 'drive', met),
    };
  });
}

function threadOf(item: JointItem, frame: number): Pick<PlacedItem, 'thread' | 'tip_thread'> {
  const part = item.made;
  if (part) {
    if (!('thread' in part)) return {};
    const inner = part.kind === 'nut' || part.kind === 'sleeve';
    const length = item.profile!.to_mm;
    const second = 'tip_thread' in part ? part.tip_thread : undefined;
    const end = second ? threadEnd_mm(part as Shanked) : length;
    const placed = (own: typeof part.thread, from: number) => {
      const [low, high] = [from, from + own.length_mm].map((z) => frame + (item.turned ? -z : z)).sort((a, b) => a - b);
      return { ...own, from_mm: low!, to_mm: high!, inner };
    };
    return {
      thread: placed(part.thread, part.kind === 'nut' ? 0 : end - part.thread.length_mm),
      ...(second ? { tip_thread: placed(second, length - second.length_mm) } : {}),
    };
  }
  const bore = item.boss;
  if (!bore?.thread) return {};
  const { opens, blind: _blind, sleeve: _sleeve, ...thread } = bore.thread;
  const from_mm = opens === 'non-drive' ? bore.z_from_mm : bore.z_to_mm - thread.length_mm;
  return { thread: { ...thread, from_mm, to_mm: from_mm + thread.length_mm, inner: true } };
}

function drivesOf({ stack }: JointStack, item: JointItem): PlacedItem['drives'] {
  const tip = otherSide(stack.from);
  const { head, tip: tipDrive, receiver } = stack.drives;
  if (item.rowId === 'axle') {
    return [
      ...(head ? [{ tool: head, side: stack.from, turned: stack.turned === 'head' }] : []),
      ...(tipDrive ? [{ tool: tipDrive, side: tip, turned: stack.turned === 'tip' } as const] : []),
    ];
  }
  return item.role === 'receiver' && receiver
    ? [{ tool: receiver, side: tip, turned: stack.turned === 'receiver' }]
    : [];
}

/** A link of the column before its place along z is asked for. */
export type Link = Omit<ColumnLink, 'z_mm'>;

/** Axle against receiver: that is bottoming, not clamping, since the force goes round the spacers. */
export function bypassOf({ axle, receiver }: JointStack, met: readonly Met[]): Met[] {
  const isEnd = (item: JointItem): boolean => item === axle || item === receiver;
  return met.filter(({ a, b }) => a.item !== b.item && isEnd(a.item) && isEnd(b.item));
}

/**
 * Where a part that is screwed in runs up before it clamps: the end of its thread, a step of its shank, its tip or its
 * head.
 */
export type Bottom = 'thread' | 'shank' | 'tip' | 'head';

/** What of a stack's pull goes round the column, by place; N. */
export function bottomsOf(own: JointStack, { spec }: SolvedJoint, met: readonly Met[]): ReadonlyMap<Bottom, number> {
  const forces = new Map<Bottom, number>();
  const add = (where: Bottom, force_N: number): unknown => forces.set(where, (forces.get(where) ?? 0) + force_N);
  if (own.threadLimit !== undefined) add(own.thread.stop, spec.contact_N[own.threadLimit]!);
  for (const meeting of bypassOf(own, met)) add(bottomAt(own, meeting), meeting.force_N);
  return forces;
}

function bottomAt(own: JointStack, { a, b, gap }: Met): Bottom {
  const goesIn = screwedIn(own);
  const part = goesIn.made as Shanked;
  const spans = a.item === goesIn ? a.local.upper : b.local.lower;
  const [r0, r1] = gap.bands_mm[0]!;
  const middle = (r0 + r1) / 2;
  const from_mm = Math.abs(zOn(spans, middle));
  const last = part.shank.at(-1)!;
  // A broken edge or a point is still the tip.
  if (from_mm > shankLength_mm(part) - Math.min(part.thread.pitch_mm, last.length_mm / 2)) return 'tip';
  return from_mm <= LIMITS.touching_mm.value ? 'head' : 'shank';
}

/** The one of a stack's ends that carries the outer thread. */
export function screwedIn({ axle, receiver }: JointStack): JointItem {
  return axle.kind === 'sleeve' ? receiver : axle;
}

/**
 * A cut of the clamp column between two neighbours: every meeting that reaches across it, and those of the two alone.
 * Where the two are one body, the meetings across it are those at the body's face that bears more: which side of the
 * bike it is on does not count.
 */
export interface Cut {
  readonly from: JointItem;
  readonly to: JointItem;
  readonly across: readonly Met[];
  readonly between: readonly Met[];
}

/** The cuts of a stack's column, from the non-drive to the drive side. */
export function cutsOf(own: JointStack, met: readonly Met[]): Cut[] {
  const column = own.items.filter((item) => item.inColumn);
  const rank = new Map(column.map((item, k) => [item, k] as const));
  const bypass = new Set(bypassOf(own, met));
  const links = met.filter(
    (link) =>
      isColumnPiece(link.a) &&
      isColumnPiece(link.b) &&
      rank.has(link.a.item) &&
      rank.has(link.b.item) &&
      !bypass.has(link),
  );
  // Two neighbours that are one body press no face: what reaches the body on its one side passes between them.
  const presses = column.slice(1).map((to, k) => to.body !== column[k]!.body);
  return column.slice(1).map((to, k) => {
    const from = column[k]!;
    const faces = [...new Set([presses.lastIndexOf(true, k), presses.indexOf(true, k)])].filter((face) => face >= 0);
    const acrossAt = (face: number): Met[] =>
      links.filter(({ a, b }) => rank.get(a.item)! <= face && rank.get(b.item)! > face);
    const [across = []] = faces.map(acrossAt).sort((one, other) => sum_N(other) - sum_N(one));
    return {
      from,
      to,
      across,
      between: links.filter(({ a, b }) => a.item === from && b.item === to),
    };
  });
}

/** The clamp column between its neighbours, from the non-drive to the drive side. */
export function readColumn(own: JointStack, met: readonly Met[]): Link[] {
  return cutsOf(own, met).map(({ from, to, across, between }) => {
    const force_N = sum_N(across);
    const gap_mm = force_N > 0 || between.length === 0 ? 0 : Math.min(...between.map((link) => link.free_mm));
    return { from: from.id, to: to.id, force_N, gap_mm };
  });
}

/**
 * The links of a column by number, joined where only a loose part is between two: nothing says where it lies, so that
 * what is free on its one side may as well be free on the other.
 */
export function runsOf({ items }: JointStack): number[][] {
  const runs: number[][] = [];
  const column = items.filter((item) => item.inColumn);
  for (let k = 0; k + 1 < column.length; k++) {
    if (k > 0 && column[k]!.role === 'spacer') runs.at(-1)!.push(k);
    else runs.push([k]);
  }
  return runs;
}

/** A run of links that stays open when the axle is tight: those with a gap, and what they leave free together. */
export interface Break {
  readonly links: readonly Link[];
  readonly play_mm: number;
}

/** A gap that is no more than this is where the solve put two loose faces that touch, mm. */
const ROUNDING_mm = 1e-6;

/** Where a stack's column stays open, from the non-drive to the drive side. */
export function breaksOf(own: JointStack, column: readonly Link[]): Break[] {
  return runsOf(own).flatMap((run) => {
    const links = run.map((k) => column[k]!).filter(({ gap_mm }) => gap_mm > ROUNDING_mm);
    const play_mm = links.reduce((sum, { gap_mm }) => sum + gap_mm, 0);
    return play_mm > LIMITS.touching_mm.value ? [{ links, play_mm }] : [];
  });
}

/** The links with the z at which their two parts meet, mm. */
export function placeColumn(links: readonly Link[], placed: readonly PlacedItem[]): ColumnLink[] {
  const byId = new Map(placed.map((item) => [item.id, item] as const));
  return links.map((link) => ({ ...link, z_mm: linkPlace(byId.get(link.from)!, byId.get(link.to)!) }));
}

/** Where two neighbours of the column meet: the face of the one that is a spacer, or the middle between them. */
function linkPlace(from: PlacedItem, to: PlacedItem): number {
  const fromEnd = faceEnd(from, 'drive');
  const toEnd = faceEnd(to, 'non-drive');
  return fromEnd === undefined ? (toEnd ?? 0) : toEnd === undefined ? fromEnd : (fromEnd + toEnd) / 2;
}

function faceEnd(item: PlacedItem, side: 'drive' | 'non-drive'): number | undefined {
  if (item.role === 'axle' || item.role === 'receiver') return undefined;
  const inner = item.solids.filter((solid) => solid.role === 'inner-ring');
  const [low, high] = zRange((inner.length > 0 ? inner : item.solids).map((solid) => solid.polygon));
  return side === 'drive' ? high : low;
}

/**
 * Smallest force an inner ring of the column carries on either face, or, without bearings, the smallest in the column;
 * N.
 */
export function clampForce_N(own: JointStack, met: readonly Met[], column: readonly Link[]): number {
  const bearings = own.items.filter((item) => item.role === 'bearing');
  if (bearings.length === 0) return column.length === 0 ? 0 : Math.min(...column.map((link) => link.force_N));
  return Math.min(...bearings.map((item) => ringForce_N(item, met)));
}

/** What the column presses on an inner ring's two faces with. */
export function innerRingMeets(
  item: JointItem,
  met: readonly Met[],
): { readonly nonDrive: readonly Met[]; readonly drive: readonly Met[] } {
  const beside = met.filter(({ law, shouldBeFree }) => law !== undefined && !shouldBeFree);
  const isLoose = (piece: Piece): boolean => piece.item === item && piece.solid.role === 'inner-ring';
  return { nonDrive: beside.filter(({ b }) => isLoose(b)), drive: beside.filter(({ a }) => isLoose(a)) };
}

/** Least force of the column through one of an inner ring's two faces, N. */
export function ringForce_N(item: JointItem, met: readonly Met[]): number {
  const { nonDrive, drive } = innerRingMeets(item, met);
  return Math.min(...[nonDrive, drive].map(sum_N));
}

/** A force that holds a part in its place, N: less is the tether of the solve, and reads as none. */
export const HOLDS_N = 1;

/** What a cut carries, N. */
function sum_N(links: readonly Met[]): number {
  const force_N = links.reduce((sum, link) => sum + link.force_N, 0);
  return force_N < HOLDS_N ? 0 : force_N;
}

/**
 * The bearings whose inner ring nothing holds when the axle is tight: no part of the column presses on it, and its own
 * balls do not carry it either. A ring that the column leaves and the balls hold has no play while the axle is tight.
 */
export function looseRings(solved: SolvedJoint, met: readonly Met[]): JointItem[] {
  return sideLoadsOf(solved).flatMap(({ item, load_N }) => {
    const faces = Object.values(innerRingMeets(item, met)).flat();
    return load_N < HOLDS_N && faces.every(({ force_N }) => force_N < HOLDS_N) ? [item] : [];
  });
}

/** How far tightening bends a sprung boss, + toward the middle of its member, and the force that takes. */
export interface Bend {
  readonly item: JointItem;
  readonly arm: Arm;
  readonly bend_mm: number;
  readonly force_N: number;
}

/**
 * Every sprung boss of a joint. The member's middle is that of its whole span on the axis, rigid bosses and those of
 * the joint's other stacks included; a boss that stands in the middle itself is drawn in whichever way it goes.
 */
export function bendsOf({ joint, spec }: SolvedJoint): Bend[] {
  const bosses = joint.stacks.flatMap(({ items }) => items.filter((item) => item.role === 'boss'));
  return joint.arms.map(({ body, base, item, arm }) => {
    const span = spanOf(bosses.filter(({ member }) => member === item.member));
    const bend = spec.shift_mm[body]! - spec.shift_mm[base]!;
    const toMiddle = middleOf(span) - middleOf(spanOf([item]));
    const way = Math.abs(toMiddle) < LIMITS.touching_mm.value ? Math.sign(bend) : Math.sign(toMiddle);
    return { item, arm, bend_mm: bend * way, force_N: Math.abs(bend) * arm.stiffness_N_per_mm };
  });
}

function spanOf(bosses: readonly JointItem[]): readonly [number, number] {
  return zRange(bosses.flatMap(({ local }) => local.map(({ solid }) => solid.polygon)));
}

function middleOf([low, high]: readonly [number, number]): number {
  return (low + high) / 2;
}

/** A bearing that tightening pushes sideways, and its static safety under that; Infinity without a load. */
export interface SideLoaded {
  readonly item: JointItem;
  readonly load_N: number;
  readonly limit_N: number;
  readonly safety: number;
}

/** What tightening alone pushes every bearing sideways with, and the most it may carry so; N. */
export function sideLoadsOf({ joint, spec }: SolvedJoint): SideLoaded[] {
  return joint.bearingSprings.map(({ item, spring }) => {
    const load_N = Math.abs(spec.spring_N[spring]!);
    const { staticRating_N } = item.bearing!;
    return {
      item,
      load_N,
      limit_N: sideLimit_N(item.bearing!),
      safety: staticSafety(staticRating_N, staticEquivalentLoad_N(0, load_N)),
    };
  });
}

/** True when two faces meet in edges only. */
export function isEdge(met: Met): boolean {
  return met.gap.bands_mm.every(([r0, r1]) => r1 - r0 <= EDGE_BAND_mm);
}
