/**
 * Words for taking apart: what to write down first, each build step turned round, and what only taking apart needs.
 *
 * Beside `words/steps.ts`, by the same rules; what a stuck fastener and a shock want is common practice, no source.
 */
import { pressingOf, type PressOut } from '../order/room.ts';
import type { StripStep } from '../order/strip.ts';
import { kindNamed } from '../parts/kinds.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import { aTool, CAUTIONS, endWord, hasSleeve, isPinched, nameOf, sideWord, wordFacing, type Worded } from './fit.ts';
import {
  anyItem,
  frameName,
  inRow,
  inSentences,
  isBike,
  itemsOf,
  mm,
  names,
  pieceName,
  stackName,
  toldOf,
  towardWord,
} from './pieces.ts';
import { bossAbout, isArm, isCarbon, type WordedStep } from './steps.ts';

/** Title, sentence and cautions of a step of taking apart. */
export function wordStripStep(strip: StripStep, analysis: Analysis): WordedStep {
  return { ...stripWords(strip, analysis), cautions: stripCautions(strip, analysis) };
}

function stripWords(strip: StripStep, analysis: Analysis): Worded {
  const { kind, step } = strip;
  const own = toldOf(step.stackId, analysis);
  const items = itemsOf(step, analysis);
  switch (kind) {
    case 'note-settings':
      return {
        title: 'Write down how it came',
        text: `${analysis.model.shock ? 'Air pressure, or the spring’s rate and its turns of preload. Clicks of every knob, counted from closed; volume spacers and sag. ' : ''}Photograph the runs of hoses and cables from both sides. At hand-over you are asked for it again.`,
      };
    case 'support':
      return isBike(analysis)
        ? {
            title: 'Support the bike',
            text: 'Clamp it by a plain seatpost and put a strap or a block under the rear end: the moment an axle is out it drops.',
          }
        : {
            title: 'Held fast',
            text: `Hold ${frameName(analysis)} fast and put a hand under what hangs on it: the moment the axle is out it drops.`,
          };
    case 'release-air':
      return {
        title: 'Let the air out',
        text: 'Bike on the ground: bleed the air slowly while you press the shock down and let it up, until none comes. A shock that then stays down is not opened: air is caught in it, and it goes to its service. Coil spring: no air to bleed; turn the preload back until the spring turns loosely in your fingers.',
      };
    case 'feel':
      return {
        title: 'Feel before you open',
        text: `Move what turns at ${list((step.together ?? [step.stackId]).map((id) => stackName(id, analysis)))}, and rock it along the axle. Note any notch or play now: it tells which bearing to look at.`,
      };
    case 'warm-threadlocker':
      return {
        title: 'Warm the threadlocker',
        text: `Blow hot air on the metal round the thread${own?.written.threadlocker === undefined ? '' : ` (threadlocker of ${own.written.threadlocker})`} until it gives; cold it wants force. Keep the heat off seals and paint, and use no flame.`,
      };
    case 'mark-facing':
      return {
        title: `Mark ${names(items, analysis)}`,
        text: `A stroke of paint on its rim, at the end toward the drive side, before it moves. None on its faces: they are clamped. ${items[0] ? wordFacing(items[0], analysis) : ''}`.trim(),
      };
    case 'keep-together':
      return keepTogether(strip, analysis);
    case 'undo':
      return undone(strip, analysis, items);
  }
}

function undone(strip: StripStep, analysis: Analysis, items: readonly PlacedItem[]): Worded {
  const { step } = strip;
  const own = toldOf(step.stackId, analysis);
  const unit = pieceName(step.units[0] ?? '', analysis);
  switch (step.kind) {
    case 'offer-member':
    case 'shock':
      return {
        title: `Take ${unit} off`,
        text: `Hold ${unit} and draw it off ${step.approach?.how === 'axle' ? `along the axle to the ${sideWord(step.approach.side)}` : step.approach ? towardWord(step.approach.angle_rad) : 'by hand'}. Its bearings stay in it.`,
      };
    case 'swing-away':
      return { title: `Swing ${unit} back`, text: `Turn ${unit} back to where it was.` };
    case 'swing-back':
      return {
        title: `Swing ${unit} away`,
        text: `Turn ${unit} about the axle it still hangs on, so that the spacer behind it comes free. Hold its weight.`,
      };
    case 'set-circlip':
      return {
        title: `Circlip out: ${lower(nameOf(items[0]!.id, analysis))}`,
        text: 'Put the tips of the pliers into both eyes, close them and lift it out. Hold a cloth over it: it jumps. A bent or rusty one is renewed.',
      };
    case 'press-bush':
      return {
        title: `Press out ${lower(nameOf(items[0]!.id, analysis))}`,
        text: 'Stand the eye on a ring wider than the bush, and press from the other side with a pin thinner than the bore of the eye. A bush that was pressed out is renewed.',
      };
    case 'secure':
      return unsecure(items[0]!, analysis);
    case 'press-bearing':
      return pressOut(strip, analysis, items);
    case 'brake':
      return {
        title: 'Brake caliper off',
        text: 'Leave the hose closed. Unbolt the brake caliper, and tie it up with its hose free of kinks. Already off? Go on.',
      };
    case 'derailleur':
      return {
        title: 'Derailleur off',
        text: 'Let go its cable or plug, unscrew it and hang it up. Already off? Go on.',
      };
    case 'cables':
      return {
        title: 'Free the hoses and cables',
        text: 'Open the clips and guides along what comes off. Already free? Go on.',
      };
    case 'chainset':
      return {
        title: 'Chainset off',
        text: `Take off ${list(step.obstacles.map((id) => pieceName(id, analysis)))}. Already off? Go on.`,
      };
    case 'wheel':
      return {
        title: 'Rear wheel out',
        text: 'Open the axle, let the wheel down, and put a block between the brake pads. Already out? Go on.',
      };
    case 'chain':
      return {
        title: 'Chain off',
        text: 'Shift to the smallest sprocket, open the chain at its link and draw it out. Already off? Go on.',
      };
    case 'dropper-post':
      return {
        title: 'Dropper post out',
        text: 'Write down its height, free its cable or hose, and put a plain post in: its sliding tube takes no clamp. A plain post already? Go on.',
      };
    case 'push-axle':
    case 'axle-home':
      return drawOut(strip, analysis);
    case 'set-spacer':
      return takeOut(strip, analysis, items[0]!);
    case 'start-receiver':
      return {
        title: `Run ${names(items, analysis)} off by hand`,
        text: 'It must come off freely. If it binds, stop and look at the thread.',
      };
    case 'torque': {
      const { tightening } = own!.stack;
      const { held } = tightening;
      const back = tightening.turn === 'clockwise' ? 'anticlockwise' : 'clockwise';
      const holds = held
        ? ` Hold the ${held.what === 'axle' ? tightening.axle : tightening.receiver} on the ${sideWord(held.side)}${held.tool ? ` with ${aTool(held.tool)}` : ''}.`
        : '';
      const sleeve = own!.stack.items.some((item) => item.role === 'boss' && hasSleeve(item, analysis));
      const stays = sleeve ? ' The threaded sleeve stays in its boss: if it turns along, stop.' : '';
      const isKey = tightening.tool?.tool === 'hex-key' || tightening.tool?.tool === 'star-key';
      return {
        title: `Undo ${stackName(step.stackId, analysis)}`,
        text: `Stand on the ${sideWord(tightening.stand)} and turn ${endWord(tightening)} ${back} with ${aTool(tightening.tool)}.${holds} Take ${isKey ? 'a new bit, pushed fully home' : 'a tool without wear, fully seated'}, and pull steadily, without a jerk.${stays} Stuck? Stop before the tool twists or ${isKey ? 'the socket' : 'an edge'} rounds, and ask the frame maker.`,
      };
    }
    default:
      throw new Error(`taking-apart: met a step "${step.kind}" turned round, allowed: one that taking apart has`);
  }
}

/** A ring with two ways that showed no rim to paint goes on the wire at once. */
function takeOut({ step }: StripStep, analysis: Analysis, ring: PlacedItem): Worded {
  const title = `Take ${lower(nameOf(ring.id, analysis))} out`;
  if (ring.smallFace === undefined) return { title, text: wordFacing(ring, analysis) };
  const isHidden = bossAbout(step, ring, analysis) !== undefined;
  const note = isHidden ? 'Thread it onto the wire at once, facing as it came.' : 'Keep it facing as it came.';
  return { title, text: `${note} ${wordFacing(ring, analysis)}` };
}

function keepTogether({ step }: StripStep, analysis: Analysis): Worded {
  const own = inRow(itemsOf(step, analysis));
  const others = (step.laidOut ?? []).filter((id) => !step.items.includes(id));
  const belong = others.map(
    (id) =>
      ` ${capital(lower(nameOf(id, analysis)))} goes with ${stackName(anyItem(id, analysis)?.stackId, analysis)}.`,
  );
  return {
    title: 'Keep the set together',
    text: `Thread the parts of ${stackName(step.stackId, analysis)} onto a wire, from the non-drive to the drive side. ${inSentences(own.map(({ id }) => lower(nameOf(id, analysis))))}${belong.join('')}`,
  };
}

/** A bearing out of its seat: which way, on what the punch bears, what holds the boss, and what becomes of it. */
function pressOut({ step }: StripStep, analysis: Analysis, items: readonly PlacedItem[]): Worded {
  const bearing = items[0]!;
  const own = toldOf(step.stackId, analysis)!;
  const isIn = ({ id, role }: PlacedItem): boolean =>
    role === 'boss' || id === bearing.id || step.places[id]?.on === true;
  const pressing = pressingOf(bearing, own.stack.items.filter(isIn));
  const title = `Press ${names(items, analysis)} out`;
  if (!pressing) return { title, text: 'Square, on the outer ring where it shows.' };
  const { side, support, out } = pressing;
  return {
    title,
    text: [
      'Only if it is to be renewed or is in the way.',
      `It comes out to the ${sideWord(side)}: work from the ${sideWord(out.from)}.`,
      ...togetherWords(bearing, out, own.stack.items, analysis),
      ...tubeWords(out, analysis),
      ...punchWords(out),
      `Stand the boss on a ring ${mm(support.inside_mm)} wide inside and at most ${mm(support.outside_mm)} outside.`,
      ...(isArm(bearing, analysis) ? ['Hold up the one arm you work on, never across both arms.'] : []),
      out.bearsOn === 'outer-ring'
        ? 'Pushed by its outer ring alone it may go back in.'
        : 'A bearing pushed or pulled through its inner ring is scrap: its balls have dented the tracks.',
    ].join(' '),
  };
}

/** Two bearings of one seat leave it together, pushed by the one on the shoulder. */
function togetherWords(
  bearing: PlacedItem,
  { with: under }: PressOut,
  items: readonly PlacedItem[],
  analysis: Analysis,
): string[] {
  if (under !== undefined)
    return [`It stands on ${lower(nameOf(under, analysis))}: push on that one, and both come out together.`];
  const upper = items.find(({ seat }) => seat?.on === bearing.id);
  return upper ? [`Pushed on, it brings ${lower(nameOf(upper.id, analysis))} along; it may be out already.`] : [];
}

function tubeWords({ tube, past, bearsOn }: PressOut, analysis: Analysis): string[] {
  if (bearsOn === 'nothing' || past === undefined) return [];
  return tube
    ? [
        `Go in through the bearing on that side and tilt ${lower(nameOf(tube.item, analysis))} aside: ${mm(tube.lip_mm)} of the inner ring’s edge then show.`,
      ]
    : ['Go in through the bearing on that side.'];
}

function punchWords({ bearsOn, punch, past, bore_mm }: PressOut): string[] {
  if (!punch) return [`No punch finds a hold: take an expanding puller for a ${mm(bore_mm)} bore.`];
  const widths = `${mm(punch.least_mm).replace(' mm', '')} to ${mm(punch.most_mm)} across`;
  if (bearsOn === 'outer-ring') return [`A tube ${widths} bears on the outer ring, which shows inside the bore.`];
  return past === undefined
    ? [`A punch ${widths} finds the inner ring only.`]
    : [`A flat punch ${widths} finds the inner ring only: work round its edge in small blows.`];
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
  return {
    title: 'Draw the axle back',
    text: `${free}Draw it toward the ${side} until ${mm(Math.abs(to.offset_mm))} of its shank show outside. What lies before its tip comes out now.`,
  };
}

function stripCautions({ kind, step }: StripStep, analysis: Analysis): string[] {
  if (kind === 'support') return [CAUTIONS.body];
  if (kind === 'release-air' || kind === 'feel') return [CAUTIONS.air];
  if (kind === 'warm-threadlocker') return [CAUTIONS.body];
  if (kind === 'undo' && (step.kind === 'set-circlip' || step.kind === 'secure')) return [CAUTIONS.body];
  if (kind === 'undo' && step.kind === 'torque')
    return [CAUTIONS.air, ...(isCarbon(step, analysis) ? [CAUTIONS.carbon] : [])];
  if (kind === 'undo' && (step.kind === 'offer-member' || step.kind === 'press-bearing') && isCarbon(step, analysis))
    return [CAUTIONS.carbon];
  return [];
}

/** What is on the tip comes off, or loose, before the axle is touched. */
function unsecure(item: PlacedItem, analysis: Analysis): Worded {
  const name = lower(nameOf(item.id, analysis));
  if (isPinched(item.id, analysis))
    return {
      title: `Open the pinch bolt of ${name}`,
      text: `Loosen it before the axle is turned: a boss that grips would score it. Leave the bolt in.`,
    };
  switch (kindNamed(item.kind)?.secures) {
    case 'thread':
      return { title: `Lock nut off: ${name}`, text: `Hold what it locks still, and turn ${name} off it first.` };
    case 'clamp':
      return {
        title: `Open ${name}`,
        text: `Loosen its bolt before the axle is turned, and slide ${name} off the tip.`,
      };
    case 'cone':
      return {
        title: `Free ${name}`,
        text: `Loosen its screw by some turns and tap on it until the cone lets go. Only then the axle can be turned.`,
      };
    default:
      return {
        title: `Circlip off: ${name}`,
        text: 'Put the tips of the pliers into both eyes, open them and lift it over the tip. Hold a cloth over it: it jumps. A bent or rusty one is renewed.',
      };
  }
}
