/**
 * One pivot as the clamp solve sees it: which solids form which body, where they stand before tightening, and which
 * laws act between them.
 *
 * Bodies: each loose spacer, each face of a spring (of nested ones together), each bearing's inner ring, the axle, a loose receiver, and each boss of a member together
 * with the outer rings and seals pressed into it. A member with several bosses in the pivot gets a base body that its
 * arms are sprung to, unless a boss is rigid. Members and bearings start where the model puts them; loose spacers are
 * slid until they touch, and share the slack between their neighbours. A loose seal lies on the bearing or boss next to it in the
 * row and moves with it. Every pair of bodies whose solids share a radius gets a contact. All lengths mm, z to the drive side.
 */
import type { Gap } from './contact.ts';
import type { ClampProblem, ContactLaw, PullLaw, SpringLaw } from './clamp.ts';
import {
  pivotOf,
  type NamedPart,
  type ResolvedBore,
  type ResolvedModel,
  type ResolvedPivot,
  type ResolvedSeat,
  type ResolvedStack,
} from '../model/resolve.ts';
import type { Part, Side } from '../model/schema.ts';
import type { BearingEstimate, ResolvedBearing } from '../parts/bearing.ts';
import { ASSUMED, type AssumedSizes } from '../parts/entry.ts';
import { otherSide } from '../numbers/figures.ts';
import { armOf, type Arm } from './arm.ts';
import { bossSolids } from './member.ts';
import { kindOf, partProfile } from '../parts/kinds.ts';
import { nested } from '../standards/index.ts';
import type { PartProfile } from '../profile/solid.ts';
import { placeSolid, radiusRange, shiftPolygon, zRange } from '../profile/polygon.ts';
import { shankLength_mm } from '../parts/shanked.ts';
import { keptFor, localGap, localSolids, type LocalSolid } from './shapes.ts';
import { mountedPlay_mm } from './mounting.ts';
import { slimmed } from './press.ts';
import { threadPair, type ThreadPair } from './thread.ts';
import type { PlacedItem, Polygon, Solid } from '../types.ts';

/** What a joint takes for granted where the model is silent, and what a check may vary. */
export interface Assumptions {
  /** One stiffness for every contact, N/mm, instead of the sleeves' own. */
  readonly contactStiffness_N_per_mm?: number;
  /** Factor on every estimated arm stiffness. */
  readonly armFactor?: number;
  /**
   * Added to every estimated inner shoulder diameter and taken from every estimated outer one, as a share of the
   * spread.
   */
  readonly shoulderShift?: number;
  /** Factors on what is estimated of a bearing: its axial play, its axial stiffness, its static rating. */
  readonly playFactor?: number;
  readonly stiffnessFactor?: number;
  readonly ratingFactor?: number;
  /** Factor on every broken edge that no file gives. */
  readonly edgeFactor?: number;
  /** Factor on how far seals stand below the ring faces. */
  readonly recessFactor?: number;
}

/** An item of a row before it is solved. */
export interface JointItem {
  readonly id: string;
  readonly rowId: string;
  readonly stack: ResolvedStack;
  readonly role: PlacedItem['role'];
  readonly kind: string;
  readonly name: string;
  readonly part?: string;
  readonly member?: string;
  readonly bore?: string;
  /** What the part is, for everything but a boss. */
  readonly made?: Part;
  /** The bore of a boss, and of a bearing's seat: what the item belongs to besides its part. */
  readonly boss?: ResolvedBore;
  readonly turned: boolean;
  readonly profile?: PartProfile;
  readonly bearing?: ResolvedBearing;
  /** Body that carries the clamp force through this item: the inner ring for a bearing. */
  readonly body: number;
  /** For a spring, the body of its non-drive face; its other face is of `body`. */
  readonly nearBody?: number;
  /** For a bearing, the body its outer ring is pressed into. */
  readonly seatBody?: number;
  readonly seat?: ResolvedSeat;
  readonly proud_mm: number;
  readonly inColumn: boolean;
  /** For a loose seal, the side of what it lies on and moves with; the other side squeezes it. */
  readonly sealedToward?: Side;
  /** For a circlip, the seat in whose groove it stands. */
  readonly clips?: Pick<ResolvedSeat, 'bore' | 'side'>;
  /** Solids in the item's own frame, with their envelopes; a boss's frame is the bike's. */
  readonly local: readonly LocalSolid[];
  /**
   * Where the item's frame stands before tightening: a spacer's non-drive end, an axle's or nut's bearing face, 0 for a
   * boss.
   */
  z0: number;
  /** For a receiver that is a boss: z of the face its thread is entered from. */
  readonly entry_mm?: number;
}

/** One solid of an item, at its place before tightening. */
export interface Piece {
  readonly item: JointItem;
  readonly body: number;
  /** Body of its non-drive face: another one for a spring. */
  readonly nearBody: number;
  readonly solid: Solid;
  readonly local: LocalSolid;
}

/** A contact law and the pieces it stands for; `a` is on the non-drive side. */
export interface Meeting {
  readonly a: Piece;
  readonly b: Piece;
  readonly gap: Gap;
  /**
   * Index into the problem's contacts; undefined for a seal, which is too soft to carry force, and between nested
   * springs, which move as one.
   */
  readonly law: number | undefined;
  /** One of the two should turn against the other. */
  readonly shouldBeFree: boolean;
}

/** True where a spring bears: on its edge, which beds itself in and is no face that could be crushed. */
export function isSprung({ a, b }: Pick<Meeting, 'a' | 'b'>): boolean {
  return a.item.nearBody !== undefined || b.item.nearBody !== undefined;
}

/** True when a piece stands still with the clamp column. */
export function isColumnPiece({ item, solid: { role } }: Piece): boolean {
  return item.inColumn && role !== 'outer-ring' && role !== 'seal';
}

/**
 * The bores that turn on a bush: nothing holds them along the axle, so that only what they have on both sides together
 * is theirs.
 */
export function linedBores({ stacks }: Pick<Joint, 'stacks'>): ReadonlySet<ResolvedBore> {
  return new Set(
    stacks.flatMap(({ items }) => items.flatMap(({ role, boss }) => (role === 'lining' && boss ? [boss] : []))),
  );
}

/** The member a free piece belongs to: its boss's, or that of the seat its outer ring is pressed into. */
export function ownerOf(piece: Piece): string | undefined {
  return piece.item.boss?.memberId;
}

export interface JointStack {
  readonly stack: ResolvedStack;
  readonly items: readonly JointItem[];
  readonly thread: ThreadPair;
  readonly axle: JointItem;
  readonly receiver: JointItem;
  /** Index of the contact law that stands for the thread's limit. */
  readonly threadLimit?: number;
  /**
   * Free length each run of loose spacers had before tightening, < 0 where the spacers are too long for their place.
   */
  readonly slack: readonly {
    readonly items: readonly JointItem[];
    readonly before?: JointItem;
    readonly after?: JointItem;
    readonly free_mm: number;
  }[];
}

export interface Joint {
  readonly model: ResolvedModel;
  readonly pivot: ResolvedPivot;
  readonly stacks: readonly JointStack[];
  readonly pieces: readonly Piece[];
  readonly meetings: readonly Meeting[];
  readonly contacts: readonly ContactLaw[];
  readonly springs: readonly SpringLaw[];
  readonly bodies: number;
  readonly arms: readonly {
    readonly body: number;
    readonly base: number;
    readonly item: JointItem;
    readonly arm: Arm;
  }[];
  /** Body that stands for each member's base. */
  readonly bases: ReadonlyMap<string, number>;
  readonly bearingSprings: readonly { readonly item: JointItem; readonly spring: number }[];
}

const THREAD_STIFFNESS_N_per_mm = 1e6;
/**
 * What brings a loose part to one place and no other, N/mm: 0.05 N at 5 mm, less than the friction of a greased spacer.
 */
const TETHER_N_per_mm = 0.01;
/** The laws of a pivot. Throws a RangeError when the model has no such pivot. */
export function makeJoint(model: ResolvedModel, pivotId: string, assumptions: Assumptions = {}): Joint {
  const pivot = pivotOf(model, pivotId, 'joint');
  const bodies = new BodyBook(pivot);
  const stacks = pivot.stacks.map((stack) => {
    const items = itemsOf(model, stack, bodies, assumptions);
    const slack = seatItems(items, stack);
    return { stack, items, slack, thread: threadPair(stack) };
  });
  const pieces = stacks.map(({ items }) => items.flatMap(piecesOf));
  const contacts: ContactLaw[] = [];
  const meetings = pieces.flatMap((own) => meetingsOf(own, contacts, assumptions));
  const finished = stacks.map((own) => finishStack(own, contacts));
  return {
    model,
    pivot,
    stacks: finished,
    pieces: pieces.flat(),
    meetings,
    contacts,
    bodies: bodies.count,
    bases: bodies.bases,
    ...springsOf(finished, bodies.bases, assumptions),
  };
}

/** The same joint with other springs, as `makeJoint` would make it under the assumptions it was made with and these. */
export function respring(joint: Joint, assumptions: Assumptions): Joint {
  return { ...joint, ...springsOf(joint.stacks, joint.bases, assumptions) };
}

function springsOf(
  stacks: readonly JointStack[],
  bases: Joint['bases'],
  assumptions: Assumptions,
): Pick<Joint, 'springs' | 'arms' | 'bearingSprings'> {
  const springs: SpringLaw[] = [];
  const arms: Joint['arms'][number][] = [];
  for (const { items } of stacks) {
    for (const item of items) {
      if (item.role !== 'boss') continue;
      const base = bases.get(item.member!);
      if (base === undefined || base === item.body) continue;
      const arm = armOf(item.boss!);
      const stiffness = arm.stiffness_N_per_mm * (arm.isEstimated ? (assumptions.armFactor ?? 1) : 1);
      springs.push({ a: base, b: item.body, stiffness_N_per_mm: stiffness, play_mm: 0, rest_mm: 0 });
      arms.push({ body: item.body, base, item, arm: { ...arm, stiffness_N_per_mm: stiffness } });
    }
  }
  const bearingSprings: { item: JointItem; spring: number }[] = [];
  for (const own of stacks) {
    for (const item of own.items) {
      if (!item.bearing || item.seatBody === undefined) continue;
      bearingSprings.push({ item, spring: springs.length });
      springs.push({ a: item.seatBody, b: item.body, ...axialLaw(own, item, assumptions), rest_mm: 0 });
    }
  }
  for (const { items } of stacks) {
    for (const [at, { made, body, nearBody }] of items.entries()) {
      if (nearBody === undefined || items[at - 1]?.body === body) continue;
      const { curve } = kindOf(made!).spring!(made!);
      const packet = nested(curve, items.filter((item) => item.body === body).length);
      springs.push({
        a: nearBody,
        b: body,
        stiffness_N_per_mm: packet.slope_N_per_mm(0),
        play_mm: 0,
        rest_mm: 0,
        curve: packet,
      });
    }
  }
  return { springs, arms, bearingSprings };
}

/** The clamp problem of a joint with one preload a stack, N. */
export function clampProblem(joint: Joint, preload_N: (stack: JointStack) => number): ClampProblem {
  const pulls = joint.stacks.flatMap((own): PullLaw[] => {
    const force_N = preload_N(own);
    const [a, b] = ends(own);
    return a.body === b.body || force_N === 0 ? [] : [{ a: a.body, b: b.body, force_N }];
  });
  return {
    bodies: joint.bodies,
    contacts: joint.contacts,
    springs: joint.springs,
    pulls,
    tether_N_per_mm: TETHER_N_per_mm,
  };
}

/** The two ends of the column: non-drive end first. */
export function ends({
  stack,
  axle,
  receiver,
}: Pick<JointStack, 'stack' | 'axle' | 'receiver'>): readonly [JointItem, JointItem] {
  return stack.from === 'non-drive' ? [axle, receiver] : [receiver, axle];
}

/** What is estimated of a bearing's play is that of a free one: the press into its seat and on its axle takes from it. */
function axialLaw(
  own: JointStack,
  item: JointItem,
  assumptions: Assumptions,
): Pick<SpringLaw, 'stiffness_N_per_mm' | 'play_mm'> {
  const { playFactor = 1, stiffnessFactor = 1 } = assumptions;
  const bearing = item.bearing!;
  const isEstimated = (what: BearingEstimate): boolean => bearing.estimated.includes(what);
  return {
    stiffness_N_per_mm: bearing.axialStiffness_N_per_mm * (isEstimated('axial-stiffness') ? stiffnessFactor : 1),
    play_mm: isEstimated('axial-play') ? playFactor * mountedPlay_mm(own, item) : bearing.axialPlay_mm,
  };
}

/** Hands out body numbers in axle order, and knows which bosses of a member move as one. */
class BodyBook {
  count = 0;
  readonly bases = new Map<string, number>();
  private readonly bosses = new Map<string, number>();

  constructor({ stacks }: ResolvedPivot) {
    for (const { row, receiver } of stacks) {
      const bores = row.flatMap((entry) => (entry.role === 'boss' ? [entry.bore] : []));
      for (const { memberId } of receiver.bore ? [...bores, receiver.bore] : bores)
        this.bosses.set(memberId, (this.bosses.get(memberId) ?? 0) + 1);
    }
  }

  next(): number {
    return this.count++;
  }

  /** Body of a boss: the base itself when the boss is rigid or its member's only one here. */
  boss(bore: ResolvedBore): number {
    const isAlone = (this.bosses.get(bore.memberId) ?? 1) <= 1;
    let base = this.bases.get(bore.memberId);
    if (base === undefined) {
      base = this.next();
      this.bases.set(bore.memberId, base);
    }
    return isAlone || armOf(bore).isRigid ? base : this.next();
  }
}

type SpringBodies = Required<Pick<JointItem, 'body' | 'nearBody'>>;

/** Dished springs lie in one another; equal faces do not. */
function hasNest(part: Part): boolean {
  return partProfile(part).hasTwoWays;
}

function itemsOf(model: ResolvedModel, stack: ResolvedStack, bodies: BodyBook, assumptions: Assumptions): JointItem[] {
  const shapes = shapesOf(model, assumptions);
  const turning = new Set(
    stack.row.flatMap((entry) =>
      entry.role === 'bearing' ? [entry.seat.bore.memberId] : entry.role === 'lining' ? [entry.lines.memberId] : [],
    ),
  );
  // Bosses take their numbers first within their neighbourhood: a bearing needs its seat's body.
  const bossBodies = new Map<ResolvedBore, number>();
  const bodyOfBoss = (bore: ResolvedBore): number => {
    const body = bossBodies.get(bore) ?? bodies.boss(bore);
    bossBodies.set(bore, body);
    return body;
  };
  const blank = { stack, proud_mm: 0, z0: 0, turned: false };
  const endItem = (role: 'axle' | 'receiver'): JointItem => {
    const id = `${stack.id}/${role}`;
    const end = stack[role];
    if (end.bore) {
      const entry_mm = stack.from === 'non-drive' ? end.bore.z_from_mm : end.bore.z_to_mm;
      const body = bodyOfBoss(end.bore);
      return {
        ...blank,
        ...bossFields(end.bore, shapes.boss(end.bore)),
        id,
        rowId: role,
        body,
        inColumn: true,
        entry_mm,
      };
    }
    const { part } = end;
    // An axle lies head first from the non-drive side in its file; a nut lies as at the drive end, a screw like an
    // axle.
    const turned = role === 'axle' || part.kind === 'nut' ? stack.from === 'drive' : stack.from === 'non-drive';
    const made = role === 'axle' ? slimmed(stack.axle.part, stack.row) : part;
    const shape = shapes.part(part, turned, made);
    return {
      ...blank,
      ...partFields(end),
      id,
      rowId: role,
      role,
      turned,
      ...shape,
      body: bodies.next(),
      inColumn: true,
    };
  };
  let packet: { readonly at: number; readonly partId: string; readonly turned: boolean; readonly own: SpringBodies };
  // Equal springs turned one way lie in one another: one packet, pressed between the same two faces.
  const springBodies = (entry: ResolvedStack['row'][number] & NamedPart, turned: boolean): SpringBodies => {
    const at = stack.row.indexOf(entry);
    const isNested = packet?.at === at - 1 && packet.partId === entry.partId && packet.turned === turned;
    const own = isNested && hasNest(entry.part) ? packet.own : { nearBody: bodies.next(), body: bodies.next() };
    packet = { at, partId: entry.partId, turned, own };
    return own;
  };
  const way = stack.from === 'non-drive' ? (['axle', 'receiver'] as const) : (['receiver', 'axle'] as const);
  const first = endItem(way[0]);
  const rowItem = (entry: ResolvedStack['row'][number]): JointItem => {
    const id = `${stack.id}/${entry.id}`;
    if (entry.role === 'boss') {
      const inColumn = !turning.has(entry.bore.memberId);
      return {
        ...blank,
        ...bossFields(entry.bore, shapes.boss(entry.bore)),
        id,
        rowId: entry.id,
        body: bodyOfBoss(entry.bore),
        inColumn,
      };
    }
    const turned = entry.turned === true;
    const shared = { ...blank, ...partFields(entry), id, rowId: entry.id, turned, inColumn: true };
    if (entry.role === 'spacer') {
      if (entry.clips) {
        const { bore, side, groove } = entry.clips;
        return {
          ...shared,
          role: 'spacer',
          ...shapes.part(entry.part, turned, entry.part, 'loose'),
          boss: bore,
          body: bodyOfBoss(bore),
          inColumn: false,
          clips: { bore, side },
          // A ring lies on the outer wall of its groove, where it takes the load.
          z0:
            side === 'non-drive'
              ? bore.z_from_mm + groove.margin_mm
              : bore.z_to_mm - groove.margin_mm - kindOf(entry.part).snapsIn!(entry.part).thickness_mm,
        };
      }
      const rest = kindOf(entry.part).seals && restOf(stack, entry);
      if (rest)
        return {
          ...shared,
          role: 'spacer',
          ...shapes.part(entry.part, turned, entry.part, 'loose'),
          body: bodyOfBoss(rest.bore),
          inColumn: false,
          sealedToward: rest.side,
        };
      return {
        ...shared,
        role: 'spacer',
        ...shapes.part(entry.part, turned, entry.part, 'loose'),
        ...(kindOf(entry.part).spring ? springBodies(entry, turned) : { body: bodies.next() }),
      };
    }
    if (entry.role === 'lining') {
      const { lines: bore, part } = entry;
      const { length_mm } = kindOf(part).lines!(part);
      return {
        ...shared,
        role: 'lining',
        ...shapes.part(part, turned, part, 'loose'),
        boss: bore,
        body: bodyOfBoss(bore),
        inColumn: false,
        z0: (bore.z_from_mm + bore.z_to_mm - length_mm) / 2,
      };
    }
    if (entry.role === 'tip') throw new Error(`joint: ${id}: stands on the tip, not in the row`);
    const { seat, proud_mm = 0 } = entry;
    const bearing = atItsEnds(entry.bearing, assumptions);
    const made = {
      ...entry.part,
      inner_shoulder_mm: bearing.innerShoulder_mm,
      outer_shoulder_mm: bearing.outerShoulder_mm,
    };
    const seatBody = bodyOfBoss(seat.bore);
    return {
      ...shared,
      role: 'bearing',
      ...shapes.part(entry.part, turned, made, 'loose'),
      bearing,
      boss: seat.bore,
      body: bodies.next(),
      seatBody,
      seat,
      proud_mm,
      z0:
        seat.side === 'non-drive'
          ? seat.bore.z_from_mm + seat.rest_mm - bearing.width_mm - proud_mm
          : seat.bore.z_to_mm - seat.rest_mm + proud_mm,
    };
  };
  const row = stack.row.filter(({ role }) => role !== 'tip').map(rowItem);
  const column = [first, ...row, endItem(way[1])];
  const bodyAt = (end: 'axle' | 'receiver'): number => column.find(({ rowId }) => rowId === end)!.body;
  const tips = stack.row.flatMap((entry): JointItem[] => {
    if (entry.role !== 'tip') return [];
    const turned = entry.turned === true;
    return [
      {
        ...blank,
        ...partFields(entry),
        ...shapes.part(entry.part, turned, entry.part, 'loose'),
        id: `${stack.id}/${entry.id}`,
        rowId: entry.id,
        role: 'tip',
        turned,
        // A lock nut stands on the receiver, all else on the axle.
        body: bodyAt(kindOf(entry.part).secures === 'thread' ? 'receiver' : 'axle'),
        inColumn: false,
      },
    ];
  });
  return stack.from === 'non-drive' ? [...column, ...tips] : [...tips, ...column];
}

/** The boss, or the one of the bearing, that a loose seal lies on: the nearest in the row, of two the non-drive one. */
function restOf(
  { row }: ResolvedStack,
  seal: ResolvedStack['row'][number],
): { readonly bore: ResolvedBore; readonly side: Side } | undefined {
  const at = row.indexOf(seal);
  const found = row.flatMap((entry, k) => {
    if (entry.role !== 'boss' && entry.role !== 'bearing') return [];
    const bore = entry.role === 'boss' ? entry.bore : entry.seat.bore;
    return [{ bore, side: k < at ? ('non-drive' as const) : ('drive' as const), far: Math.abs(k - at) }];
  });
  return found.sort((a, b) => a.far - b.far)[0];
}

/** What no file gives, at the end of its spread that is asked for. */
function assumedSizes({ edgeFactor = 1, recessFactor = 1 }: Assumptions): AssumedSizes {
  return { edge_mm: ASSUMED.edge_mm * edgeFactor, sealRecess_mm: ASSUMED.sealRecess_mm * recessFactor };
}

/** A bearing with what is estimated of it at the ends of its spread. */
function atItsEnds(bearing: ResolvedBearing, { shoulderShift = 0, ratingFactor = 1 }: Assumptions): ResolvedBearing {
  const shift = shoulderShift * bearing.shoulderSpread_mm;
  const rating = bearing.estimated.includes('static-rating') ? ratingFactor : 1;
  return shift === 0 && rating === 1
    ? bearing
    : {
        ...bearing,
        staticRating_N: bearing.staticRating_N * rating,
        innerShoulder_mm: Math.max(bearing.bore_mm + 0.4, bearing.innerShoulder_mm + shift),
        outerShoulder_mm: Math.min(bearing.outside_mm - 0.4, bearing.outerShoulder_mm - shift),
      };
}

function partFields({ partId, part }: NamedPart): Pick<JointItem, 'kind' | 'name' | 'part' | 'made'> {
  return { kind: part.kind, name: part.name, part: partId, made: part };
}

function bossFields(boss: ResolvedBore, local: readonly LocalSolid[]) {
  const { memberId: member, boreId: bore } = boss;
  const { kind, name } = boss.member;
  return { role: 'boss', kind, name, member, bore, boss, local } as const;
}

/** The shapes of a model's parts and bosses at what is assumed of them. */
function shapesOf(model: ResolvedModel, assumptions: Assumptions) {
  const { edgeFactor = 1, recessFactor = 1 } = assumptions;
  const assumed = assumedSizes(assumptions);
  return {
    boss: (bore: ResolvedBore): readonly LocalSolid[] =>
      keptFor(model, bore, `${edgeFactor}`, () =>
        localSolids(bossSolids(bore, bore.member.material, edgeFactor), false, 0),
      ),
    /** `made` is the part with what is changed of its sizes; a loose part keeps its non-drive end at z = 0 when turned. */
    part: (
      part: Part,
      turned: boolean,
      made: Part,
      stands: 'loose' | 'end' = 'end',
    ): { readonly profile: PartProfile; readonly local: readonly LocalSolid[] } =>
      keptFor(model, part, `${stands} ${turned} ${edgeFactor} ${recessFactor} ${changesOf(part, made)}`, () => {
        const profile = partProfile(made, assumed);
        return {
          profile,
          local: localSolids(profile.solids, turned, stands === 'loose' && turned ? profile.to_mm : 0),
        };
      }),
  };
}

/** What of a part's sizes is changed: the shank of an axle that is pressed, the shoulders of a bearing. */
function changesOf(part: Part, made: Part): string {
  if (made === part) return '';
  if ('shank' in made) return made.shank.map(({ diameter_mm }) => diameter_mm).join(' ');
  return made.kind === 'bearing' ? `${made.inner_shoulder_mm} ${made.outer_shoulder_mm}` : '';
}

/** A solid as it stands before tightening; its polygon is moved there when it is asked for. */
class PlacedSolid implements Solid {
  readonly role: Solid['role'];
  readonly material: Solid['material'];
  private readonly local: Polygon;
  private readonly by_mm: number;
  private moved: Polygon | undefined;

  constructor({ role, material: made, polygon }: Solid, by_mm: number) {
    this.role = role;
    this.material = made;
    this.local = polygon;
    this.by_mm = by_mm;
  }

  get polygon(): Polygon {
    this.moved ??= shiftPolygon(this.local, this.by_mm);
    return this.moved;
  }
}

function piecesOf(item: JointItem): Piece[] {
  return item.local.map((local) => {
    const isSeated = local.solid.role === 'outer-ring' || local.solid.role === 'seal';
    const body = isSeated ? (item.seatBody ?? item.body) : item.body;
    return { item, body, nearBody: item.nearBody ?? body, solid: new PlacedSolid(local.solid, item.z0), local };
  });
}

/** Put every loose item of a row where a hand would: slid until it touches, the slack shared. */
function seatItems(all: JointItem[], stack: ResolvedStack): JointStack['slack'] {
  // What turns on bushes lies beside the row, not in it: what it turns on goes through it.
  const lined = new Set(all.flatMap(({ role, boss }) => (role === 'lining' ? [boss] : [])));
  const isAside = ({ role, boss, clips, sealedToward }: JointItem): boolean =>
    sealedToward !== undefined || clips !== undefined || role === 'tip' || (boss !== undefined && lined.has(boss));
  const items = all.filter((item) => !isAside(item));
  const isFixed = (item: JointItem): boolean => item.role === 'boss' || item.role === 'bearing';
  const slack: { items: JointItem[]; before?: JointItem; after?: JointItem; free_mm: number }[] = [];
  let k = 0;
  while (k < items.length) {
    if (isFixed(items[k]!)) {
      k++;
      continue;
    }
    let end = k;
    while (end < items.length && !isFixed(items[end]!)) end++;
    const run = items.slice(k, end);
    const before = items.slice(0, k);
    const after = items.slice(end);
    if (before.length === 0 && after.length > 0) slideToward(run, after.filter(isFixed), 'drive');
    // An axle's step is met when the axle is put in, not before: only the row itself places its spacers.
    else
      slideToward(
        run,
        before.filter((item) => item.role !== 'axle' && item.role !== 'receiver'),
        'non-drive',
      );
    if (before.length > 0 && after.length > 0) {
      // Loose spacers further on are not placed yet: only what is fixed can be measured against.
      const free = leastGap(run, after.filter(isFixed));
      if (free !== undefined) {
        for (const item of run) item.z0 += free / 2;
        slack.push({ items: run, before: items[k - 1]!, after: items[end]!, free_mm: free });
      }
    }
    k = end;
  }
  // The ends of the column close on the whole row, not only on the run they stand in.
  const axle = items.find((item) => item.role === 'axle')!;
  const row = items.filter((item) => item !== axle && item.role !== 'receiver');
  slideToward([axle], row, otherSide(stack.from));
  const receiver = items.find((item) => item.role === 'receiver');
  if (receiver) slideToward([receiver], row, stack.from);
  const outward = stack.from === 'non-drive' ? all : [...all].reverse();
  let before = receiver ?? all.find(({ rowId }) => rowId === 'receiver')!;
  for (const tip of outward) {
    if (tip.role !== 'tip') continue;
    tip.z0 = onTip_mm(tip, before, axle, stack);
    before = tip;
  }
  for (const [at, seal] of all.entries()) {
    if (seal.sealedToward === undefined) continue;
    const beyond = seal.sealedToward === 'non-drive' ? all.slice(0, at) : all.slice(at + 1);
    layOn(seal, beyond.filter(isFixed), seal.sealedToward);
  }
  return slack;
}

/**
 * Where a part stands on the tip, its non-drive end: a ring on the wall of its groove toward the tip, where it takes the
 * load, a cone as deep as the hole is wide, all else on what stands before it.
 */
function onTip_mm(
  { made, local }: JointItem,
  before: JointItem,
  axle: JointItem,
  { from, axle: { part } }: ResolvedStack,
): number {
  const sign = from === 'non-drive' ? 1 : -1;
  const long_mm = zRange(local.map(({ solid }) => solid.polygon))[1];
  /** Place of the non-drive end from that of its inner end. */
  const inFrom = (z_mm: number): number => (sign > 0 ? z_mm : z_mm - long_mm);
  const length_mm = shankLength_mm(part);
  if (kindOf(made!).snapsIn) return inFrom(axle.z0 + sign * (length_mm - part.groove!.margin_mm - long_mm));
  if (made!.kind === 'expander') {
    const { small_mm, large_mm } = made!;
    const share = ((part.bore_mm ?? 0) - small_mm) / (large_mm - small_mm);
    return inFrom(axle.z0 + sign * (length_mm - long_mm * Math.min(1, Math.max(0, share))));
  }
  const ends = zRange(before.local.map(({ solid }) => solid.polygon));
  return inFrom(before.z0 + (sign > 0 ? ends[1] : ends[0]));
}

/** Lay a seal on the nearest of what lies to its one side. */
function layOn(seal: JointItem, others: readonly JointItem[], toward: Side): void {
  const sign = toward === 'non-drive' ? -1 : 1;
  const free = others.flatMap((other) =>
    other.local.flatMap((one) =>
      seal.local.flatMap((own) => {
        const met = toward === 'non-drive' ? localGap(one, own) : localGap(own, one);
        return met && one.solid.role !== 'seal' ? [met.gap_mm + sign * (other.z0 - seal.z0)] : [];
      }),
    ),
  );
  if (free.length > 0) seal.z0 += sign * Math.min(...free);
}

/** Slide each item of `run` until it touches what lies in that direction. */
function slideToward(run: readonly JointItem[], others: readonly JointItem[], toward: Side): void {
  const obstacles = [...others];
  for (const item of toward === 'non-drive' ? run : [...run].reverse()) {
    const free = toward === 'non-drive' ? leastGap(obstacles, [item]) : leastGap([item], obstacles);
    if (free !== undefined) item.z0 += toward === 'non-drive' ? -free : free;
    obstacles.push(item);
  }
}

/** Smallest gap between items on the non-drive side and items on the drive side; seals give way. */
function leastGap(left: readonly JointItem[], right: readonly JointItem[]): number | undefined {
  let least: number | undefined;
  for (const a of left) {
    for (const b of right) {
      for (const own of a.local) {
        if (own.solid.role === 'seal') continue;
        for (const other of b.local) {
          if (other.solid.role === 'seal') continue;
          const met = localGap(own, other);
          const free = met && met.gap_mm + b.z0 - a.z0;
          if (free !== undefined && (least === undefined || free < least)) least = free;
        }
      }
    }
  }
  return least;
}

function meetingsOf(pieces: readonly Piece[], contacts: ContactLaw[], assumptions: Assumptions): Meeting[] {
  const meetings: Meeting[] = [];
  const still = pieces.map(isColumnPiece);
  const clipped = pieces.map(({ item }) => item.clips !== undefined);
  const outer = pieces.map(({ solid }) => solid.role === 'outer-ring');
  for (let i = 0; i < pieces.length; i++) {
    for (let j = i + 1; j < pieces.length; j++) {
      const a = pieces[i]!;
      const b = pieces[j]!;
      if (a.item === b.item) continue;
      const isClipped = (clipped[i]! || clipped[j]!) && (outer[i]! || outer[j]!);
      const isOnTip = a.item.role === 'tip' || b.item.role === 'tip';
      const isLaid = isClipped || a.item.sealedToward !== undefined || b.item.sealedToward !== undefined;
      const isNested = a.body === b.body && a.body !== a.nearBody;
      if (a.body === b.body && !isLaid && !isNested) continue;
      const local = localGap(a.local, b.local);
      if (!local) continue;
      const gap: Gap = { gap_mm: local.gap_mm + b.item.z0 - a.item.z0, bands_mm: local.bands_mm };
      const shouldBeFree = !isLaid && !isOnTip && (still[i] !== still[j] || (!still[i] && ownerOf(a) !== ownerOf(b)));
      // A lock nut is pulled up after the axle, so that the axle's own step takes nothing of the clamp from it.
      const isLocked = isOnTip && (a.item.role === 'axle' || b.item.role === 'axle');
      const isSoft =
        isLocked || isNested || (isClipped && a.body === b.body) || a.solid.role === 'seal' || b.solid.role === 'seal';
      meetings.push({ a, b, gap, law: isSoft ? undefined : contacts.length, shouldBeFree });
      if (isSoft) continue;
      const stiffness_N_per_mm = assumptions.contactStiffness_N_per_mm ?? local.stiffness_N_per_mm;
      contacts.push({ a: a.body, b: b.nearBody, gap_mm: gap.gap_mm, stiffness_N_per_mm });
    }
  }
  return meetings;
}

function finishStack(own: Omit<JointStack, 'axle' | 'receiver' | 'threadLimit'>, contacts: ContactLaw[]): JointStack {
  const axle = own.items.find((item) => item.rowId === 'axle')!;
  const receiver = own.items.find((item) => item.rowId === 'receiver')!;
  const stack: JointStack = { ...own, axle, receiver };
  const least = own.thread.leastDistance_mm;
  if (least === undefined || axle.body === receiver.body) return stack;
  const [a, b] = ends(stack);
  contacts.push({
    a: a.body,
    b: b.body,
    gap_mm: receiverDistance_mm(stack) - least,
    stiffness_N_per_mm: THREAD_STIFFNESS_N_per_mm,
  });
  return { ...stack, threadLimit: contacts.length - 1 };
}

/** Distance from the axle's bearing face to the receiver's face along the axle before tightening, mm. */
export function receiverDistance_mm({
  stack,
  axle,
  receiver,
}: Pick<JointStack, 'stack' | 'axle' | 'receiver'>): number {
  const sign = stack.from === 'non-drive' ? 1 : -1;
  return sign * ((receiver.entry_mm ?? receiver.z0) - axle.z0);
}

/** How far a spring is pressed from free, mm, up to flat; undefined for what does not yield. */
export function pressed_mm({ made, body, nearBody }: JointItem, shift_mm: Float64Array): number | undefined {
  if (nearBody === undefined) return undefined;
  const { travel_mm } = kindOf(made!).spring!(made!);
  return Math.min(travel_mm, Math.max(0, shift_mm[nearBody]! - shift_mm[body]!));
}

/** A piece's solid moved by its body's shift; of a spring as high as it stands. */
export function movedSolid(piece: Piece, shift_mm: Float64Array): Solid {
  const { item } = piece;
  const by_mm = pressed_mm(item, shift_mm);
  if (by_mm !== undefined && item.made && 'length_mm' in item.made) {
    const { solids, to_mm } = partProfile({ ...item.made, length_mm: item.made.length_mm - by_mm });
    return placeSolid(solids[0]!, item.turned, item.z0 + shift_mm[item.nearBody!]! + (item.turned ? to_mm : 0));
  }
  const { role, material: made, polygon } = piece.solid;
  return { role, material: made, polygon: shiftPolygon(polygon, shift_mm[piece.body]!) };
}

/** The free shape of a spring about a place along z; undefined for what is none. */
export function freeSolid({ made, turned, nearBody }: JointItem, middle_mm: number): Solid | undefined {
  if (nearBody === undefined || !made) return undefined;
  const { solids, to_mm } = partProfile(made);
  return placeSolid(solids[0]!, turned, middle_mm + (turned ? to_mm : -to_mm) / 2);
}

/** Smallest radius a shaft through this item meets, mm. */
export function boreRadius_mm(pieces: readonly Piece[], item: JointItem): number {
  return Math.min(...pieces.filter((piece) => piece.item === item).map((piece) => radiusRange(piece.solid.polygon)[0]));
}
