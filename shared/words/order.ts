/**
 * Words for the build order: tasks, reasons, faults of an own order, access and variants.
 *
 * Beside `words/fit.ts`, by the same rules: every number with its unit, nothing promised beyond what was computed, and
 * nothing that says a bike may be ridden. Steps have theirs in `words/steps.ts` and `words/taking-apart.ts`.
 */
import type { Side } from '../model/schema.ts';
import type { Cost } from '../order/best.ts';
import type { MakersOrder, OrderCheck, OrderFault, Plan, PlanCount, VariantOrder } from '../order/plan.ts';
import type { Access, AccessTarget } from '../order/strip.ts';
import type { Because, Block, Reason, ReasonCode, TaskKind } from '../order/tasks.ts';
import type { Analysis, Measure } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import { CAUTIONS, nameOf, sideWord, wordTool, type Worded } from './fit.ts';
import { count, degrees, mm, pieceName, stackName, toldOf } from './pieces.ts';

const TASK_WORDS: Readonly<Record<TaskKind, string>> = {
  stand: 'Frame in the stand',
  inspect: 'clean, inspect, press',
  fit: 'build up',
  tighten: 'tighten and check',
  cables: 'Cables and travel',
  chainset: 'Chainset and chain',
  wheel: 'Rear wheel',
  air: 'Air and O-ring',
  'hand-over': 'Hand-over',
};

/** The same tasks when a bike is taken apart. */
const STRIP_TASK_WORDS: Readonly<Record<TaskKind, string>> = {
  stand: 'Bare frame',
  inspect: 'press out, clean, look',
  fit: 'take out',
  tighten: 'feel and loosen',
  cables: 'Cables free',
  chainset: 'Chain and chainset off',
  wheel: 'Rear wheel out',
  air: 'Air out',
  'hand-over': 'Before you begin',
};

/**
 * A task by its id: `Main pivot: build up`, or when taking apart `Main pivot: take out`. An id that names none is given
 * back.
 */
export function wordTask(id: string, analysis: Analysis, way: 'build' | 'strip' = 'build'): string {
  const [kind, stackId] = id.split(':');
  if (kind === undefined || !Object.hasOwn(TASK_WORDS, kind)) return id;
  const words = (way === 'build' ? TASK_WORDS : STRIP_TASK_WORDS)[kind as TaskKind];
  if (stackId === undefined) return words;
  const told = toldOf(stackId, analysis);
  return told ? `${told.stack.name}: ${words}` : id;
}

/** A task in the middle of a sentence. */
function task(id: string, analysis: Analysis): string {
  const known: Partial<Record<string, string>> = {
    stand: 'the frame is in the stand',
    cables: 'the cables',
    chainset: 'the chainset',
    wheel: 'the wheel',
    air: 'the air',
    'hand-over': 'hand-over',
  };
  return known[id] ?? `“${lower(wordTask(id, analysis))}”`;
}

/** Where one goes to next: `Go round to the drive side`. */
export function wordChange(stand: Side | 'bench' | undefined): string {
  if (stand === undefined) return 'Either side';
  return stand === 'bench' ? 'Go to the bench' : `Go round to the ${sideWord(stand)}`;
}

function num(reason: Reason, key: string): number {
  const measure: Measure | undefined = reason.numbers[key];
  if (!measure) throw new Error(`wording-order: ${reason.code}: no number "${key}"`);
  return measure.value;
}

type ReasonWords = (reason: Reason, analysis: Analysis) => string;

/** What covers, in a sentence: `the chainring`; `the shock (its size is estimated)`. */
function owner(reason: Reason, analysis: Analysis): string {
  return `${pieceName(reason.about['owner'] ?? '', analysis)}${reason.isEstimate === true ? ' (its thickness is estimated)' : ''}`;
}

function toolWord(reason: Reason, analysis: Analysis): string {
  const own = toldOf(reason.about['stack'], analysis);
  const isHeld = reason.about['role'] === 'holds';
  const tool = isHeld ? own?.stack.tightening.held?.tool : own?.stack.tightening.tool;
  const side = isHeld ? own?.stack.tightening.held?.side : own?.stack.tightening.stand;
  return `the ${wordTool(tool)} that ${isHeld ? 'holds' : 'turns'} at ${stackName(reason.about['stack'], analysis)}, ${sideWord(side ?? 'drive')}`;
}

const REASON_WORDS: Readonly<Record<ReasonCode, ReasonWords>> = {
  'stand-first': () => 'the frame is held before anything else',
  'clean-first': (reason, analysis) =>
    `the parts of ${stackName(reason.about['stack'], analysis)} have been cleaned and looked at`,
  'bearing-first': (reason, analysis) => {
    const number = num(reason, 'count');
    const depth = num(reason, 'depth_mm');
    return `${number === 1 ? 'the bearing' : number === 2 ? 'both bearings' : `the ${number} bearings`} of ${pieceName(reason.about['unit'] ?? '', analysis)} at ${stackName(reason.about['stack'], analysis)} ${number === 1 ? 'goes' : 'go'} home at the bench${depth > 0 ? `, ${mm(depth)} deep` : ''}: no press stands square on the bike`;
  },
  'started-first': (reason, analysis) =>
    `the thread of ${stackName(reason.about['stack'], analysis)} is started by hand before a tool turns it; tight, ${mm(num(reason, 'engagement_mm'))} of it take hold`,
  'axle-path': (reason, analysis) =>
    `${owner(reason, analysis)} covers the path of the axle of ${stackName(reason.about['stack'], analysis)} by ${mm(num(reason, 'cover_mm'))}; it goes in over ${mm(num(reason, 'length_mm'))} from the ${sideWord(toldOf(reason.about['stack'], analysis)?.stack.from ?? 'drive')}`,
  'nut-path': (reason, analysis) =>
    `${owner(reason, analysis)} covers the place of the nut of ${stackName(reason.about['stack'], analysis)} by ${mm(num(reason, 'cover_mm'))}; it needs ${mm(num(reason, 'length_mm'))} beyond the tip`,
  'tool-room': (reason, analysis) =>
    `${owner(reason, analysis)} stands ${mm(num(reason, 'cover_mm'))} in the way of ${toolWord(reason, analysis)}`,
  'handle-room': (reason, analysis) => {
    const needed = num(reason, 'needed_deg');
    const open = num(reason, 'open_deg');
    const by = reason.about['owner'] === undefined ? 'what is always there' : owner(reason, analysis);
    return `${by} leaves the handle of ${toolWord(reason, analysis)} ${open > 0 ? `only ${degrees(open)} to swing` : 'no room'}${needed > 0 ? `; one pull takes ${degrees(needed)}` : ''}`;
  },
  'sibling-started': (reason, analysis) =>
    `${stackName(reason.about['stack'], analysis)} and ${stackName(reason.about['other'], analysis)} go in by hand before either is tight: the second has only ${mm(num(reason, 'play_mm'))} of play`,
  'bores-line-up': (reason, analysis) =>
    `${stackName(reason.about['other'], analysis)} is in before ${stackName(reason.about['stack'], analysis)} clamps: over ${mm(num(reason, 'apart_mm'))} a turn of one degree that nobody sees sets the bores ${mm(num(reason, 'off_mm'))} apart`,
  'carries-wheel': (reason, analysis) =>
    `${pieceName(reason.about['unit'] ?? '', analysis)} carries the wheel: with it in, its weight hangs on every axle that holds ${pieceName(reason.about['unit'] ?? '', analysis)}`,
  'free-check-bare': (reason, analysis) =>
    `every free check is felt without ${reason.about['owner'] === 'wheel' ? 'the wheel' : pieceName(reason.about['owner'] ?? '', analysis)}: with it on, a hand feels more than the pivot`,
  'travel-bare': () => 'cables are tried through the whole travel by hand, and with the shock in no hand can move it',
  'all-on-first': () => 'cables are laid when every moving member hangs where it belongs',
  'air-last': () => 'no pivot is worked on while the shock holds air',
  'check-last': () => 'hand-over comes when all is done',
  'nothing-to-hang-on': (reason, analysis) =>
    `nothing that ${stackName(reason.about['stack'], analysis)} joins is on the bike: there is nothing to hang it on`,
  'no-way-in': (reason, analysis) => {
    const owners = (reason.about['owners'] ?? '').split(' ').filter((id) => id !== '');
    return `${pieceName(reason.about['unit'] ?? '', analysis)} finds no straight way to its place${owners.length > 0 ? ` past ${list(owners.map((id) => pieceName(id, analysis)))}` : ''}${num(reason, 'frame_deg') > 0 ? `; with the bare frame alone ${degrees(num(reason, 'frame_deg'))} are open` : ''}`;
  },
  'spacer-shut-out': (reason, analysis) =>
    `${lower(nameOf(reason.about['item'] ?? '', analysis))} ${reason.about['round'] === undefined ? `reaches ${mm(num(reason, 'into_mm'))} into a bore` : `lies round ${lower(nameOf(reason.about['round'], analysis))}`}: it lies there before ${pieceName(reason.about['unit'] ?? '', analysis)} and ${pieceName(reason.about['owner'] ?? '', analysis)} meet, and comes out only when they part`,
  'holds-it': (reason, analysis) =>
    `${stackName(reason.about['stack'], analysis)} holds ${pieceName(reason.about['unit'] ?? '', analysis)}`,
  'seat-covered': (reason, analysis) =>
    `${pieceName(reason.about['owner'] ?? '', analysis)} stands ${mm(num(reason, 'room_mm'))} before the seat of ${lower(nameOf(reason.about['item'] ?? '', analysis))}, which is ${mm(num(reason, 'width_mm'))} wide and must come out that way`,
};

/** A reason as a sentence, without what it comes before or after. */
export function wordReason(reason: Reason, analysis: Analysis): string {
  return `${capital(REASON_WORDS[reason.code](reason, analysis))}.`;
}

/** What holds for every task alike needs no name of the other. */
const UNNAMED: ReadonlySet<ReasonCode> = new Set([
  'stand-first',
  'clean-first',
  'bearing-first',
  'started-first',
  'all-on-first',
  'travel-bare',
  'air-last',
  'check-last',
  'holds-it',
  'free-check-bare',
  'sibling-started',
  'bores-line-up',
  'carries-wheel',
]);

/** Why something stands where it does: before or after what, and the reason with its numbers. */
export function wordBecause({ before, after, reason }: Because, analysis: Analysis): string {
  const sentence = wordReason(reason, analysis);
  if (UNNAMED.has(reason.code)) return sentence;
  if (after !== undefined) return `Before ${task(after, analysis)}: ${lower(sentence)}`;
  if (before === undefined) return sentence;
  if (reason.code === 'nothing-to-hang-on')
    return `After ${task(before, analysis)}: until then nothing that ${stackName(reason.about['stack'], analysis)} joins is on the bike.`;
  return `After ${task(before, analysis)}: ${lower(sentence)}`;
}

/** Trouble that no order mends. */
export function wordBlock({ task: id, reason }: Block, analysis: Analysis): string {
  return `${wordTask(id, analysis)}: ${lower(wordReason(reason, analysis))} No order mends that.`;
}

/** A task that stands too early in an order: what blocks it, and where it could go. */
export function wordFault(fault: OrderFault, analysis: Analysis): Worded {
  const early = fault.reasons.flatMap(({ before }) => before ?? []);
  const late = fault.reasons.flatMap(({ after }) => after ?? []);
  const waits = [...new Set(early)].map((id) => task(id, analysis));
  const shuts = [...new Set(late)].map((id) => task(id, analysis));
  const sentences = [...new Set(fault.reasons.map(({ reason }) => wordReason(reason, analysis)))];
  const told = sentences.slice(0, 3).join(' ');
  const more = sentences.length > 3 ? ` And ${count(sentences.length - 3, 'reason')} more.` : '';
  const where =
    fault.nearestPossibleIndex === undefined
      ? ' In the order of the others there is no place for it.'
      : ` Nearest place that works: ${fault.nearestPossibleIndex + 1}.`;
  const needs = [
    ...(waits.length > 0 ? [`waits for ${list(waits)}`] : []),
    ...(shuts.length > 0 ? [`is shut out by ${list(shuts)}`] : []),
  ];
  return {
    title: waits.length > 0 ? 'Too early here.' : shuts.length > 0 ? 'Too late here.' : 'Cannot be done here.',
    text: `${needs.length > 0 ? `${capital(list(needs))}. ` : ''}${told}${more}${where}`,
  };
}

/** What an order costs in going round and changing tools, beside another where one is given. */
export function wordCost(cost: Cost, against?: Cost): string {
  const own = `${count(cost.sideChanges, 'change')} of side, ${cost.toolChanges} of tool.`;
  if (!against) return own;
  const more = cost.sideChanges - against.sideChanges;
  const tools = cost.toolChanges - against.toolChanges;
  if (more === 0 && tools === 0)
    return `${own} ${cost.total === against.total ? 'As good as the recommended order.' : 'As the recommended order.'}`;
  const than = (difference: number, what: string): string =>
    `${Math.abs(difference)} ${difference > 0 ? 'more' : 'fewer'} ${what}`;
  return `${own} That is ${list([...(more === 0 ? [] : [than(more, 'of side')]), ...(tools === 0 ? [] : [than(tools, 'of tool')])])} than recommended.`;
}

/** How an own order stands: whether it works, and what it costs beside the recommended one. */
export function wordOwn(
  check: Pick<OrderCheck, 'faults' | 'cost'>,
  plan: Pick<Plan, 'cost' | 'follows'>,
  isOwn: boolean,
): Worded {
  const { faults, cost } = check;
  const title =
    faults.length > 0
      ? `${capital(count(faults.length, 'task stands', 'tasks stand'))} where it cannot be done.`
      : isOwn
        ? 'Your order works.'
        : plan.follows === 'makers'
          ? 'This is the maker’s order.'
          : 'This is the recommended order.';
  return {
    title: faults.length > 1 ? title.replace('it cannot', 'they cannot') : title,
    text: isOwn ? wordCost(cost, plan.cost) : wordCost(cost),
  };
}

/** What is said aloud when a task has been moved: its place, and what it runs into there. */
export function wordMoved(name: string, place: number, of: number, fault?: Worded): string {
  return `${name}: place ${place} of ${of}.${fault ? ` ${fault.title} ${fault.text}` : ''}`;
}

/** What a plan costs, and whether anything possible costs less. */
export function wordRecommended(
  plan: Pick<Plan, 'cost' | 'follows' | 'isBest' | 'leastChanges' | 'stuck' | 'cycle'>,
): string {
  if (plan.stuck.length > 0 || plan.cycle)
    return 'No order of all tasks is possible: what can be done comes first, what is stuck comes last.';
  if (plan.follows === 'makers')
    return `The maker’s order. ${wordCost(plan.cost)}${plan.isBest ? ' Nothing that keeps it takes fewer.' : ''}`;
  if (plan.isBest)
    return `${wordCost(plan.cost)} No possible order takes fewer, with waiting threadlocker and pivots that get covered counted in.`;
  const least = plan.leastChanges === undefined ? '' : `: every order takes at least ${plan.leastChanges} changes`;
  return `${wordCost(plan.cost)} The best that was found, no proof${least}.`;
}

/** How many possible orders there are: exact, or between bounds and said to be so. */
export function wordCount(orders: PlanCount): string {
  if (orders.isExact)
    return orders.orders === '0'
      ? 'No order is possible.'
      : orders.orders === '1'
        ? 'This is the only possible order at the bike.'
        : `${capital(grouped(orders.orders))} orders of the work at the bike are possible.`;
  return `At least ${grouped(orders.atLeast)} and at most ${grouped(orders.atMost)} orders of the work at the bike are possible: bounds, not a count.`;
}

/** Digits in groups of three; a very long number by its power of ten. */
function grouped(digits: string): string {
  if (digits.length > 18) return `about ${digits[0]}.${digits[1]} × 10^${digits.length - 1}`;
  return digits.replace(/\B(?=(\d{3})+$)/g, ' ');
}

/** The author's maker’s order against the computed one: the same, possible, or what stands against it. */
export function wordMakersOrder(
  makersOrder: MakersOrder,
  analysis: Analysis,
): Worded & { readonly lines: readonly string[] } {
  const said = list(makersOrder.stacks.map((id) => stackName(id, analysis)));
  if (makersOrder.cycle) {
    return {
      title: 'The maker’s order cannot be kept',
      text: `The maker gives ${said}. That order and the geometry chase one another:`,
      lines: makersOrder.cycle.map((link, k) => {
        const next = makersOrder.cycle![(k + 1) % makersOrder.cycle!.length]!;
        const why = link.isPin
          ? 'the maker gives it so'
          : link.because.map(({ reason }) => lower(wordReason(reason, analysis)).replace(/\.$/, '')).join('; ');
        return `${wordTask(link.task, analysis)} comes before ${lower(wordTask(next.task, analysis))}: ${why}.`;
      }),
    };
  }
  if (makersOrder.conflicts.length > 0) {
    return {
      title: 'The maker’s order cannot be kept',
      text: `The maker gives ${said}.`,
      lines: makersOrder.conflicts.map(
        (fault) => `${wordTask(fault.task, analysis)}: ${wordFault(fault, analysis).text}`,
      ),
    };
  }
  if (makersOrder.isSame)
    return { title: 'The maker’s order is the recommended one', text: `The maker gives ${said}.`, lines: [] };
  return {
    title: 'The maker’s order is possible',
    text: `The maker gives ${said}. Followed, it takes ${wordCost(makersOrder.cost!, makersOrder.computedCost)}`,
    lines: [],
  };
}

/** What a target of reach is called. */
export function wordAccessTarget({ kind, id }: AccessTarget, analysis: Analysis): string {
  return kind === 'item' ? capital(nameOf(id, analysis)) : capital(pieceName(id, analysis).replace(/^the /, ''));
}

/** Access in words: what has to be opened, what comes off, and what to think of. */
export interface WordedAccess extends Worded {
  readonly notes: readonly string[];
  /** One line for each thread that wants new threadlocker. */
  readonly threadlocker: readonly string[];
}

/** What must come off to get at a part. */
export function wordAccess(access: Access, analysis: Analysis): WordedAccess {
  const target =
    access.target.kind === 'item' ? lower(nameOf(access.target.id, analysis)) : pieceName(access.target.id, analysis);
  const opened = access.stacks.map((id) => stackName(id, analysis));
  const off = access.off.filter((id) => id !== access.target.id).map((id) => pieceName(id, analysis));
  const text =
    access.tasks.length === 0
      ? 'Nothing that this model knows frees it.'
      : [
          opened.length > 0 ? `Open ${list(opened)}.` : 'No pivot has to be opened.',
          ...(off.length > 0 ? [`Besides, ${list(off)} ${off.length === 1 ? 'comes' : 'come'} off.`] : []),
          access.isLeast ? 'Nothing less frees it.' : 'This frees it; whether less would do is not known.',
        ].join(' ');
  const title =
    access.stacks.length === 0
      ? `${capital(target)}: no pivot to open.`
      : `${capital(target)}: ${count(access.stacks.length, 'pivot axle')} to open.`;
  const fittedForNow = access.fitted_for_now.map(
    ({ stackId, why }) => `${capital(stackName(stackId, analysis))} is opened again anyway: ${lower(why)}`,
  );
  const isShock = analysis.model.shock?.body === access.target.id;
  const standIn =
    isShock && opened.length > 0
      ? [
          `A stand-in shock is fitted? To swap it later you reopen ${list(opened)}. Until the right one is in, hang a note on the bike: not finished, not to be ridden.`,
        ]
      : [];
  return {
    title,
    text,
    notes: [
      ...(access.stacks.length > 0 && analysis.model.shock ? [CAUTIONS.air] : []),
      ...standIn,
      ...fittedForNow,
      ...(access.stacks.length > 0 ? [CAUTIONS.after] : []),
    ],
    threadlocker: access.threadlocker.map(
      ({ stackId, strength }) =>
        `${capital(stackName(stackId, analysis))}: ${strength ?? 'strength as the maker says'}`,
    ),
  };
}

/** What a variant changes in the build order. */
export function wordVariantOrder(order: VariantOrder, base: Analysis): Worded & { readonly lines: readonly string[] } {
  const { analysis: own } = order.plan;
  const variant = base.model.variants?.find(({ id }) => id === order.variant);
  const lines = [
    ...order.moved.map(
      (id) =>
        `${wordTask(id, own)} comes at another place: ${order.plan.tasks.findIndex((entry) => entry.id === id) + 1} of ${order.plan.tasks.length}.`,
    ),
    ...order.changed.map(
      ({ task: id, what }) =>
        `${wordTask(id, own)}: ${list(what.map((word) => (word === 'side' ? 'from another side' : 'with other tools')))}.`,
    ),
    ...order.gained.flatMap(({ before, after, reasons }) =>
      reasons
        .filter(({ isSolid }) => isSolid)
        .map(
          (reason) =>
            `New: ${lower(wordTask(before, own))} before ${lower(wordTask(after, own))}, for ${lower(wordReason(reason, own))}`,
        ),
    ),
    ...order.lost.flatMap(({ before, after, reasons }) =>
      reasons
        .filter(({ isSolid }) => isSolid)
        .map(
          (reason) =>
            `No longer: ${lower(wordTask(before, own))} before ${lower(wordTask(after, own))}; as first built ${lower(wordReason(reason, base))}`,
        ),
    ),
  ];
  return {
    title: variant?.name ?? 'As first built',
    text: variant?.why ?? '',
    lines: lines.length > 0 ? lines : ['The build order is the same.'],
  };
}
