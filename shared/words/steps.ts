/**
 * Words for the steps of a build: what a hand does, then why, each sentence short enough to be read out at the bike.
 *
 * Beside `words/order.ts`, by the same rules. What a hand looks for when it cleans, which agent goes on which material,
 * how a shock is emptied and what is written down is common practice, no source.
 */
import { figure } from '../numbers/figures.ts';
import { kindNamed } from '../parts/kinds.ts';
import { spacersOf } from '../order/bike.ts';
import { ORDER_LIMITS } from '../order/limits.ts';
import { pressingOf } from '../order/room.ts';
import type { DriveInHand, PlanStep, PlanTool } from '../order/tasks.ts';
import { MATERIALS, type MaterialFamily } from '../standards/index.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import {
  CAUTIONS,
  nameOf,
  sideWord,
  wordFacing,
  wordForce,
  isPinched,
  wordTool,
  wordTreatment,
  wordTurn,
  type Worded,
} from './fit.ts';
import { wordSecuring } from './torque.ts';
import {
  anyItem,
  count,
  degrees,
  familiesOf,
  frameName,
  fromWord,
  inRow,
  inSentences,
  isBike,
  itemsOf,
  mm,
  names,
  pieceName,
  stackName,
  stacksOf,
  toldOf,
  towardWord,
} from './pieces.ts';

/** A step in words. */
export interface WordedStep extends Worded {
  readonly cautions: readonly string[];
}

const BENCH_TOOLS: Readonly<Record<Extract<PlanTool, { kind: 'bench' }>['what'], string>> = {
  stand: 'work stand',
  cloth: 'clean white cloth',
  brush: 'small brush',
  'bearing-press': 'bearing press with a driver for the outer ring',
  'bush-press': 'press with a stepped pin for the bush',
  'circlip-pliers': 'circlip pliers for bores',
  'shaft-pliers': 'circlip pliers for shafts',
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

const SEAT_KINDS: ReadonlySet<PlanStep['kind']> = new Set([
  'clean-seat',
  'press-bearing',
  'press-bush',
  'set-circlip',
  'set-spacer',
]);

/** Whether a hand works on a carbon member: in a seat on that one alone, else on any that the axle joins. */
export function isCarbon(step: PlanStep, analysis: Analysis): boolean {
  const own = toldOf(step.stackId, analysis);
  const items = SEAT_KINDS.has(step.kind) ? itemsOf(step, analysis) : (own?.stack.items ?? []);
  const members = [...step.members, ...items.flatMap((item) => item.member ?? item.seat?.member ?? [])];
  return familiesOf(members, analysis).includes('carbon');
}

/** What cleans a seat of a family. */
const CLEANED_BY: Readonly<Record<MaterialFamily, string>> = {
  steel: 'Wipe it with isopropyl alcohol on a cloth',
  aluminium: 'Wipe it with isopropyl alcohol on a cloth, and keep chain degreaser away: it stains aluminium',
  titanium: 'Wipe it with isopropyl alcohol on a cloth',
  carbon: 'No solvent in a carbon seat: wipe it dry',
  polymer: 'Wipe it with soapy water, no solvent: solvent makes plastic swell',
};

/** What corrosion of a family looks like, and what to do about it. */
const CORRODES_AS: Readonly<Record<MaterialFamily, string>> = {
  steel: 'Red rust: rub it off with a nylon pad; where pits stay, renew the part.',
  aluminium: 'White powder is corroded aluminium: rub it off with a nylon pad; where pits stay, renew the part.',
  titanium: 'Grey torn streaks are galling: smooth them with a fine stone, or renew the part.',
  carbon: 'Loose fibres, a pale edge or a soft spot in carbon: stop, and ask the frame maker.',
  polymer: 'White or crumbling edges: renew the part.',
};

/** A length as a rule shows it. */
const tenth = (value_mm: number): string => `${figure(value_mm, 1)} mm`;

type StepWords = (step: PlanStep, analysis: Analysis, items: readonly PlacedItem[]) => Worded;

const STEP_WORDS: Readonly<Record<PlanStep['kind'], StepWords>> = {
  stand: (_, analysis) =>
    isBike(analysis)
      ? {
          title: 'Frame in the stand',
          text: `Clamp the bare frame by a plain seatpost, never by a tube or a dropper post. Set the pivots at the height of your hands. Wheel, chain and chainset are off${analysis.model.shock ? ', and the shock is on the workbench' : ''}.`,
        }
      : {
          title: 'Held fast',
          text: `Hold ${frameName(analysis)} fast, with the pivot at the height of your hands and room all round it.`,
        },
  'clean-seat': (_, analysis, items) => {
    const members = [...new Set(items.flatMap(({ member }) => member ?? []))];
    const families = familiesOf(members, analysis);
    const cleans = families.map((family) => `${CLEANED_BY[family]}.`);
    return {
      title: `Clean and look: ${items.length === 1 ? 'bearing seat' : 'bearing seats'}`,
      text: `Clean the bearing ${items.length === 1 ? 'seat' : 'seats'} in ${list(members.map((id) => pieceName(id, analysis)))} until a white cloth stays white. ${[...new Set(cleans)].join(' ')} Look for burrs, for a crack running out from the edge, and for a shiny band where an outer ring has turned. ${families.map((family) => CORRODES_AS[family]).join(' ')} A bearing must not drop into its seat by its own weight.`,
    };
  },
  'clean-axle': (_, analysis, items) => {
    const axle = items[0];
    const key = axle?.solids.find(({ role }) => role === 'body')?.material ?? axle?.solids[0]?.material;
    const family = key && MATERIALS[key].family;
    const corrodes = family ? ` ${CORRODES_AS[family]}` : '';
    return {
      title: `Clean and look: ${lower(axle?.name ?? 'axle')}`,
      text: `Wipe the ${names(items.slice(0, 1), analysis)} with isopropyl alcohol. Feel along it with a fingernail: a groove where an inner ring sat means it has turned. Roll its shank over the edge of a flat plate, the head hanging clear: light that comes and goes under it means it is bent. Look for hairline cracks under the head and at every step.${corrodes}`,
    };
  },
  'clean-thread': (step, analysis, items) => ({
    title: 'Clean and look: threads',
    text: `Brush ${toldOf(step.stackId, analysis)?.written.thread_treatment === 'threadlocked' ? 'old threadlocker' : 'old grease'} and dirt out of the threads of ${list(items.map((item) => ((item.role === 'boss' || item.role === 'receiver') && item.member !== undefined ? pieceName(item.member, analysis) : `the ${lower(nameOf(item.id, analysis))}`)))}. ${degreaseNote(step, analysis, items)}Look for torn or flattened crests, most of all in the first turns. Run the two together by hand once: ${tenth(toldOf(step.stackId, analysis)?.stack.tightening.engagement_mm ?? 0)} of thread must take hold without force.`,
  }),
  'press-bearing': (step, analysis, items) => pressIn(step, analysis, items),
  grease: (step, analysis, items) => ({
    title: 'Grease',
    text: `Grease thinly, to keep water out. ${inSentences(items.map(({ id }) => lower(nameOf(id, analysis))))} ${treatmentNote(step, analysis)}`,
  }),
  prepare: (step, analysis, items) => {
    const laidOut = step.laidOut ?? step.items;
    const others = laidOut.filter((id) => !step.items.includes(id));
    const belong = others.map(
      (id) =>
        ` ${capital(lower(nameOf(id, analysis)))} belongs to ${stackName(anyItem(id, analysis)?.stackId, analysis)} and goes in now.`,
    );
    return {
      title: `Lay out ${count(laidOut.length, 'part')}`,
      text: `In the order of the row, from the non-drive to the drive side. ${inSentences(inRow(items).map(({ id }) => lower(nameOf(id, analysis))))}${belong.join('')} Count them: nothing may be left over at the end.`,
    };
  },
  'set-circlip': (step, analysis, items) => ({
    title: `Snap in ${lower(nameOf(items[0]!.id, analysis))}`,
    text: `${wordFacing(items[0]!, analysis)} Pliers for bores, whose tips close: press it together no further than it needs, and never stretch it. One that was bent is renewed.`,
  }),
  'press-bush': (_step, analysis, items) => ({
    title: `Press in ${lower(nameOf(items[0]!.id, analysis))}`,
    text: `Into the eye of ${pieceName(items[0]!.seat!.member, analysis)}, its ends as deep on both sides. Press it dry and square, over a pin as thick as its bore. It closes a little: what runs in it goes in by thumb, or not at all.`,
  }),
  secure: (step, analysis, items) => secure(step, items[0]!, analysis),
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
          text: `${isRoundAnother(step, ring, analysis) ? 'Onto the face' : 'Into the bore'} of ${pieceName(boss, analysis)}, from the ${sideWord(step.side)}. ${text}${whose}`,
        };
  },
  'offer-member': (step, analysis, items) => {
    const unit = step.units[0] ?? '';
    const bearings = items.filter(({ role }) => role === 'bearing').length;
    const rings = items.filter(({ role, seat }) => role === 'spacer' && !seat);
    const home =
      bearings === 0
        ? ''
        : ` ${bearings === 1 ? 'Its bearing here is' : bearings === 2 ? 'Both its bearings here are' : `Its ${bearings} bearings here are`} home on the shoulder${inPlace(rings, analysis)}.`;
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
    const rings = items.filter(({ role, seat }) => role === 'spacer' && !seat);
    return {
      title: 'Offer up the shock',
      text: `Bring the shock, without air or spring load, to ${stackName(step.stackId, analysis)} ${approachWord(step)}.${which} Valve and levers as the frame maker shows them.${rings.length > 0 ? ` In its eye: ${names(rings, analysis)}.` : ''}`,
    };
  },
  'swing-away': (step, analysis) => ({
    title: `Swing ${pieceName(step.units[0] ?? '', analysis)} away`,
    text: `Turn ${pieceName(step.units[0] ?? '', analysis)} about the axle it hangs on until the bores at ${stackName(step.stackId, analysis)} stand clear of one another. Hold its weight.`,
  }),
  'swing-back': (step, analysis) => ({
    title: `Swing ${pieceName(step.units[0] ?? '', analysis)} back`,
    text: `Turn ${pieceName(step.units[0] ?? '', analysis)} back and line up the bores by eye; watch that no spacer is pushed out.`,
  }),
  'push-axle': (step, analysis, items) => ({
    title: 'Push the axle on',
    text: `Push the ${names(items, analysis)} in from the ${sideWord(step.side)} until ${shows(step, items)}, and stop. What comes next goes in before its tip.`,
  }),
  'axle-home': (step, analysis, items) => ({
    title: 'Axle home',
    text: `Push ${names(items, analysis)} in from the ${sideWord(step.side)} until its head seats. If it stops early a spacer has moved: look, do not knock.`,
  }),
  'wipe-thread': (_, analysis, items) => ({
    title: 'Wipe the thread clean again',
    text: `The thread of the ${names(items, analysis)} came through greased parts. Wipe it with isopropyl alcohol on a clean cloth and let it dry: threadlocker does not hold on grease.`,
  }),
  threadlock: (step, analysis, items) => threadlock(step, analysis, items),
  'start-receiver': (step, analysis, items) => {
    const { stack, written } = toldOf(step.stackId, analysis)!;
    const { engagement_mm } = stack.tightening;
    return {
      title: `Start ${names(items, analysis)} by hand`,
      text: `From the ${sideWord(step.side)}, at least two full turns by hand; it must run freely.${engagement_mm > 0 ? ` When tight, ${tenth(engagement_mm)} of thread are engaged.` : ''}${written.thread_treatment === 'threadlocked' ? ' Once the thread is closed the threadlocker begins to set: work on.' : ` ${capital(wordTreatment(stack.id, analysis))}.`}`,
    };
  },
  'hold-turn': (step, analysis) => {
    const own = toldOf(step.stackId, analysis)!;
    const { tightening } = own.stack;
    return {
      title: tightening.held ? 'Hold and turn' : 'Turn until the faces meet',
      text: `${wordTurn(tightening)} Stop when all faces meet. Look along the row: no spacer askew, no gap.${openNote(step, analysis)}`,
    };
  },
  'half-torque': (step, analysis) => ({
    title: `Half first, ${sideWord(step.side)}: ${figure(step.torque_Nm ?? 0, 1)} N·m`,
    text: `${wordTurn(toldOf(step.stackId, analysis)!.stack.tightening)} Half its torque only, each bolt in turn, so that neither pulls askew.`,
  }),
  torque: (step, analysis) => {
    const { tightening } = toldOf(step.stackId, analysis)!.stack;
    return {
      title: `Tighten to ${figure(tightening.torque_Nm, 1)} N·m`,
      text: `${wordTurn(tightening)} Pull slowly and evenly, and watch that no arm moves.`,
    };
  },
  'free-check': (step, analysis) => freeCheck(step, analysis),
  brake: () => ({
    title: 'Brake caliper and hose',
    text: 'Fit the brake caliper and lay its hose as in your photo. Tighten its bolts to the brake maker’s torque. Leave the block between the pads. Never taken off? Go on.',
  }),
  derailleur: () => ({
    title: 'Derailleur and its cable',
    text: 'Fit the rear derailleur and hook in its cable, with the loops of your photo. An electric one: plug it in. Never taken off? Go on.',
  }),
  cables: (_, analysis) => ({
    title: 'Hoses and cables, once through the travel',
    text: `Lay all hoses and cables as in your photo, with a free loop past every pivot that turns. With the shock out, hold the weight of ${pieceName(carrier(analysis), analysis)} and move it through its whole travel, no further. Nothing pulls tight, nothing is pinched.`,
  }),
  chainset: (step, analysis) => ({
    title: 'Chainset',
    text: `Fit ${list([...step.obstacles].reverse().map((id) => pieceName(id, analysis)))} as their makers say. From now on no hand gets behind the chainring.`,
  }),
  wheel: (_, analysis) => ({
    title: 'Rear wheel',
    text: `Take the block from between the brake pads. Set the wheel into ${pieceName(carrier(analysis), analysis)} and close its axle as its maker says. Check that the brake disc runs free.`,
  }),
  chain: () => ({
    title: 'Chain',
    text: 'Lay the chain over chainring and sprockets and through the derailleur, and close its link. Turn the cranks once: it runs clear of every arm. Never taken off? Go on.',
  }),
  air: () => ({
    title: 'Air',
    text: 'Air shock: pump it to the pressure you wrote down, or for a new rider by its maker’s table. Coil spring: turn the preload back to the turns you wrote down. On the ground, push the bike down through its travel a few times and listen.',
  }),
  'travel-o-ring': () => ({
    title: 'O-ring on the shaft',
    text: 'Slide the O-ring on the shaft up against the wiper seal. After the first ride it shows how much of the stroke was used.',
  }),
  'dropper-post': () => ({
    title: 'Dropper post',
    text: 'Out of the stand: put the dropper post back to the height you wrote down, with its cable or hose as in your photo. Try it up and down. A plain post all along? Go on.',
  }),
  settings: (_, analysis) => ({
    title: 'Put back as it came',
    text: `${analysis.model.shock ? 'Go through what you wrote down: air pressure or spring and preload, clicks of every knob, volume spacers, sag. ' : ''}Hold the photo of hoses and cables against the bike. Write down what is different on purpose.`,
  }),
  'hand-over': (_, analysis) => ({
    title: 'Hand-over',
    text: `Go round once more with the torque list, every axle by name. ${inSentences(stacksOf(analysis).map(({ stack }) => `${lower(stack.name)} ${figure(stack.tightening.torque_Nm, 1)} N·m`))} ${stacksOf(
      analysis,
    )
      .flatMap(({ stack }) => wordSecuring(stack.id, analysis) ?? [])
      .map((told) => `${told} `)
      .join(
        '',
      )}The wrench shows only what is too loose. ${stacksOf(analysis).some(({ written }) => written.thread_treatment === 'threadlocked') ? 'Threadlocker that was moved holds no more: take it out, clean it, lock it again. ' : ''}No part is left on the mat. Write down what was done${isBike(analysis) ? ', and that every torque is checked again after the first ride' : ''}.`,
  }),
  cure: ({ together = [] }, analysis) => ({
    title: 'Let the threadlocker set',
    text: `These set for ${ORDER_LIMITS.cure_h.value} h at room temperature, several times that in the cold. ${inSentences(together.map((id) => stackName(id, analysis)))} ${isBike(analysis) ? 'Until then hang a note with the hour on the bike: setting, not to be ridden.' : 'Leave it alone until then.'}`,
  }),
};

/** What cleans a thread that is to be locked, and what to keep it off. */
function degreaseNote(step: PlanStep, analysis: Analysis, items: readonly PlacedItem[]): string {
  if (toldOf(step.stackId, analysis)?.written.thread_treatment !== 'threadlocked') return '';
  const members = items.flatMap(({ member }) => member ?? []);
  const keeps = familiesOf(members, analysis).includes('carbon')
    ? ', none on the carbon'
    : members.some((id) => id === analysis.model.shock?.body || id === analysis.model.shock?.shaft)
      ? ', none on the shock’s seals'
      : '';
  return `Then wash both threads with isopropyl alcohol${keeps}, and let them dry: threadlocker holds on bare metal only. `;
}

function pressIn(step: PlanStep, analysis: Analysis, items: readonly PlacedItem[]): Worded {
  const bearing = items[0];
  const own = toldOf(step.stackId, analysis);
  const seat = bearing?.seat;
  const depth =
    seat &&
    analysis.model.members[seat.member]?.bores[seat.bore]?.seats?.find(({ side }) => side === seat.side)?.depth_mm;
  const rest =
    seat?.on === undefined
      ? `its shoulder${depth === undefined ? '' : `, ${mm(depth)} from the face`}`
      : `${lower(nameOf(seat.on, analysis))}, outer ring on outer ring and inner ring on inner ring`;
  const pressing = bearing && own && pressingOf(bearing, own.stack.items);
  const driver = pressing
    ? ` Take a driver no wider than ${mm(pressing.driver.most_mm)} and hollow for ${mm(pressing.driver.hollow_mm)}: it touches the outer ring only.`
    : '';
  return {
    title: `Press ${names(items, analysis)} home`,
    text: `${step.greased ? 'A thin film of grease in the seat. ' : ''}From the ${sideWord(step.side)}, square, until it stands on ${rest}.${driver} ${bearing && isArm(bearing, analysis) ? 'Hold up the one arm you work on, close behind its boss, never across both arms.' : 'Hold up the boss from behind, close round its bore.'} Turn it with a finger: smooth, without a notch.`,
  };
}

/** Whether a seat is in one of two arms of one piece, which nothing may press together. */
export function isArm({ seat }: PlacedItem, analysis: Analysis): boolean {
  const bores = Object.values((seat && analysis.model.members[seat.member]?.bores) ?? {});
  const own = seat && analysis.model.members[seat.member]?.bores[seat.bore];
  if (!own) return false;
  return own.z_to_mm < 0
    ? bores.some(({ z_from_mm }) => z_from_mm > 0)
    : own.z_from_mm > 0 && bores.some(({ z_to_mm }) => z_to_mm < 0);
}

function threadlock(step: PlanStep, analysis: Analysis, items: readonly PlacedItem[]): Worded {
  const { stack, written } = toldOf(step.stackId, analysis)!;
  const item = items[0]!;
  const agent = `threadlocker${written.threadlocker === undefined ? '' : `, ${written.threadlocker},`}`;
  const title = 'Threadlocker';
  if (item.role === 'boss' && item.member !== undefined) {
    const whose =
      step.taskId === `fit:${step.stackId}`
        ? ''
        : ` It is for ${stackName(step.stackId, analysis)}, which goes in later.`;
    return {
      title,
      text: `Put ${agent} into the thread of ${pieceName(item.member, analysis)} now: later no hand gets there. Wet two or three turns all round, none on faces or bearings. It stays wet as long as air gets to it.${whose}`,
    };
  }
  const noun = stack.tightening.axle;
  if (step.atBench)
    return {
      title,
      text: `The hole is shut already: put ${agent} on the first turns of the ${lower(item.name)}, in your hand. Wipe the bores that the ${noun} goes through dry, or grease spoils it.`,
    };
  return {
    title,
    text: `Put ${agent} on the clean thread of the ${lower(nameOf(item.id, analysis))}: two or three turns all round, none on faces or bearings.`,
  };
}

/** How much of an axle a hand still sees outside. */
function shows({ places }: PlanStep, items: readonly PlacedItem[]): string {
  const left = Math.abs(places[items[0]?.id ?? '']?.offset_mm ?? 0);
  return `${tenth(left)} of its shank still show outside`;
}

function treatmentNote(step: PlanStep, analysis: Analysis): string {
  const own = toldOf(step.stackId, analysis);
  if (own?.written.thread_treatment !== 'threadlocked')
    return `Thread: ${wordTreatment(step.stackId ?? '', analysis)}.`;
  return own.stack.items.some(({ rowId, role }) => rowId === 'receiver' && role === 'boss')
    ? 'None on the threads: threadlocker does not hold on grease. Wipe the bores out where the thread has to come through clean.'
    : 'None on the threads: threadlocker does not hold on grease, and a greased thread pulls harder at the same torque.';
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
      (name) => `“${lower(name)}”`,
    ),
  );
}

function carrier(analysis: Analysis): string {
  return analysis.model.wheel?.member ?? '';
}

/** The unit whose bore a ring lies in or reaches into; none for a ring on an axle. */
export function bossAbout(step: PlanStep, ring: PlacedItem, analysis: Analysis): string | undefined {
  if (step.heldBy === 'axle') return undefined;
  const own = toldOf(step.stackId, analysis);
  const place = own && spacersOf(own.stack).find(({ item }) => item.id === ring.id);
  if (place?.shutBy) return place.shutBy[0].seat?.member;
  const deep = [place?.low, place?.high]
    .filter((side) => side !== undefined && side.into_mm > ORDER_LIMITS.intoBore_mm.value)
    .sort((one, other) => other!.into_mm - one!.into_mm)[0];
  return deep?.boss.member;
}

/** More than two get a sentence of their own. */
function inPlace(rings: readonly PlacedItem[], analysis: Analysis): string {
  if (rings.length === 0) return '';
  const said = names(rings, analysis);
  return rings.length > 2 ? `. In place are ${said}` : `, with ${said} in place`;
}

function isRoundAnother(step: PlanStep, ring: PlacedItem, analysis: Analysis): boolean {
  const own = toldOf(step.stackId, analysis);
  return (
    own !== undefined && spacersOf(own.stack).some(({ item, round }) => item.id === ring.id && round !== undefined)
  );
}

/** How much room the wrench has, where something stands in its sweep. */
function openNote(step: PlanStep, analysis: Analysis): string {
  const wrench = step.tools.find((tool): tool is DriveInHand => tool.kind === 'drive' && tool.role === 'turns');
  if (!wrench?.open || wrench.open.wide_deg >= 180) return '';
  return ` The handle has ${degrees(wrench.open.wide_deg)} to swing at ${lower(nameOf(wrench.item, analysis))}, toward ${fromWord(((wrench.open.from_deg + wrench.open.wide_deg / 2) * Math.PI) / 180)}: take a ratchet.`;
}

const GOOD_PIVOT = 'A good pivot goes evenly, with a light drag: no notch, no side play.';

function freeCheck(step: PlanStep, analysis: Analysis): Worded {
  const own = toldOf(step.stackId, analysis)!;
  const { shock } = analysis.model;
  const title = step.together ? `Free check, ${step.together.length === 2 ? 'both bolts' : 'all bolts'}` : 'Free check';
  const clamps = (step.together ?? []).map((id) => toldOf(id, analysis)!.stack.clamp_N);
  const clamp = `By the numbers, at least ${wordForce(Math.min(own.stack.clamp_N, ...clamps))} ${own.stack.items.some(({ role }) => role === 'bearing') ? 'clamps each inner ring' : 'runs through the row'}.`;
  const isMany = step.units.length > 1;
  const [it, its] = isMany ? ['them', 'their'] : ['it', 'its'];
  const what = list(step.units.map((unit) => pieceName(unit, analysis)));
  if (shock && own.stack.items.some(({ member }) => member === shock.body || member === shock.shaft)) {
    const turn =
      step.units.length > 0
        ? ` Its other end is free: hold its weight and turn it ${swingWord(step)}. It must go round without a notch.`
        : '';
    return { title, text: `Rock the shock’s eye along the axle: no play.${turn} ${clamp}` };
  }
  if (step.units.length === 0) return { title, text: `Rock along the axle what it holds: no side play. ${clamp}` };
  if (shock && step.on.includes(shock.body)) {
    return {
      title,
      text: `The shock is in but empty. Lift ${what} by hand as far as it lets ${it}, at most ${swingWord(step)}. Rock ${it} along the axle. ${GOOD_PIVOT} Not right? Open this pivot now, not at the end. ${clamp}`,
    };
  }
  return {
    title,
    text: `Hold the weight of ${what} in your hand. Move ${it} ${swingWord(step)}. Bring ${it} back, go no further, and never let ${it} drop: nothing stops ${its} fall. Then rock ${it} along the axle. ${GOOD_PIVOT} On new seals a lone link may not fall by itself. Not right? Open this pivot now, not at the end. ${clamp}`,
  };
}

/** Between which ends a hand moves what it checks: by the one whose end goes furthest. */
function swingWord({ swings = [] }: PlanStep): string {
  const [most] = [...swings].sort((one, other) => other.far_mm - one.far_mm);
  if (!most) return 'a little';
  const turn = degrees(Math.max(1, Math.abs(most.turn_deg)));
  const end = swings.length > 1 ? 'their far ends go' : 'its far end goes';
  // As a hand judges it: to the half centimetre.
  const far = `about ${Math.max(5, 5 * Math.round(most.far_mm / 5))} mm`;
  return most.toward_rad === undefined
    ? `${turn} each way, so that ${end} ${far}`
    : `through ${turn}, so that ${end} ${far} ${towardWord(most.toward_rad)}`;
}

/** What is snapped, or tightened, on the tip of an axle once that is tight. */
function secure({ torque_Nm, stackId }: PlanStep, item: PlacedItem, analysis: Analysis): Worded {
  const name = lower(nameOf(item.id, analysis));
  const torque = torque_Nm === undefined ? '' : `${figure(torque_Nm, 1)} N·m`;
  if (isPinched(item.id, analysis))
    return {
      title: `Pinch ${name}, ${torque}`,
      text: `Close the pinch bolt of ${name} to ${torque}, only now that the axle has its torque: done before, the boss would hold the axle back.`,
    };
  switch (kindNamed(item.kind)?.secures) {
    case 'thread': {
      const { held } = toldOf(stackId, analysis)?.stack.tightening ?? {};
      const hold = held?.what === 'receiver' && held.tool ? ` with the ${wordTool(held.tool)}` : '';
      return {
        title: `Lock with ${name}, ${torque}`,
        text: `Hold what it locks still${hold}, and pull ${name} against it to ${torque}. If the two turn together, begin again with the torque of the axle.`,
      };
    }
    case 'clamp':
      return {
        title: `Close ${name}, ${torque}`,
        text: `Push ${name} up against what holds the axle, its bolt loose. Close the bolt to ${torque}, only now that the axle has its torque: done before, it would hold the axle back.`,
      };
    case 'cone':
      return {
        title: `Draw in ${name}, ${torque}`,
        text: `Draw ${name} into the tip to ${torque}, only now that the axle has its torque: a spread tip cannot be turned any more.`,
      };
    default:
      return {
        title: `Snap on ${name}`,
        text: `${wordFacing(item, analysis)} Pliers for shafts, whose tips open: spread it no further than it needs to pass the tip. One that was bent is renewed.`,
      };
  }
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
    case 'press-bush':
    case 'offer-member':
      return carbon;
    case 'prepare':
    case 'set-circlip':
    case 'secure':
      return [CAUTIONS.body];
    case 'half-torque':
      return carbon;
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
