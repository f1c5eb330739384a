/**
 * Words for the build order: tasks, steps, taking apart, reasons, faults of an own order, reach and variants.
 *
 * Beside `words/fit.ts`, by the same rules: every number with its unit, nothing promised beyond what was computed, and
 * nothing that says a bike may be ridden. What a hand looks for when it cleans is common practice, no source.
 */
import type { Side, Stack } from '../model/schema.ts';
import type { Cost } from '../order/graph.ts';
import type { MakersOrder, OrderCheck, OrderFault, Plan, PlanCount, VariantOrder } from '../order/plan.ts';
import type { Access, AccessTarget, StripStep } from '../order/strip.ts';
import type { Because, Block, DriveInHand, PlanStep, PlanTool, Reason, TaskKind } from '../order/tasks.ts';
import { figure } from '../numbers/figures.ts';
import { ORDER_LIMITS } from '../order/limits.ts';
import type { ReasonCode } from '../order/tasks.ts';
import { spacersOf } from '../order/bike.ts';
import type { Analysis, Measure, PlacedItem, StackAnalysis } from '../types.ts';
import {
  aTool,
  CAUTIONS,
  endWord,
  nameOf,
  sideWord,
  wordFacing,
  wordForce,
  wordMeasure,
  wordTool,
  wordTreatment,
  wordTurn,
  type Worded,
} from './fit.ts';
import { capital, list, lower } from './figures.ts';

function count(number: number, one: string, many = `${one}s`): string {
  return `${number === 1 ? 'one' : number} ${number === 1 ? one : many}`;
}

const mm = (value: number): string => wordMeasure({ value, unit: 'mm' });
const degrees = (value: number): string => `${Math.round(value)}°`;

/** A unit or an obstacle in a sentence, without what stands behind a comma: `the rocker`. */
function pieceName(id: string, analysis: Analysis): string {
  const { shock } = analysis.model;
  if (shock && (id === shock.body || id === shock.shaft)) return 'the shock';
  const name =
    analysis.model.members[id]?.name ?? analysis.model.obstacles?.find((obstacle) => obstacle.id === id)?.name ?? id;
  const [plain = name, side] = name.split(', ');
  const about = side === 'non-drive side' || side === 'drive side' ? ` on the ${side}` : '';
  return `the ${lower(plain)}${about}`;
}

/** A stack as analysed and as written. */
interface Told {
  readonly stack: StackAnalysis;
  readonly written: Stack;
}

function stackIn(stackId: string, { pivots, model }: Analysis): Told | undefined {
  for (const [p, { stacks }] of pivots.entries()) {
    const s = stacks.findIndex(({ id }) => id === stackId);
    if (s >= 0) return { stack: stacks[s]!, written: model.pivots[p]!.stacks[s]! };
  }
  return undefined;
}

function stacksOf(analysis: Analysis): readonly Told[] {
  return analysis.pivots.flatMap(({ stacks }) => stacks.map(({ id }) => stackIn(id, analysis)!));
}

function toldOf(stackId: string | undefined, analysis: Analysis): Told | undefined {
  return stackId === undefined ? undefined : stackIn(stackId, analysis);
}

/** A step in words. */
export interface WordedStep extends Worded {
  readonly cautions: readonly string[];
}

/** What a pivot’s axle is called in a sentence: `“main pivot”`. */
function stackName(stackId: string | undefined, analysis: Analysis): string {
  const name = toldOf(stackId, analysis)?.stack.name;
  return name === undefined ? 'the pivot' : `“${lower(name)}”`;
}

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

/** A task by its id: `Main pivot: build up`, or when taking apart `Main pivot: take out`. An id that names none is given back. */
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

const BENCH_TOOLS: Readonly<Record<Extract<PlanTool, { kind: 'bench' }>['what'], string>> = {
  stand: 'work stand',
  cloth: 'clean white cloth',
  brush: 'small brush',
  'bearing-press': 'bearing press with a drift for the outer ring',
  grease: 'grease',
  threadlocker: 'threadlocker',
  'anti-seize': 'anti-seize paste',
  oil: 'oil',
  'shock-pump': 'shock pump',
  heat: 'hot-air gun',
  marker: 'paint marker',
  tray: 'parts tray',
};

/** A tool of a step: `6 mm hex key on the torque wrench`, `clean white cloth`. */
export function wordPlanTool(tool: PlanTool, analysis: Analysis): string {
  if (tool.kind === 'bench') {
    return BENCH_TOOLS[tool.what];
  }
  const at = nameOf(tool.item, analysis);
  // No spanner sits on a torque wrench.
  const head =
    tool.isTorque && tool.tool.tool === 'spanner'
      ? wordTool(tool.tool).replace('spanner', 'socket or jaw insert')
      : wordTool(tool.tool);
  return `${head}${tool.isTorque ? ' on the torque wrench' : ''}, at ${lower(at)}`;
}

/** Direction of the side plane that something comes from, in words. */
function fromWord(angle_rad: number): string {
  const eighth = ((Math.round((angle_rad * 4) / Math.PI) % 8) + 8) % 8;
  return [
    'the front',
    'the front and above',
    'above',
    'behind and above',
    'behind',
    'behind and below',
    'below',
    'the front and below',
  ][eighth]!;
}

const SEAT_KINDS: ReadonlySet<PlanStep['kind']> = new Set(['clean-seat', 'press-bearing', 'set-spacer']);

/** Whether a hand works on a carbon member: in a seat on that one alone, else on any that the axle joins. */
function isCarbon(step: PlanStep, analysis: Analysis): boolean {
  const own = toldOf(step.stackId, analysis);
  const items = SEAT_KINDS.has(step.kind) ? itemsOf(step, analysis) : (own?.stack.items ?? []);
  const members = new Set([...step.members, ...items.flatMap((item) => item.member ?? item.seat?.member ?? [])]);
  return [...members].some((id) => analysis.model.members[id]?.material === 'carbon-laminate');
}

function itemsOf(step: PlanStep, analysis: Analysis): PlacedItem[] {
  const own = toldOf(step.stackId, analysis);
  return step.items.flatMap((id) => own?.stack.items.find((item) => item.id === id) ?? []);
}

function names(items: readonly PlacedItem[], analysis: Analysis): string {
  return list(items.map(({ id }) => lower(nameOf(id, analysis))));
}

type StepWords = (step: PlanStep, analysis: Analysis, items: readonly PlacedItem[]) => Worded;

const STEP_WORDS: Readonly<Record<PlanStep['kind'], StepWords>> = {
  stand: (_, analysis) =>
    isBike(analysis)
      ? {
          title: 'Frame in the stand',
          text: `Clamp the bare frame by its seatpost, never by a tube, with the pivots at the height of your hands. Wheel, chain and chainset are off${analysis.model.shock ? ', and the shock is on the workbench' : ''}.`,
        }
      : {
          title: 'Held fast',
          text: `Hold ${frameName(analysis)} fast, with the pivot at the height of your hands and room all round it.`,
        },
  'clean-seat': (step, analysis, items) => ({
    title: `Clean and look: ${items.length === 1 ? 'bearing seat' : 'bearing seats'}`,
    text: `Wipe the bearing ${items.length === 1 ? 'seat' : 'seats'} in ${list([...new Set(items.flatMap(({ member }) => (member === undefined ? [] : [pieceName(member, analysis)])))])} until a white cloth stays white.${isCarbon(step, analysis) ? ' No solvent in a carbon seat: wipe it dry.' : ''} Look for a crack running out from the edge, a shiny band where an outer ring has turned, burrs and rust. A bearing must not drop into its seat by its own weight.`,
  }),
  'clean-axle': (_, analysis, items) => ({
    title: `Clean and look: ${lower(items[0]?.name ?? 'axle')}`,
    text: `Wipe the ${names(items.slice(0, 1), analysis)}, and feel along it with a fingernail: a groove where an inner ring sat means it has turned. Roll it on a flat plate to see whether it is bent; look for hairline cracks under the head and at every step.`,
  }),
  'clean-thread': (step, analysis, items) => ({
    title: 'Clean and look: threads',
    text: `Brush old threadlocker and dirt out of the threads of ${list(items.map((item) => ((item.role === 'boss' || item.role === 'receiver') && item.member !== undefined ? pieceName(item.member, analysis) : `the ${lower(nameOf(item.id, analysis))}`)))}. Look for torn or flattened crests, most of all in the first turns. Run the two together by hand once: ${mm(toldOf(step.stackId, analysis)?.stack.tightening.engagement_mm ?? 0)} of thread must take hold without force.`,
  }),
  'press-bearing': (step, analysis, items) => {
    const bearing = items[0];
    const depth =
      bearing?.seat === undefined
        ? undefined
        : analysis.model.members[bearing.seat.member]?.bores[bearing.seat.bore]?.seats?.find(
            ({ side }) => side === bearing.seat!.side,
          )?.depth_mm;
    return {
      title: `Press ${names(items, analysis)} home`,
      text: `${step.greased ? 'A thin film of grease in the seat. ' : ''}From the ${sideWord(step.side)}, square, with a drift that touches the outer ring only, until it stands on its shoulder${depth === undefined ? '' : `, ${mm(depth)} from the face`}. Turn it with a finger: smooth, without a notch.`,
    };
  },
  grease: (step, analysis, items) => ({
    title: 'Grease',
    text: `A thin film on ${names(items, analysis)}. It keeps water out. ${treatmentNote(step, analysis)}`,
  }),
  prepare: (_, analysis, items) => ({
    title: `Lay out ${count(items.length, 'part')}`,
    text: `In the-row order, from the non-drive to the drive side: ${names(inRow(items), analysis)}. Count them: nothing may be left over at the end.`,
  }),
  'set-spacer': (step, analysis, items) => {
    const ring = items[0]!;
    const boss = bossAbout(step, ring, analysis);
    const how =
      step.heldBy === 'grease'
        ? 'A smear of grease holds it in place.'
        : step.heldBy === 'axle'
          ? `Slide it onto the axle from the ${sideWord(step.side)}.`
          : 'Hold it in line with a fingertip until the axle has passed through.';
    const title = `Set ${lower(nameOf(ring.id, analysis))}`;
    const text = `${wordFacing(ring, analysis)} ${how}`;
    const isOthers = step.taskId !== `fit:${step.stackId}` && step.taskId !== `inspect:${step.stackId}`;
    const whose = isOthers ? ` It belongs to ${stackName(step.stackId, analysis)} and cannot go in any later.` : '';
    // A ring in a bore is put there; one on an axle is slid on.
    return boss === undefined
      ? { title, text }
      : {
          title,
          text: `Into the bore of ${pieceName(boss, analysis)}, from the ${sideWord(step.side)}. ${text}${whose}`,
        };
  },
  'offer-member': (step, analysis, items) => {
    const unit = step.units[0] ?? '';
    const bearings = items.filter(({ role }) => role === 'bearing').length;
    const rings = items.filter(({ role }) => role === 'spacer');
    const home =
      bearings === 0
        ? ''
        : ` Its ${bearings === 1 ? 'bearing here is' : `${bearings} bearings here are`} home on the shoulder${rings.length > 0 ? `, with ${names(rings, analysis)} in place` : ''}.`;
    return {
      title: `Offer up ${pieceName(unit, analysis)}`,
      text: `Bring ${pieceName(unit, analysis)} to ${stackName(step.stackId, analysis)} ${approachWord(step)} and line up the bores by eye.${home}`,
    };
  },
  shock: (step, analysis, items) => {
    const { shock } = analysis.model;
    const ends = shock ? [endsOf(shock.body, analysis), endsOf(shock.shaft, analysis)] : [];
    const which =
      ends.length === 2 && ends.every((end) => end !== '')
        ? ` The right way round: body at ${ends[0]}, shaft at ${ends[1]}.`
        : '';
    const rings = items.filter(({ role }) => role === 'spacer');
    return {
      title: 'Offer up the shock',
      text: `Bring the shock, without air, to ${stackName(step.stackId, analysis)} ${approachWord(step)}.${which} Valve and levers as the frame maker shows them.${rings.length > 0 ? ` In its eye: ${names(rings, analysis)}.` : ''}`,
    };
  },
  'swing-away': (step, analysis) => ({
    title: `Swing ${pieceName(step.units[0] ?? '', analysis)} away`,
    text: `Turn ${pieceName(step.units[0] ?? '', analysis)} about the axle it hangs on until the bores at ${stackName(step.stackId, analysis)} stand clear of one another.`,
  }),
  'swing-back': (step, analysis) => ({
    title: `Swing ${pieceName(step.units[0] ?? '', analysis)} back`,
    text: `Turn ${pieceName(step.units[0] ?? '', analysis)} back and line up the bores by eye; watch that no spacer is pushed out.`,
  }),
  'push-axle': (step, analysis, items) => ({
    title: 'Push the axle on',
    text: `Push the ${names(items, analysis)} in from the ${sideWord(step.side)} to a depth of ${mm(step.depth_mm ?? 0)} and stop: what comes next goes in before its tip.`,
  }),
  'axle-home': (step, analysis, items) => ({
    title: 'Axle home',
    text: `Push ${names(items, analysis)} from the ${sideWord(step.side)} until its head seats, ${mm(step.depth_mm ?? 0)} deep. If it stops early a spacer has moved: look, do not knock.`,
  }),
  threadlock: (step, analysis) => {
    const own = toldOf(step.stackId, analysis);
    const receiver = own?.stack.items.find(({ rowId }) => rowId === 'receiver');
    const where =
      receiver?.role === 'boss'
        ? `, in the thread of ${pieceName(receiver.member ?? '', analysis)} so that none is wiped off on the way through`
        : '';
    const on = receiver?.role === 'boss' ? '' : ` of the ${lower(itemsOf(step, analysis)[0]?.name ?? 'axle')}`;
    return {
      title: 'Threadlocker',
      text: `Put ${wordTreatment(step.stackId ?? '', analysis)}${on}${where}: two or three turns wide, none on faces or bearings.`,
    };
  },
  'start-receiver': (step, analysis, items) => {
    const { stack, written } = toldOf(step.stackId, analysis)!;
    const { engagement_mm } = stack.tightening;
    return {
      title: `Start ${names(items, analysis)} by hand`,
      text: `From the ${sideWord(step.side)}, at least two full turns by hand; it must run freely.${engagement_mm > 0 ? ` When tight, ${mm(engagement_mm)} of thread are engaged.` : ''}${written.thread_treatment === 'threadlocked' ? '' : ` ${capital(wordTreatment(stack.id, analysis))}.`}`,
    };
  },
  'hold-turn': (step, analysis) => {
    const own = toldOf(step.stackId, analysis)!;
    const { tightening } = own.stack;
    return {
      title: tightening.held ? 'Hold and turn' : 'Turn until the faces meet',
      text: `${wordTurn(tightening)} Only until all faces meet; then look along the column: no spacer askew, no gap.${openNote(step, analysis)}`,
    };
  },
  torque: (step, analysis) => {
    const { tightening } = toldOf(step.stackId, analysis)!.stack;
    return {
      title: `Tighten to ${figure(tightening.torque_Nm, 1)} N·m`,
      text: `${wordTurn(tightening)} Go up in two goes and watch that no arm moves.`,
    };
  },
  'free-check': (step, analysis) => freeCheck(step, analysis),
  cables: (_, analysis) => ({
    title: 'Cables, and once through the travel',
    text: `Lay brake hose and cables as they were, with a free loop past every pivot that turns. With the shock out move ${pieceName(carrier(analysis), analysis)} by hand through its whole travel: nothing pulls tight, nothing is pinched.`,
  }),
  chainset: (step, analysis) => ({
    title: 'Chainset and chain',
    text: `Fit ${list([...[...step.obstacles].reverse().map((id) => pieceName(id, analysis)), 'the chain'])} as their makers say. From now on what stands behind the chainring cannot be reached.`,
  }),
  wheel: (_, analysis) => ({
    title: 'Rear wheel',
    text: `Set the wheel into ${pieceName(carrier(analysis), analysis)}, close its axle as its maker says, and look that the brake disc runs free.`,
  }),
  air: () => ({
    title: 'Air',
    text: 'Pump the shock to the pressure for its rider, by its maker’s table. Push the bike down through its travel a few times and listen.',
  }),
  'travel-o-ring': () => ({
    title: 'O-ring on the shaft',
    text: 'Slide the O-ring on the shaft up against the wiper seal: after the first ride it shows how much of the stroke was used.',
  }),
  'hand-over': (_, analysis) => ({
    title: 'Hand-over',
    text: `Go round once more with the torque list, every axle by name: ${list(stacksOf(analysis).map(({ stack }) => `${lower(stack.name)} ${wordMeasure({ value: stack.tightening.torque_Nm, unit: 'N·m' })}`))}. No part is left on the mat. Write down what was done${isBike(analysis) ? ', and that every torque is to be checked again after the first ride' : ''}.`,
  }),
};

/** A model with a wheel or anything that turns at the cranks is a bike; one without is a rig at a vice. */
function isBike({ model }: Analysis): boolean {
  return model.wheel !== undefined || (model.obstacles ?? []).length > 0;
}

function frameName(analysis: Analysis): string {
  const frame = Object.entries(analysis.model.members).find(([, { kind }]) => kind === 'frame');
  return frame ? pieceName(frame[0], analysis) : 'the frame';
}

function inRow(items: readonly PlacedItem[]): PlacedItem[] {
  return [...items].sort((one, other) => one.from_mm + one.to_mm - other.from_mm - other.to_mm);
}

function treatmentNote(step: PlanStep, analysis: Analysis): string {
  const own = toldOf(step.stackId, analysis);
  return own?.written.thread_treatment === 'threadlocked'
    ? 'Keep it off the thread: threadlocker does not hold on grease, and a greased thread pulls harder at the same torque.'
    : `Thread: ${wordTreatment(step.stackId ?? '', analysis)}.`;
}

function approachWord({ approach }: PlanStep): string {
  if (!approach) return 'by hand';
  return approach.how === 'axle'
    ? `straight along the axle from the ${sideWord(approach.side)}`
    : `from ${fromWord(approach.angle_rad)}`;
}

/** The pivots an end of the shock is held at. */
function endsOf(member: string, analysis: Analysis): string {
  const held = stacksOf(analysis).filter(
    ({ stack, written }) =>
      stack.items.some((item) => item.member === member) || written.receiver.startsWith(`${member}/`),
  );
  return list(
    [...new Set(held.map(({ stack }) => analysis.pivots.find(({ id }) => id === stack.pivotId)!.name))].map(
      (name) => `the ${lower(name)}`,
    ),
  );
}

function carrier(analysis: Analysis): string {
  return analysis.model.wheel?.member ?? '';
}

/** The unit whose bore a ring lies in or reaches into; none for a ring on an axle. */
function bossAbout(step: PlanStep, ring: PlacedItem, analysis: Analysis): string | undefined {
  if (step.heldBy === 'axle') return undefined;
  const own = toldOf(step.stackId, analysis);
  const place = own && spacersOf(own.stack).find(({ item }) => item.id === ring.id);
  if (place?.shutBy) return place.shutBy[0].seat?.member;
  const deep = [place?.low, place?.high]
    .filter((side) => side !== undefined && side.into_mm > ORDER_LIMITS.intoBore_mm.value)
    .sort((one, other) => other!.into_mm - one!.into_mm)[0];
  return deep?.boss.member;
}

/** How much room the wrench has, where something stands in its sweep. */
function openNote(step: PlanStep, analysis: Analysis): string {
  const wrench = step.tools.find((tool): tool is DriveInHand => tool.kind === 'drive' && tool.role === 'turns');
  if (!wrench?.open || wrench.open.wide_deg >= 180) return '';
  return ` The handle has ${degrees(wrench.open.wide_deg)} to swing at ${lower(nameOf(wrench.item, analysis))}, toward ${fromWord(((wrench.open.from_deg + wrench.open.wide_deg / 2) * Math.PI) / 180)}: take a ratchet.`;
}

function freeCheck(step: PlanStep, analysis: Analysis): Worded {
  const own = toldOf(step.stackId, analysis)!;
  const { shock } = analysis.model;
  const clamp = `By the numbers, at least ${wordForce(own.stack.clamp_N)} ${own.stack.items.some(({ role }) => role === 'bearing') ? 'clamps each inner ring' : 'runs through the column'}.`;
  const what = list(step.units.map((unit) => pieceName(unit, analysis)));
  if (shock && own.stack.items.some(({ member }) => member === shock.body || member === shock.shaft)) {
    const turn =
      step.units.length > 0
        ? ' While its other end is free, turn it on the eye by hand: it must go round without a notch.'
        : '';
    return { title: 'Free check', text: `Rock the shock’s eye along the axle: no play.${turn} ${clamp}` };
  }
  if (shock && step.on.includes(shock.body)) {
    return {
      title: 'Free check',
      text: `With the shock in but empty, lift ${what} by hand as far as the shock lets ${step.units.length > 1 ? 'them' : 'it'}, then rock ${step.units.length > 1 ? 'them' : 'it'} along the axle: no notch, no side play. How the linkage falls by its own weight is felt only with the shock out. ${clamp}`,
    };
  }
  return {
    title: 'Free check',
    text: `${shock ? 'Without shock and wheel, let' : 'Let'} ${what} fall through ${step.units.length > 1 ? 'their' : 'its'} travel under ${step.units.length > 1 ? 'their' : 'its'} own weight, then rock ${step.units.length > 1 ? 'them' : 'it'} along the axle: no notch, no side play. Not right? Open this pivot now, not at the end. ${clamp}`,
  };
}

/** Title, sentence and cautions of a step of a plan. */
export function wordPlanStep(step: PlanStep, analysis: Analysis): WordedStep {
  const words = STEP_WORDS[step.kind](step, analysis, itemsOf(step, analysis));
  return { title: words.title, text: words.text, cautions: buildCautions(step, analysis) };
}

function buildCautions(step: PlanStep, analysis: Analysis): string[] {
  const carbon = isCarbon(step, analysis) ? [CAUTIONS.carbon] : [];
  switch (step.kind) {
    case 'stand':
      return [CAUTIONS.body];
    case 'press-bearing':
    case 'offer-member':
      return carbon;
    case 'prepare':
      return [CAUTIONS.body];
    case 'torque':
      return [CAUTIONS.torque, ...carbon];
    case 'free-check':
      return [CAUTIONS.after];
    case 'hand-over':
      return [CAUTIONS.after, CAUTIONS.defer];
    default:
      return [];
  }
}

/** Title, sentence and cautions of a step of taking apart. */
export function wordStripStep(strip: StripStep, analysis: Analysis): WordedStep {
  const words = stripWords(strip, analysis);
  return { ...words, cautions: stripCautions(strip, analysis) };
}

function stripWords(strip: StripStep, analysis: Analysis): Worded {
  const { kind, step } = strip;
  const own = toldOf(step.stackId, analysis);
  const items = itemsOf(step, analysis);
  const unit = pieceName(step.units[0] ?? '', analysis);
  switch (kind) {
    case 'support':
      return isBike(analysis)
        ? {
            title: 'Support the bike',
            text: 'Clamp it by the seatpost and put a strap or a block under the rear end: the moment an axle is out it drops.',
          }
        : {
            title: 'Held fast',
            text: `Hold ${frameName(analysis)} fast and put a hand under what hangs on it: the moment the axle is out it drops.`,
          };
    case 'release-air':
      return {
        title: 'Let the air out',
        text: 'Write the pressure down, let all air out of the shock, and push the bike down once: nothing may push back.',
      };
    case 'feel':
      return {
        title: 'Feel before you open',
        text: `Move what turns at ${stackName(step.stackId, analysis)}, and rock it along the axle. Note any notch or play now: it tells which bearing to look at.`,
      };
    case 'warm-threadlocker':
      return {
        title: 'Warm the threadlocker',
        text: `Warm air on the thread${own?.written.threadlocker === undefined ? '' : ` (threadlocker of ${own.written.threadlocker})`} until it gives; cold it wants force. Keep the heat off seals and paint.`,
      };
    case 'mark-facing':
      return {
        title: `Mark ${names(items, analysis)}`,
        text: `A dot of paint on the face toward the drive side, before it moves. ${items[0] ? wordFacing(items[0], analysis) : ''}`,
      };
    case 'keep-together':
      return {
        title: 'Keep the set together',
        text: `Thread the parts of ${stackName(step.stackId, analysis)} onto a wire in the order they came off, from the non-drive to the drive side: ${names(inRow(items), analysis)}.`,
      };
    case 'undo':
      break;
  }
  switch (step.kind) {
    case 'offer-member':
    case 'shock':
      return {
        title: `Take ${unit} off`,
        text: `Hold ${unit} and draw it away ${step.approach?.how === 'axle' ? `along the axle to the ${sideWord(step.approach.side)}` : step.approach ? `to ${fromWord(step.approach.angle_rad)}` : 'by hand'}; its bearings stay in it.`,
      };
    case 'swing-away':
      return { title: `Swing ${unit} back`, text: `Turn ${unit} back to where it was.` };
    case 'swing-back':
      return {
        title: `Swing ${unit} away`,
        text: `Turn ${unit} about the axle it still hangs on, so that the spacer behind it comes free.`,
      };
    case 'press-bearing':
      return {
        title: `Press ${names(items, analysis)} out`,
        text: `Toward the ${sideWord(step.side)}, square, on the outer ring where it can be reached. A bearing that was pressed out by its inner ring goes into the bin.`,
      };
    case 'cables':
      return {
        title: 'Free the cables',
        text: 'Open the clips and guides along what comes off; leave the brake closed, with a block between its pads.',
      };
    case 'chainset':
      return {
        title: 'Chainset off',
        text: `Take off ${list(['the chain', ...step.obstacles.map((id) => pieceName(id, analysis))])}.`,
      };
    case 'wheel':
      return { title: 'Rear wheel out', text: 'Shift to the smallest sprocket, open the axle and let the wheel down.' };
    case 'push-axle':
    case 'axle-home':
      return drawOut(strip, analysis);
    case 'set-spacer':
      return {
        title: `Take ${names(items, analysis)} out`,
        text: `Note how it faced. ${wordFacing(items[0]!, analysis)}`,
      };
    case 'start-receiver':
      return {
        title: `Run ${names(items, analysis)} off by hand`,
        text: 'It must come off freely; if it binds, stop and look at the thread.',
      };
    case 'torque': {
      const { tightening } = own!.stack;
      const back = tightening.turn === 'clockwise' ? 'anticlockwise' : 'clockwise';
      return {
        title: `Undo ${stackName(step.stackId, analysis)}`,
        text: `Stand on the ${sideWord(tightening.stand)} and turn ${endWord(tightening)} ${back} with ${aTool(tightening.tool)}. Warm old threadlocker rather than lean on the wrench.`,
      };
    }
    default:
      throw new Error(
        `wording-order: strip: met a step "${step.kind}" turned round, allowed: one that taking apart has`,
      );
  }
}

/** The axle drawn back to where it was before the step it undoes. */
function drawOut({ step, before, after }: StripStep, analysis: Analysis): Worded {
  const axle = itemsOf(step, analysis)[0];
  const [at, to] = axle ? [before[axle.id], after[axle.id]] : [];
  const side = sideWord(step.side);
  const free =
    step.kind === 'axle-home'
      ? `Push the ${lower(axle?.name ?? 'axle')} from its tip until the head stands clear; never hammer on a thread. `
      : '';
  if (!at || to?.on !== true)
    return { title: 'Draw the axle out', text: `${free}Draw it right out toward the ${side}.` };
  const left = Math.max(0, (step.depth_mm ?? 0) - Math.abs(at.offset_mm - to.offset_mm));
  return {
    title: 'Draw the axle back',
    text: `${free}Draw it toward the ${side} until ${mm(left)} of it are left in: what lies before its tip comes out now.`,
  };
}

function stripCautions({ kind, step }: StripStep, analysis: Analysis): string[] {
  if (kind === 'support') return [CAUTIONS.body];
  if (kind === 'release-air' || kind === 'feel') return [CAUTIONS.air];
  if (kind === 'warm-threadlocker')
    return isCarbon(step, analysis)
      ? ['No heat near carbon: it softens the resin. Use a longer lever and patience.', CAUTIONS.body]
      : [CAUTIONS.body];
  if (kind === 'undo' && step.kind === 'torque')
    return [CAUTIONS.air, ...(isCarbon(step, analysis) ? [CAUTIONS.carbon] : [])];
  if (kind === 'undo' && (step.kind === 'offer-member' || step.kind === 'press-bearing') && isCarbon(step, analysis))
    return [CAUTIONS.carbon];
  return [];
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
    return `${number === 1 ? 'the bearing' : number === 2 ? 'both bearings' : `the ${number} bearings`} of ${pieceName(reason.about['unit'] ?? '', analysis)} at ${stackName(reason.about['stack'], analysis)} ${number === 1 ? 'goes' : 'go'} home${depth > 0 ? ` ${mm(depth)} deep` : ''} while ${pieceName(reason.about['unit'] ?? '', analysis)} is in the hand: on the bike no press stands square`;
  },
  'started-first': (reason, analysis) =>
    `the thread of ${stackName(reason.about['stack'], analysis)} is started by hand before a tool turns it; tight, ${mm(num(reason, 'engagement_mm'))} of it take hold`,
  'axle-path': (reason, analysis) =>
    `${owner(reason, analysis)} covers the path of the axle of ${stackName(reason.about['stack'], analysis)} by ${mm(num(reason, 'cover_mm'))}; the axle comes in over ${mm(num(reason, 'length_mm'))} straight from the ${sideWord(toldOf(reason.about['stack'], analysis)?.stack.from ?? 'drive')}`,
  'nut-path': (reason, analysis) =>
    `${owner(reason, analysis)} covers the place of the nut of ${stackName(reason.about['stack'], analysis)} by ${mm(num(reason, 'cover_mm'))}; it needs ${mm(num(reason, 'length_mm'))} beyond the tip`,
  'tool-room': (reason, analysis) =>
    `${owner(reason, analysis)} reaches ${mm(num(reason, 'cover_mm'))} into the room of ${toolWord(reason, analysis)}, ${mm(num(reason, 'length_mm'))} long`,
  'handle-room': (reason, analysis) => {
    const needed = num(reason, 'needed_deg');
    const open = num(reason, 'open_deg');
    const by = reason.about['owner'] === undefined ? 'what is always there' : owner(reason, analysis);
    return `${by} leaves the handle of ${toolWord(reason, analysis)} ${open > 0 ? `only ${degrees(open)} to swing` : 'no room'}${needed > 0 ? `; one pull takes ${degrees(needed)}` : ''}`;
  },
  'sibling-started': (reason, analysis) =>
    `${stackName(reason.about['stack'], analysis)} and ${stackName(reason.about['other'], analysis)} are both started by hand before either is tight: only ${mm(num(reason, 'play_mm'))} of play in the bore let the second find its thread`,
  'bores-line-up': (reason, analysis) =>
    `${stackName(reason.about['other'], analysis)} is in before ${stackName(reason.about['stack'], analysis)} clamps: over ${mm(num(reason, 'apart_mm'))} a turn of one degree that nobody sees sets the bores ${mm(num(reason, 'off_mm'))} apart`,
  'carries-wheel': (reason, analysis) =>
    `${pieceName(reason.about['unit'] ?? '', analysis)} carries the wheel: with it in, its weight hangs on every axle that holds ${pieceName(reason.about['unit'] ?? '', analysis)}`,
  'free-check-bare': (reason, analysis) =>
    `every free check is felt without ${reason.about['owner'] === 'wheel' ? 'the wheel' : pieceName(reason.about['owner'] ?? '', analysis)}: with it on, the linkage cannot fall by its own weight`,
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
    `${lower(nameOf(reason.about['item'] ?? '', analysis))} reaches ${mm(num(reason, 'into_mm'))} into a bore: it lies there before ${pieceName(reason.about['unit'] ?? '', analysis)} and ${pieceName(reason.about['owner'] ?? '', analysis)} meet, and comes out only when they part`,
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
export function wordRecommended(plan: Pick<Plan, 'cost' | 'follows' | 'isBest' | 'stuck' | 'cycle'>): string {
  if (plan.stuck.length > 0 || plan.cycle)
    return 'No order of all tasks is possible: what can be done comes first, what is stuck comes last.';
  if (plan.follows === 'makers')
    return `The maker’s order. ${wordCost(plan.cost)}${plan.isBest ? ' Nothing that keeps it takes fewer.' : ''}`;
  return `${wordCost(plan.cost)} ${plan.isBest ? 'No possible order takes fewer, with waiting threadlocker and pivots that get covered counted in.' : 'The best that was found; whether one takes fewer is not known.'}`;
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
    ({ stackId, why }) => `${capital(stackName(stackId, analysis))} is opened again anyway: ${why}`,
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
