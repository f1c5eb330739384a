/**
 * The dimensions of a joint that have tolerances, their limits, and how each moves the faces of its part.
 *
 * Lengths of rings, widths of bearings (ISO 492 Normal; both rings of one bearing are taken as equally wide), the
 * planes of each boss, and the steps of axle and receiver. A boss is dimensioned from its bearing shoulders where it
 * has some, else from its faces; the bosses of one member are tied by the spans between their facing planes. Every
 * length but a bearing's carries the stated class of ISO 2768-1 unless the model (`length_tol_mm`, `depth_tol_mm`,
 * `span_tol_mm`) or the caller gives limits for it; a measured length carries the accuracy of the calliper. Faces are
 * 'levels' of an item, in the item's own frame, with the travel each dimension gives them while the item's body stands
 * where the model puts it. Lengths mm, + to the drive side.
 */
import type { Joint, JointItem, JointStack } from '../joint/joint.ts';
import type { MemberBore, Part, Side } from '../model/schema.ts';
import { kindOf, stands } from '../parts/kinds.ts';
import { shankLength_mm, type Shanked } from '../parts/shanked.ts';
import { generalTolerance_mm, GENERAL_SOURCE, type GeneralClass } from '../standards/general-tolerances.ts';
import { refuse, requireAtLeast } from '../standards/guard.ts';
import { ringWidthTolerance } from '../standards/index.ts';
import { combine, effectOf, NO_EFFECT, type Effect } from './effect.ts';

/** Kinds of dimension. */
export const DIMENSION_KINDS = [
  'length',
  'land-height',
  'bearing-width',
  'boss-width',
  'seat-depth',
  'behind-seat',
  'between-seats',
  'span',
  'step',
  'thread-start',
  'thread-depth',
] as const;
/** What is measured. */
export type DimensionKind = (typeof DIMENSION_KINDS)[number];

/** One dimension with its limits about the nominal. */
export interface Dimension {
  /** `stackId/rowId:length`, `member/bore:width`, `member/bore~bore:span` and so on. */
  readonly id: string;
  readonly kind: DimensionKind;
  /** Scene ids of the items it belongs to: one, or the two bosses of a span. */
  readonly items: readonly string[];
  readonly side?: Side;
  readonly nominal_mm: number;
  readonly lower_mm: number;
  readonly upper_mm: number;
  readonly basis: 'standard' | 'class' | 'given' | 'measured';
  readonly source: string;
}

/** What a check of tolerances takes for granted. */
export interface ToleranceOptions {
  /** Class of ISO 2768-1 for every length without a tolerance of its own; `f` unless given. */
  readonly generalClass?: GeneralClass;
  /** Limits about the nominal by dimension id, mm. */
  readonly given_mm?: Readonly<Record<string, { readonly lower_mm: number; readonly upper_mm: number }>>;
  /** Measured lengths by dimension id, mm: they take the nominal's place. */
  readonly measured_mm?: Readonly<Record<string, number>>;
  /** ± accuracy of a measured length, mm. */
  readonly calliper_mm?: number;
}

/** ± accuracy of a workshop calliper, mm: common practice, no source. */
const CALLIPER_mm = 0.02;
/** A measured length further off than this is a typing mistake or the wrong part, mm: ours, no source. */
const FURTHEST_OFF_mm = 3;
/** Class of every length that names none. */
export const DEFAULT_CLASS: GeneralClass = 'f';

/** A face of an item: where it stands in the item's own frame and what moves it. */
export interface Level {
  readonly z_mm: number;
  readonly effect: Effect;
}

/** Dimensions of a joint and the levels of its items. */
export interface Dimensions {
  readonly list: readonly Dimension[];
  readonly levels: ReadonlyMap<JointItem, readonly Level[]>;
  /** Travel of the gap that keeps a receiver from running too far up its thread, by stack id. */
  readonly threadGap: ReadonlyMap<string, Effect>;
  /** Travel of the least distance between axle face and receiver face, by stack id. */
  readonly leastDistance: ReadonlyMap<string, Effect>;
}

/** Dimensions of a joint. Refuses measured or given lengths that name none of them. */
export function dimensionsOf(joint: Joint, options: ToleranceOptions = {}): Dimensions {
  const book = new DimensionBook(options);
  const levels = new Map<JointItem, readonly Level[]>();
  const shoulders = memberLevels(joint, book, levels);
  for (const own of joint.stacks) {
    for (const item of own.items) {
      if (levels.has(item)) continue;
      if (item.bearing) levels.set(item, bearingLevels(own, item, shoulders, book));
      else levels.set(item, partLevels(item.made!, item, book));
    }
  }
  const threadGap = new Map<string, Effect>();
  const leastDistance = new Map<string, Effect>();
  for (const own of joint.stacks) {
    const least = leastDistanceEffect(own, levels, book);
    if (!least) continue;
    leastDistance.set(own.stack.id, least);
    const entry =
      own.receiver.entry_mm === undefined
        ? NO_EFFECT
        : levelAt(levels.get(own.receiver)!, own.receiver.entry_mm).effect;
    const sign = own.stack.from === 'non-drive' ? 1 : -1;
    threadGap.set(own.stack.id, combine([entry, sign], [least, -1]));
  }
  book.refuseUnknown();
  return { list: book.list, levels, threadGap, leastDistance };
}

/** The level nearest to a place in the item's frame. */
export function levelAt(levels: readonly Level[], z_mm: number): Level {
  let best = levels[0]!;
  for (const level of levels) if (Math.abs(level.z_mm - z_mm) < Math.abs(best.z_mm - z_mm)) best = level;
  return best;
}

/** Hands out dimension numbers and their limits. */
class DimensionBook {
  readonly list: Dimension[] = [];
  private readonly numbers = new Map<string, number>();
  private readonly options: ToleranceOptions;

  constructor(options: ToleranceOptions) {
    this.options = options;
    requireAtLeast('tolerance', 'calliper_mm', options.calliper_mm ?? CALLIPER_mm, 0);
  }

  /** Effect of a dimension, made when it is first asked for. */
  of(
    id: string,
    kind: DimensionKind,
    items: readonly string[],
    nominal_mm: number,
    rest: { readonly side?: Side; readonly bearingBore_mm?: number; readonly tol_mm?: number | undefined } = {},
  ): Effect {
    const known = this.numbers.get(id);
    if (known !== undefined) return effectOf(known);
    const { side } = rest;
    this.numbers.set(id, this.list.length);
    this.list.push({
      id,
      kind,
      items,
      ...(side === undefined ? {} : { side }),
      nominal_mm,
      ...this.limitsOf(id, nominal_mm, rest.bearingBore_mm, rest.tol_mm),
    });
    return effectOf(this.list.length - 1);
  }

  private limitsOf(
    id: string,
    nominal_mm: number,
    bearingBore_mm: number | undefined,
    tol_mm: number | undefined,
  ): Pick<Dimension, 'lower_mm' | 'upper_mm' | 'basis' | 'source'> {
    const { given_mm = {}, measured_mm = {}, calliper_mm = CALLIPER_mm, generalClass = DEFAULT_CLASS } = this.options;
    const measured = Object.hasOwn(measured_mm, id) ? measured_mm[id]! : undefined;
    if (measured !== undefined) {
      const off = measured - nominal_mm;
      if (!(Math.abs(off) <= FURTHEST_OFF_mm))
        refuse(
          'tolerance',
          `measured ${id}`,
          `${measured} mm`,
          `within ${FURTHEST_OFF_mm} mm of the nominal ${round(nominal_mm)} mm`,
        );
      return {
        lower_mm: off - calliper_mm,
        upper_mm: off + calliper_mm,
        basis: 'measured',
        source: `measured, ±${calliper_mm} mm`,
      };
    }
    const given = Object.hasOwn(given_mm, id) ? given_mm[id] : undefined;
    if (given) {
      if (!(given.lower_mm <= given.upper_mm))
        refuse(
          'tolerance',
          `limits of ${id}`,
          `${given.lower_mm} to ${given.upper_mm} mm`,
          'finite limits, the lower one first',
        );
      return { ...given, basis: 'given', source: 'limits given for this part' };
    }
    if (tol_mm !== undefined)
      return { lower_mm: -tol_mm, upper_mm: tol_mm, basis: 'given', source: `±${tol_mm} mm from the model file` };
    if (bearingBore_mm !== undefined && bearingBore_mm > 2.5 && bearingBore_mm <= 50) {
      return {
        ...ringWidthTolerance(bearingBore_mm),
        basis: 'standard',
        source: 'ISO 492 Normal, width of a ring (bearing catalogue, 2018, table 2 p. 38)',
      };
    }
    const tolerance = generalTolerance_mm(Math.abs(nominal_mm), generalClass);
    return {
      lower_mm: -tolerance,
      upper_mm: tolerance,
      basis: 'class',
      source: `${GENERAL_SOURCE}, class ${generalClass}: the model gives no tolerance`,
    };
  }

  refuseUnknown(): void {
    for (const [what, record] of [
      ['measured', this.options.measured_mm],
      ['given', this.options.given_mm],
    ] as const) {
      for (const id of Object.keys(record ?? {})) {
        if (!this.numbers.has(id))
          refuse('tolerance', `${what} dimension`, id, this.list.map((dimension) => dimension.id).join(', '));
      }
    }
  }
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

interface Boss {
  readonly item: JointItem;
  readonly sizes: MemberBore;
  /** Sides of the seats that bearings of this joint sit in. */
  readonly seats: readonly Side[];
}

const shoulderKey = (member: string, bore: string, side: Side): string => `${member}/${bore} ${side}`;

/** Levels of every boss, its member's bosses tied together by spans; gives the shoulders that bearings rest on. */
function memberLevels(joint: Joint, book: DimensionBook, levels: Map<JointItem, readonly Level[]>): Map<string, Level> {
  const shoulders = new Map<string, Level>();
  const items = joint.stacks.flatMap((own) => own.items);
  const members = new Set(items.flatMap((item) => (item.role === 'boss' ? [item.member!] : [])));
  for (const member of members) {
    const bosses = items
      .filter((item) => item.role === 'boss' && item.member === member)
      .map((item): Boss => {
        const seats = items.filter((other) => other.seat?.bore === item.boss).map((other) => other.seat!.side);
        return { item, sizes: joint.model.members[member]!.bores[item.bore!]!, seats: [...new Set(seats)] };
      })
      .sort((a, b) => a.sizes.z_from_mm + a.sizes.z_to_mm - b.sizes.z_from_mm - b.sizes.z_to_mm);
    let before: { readonly boss: Boss; readonly plane: Level } | undefined;
    for (const boss of bosses) {
      const own = `${member}/${boss.item.bore}`;
      const [low] = planesOf(boss);
      const tie =
        before &&
        book.of(
          `${member}/${before.boss.item.bore}~${boss.item.bore}:span`,
          'span',
          [before.boss.item.id, boss.item.id],
          low - before.plane.z_mm,
          { tol_mm: joint.model.members[member]!.span_tol_mm },
        );
      const start = before && tie ? combine([before.plane.effect, 1], [tie, 1]) : NO_EFFECT;
      const faces = bossLevels(boss, own, start, book, shoulders);
      levels.set(boss.item, faces);
      const [, high] = planesOf(boss);
      before = { boss, plane: levelAt(faces, high) };
    }
  }
  return shoulders;
}

/** The planes a boss is dimensioned from: its used shoulders, else its faces; non-drive one first. */
function planesOf({ sizes, seats }: Boss): readonly [number, number] {
  const [low, high] = [shoulderOf(sizes, 'non-drive'), shoulderOf(sizes, 'drive')];
  if (seats.length === 2) return [low, high];
  if (seats.length === 1) return seats[0] === 'drive' ? [high, high] : [low, low];
  return [sizes.z_from_mm, sizes.z_to_mm];
}

function shoulderOf(sizes: MemberBore, side: Side): number {
  const depth = sizes.seats?.find((seat) => seat.side === side)?.depth_mm ?? 0;
  return side === 'drive' ? sizes.z_to_mm - depth : sizes.z_from_mm + depth;
}

function bossLevels(
  boss: Boss,
  own: string,
  start: Effect,
  book: DimensionBook,
  shoulders: Map<string, Level>,
): Level[] {
  const { item, sizes, seats } = boss;
  const dimension = (what: string, kind: DimensionKind, nominal: number, side?: Side): Effect =>
    book.of(`${own}:${what}`, kind, [item.id], nominal, {
      ...(side === undefined ? {} : { side }),
      ...(kind === 'seat-depth' ? { tol_mm: sizes.seats?.find((seat) => seat.side === side)?.depth_tol_mm } : {}),
    });
  const found: Level[] = [];
  const shoulder = (side: Side, effect: Effect): void => {
    const level = { z_mm: shoulderOf(sizes, side), effect };
    shoulders.set(shoulderKey(item.member!, item.bore!, side), level);
    found.push(level);
  };
  const depth = (side: Side): Effect =>
    dimension(
      `depth-${side}`,
      'seat-depth',
      Math.abs(shoulderOf(sizes, side) - (side === 'drive' ? sizes.z_to_mm : sizes.z_from_mm)),
      side,
    );
  let [low, high]: [Effect, Effect] = [start, start];
  if (seats.length === 2) {
    const [first, second] = planesOf(boss);
    const across = combine([start, 1], [dimension('between-seats', 'between-seats', second - first), 1]);
    shoulder('non-drive', start);
    shoulder('drive', across);
    low = combine([start, 1], [depth('non-drive'), -1]);
    high = combine([across, 1], [depth('drive'), 1]);
  } else if (seats.length === 1) {
    const side = seats[0]!;
    shoulder(side, start);
    const rest = dimension(
      'behind-seat',
      'behind-seat',
      sizes.z_to_mm -
        sizes.z_from_mm -
        Math.abs(shoulderOf(sizes, side) - (side === 'drive' ? sizes.z_to_mm : sizes.z_from_mm)),
    );
    low = combine([start, 1], [side === 'non-drive' ? depth(side) : rest, -1]);
    high = combine([start, 1], [side === 'drive' ? depth(side) : rest, 1]);
  } else {
    high = combine([start, 1], [dimension('width', 'boss-width', sizes.z_to_mm - sizes.z_from_mm), 1]);
  }
  found.push({ z_mm: sizes.z_from_mm, effect: low }, { z_mm: sizes.z_to_mm, effect: high });
  const { thread } = sizes;
  if (thread && thread.length_mm < sizes.z_to_mm - sizes.z_from_mm - 1e-9) {
    const end = dimension('thread-depth', 'thread-depth', thread.length_mm);
    if (thread.opens === 'non-drive')
      found.push({ z_mm: sizes.z_from_mm + thread.length_mm, effect: combine([low, 1], [end, 1]) });
    else found.push({ z_mm: sizes.z_to_mm - thread.length_mm, effect: combine([high, 1], [end, -1]) });
  }
  return found;
}

/** A bearing rests on its shoulder, or on the one that went in before; its width stands toward the seat's opening. */
function bearingLevels(
  { items }: JointStack,
  item: JointItem,
  shoulders: ReadonlyMap<string, Level>,
  book: DimensionBook,
): Level[] {
  const { seat, bearing } = item;
  const widthOf = ({ id, bearing: sized }: JointItem): Effect =>
    book.of(`${id}:width`, 'bearing-width', [id], sized!.width_mm, { bearingBore_mm: sized!.bore_mm });
  const outward = seat!.side === 'drive' ? 1 : -1;
  let rest = shoulders.get(shoulderKey(seat!.bore.memberId, seat!.bore.boreId, seat!.side))?.effect ?? NO_EFFECT;
  const under = new Set<JointItem>();
  for (let on = seat!.on; on !== undefined; ) {
    const below = items.find(({ rowId }) => rowId === on)!;
    under.add(below);
    on = below.seat!.on;
  }
  for (const below of under) rest = combine([rest, 1], [widthOf(below), outward]);
  const width = widthOf(item);
  return seat!.side === 'drive'
    ? [
        { z_mm: 0, effect: rest },
        { z_mm: bearing!.width_mm, effect: combine([rest, 1], [width, 1]) },
      ]
    : [
        { z_mm: 0, effect: combine([rest, 1], [width, -1]) },
        { z_mm: bearing!.width_mm, effect: rest },
      ];
}

/**
 * Levels of a loose part. One in a row keeps its non-drive end where it is, so that turned round every face is measured
 * from there; axle and nut keep their bearing face, and turned they run to −z.
 */
function partLevels(part: Part, item: JointItem, book: DimensionBook): Level[] {
  const planes = kindOf(part).planes?.(part);
  if (!planes) throw new Error(`dimensions: ${item.id}: a ${part.kind} without a seat`);
  const faces = planes.map(({ id, kind, z_mm, tol_mm }): Level => {
    const own = book.of(`${item.id}:${id}`, kind, [item.id], Math.abs(z_mm), { tol_mm });
    return { z_mm, effect: z_mm < 0 ? combine([own, -1]) : own };
  });
  const all = [{ z_mm: 0, effect: NO_EFFECT }, ...faces];
  if (!item.turned) return all;
  const end = stands(part, 'loose') ? all.at(-1)! : all[0]!;
  return all.map(({ z_mm, effect }) => ({
    z_mm: end.z_mm - z_mm,
    effect: combine([end.effect, 1], [effect, -1]),
  }));
}

/** How the least distance between the two faces of a thread pair moves; undefined where no thread limits it. */
function leastDistanceEffect(
  own: JointStack,
  levels: ReadonlyMap<JointItem, readonly Level[]>,
  book: DimensionBook,
): Effect | undefined {
  const least = own.thread.leastDistance_mm;
  if (least === undefined || own.threadLimit === undefined) return undefined;
  const axle = own.stack.axle.part;
  const along = (item: JointItem, z_mm: number): Effect => {
    const sign = item.turned ? -1 : 1;
    return combine([levelAt(levels.get(item)!, sign * z_mm).effect, sign]);
  };
  if (kindOf(axle).thread === 'outer') {
    const { bore } = own.stack.receiver;
    const start = along(own.axle, shankLength_mm(axle) - axle.thread.length_mm);
    if (!bore || bore.thread!.opens === own.stack.from) return start;
    // The member's thread starts behind its entry face by what its depth leaves of the boss.
    const faces = levels.get(own.receiver)!;
    const lead = combine([levelAt(faces, bore.z_to_mm).effect, 1], [levelAt(faces, bore.z_from_mm).effect, -1]);
    const depth =
      bore.thread!.length_mm < bore.z_to_mm - bore.z_from_mm - 1e-9
        ? book.of(
            `${bore.memberId}/${bore.boreId}:thread-depth`,
            'thread-depth',
            [own.receiver.id],
            bore.thread!.length_mm,
          )
        : lead;
    return combine([start, 1], [lead, -1], [depth, 1]);
  }
  const screw = own.stack.receiver.part as Shanked;
  const innerStart = shankLength_mm(axle) - axle.thread.length_mm;
  const onTip = innerStart + shankLength_mm(screw);
  // Either the screw's tip meets the end of the sleeve's thread, or its thread's end meets the sleeve's tip.
  return Math.abs(onTip - least) < 1e-9
    ? combine([along(own.axle, innerStart), 1], [along(own.receiver, shankLength_mm(screw)), 1])
    : combine(
        [along(own.axle, shankLength_mm(axle)), 1],
        [along(own.receiver, shankLength_mm(screw) - screw.thread.length_mm), 1],
      );
}
