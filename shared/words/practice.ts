/**
 * Words of the drills: what lies in the hand, what is asked, what may be answered, and what an answer did.
 */
import { kindOf, type Part } from '../parts/kinds.ts';
import { partSizes, wordsOfSize } from '../parts/measuring.ts';
import { figure } from '../numbers/figures.ts';
import type { Side } from '../model/schema.ts';
import { everyPart } from '../model/variant.ts';
import type { BenchAnswer, BenchCheck } from '../practice/find.ts';
import type { Greased, LayFault, Treatment, TurnedEnd, Work } from '../practice/lay.ts';
import type { SightChoice, SightQuestion } from '../practice/sight.ts';
import type { Analysis, StackAnalysis } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import { nameOf, sideWord, wordForce, wordTool } from './fit.ts';
import { wordAccessTarget } from './order.ts';
import { stackName } from './pieces.ts';
import { wordTorque } from './torque.ts';

/** The sizes that tell a part, as a calliper reads them: `length 6.5, small face 18.2, large face 29 mm`. */
export function wordTold(part: Part): string {
  const sizes = partSizes(part);
  const told = kindOf(part).told.flatMap((name) => {
    const size = sizes[name];
    return size ? [`${lower(wordsOfSize(name, part.kind).short)} ${figure(size.nominal)}`] : [];
  });
  return told.length === 0 ? '' : `${told.join(', ')} mm`;
}

/** What can get grease. */
export function wordGreased(one: Greased): string {
  return { axle: 'The axle’s shank', spacers: 'The loose parts', receiver: 'The nut’s face' }[one];
}

/** How a thread is treated. */
export function wordThread(treatment: Treatment): string {
  return {
    dry: 'Clean and dry',
    oiled: 'A drop of oil',
    greased: 'Grease',
    threadlocked: 'Threadlocker',
    'anti-seize': 'Anti-seize paste',
  }[treatment];
}

/** An end that a wrench may work at. */
export function wordEnd(end: TurnedEnd): string {
  return { head: 'The head', tip: 'The tip', receiver: 'The nut or screw' }[end];
}

/** What a hand does at one axle. */
export function wordWork(work: Work): string {
  return {
    clean: 'Clean the threads',
    grease: 'Grease what gets grease',
    push: 'Push the axle through, part by part',
    treat: 'Treat the thread',
    start: 'Start the thread by hand',
    torque: 'Pull it to its torque',
    check: 'Feel that it turns free and has no play',
  }[work];
}

/** What is wrong with a laid row beside what the fit check finds. */
export function wordLayFault(fault: LayFault): string {
  switch (fault.what) {
    case 'way-shut':
      return `The axle cannot go in from the ${sideWord(fault.side)}: ${fault.reason === 'thread-opens-other-side' ? 'its thread opens to the other side' : 'what takes its thread is on that side'}.`;
    case 'no-tool':
      return `${wordEnd(fault.end)} cannot be turned: no tool takes hold of it.`;
    case 'no-hold':
      return `${wordEnd(fault.end)} cannot be turned alone: nothing can be held at the other end.`;
    case 'treatment':
      return `The maker asks for another thread: ${lower(wordThread(fault.asked))}. At the same torque yours pulls ${wordForce(fault.preload_N)}, the maker’s ${wordForce(fault.asked_N)}.`;
    case 'grease': {
      const lacks = fault.lacks.map((one) => lower(wordGreased(one)));
      const needless = fault.needless.map((one) => lower(wordGreased(one)));
      return [
        ...(lacks.length > 0 ? [`Grease is missing: ${list(lacks)}. Water gets in there.`] : []),
        ...(needless.length > 0 ? [`The maker asks for no grease here: ${list(needless)}.`] : []),
      ].join(' ');
    }
    case 'order':
      return `Too late: “${lower(wordWork(fault.late))}” comes before “${lower(wordWork(fault.early))}”.`;
  }
}

/** What is asked. */
export function wordQuestion(question: SightQuestion, analysis: Analysis): string {
  const stack = analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === question.stackId);
  const pivot = analysis.pivots.find(({ id }) => id === question.pivotId)?.name ?? '';
  switch (question.kind) {
    case 'spacer':
      return `${pivot}: which part goes ${placeIn(stack!, question.row!, analysis)}?`;
    case 'turn':
      return `${capital(stackName(question.stackId, analysis))}: where do you stand, and which way does it tighten?`;
    case 'side':
      return `${capital(stackName(question.stackId, analysis))}: from which side does the axle go in?`;
    case 'wrench': {
      const { length_mm, adapter_mm, angle_deg } = question.adapter!;
      return `${capital(stackName(question.stackId, analysis))} wants ${wordTorque(question.torque_Nm!)}. The wrench is ${length_mm} mm long, the adapter ${adapter_mm} mm, ${angleWord(angle_deg)}. What do you set?`;
    }
    case 'access':
      return `To get at this: ${lower(wordAccessTarget(question.target!, analysis))}. Which axles do you open?`;
  }
}

function angleWord(angle_deg: number): string {
  return angle_deg === 0 ? 'straight ahead' : angle_deg === 90 ? 'square to the wrench' : 'folded back';
}

/** A place of a row by what stands on its two sides; loose neighbours are passed over, since they are asked for too. */
function placeIn({ items, from }: StackAnalysis, row: string, analysis: Analysis): string {
  const at = items.findIndex(({ rowId }) => rowId === row);
  const isFirm = ({ role }: StackAnalysis['items'][number]): boolean => role !== 'spacer';
  const [before, after] = [items.slice(0, at).findLast(isFirm), items.slice(at + 1).find(isFirm)];
  const ends = [before, after].map((item) => (item ? lower(nameOf(item.id, analysis)) : undefined));
  const loose = items.slice(items.indexOf(before!) + 1, after ? items.indexOf(after) : undefined);
  const spacers = loose.filter(({ role }) => role === 'spacer');
  const place = spacers.length > 1 ? `, no. ${spacers.findIndex(({ rowId }) => rowId === row) + 1} from non-drive` : '';
  const side: Side = from;
  return ends[0] !== undefined && ends[1] !== undefined
    ? `between ${ends[0]} and ${ends[1]}${place}`
    : `at the ${sideWord(side)} end${place}`;
}

/** A choice, as it stands on its button. */
export function wordSightChoice(choice: SightChoice, analysis: Analysis): string {
  switch (choice.is) {
    case 'part': {
      const part = analysis.model.parts[choice.part]!;
      return `${capital(kindOf(part).noun.one)}: ${wordTold(part)}`;
    }
    case 'turn':
      return `On the ${sideWord(choice.stand)}, ${choice.turn}`;
    case 'side':
      return choice.side === 'either' ? 'From either side' : `From the ${sideWord(choice.side)}`;
    case 'setting':
      return wordTorque(choice.setting_Nm);
    case 'stacks':
      return choice.stacks.length === 0
        ? 'None'
        : capital(list(choice.stacks.map((id) => lower(stackName(id, analysis)))));
  }
}

/** Why the right choice is right, in a sentence. */
export function wordSightWhy(question: SightQuestion, analysis: Analysis): string {
  const stack = analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === question.stackId);
  switch (question.kind) {
    case 'spacer':
      return 'Every choice was built there and tightened, either way round: what passes the fit check is right.';
    case 'turn':
      return stack!.tightening.turn === 'anticlockwise'
        ? 'It looks like undoing: tightening must draw the axle toward you.'
        : `The wrench works at the ${sideWord(stack!.tightening.stand)} with the ${wordTool(stack!.tightening.tool)}.`;
    case 'side':
      return stack!.passage.drive.passes && stack!.passage.nonDrive.passes
        ? `It passes both ways; the maker puts it in from the ${sideWord(stack!.from)}.`
        : 'From the other side it does not pass, or what takes its thread is there.';
    case 'wrench':
      return 'An adapter straight ahead makes the wrench longer: set less. Square to it changes nothing, folded back: set more.';
    case 'access':
      return 'Nothing less frees it.';
  }
}

/** A check as it stands on its button; `analysis` is that of the build as written. */
export function wordBenchCheck(check: BenchCheck, analysis: Analysis): string {
  const at = 'row' in check ? lower(nameOf(`${check.stack}/${check.row}`, analysis)) : '';
  const axle = 'stack' in check ? stackName(check.stack, analysis) : '';
  switch (check.do) {
    case 'turn':
      return 'Turn the arm by hand';
    case 'rock':
      return 'Push the arm from side to side';
    case 'line':
      return 'Look along the bike whether the arm stands in line';
    case 'count':
      return 'Count what is left over on the mat';
    case 'head':
      return `Look where the head is: ${axle}`;
    case 'wrench':
      return `Put the torque wrench on again: ${axle}`;
    case 'look':
      return `Look which way round it lies: ${at}`;
    case 'measure':
      return `Measure what lies there: ${at}`;
    case 'depth':
      return `Measure whether it is home: ${at}`;
  }
}

/** What a check tells. */
export function wordBenchAnswer(answer: BenchAnswer, analysis: Analysis): string {
  switch (answer.is) {
    case 'feel':
      return {
        tight: 'It turns stiff.',
        notchy: 'It turns in notches.',
        drags: 'It drags a little more than seals do.',
        free: 'It turns free.',
      }[answer.feel];
    case 'play':
      return answer.there ? 'It has side play.' : 'No side play.';
    case 'off-line':
      return answer.there ? 'An arm stands visibly out of line.' : 'Nothing stands out of line.';
    case 'over':
      return answer.parts.length === 0
        ? 'Nothing is left over.'
        : `Left over: ${list(answer.parts.map((id) => lower(partName(id, analysis))))}.`;
    case 'head':
      return `The head is on the ${sideWord(answer.side)}.`;
    case 'wrench':
      return answer.turnsOn ? 'It turns on before the wrench clicks.' : 'The wrench clicks, and nothing moves.';
    case 'nothing-there':
      return 'There is nothing in that place.';
    case 'way':
      return answer.toward === undefined
        ? 'Both its faces are alike.'
        : `Its small face looks to the ${sideWord(answer.toward)}.`;
    case 'sizes':
      return `It measures ${list(answer.sizes.map(([name, size]) => `${lower(wordsOfSize(name).short)} ${figure(size)}`))} mm.`;
    case 'depth':
      return answer.off_mm === 0
        ? 'It is home on its shoulder.'
        : `It stands ${figure(answer.off_mm)} mm off its shoulder.`;
  }
}

function partName(id: string, { model }: Analysis): string {
  return everyPart(model).find(([known]) => known === id)?.[1].name ?? id;
}
