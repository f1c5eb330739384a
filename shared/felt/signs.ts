/**
 * What one build gives a hand, an eye and a wrench to notice, in numbers: read off its solve and off that of the pivot
 * as written. N, mm, N·m; sides are those of the bike. Nothing here knows how sharp a hand is.
 */
import type { Judged } from '../findings/judge.ts';
import type { JointItem, JointStack } from '../joint/joint.ts';
import { bendsOf, breaksOf, sideLoadsOf } from '../joint/reading.ts';
import type { Side } from '../model/schema.ts';
import type { LetGo } from '../mistakes/felt.ts';
import type { BuiltMistake } from '../mistakes/try.ts';
import { otherSide } from '../numbers/figures.ts';
import { sizeDifferences } from '../parts/look-alike.ts';
import { zRange } from '../profile/polygon.ts';
import { rollingDrag_Nm } from '../standards/ring-drag.ts';

/** What is there to be noticed. */
export interface Signs {
  readonly goes: 'yes' | 'by-force' | 'no';
  /** Friction that a hand turns against beside the seals, and how far its estimate spreads (high over low). */
  readonly drag_Nm: number;
  readonly dragSpread: number;
  readonly letGo: LetGo;
  /** Static rating over what pushes the worst bearing sideways; Infinity without a load. */
  readonly safety: number;
  /** Room that nothing takes up, of a ring that nothing holds. */
  readonly play_mm: number;
  /** An inner ring that nothing clamps turns on the axle under load. */
  readonly isRingLoose: boolean;
  /** Share of the clamp as written that is missing, 0 to 1. */
  readonly lost: number;
  /** Free faces that are touched: how hard, and at which side. */
  readonly rubs: readonly { readonly side: Side; readonly force_N: number }[];
  /** Slots that stay open in the column, and members that stand off from where they should be, by side. */
  readonly slot_mm: Readonly<Record<Side, number>>;
  readonly standsOff_mm: Readonly<Record<Side, number>>;
  /** How much further than as written the thread's end stands out, the most and the least of the stacks. */
  readonly proud_mm: number;
  readonly short_mm: number;
  /** The thread ends, or force is needed, before the column is closed. */
  readonly isEarly: boolean;
  /** Turns of the wrench that bending members take beside those as written. */
  readonly lateTurns: number;
  readonly neverStarts: boolean;
  /** Items that are not as written, and how: another size by so much, not there at all, the other way round. */
  readonly size_mm: Readonly<Record<string, number>>;
  readonly turned: readonly string[];
  readonly proud: readonly string[];
  /** Stacks that are put in from the other side, or tightened to another share of the torque. */
  readonly otherSide: readonly string[];
  readonly torqueShare: Readonly<Record<string, number>>;
  /** Parts on the bench at the end, and parts that were looked for. */
  readonly leftOver: number;
  readonly missing: number;
}

/** Nothing to notice. */
export const NO_SIGNS: Signs = {
  goes: 'yes',
  drag_Nm: 0,
  dragSpread: 1,
  letGo: 'either',
  safety: Infinity,
  play_mm: 0,
  isRingLoose: false,
  lost: 0,
  rubs: [],
  slot_mm: { 'non-drive': 0, drive: 0 },
  standsOff_mm: { 'non-drive': 0, drive: 0 },
  proud_mm: 0,
  short_mm: 0,
  isEarly: false,
  lateTurns: 0,
  neverStarts: false,
  size_mm: {},
  turned: [],
  proud: [],
  otherSide: [],
  torqueShare: {},
  leftOver: 0,
  missing: 0,
};

/** What a hand does to the row, whatever the solve says of it. */
function placed({ built: { mistake } }: BuiltMistake, written: Judged, parts: PartsOf): Partial<Signs> {
  const singles = mistake.of ?? [mistake];
  const size_mm: Record<string, number> = {};
  const turned: string[] = [];
  const proud: string[] = [];
  const other: string[] = [];
  const torqueShare: Record<string, number> = {};
  let [leftOver, missing] = [0, 0];
  const items = new Map(written.joint.stacks.flatMap((own) => own.items.map((item) => [item.id, item] as const)));
  for (const single of singles) {
    for (const slot of single.slots) {
      const item = items.get(`${slot.stack}/${slot.row}`);
      if (!item) continue;
      if (single.kind === 'left-out') size_mm[item.id] = Infinity;
      if (slot.now) {
        const [mine, now] = [item.made, parts(slot.now.part, single)];
        if (single.kind === 'turned' || (slot.now.turned !== item.turned && single.kind === 'swapped'))
          turned.push(item.id);
        if (mine && now && single.kind !== 'turned') {
          const widest = sizeDifferences(mine, now)[0];
          size_mm[item.id] = widest ? Math.abs(widest.mine_mm - widest.other_mm) : 0;
        }
      }
      if (single.kind === 'not-home') proud.push(item.id);
      if (single.kind === 'wrong-side') other.push(slot.stack);
    }
    for (const change of single.changes)
      if (change.what === 'torque') torqueShare[change.stack] = change.after / change.before;
    if (single.kind === 'left-out') leftOver++;
    if (single.kind === 'other-part') [leftOver, missing] = [leftOver + 0.5, missing + 0.3];
    if (single.also !== undefined) [leftOver, missing] = [leftOver + 0.15, missing + 0.15];
  }
  return { size_mm, turned, proud, otherSide: other, torqueShare, leftOver, missing };
}

/** The part a mistake puts in, by its id. */
export type PartsOf = (id: string, mistake: BuiltMistake['built']['mistake']) => JointItem['made'] | undefined;

/** What a built mistake gives to notice. */
export function signsOf(mistaken: BuiltMistake, parts: PartsOf): Signs {
  const { built: tried, solved, written } = mistaken;
  const hand = placed(mistaken, written, parts);
  const { assembly } = tried;
  if (!solved)
    return {
      ...NO_SIGNS,
      ...hand,
      goes: 'no',
      isEarly: assembly.goes === 'no' && assembly.why !== 'thread-does-not-reach',
      neverStarts: assembly.goes === 'no' && /^thread/.test(assembly.why),
      letGo: 'either',
    };
  const { judged } = solved;
  const lost = tried.written_N > 0 ? Math.max(0, Math.min(1, 1 - tried.clamp_N / tried.written_N)) : 0;
  return {
    ...NO_SIGNS,
    ...readJudged(judged, written),
    ...hand,
    goes: assembly.goes,
    ...dragsOf(tried.drags, judged),
    lost,
    play_mm: tried.bench.includes('play') ? tried.open_mm : 0,
    rubs: tried.touched.map(({ by, force_N }) => ({ side: sideOf(by, judged), force_N })),
    isEarly:
      assembly.goes === 'by-force' ||
      tried.findings.some(({ code }) => code === 'bottoms-before-clamp' || code === 'row-too-long'),
  };
}

type Drags = BuiltMistake['built']['drags'];

/** The same of a pivot whose parts are other than as written, and that nobody built wrong. */
export function signsOfOther(judged: Judged, written: Judged, drags: Drags): Signs {
  const { push_N, by } = judged.evidence.squeeze;
  const codes = judged.findings.map(({ code }) => code);
  const least = (of: Judged): number => Math.min(...of.evidence.clamp_N.values());
  return {
    ...NO_SIGNS,
    ...readJudged(judged, written),
    goes: push_N <= written.evidence.squeeze.push_N || by === 'hand' ? 'yes' : by === 'lever' ? 'by-force' : 'no',
    ...dragsOf(drags, judged),
    lost: least(written) > 0 ? Math.max(0, Math.min(1, 1 - least(judged) / least(written))) : 0,
    isEarly: codes.includes('bottoms-before-clamp') || codes.includes('row-too-long'),
  };
}

function dragsOf(drags: Drags, judged: Judged): Pick<Signs, 'drag_Nm' | 'dragSpread' | 'letGo'> {
  const heaviest = [...drags].sort((a, b) => b.torque_Nm.nominal - a.torque_Nm.nominal)[0];
  const rolling_Nm = sideLoadsOf(judged.solved).reduce(
    (sum, { item, load_N }) => sum + rollingDrag_Nm(item.bearing!.bore_mm, load_N),
    0,
  );
  const { low = 0, nominal = 0, high = 0 } = heaviest?.torque_Nm ?? {};
  return {
    drag_Nm: nominal + rolling_Nm,
    dragSpread: low > 0 ? high / low : 1,
    letGo: drags.find(({ letGo }) => letGo === 'sticks')?.letGo ?? heaviest?.letGo ?? 'no-weight',
  };
}

function readJudged(judged: Judged, written: Judged): Partial<Signs> {
  const { solved, evidence } = judged;
  const loads = sideLoadsOf(solved);
  const slot_mm = { 'non-drive': 0, drive: 0 };
  for (const own of judged.joint.stacks)
    for (const { links, play_mm } of breaksOf(own, evidence.columns.get(own.stack.id)!)) {
      const side = sideOf(links[0]!.from, judged);
      slot_mm[side] = Math.max(slot_mm[side], play_mm);
    }
  const ends = judged.joint.stacks.map((own, k) => {
    const as = written.joint.stacks[k]!;
    const by_mm = endOf(own, judged) - endOf(as, written);
    return { by_mm, pitch_mm: own.thread.axle.pitch_mm };
  });
  const bend = (of: Judged): number =>
    Math.max(0, ...bendsOf(of.solved).map(({ bend_mm, item }) => Math.abs(bend_mm) / pitchOf(of, item)));
  return {
    safety: Math.min(Infinity, ...loads.map(({ safety }) => safety)),
    isRingLoose: judged.findings.some(({ code, severity }) => code === 'inner-ring-loose' && severity === 'stop'),
    slot_mm,
    standsOff_mm: standsOff(judged, written),
    proud_mm: Math.max(0, ...ends.map(({ by_mm }) => by_mm)),
    short_mm: Math.max(0, ...ends.map(({ by_mm }) => -by_mm)),
    lateTurns: Math.max(0, bend(judged) - bend(written)),
  };
}

function pitchOf({ joint }: Judged, { stack }: JointItem): number {
  return joint.stacks.find((own) => own.stack === stack)!.thread.axle.pitch_mm;
}

/** How far the axle's end stands beyond what takes its thread, mm. */
function endOf({ stack, axle, receiver }: JointStack, judged: Judged): number {
  const [tip, face] = [axle, receiver].map((item) => {
    const [low, high] = extent(item, judged);
    return stack.from === 'non-drive' ? high : -low;
  });
  return tip! - face!;
}

function extent(item: JointItem, { joint, solved }: Judged): readonly [number, number] {
  const own = joint.pieces.filter((piece) => piece.item === item);
  const [low, high] = zRange(own.map(({ solid }) => solid.polygon));
  const by_mm = solved.spec.shift_mm[item.body]!;
  return [low + by_mm, high + by_mm];
}

/** How much farther than as written two neighbouring bosses stand from one another, by the side of the slot. */
function standsOff(judged: Judged, written: Judged): Signs['standsOff_mm'] {
  const off = { 'non-drive': 0, drive: 0 };
  const now = slotsOf(judged);
  for (const [key, was] of slotsOf(written)) {
    const is = now.get(key);
    if (!is) continue;
    off[was.side] = Math.max(off[was.side], Math.abs(is.open_mm - was.open_mm));
  }
  return off;
}

function slotsOf(judged: Judged): Map<string, { readonly open_mm: number; readonly side: Side }> {
  const slots = new Map<string, { open_mm: number; side: Side }>();
  for (const { items, stack } of judged.joint.stacks) {
    const bosses = items
      .filter(({ role }) => role === 'boss' || role === 'receiver')
      .filter(({ boss, made }) => boss !== undefined && !made)
      .map((item) => ({ item, at: extent(item, judged) }))
      .sort((a, b) => a.at[0] - b.at[0]);
    for (const [k, high] of bosses.slice(1).entries()) {
      const low = bosses[k]!;
      slots.set(`${stack.id}:${low.item.rowId}:${high.item.rowId}`, {
        open_mm: high.at[0] - low.at[1],
        side: (low.at[1] + high.at[0]) / 2 < middleOf(judged) ? 'non-drive' : 'drive',
      });
    }
  }
  return slots;
}

/** The middle of a pivot along its axis. */
function middleOf({ joint }: Judged): number {
  const [low, high] = zRange(joint.pieces.filter(({ item }) => item.role === 'boss').map(({ solid }) => solid.polygon));
  return (low + high) / 2;
}

/** The side of the bike on which an item, or a link's first part, stands. */
function sideOf(id: string, judged: Judged): Side {
  const item = judged.joint.stacks.flatMap(({ items }) => items).find((one) => one.id === id);
  if (!item) return 'non-drive';
  if (item.role === 'axle') return item.stack.from;
  if (item.role === 'receiver') return otherSide(item.stack.from);
  const [low, high] = extent(item, judged);
  return (low + high) / 2 < middleOf(judged) ? 'non-drive' : 'drive';
}
