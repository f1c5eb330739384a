/**
 * Words for the torque card, its window, the wrench and the torque list, and for tolerances: dimensions, chains,
 * sampled sets and shims.
 *
 * Every figure keeps its unit and every estimate is called one. A window is never a licence: the frame maker's figure
 * comes before it. Nothing here says that a bike may be ridden.
 */
import type { Side } from '../model/schema.ts';
import type { SetClass, SetReason } from '../tolerance/sets.ts';
import type { Chain } from '../tolerance/chain.ts';
import type { Dimension } from '../tolerance/dimensions.ts';
import type { Sampling } from '../tolerance/sampling.ts';
import type { ShimAdvice, ShimPlace, ShimRefusal, SpacerAdvice } from '../tolerance/shims.ts';
import type { TorqueCard } from '../torque/card.ts';
import type { TorqueForClamp } from '../torque/reverse.ts';
import type { SectionKind } from '../torque/sections.ts';
import type { ShortForm } from '../torque/short-form.ts';
import { inUnit, type TorqueUnit } from '../torque/units.ts';
import type { TorqueWindow, WindowLimit, WindowVerdict } from '../torque/window.ts';
import type { WrenchAdvice, WrenchChoice } from '../torque/wrench.ts';
import type { Analysis } from '../types.ts';
import { isPinched, nameOf, sideWord, wordFirst, wordForce, wordMeasure, wordTool, type Worded } from './fit.ts';
import { figure as plainFigure } from '../numbers/figures.ts';
import { capital, list, lower, percent } from './figures.ts';

/** Digits after the point by unit: what a wrench's scale can be read to. */
const DIGITS: Readonly<Record<TorqueUnit, number>> = { N·m: 1, ft·lb: 1, in·lb: 0 };

/** A torque in a unit, as a wrench is read: `11 N·m`, `8.1 ft·lb`, `97 in·lb`. */
export function wordTorque(torque_Nm: number, unit: TorqueUnit = 'N·m'): string {
  return `${figure(inUnit(torque_Nm, unit), DIGITS[unit])} ${unit}`;
}

/** A number with a true minus: deviations stand beside tolerances here. */
function figure(value: number, digits: number): string {
  return plainFigure(value, digits).replace('-', '−');
}

function mm(value: number): string {
  return `${figure(value, 2)} mm`;
}

function shareWord(share: number): string {
  return share > 0 && share < 0.00095 ? '<0.1 %' : percent(share, share < 0.0995 ? 1 : 0);
}

/** The other two units of a card's large number. */
export function wordOtherUnits(torque_Nm: number): string {
  return `${wordTorque(torque_Nm, 'ft·lb')}, ${wordTorque(torque_Nm, 'in·lb')}`;
}

const VERDICTS: Readonly<Record<Exclude<WindowVerdict, 'right'>, string>> = {
  'too-little': 'Too little',
  'perhaps-too-little': 'Perhaps too little',
  'perhaps-too-much': 'Perhaps too much',
  'too-much': 'Too much',
};

/**
 * Where the setting stands, in a sentence or two: the limits round it are where something goes wrong, and no choice.
 */
export function wordWindow(window: TorqueWindow): Worded {
  const spec = wordTorque(window.spec_Nm);
  const { least, keeps } = window;
  const top = window.most.find((limit) => limit.sure_Nm === window.to_Nm);
  const gives = `above ${wordTorque(window.to_Nm)} ${top ? LIMIT_ENDS[top.kind] : 'something may give'}`;
  const fades = keeps ? ` Faces bed in: below ${wordTorque(keeps.possible_Nm)} the clamp fades (an estimate).` : '';
  switch (window.verdict) {
    case 'right':
      return {
        title: `The setting is ${spec}`,
        text: `Set this, not its limits: below ${wordTorque(window.from_Nm!)} ${least ? LIMIT_ENDS[least.kind] : ''}, ${gives}.${fades} The frame maker’s figure comes first.`,
      };
    case 'perhaps-too-little':
      return {
        title: VERDICTS[window.verdict],
        text: `${spec} ${least?.kind === 'clamp-lost' ? 'keeps the parts clamped' : 'holds the inner rings'} only while the thread rubs little: ${wordTorque(window.from_Nm!)} would hold them for sure. Keep to the frame maker’s figure, treat the thread as told, and check again after the first ride.`,
      };
    case 'too-little':
      return {
        title: VERDICTS[window.verdict],
        text: least
          ? `${spec} cannot ${least.kind === 'clamp-lost' ? 'keep the parts clamped' : 'hold the inner rings'}, however little the thread rubs: ${wordTorque(least.possible_Nm)} is the least, ${wordTorque(least.sure_Nm)} is sure. Read the frame maker’s manual again.`
          : 'No torque within reach clamps every inner ring: the column is not closed. Look at the findings first.',
      };
    case 'perhaps-too-much':
      return {
        title: VERDICTS[window.verdict],
        text: `${spec} may be too much where the thread rubs little: ${gives}. Read the frame maker’s manual again.`,
      };
    case 'too-much':
      return {
        title: VERDICTS[window.verdict],
        text: `${spec} is too much, however hard the thread rubs: ${gives}. Read the frame maker’s manual again.`,
      };
  }
}

/** What happens beyond a limit. */
const LIMIT_ENDS: Readonly<Record<WindowLimit['kind'], string>> = {
  'rings-creep': 'the inner rings may turn',
  'clamp-lost': 'nothing may be left of the clamp',
  'clamp-fades': 'the clamp may fade',
  'works-loose': 'the axle may work loose',
  'axle-yield': 'the axle may yield',
  'axle-proof': 'the axle may stretch for good',
  'head-shears': 'a head may shear off',
  'thread-strips': 'a thread may strip',
  'sleeve-strips': 'the threaded sleeve may come out',
  'face-pressed': 'a face may be crushed',
  'carbon-pressed': 'carbon may be crushed',
  'wall-pressed': 'a thin wall may give',
};

const SECTIONS: Readonly<Record<SectionKind, string>> = {
  thread: 'in the thread',
  shank: 'in the shank',
  waist: 'at the waist',
  tube: 'in the tube',
  'head-socket': 'where the socket runs into the shank',
  'tip-socket': 'at the bottom of the tip’s socket',
};

/** One end of a window: what happens there, to which part, at which torque. */
export function wordLimit(limit: WindowLimit, analysis: Analysis): Worded {
  const parts = list(limit.parts.map((id) => lower(nameOf(id, analysis))));
  const where = wordFirst(limit.parts, limit.kind, analysis);
  const estimate = limit.isEstimate ? ' (an estimate)' : '';
  if (limit.isOutOfReach === true)
    return {
      title: LIMIT_TITLES[limit.kind],
      text: `No torque stops it: where the parts slip by ${wordMeasure(limit.at)}, ${parts} cannot bend along${estimate}. Lock the thread as the frame maker says.`,
    };
  const band =
    limit.kind === 'rings-creep' || limit.kind === 'clamp-lost'
      ? `It takes ${wordTorque(limit.sure_Nm)} to be sure; if the thread rubs little, ${wordTorque(limit.possible_Nm)} is enough`
      : limit.kind === 'clamp-fades' || limit.kind === 'works-loose'
        ? // The sure end of these lies beyond many a setting: it must not read as one.
          `Sure below ${wordTorque(limit.possible_Nm)}, possible up to ${wordTorque(limit.sure_Nm)} as the thread rubs; set the frame maker’s figure all the same`
        : `Stay below ${wordTorque(limit.sure_Nm)} to be sure; if the thread rubs hard, it gives only at ${wordTorque(limit.possible_Nm)}`;
  const what = ((): string => {
    switch (limit.kind) {
      case 'rings-creep':
        return `below ${wordForce(limit.at.value)} of clamp ${parts} can turn on the axle${estimate}`;
      case 'clamp-lost':
        return `as the faces bed in, ${parts} may lose up to ${wordForce(limit.at.value)} of clamp${estimate}; with less nothing is left of it`;
      case 'clamp-fades':
        return `as the faces bed in, ${parts} may lose up to ${wordForce(limit.at.value)} of clamp${estimate}; what is left must still hold the rings, or the thread needs a lock`;
      case 'works-loose':
        return `below ${wordForce(limit.preload_N)} of pull ${parts} can turn back where parts slip across by ${wordMeasure(limit.at)}${estimate}; a locked thread holds all the same`;
      case 'head-shears':
        return `${parts}: the ${wordMeasure(limit.at)} of ${limit.material ?? 'metal'} under the head shears off round the shank${estimate}`;
      case 'axle-yield':
        return `${parts}: pull and twist together reach ${wordMeasure(limit.at)} ${SECTIONS[limit.section!]}${estimate}`;
      case 'axle-proof':
        return `${parts}: the pull alone reaches ${wordMeasure(limit.at)}, its proof stress, ${SECTIONS[limit.section!]}${estimate}`;
      case 'thread-strips':
        return `${parts}: ${wordMeasure(limit.at)} of engaged thread in ${limit.material ?? 'the softer material'} shears off${estimate}`;
      case 'sleeve-strips':
        return `${parts}: the ${wordMeasure(limit.at)} of outer thread of its sleeve tear out of ${limit.material ?? 'the softer material'}${estimate}`;
      case 'face-pressed':
      case 'carbon-pressed':
        return `faces reach the ${wordMeasure(limit.at)} that ${limit.material ?? 'the softer one'} takes${estimate}. It begins ${where}`;
      case 'wall-pressed':
        return `the thinnest wall reaches the ${wordMeasure(limit.at)} it is trusted with${estimate}. It begins ${where}`;
    }
  })();
  return { title: LIMIT_TITLES[limit.kind], text: `${band}. ${capital(what)}.` };
}

const LIMIT_TITLES: Readonly<Record<WindowLimit['kind'], string>> = {
  'rings-creep': 'Inner rings creep',
  'clamp-lost': 'Clamp lost as it settles',
  'clamp-fades': 'Clamp fades as it settles',
  'works-loose': 'Works loose by slipping',
  'axle-yield': 'Axle yields',
  'axle-proof': 'Axle past its proof load',
  'head-shears': 'Head shears off',
  'thread-strips': 'Thread strips',
  'sleeve-strips': 'Threaded sleeve torn out',
  'face-pressed': 'Face crushed',
  'carbon-pressed': 'Carbon crushed',
  'wall-pressed': 'Wall gives',
};

/**
 * The window as one line of text: where something may go wrong on either side of the setting, and no range to choose
 * from.
 */
export function wordWindowStrip({ least, keeps, slips, to_Nm }: TorqueWindow): string {
  const at = (torque_Nm: number): string => figure(torque_Nm, 1);
  return [
    least
      ? `${least.kind === 'clamp-lost' ? 'clamp may be lost' : 'rings may turn'} below ${at(least.sure_Nm)}`
      : 'rings turn at any torque',
    ...(keeps ? [`clamp fades below ${at(keeps.possible_Nm)}`] : []),
    ...(slips && slips.isOutOfReach !== true ? [`unlocked it may work loose below ${at(slips.possible_Nm)}`] : []),
    `something may give above ${at(to_Nm)} (N·m)`,
  ].join(' | ');
}

/** What happens at the strip's low end, for its key. */
export function wordTooLittle({ least }: Pick<TorqueWindow, 'least'>): string {
  return least?.kind === 'clamp-lost' ? 'the clamp is lost' : 'rings turn';
}

/** How the bolts of a pivot that has several are tightened; undefined for one alone. */
export function wordPair(stackId: string, { pivots }: Pick<Analysis, 'pivots'>): string | undefined {
  const stacks = pivots.find((pivot) => pivot.stacks.some(({ id }) => id === stackId))?.stacks ?? [];
  const own = stacks.find(({ id }) => id === stackId);
  if (!own || stacks.length < 2) return undefined;
  const [both, one] = stacks.length === 2 ? ['both', 'a pair'] : ['all', `${stacks.length}`];
  return `One of ${one}: seat ${both}, then half the torque on ${both}, then ${wordTorque(own.tightening.torque_Nm)} here. One free check when ${both} are tight.`;
}

/** What of a pivot has a torque of its own once its axle has its; undefined where nothing has. */
export function wordSecuring(stackId: string, analysis: Analysis): string | undefined {
  const stacks = analysis.resolved.pivots.flatMap((pivot) => pivot.stacks);
  const row = stacks.find(({ id }) => id === stackId)?.row ?? [];
  const told = row.flatMap(({ id, torque_Nm, drive }) => {
    if (torque_Nm === undefined) return [];
    const item = `${stackId}/${id}`;
    const name = `${isPinched(item, analysis) ? 'the pinch bolt of ' : ''}${lower(nameOf(item, analysis))}`;
    return [`${name} ${wordTorque(torque_Nm)}${drive ? `, ${wordTool(drive)}` : ''}`];
  });
  return told.length === 0 ? undefined : `After the axle: ${told.join('; ')}.`;
}

/** What a window's mark for settling says. */
export function wordFades({ keeps }: Pick<TorqueWindow, 'keeps'>): string | undefined {
  return keeps && `${wordTorque(keeps.possible_Nm)}: below it the clamp fades as faces bed in`;
}

/** What a window's mark for slipping says; undefined where no torque within reach keeps the axle from it. */
export function wordSlips({ slips }: Pick<TorqueWindow, 'slips'>): string | undefined {
  return slips && slips.isOutOfReach !== true
    ? `${wordTorque(slips.possible_Nm)}: below it an axle without a lock may work loose`
    : undefined;
}

/** What the preload's band rests on. */
export function wordFriction({ friction }: Pick<TorqueCard, 'friction'>): string {
  const { treatment, thread, classes, wrenchScatter } = friction;
  const said = {
    dry: 'A dry thread',
    oiled: 'An oiled thread',
    greased: 'A greased thread',
    threadlocked: 'A threadlocked thread',
    'anti-seize': 'A thread with anti-seize paste',
  }[treatment];
  return `${said} has a friction of ${figure(thread.low, 2)} to ${figure(thread.high, 2)} (VDI 2230 friction ${classes.includes('-') ? 'classes' : 'class'} ${classes.replace('-', ' to ')}); the wrench may be off by ±${shareWord(wrenchScatter)} (ISO 6789).`;
}

/** The short form beside the long one. */
export function wordShortForm(short: ShortForm, tightening: TorqueCard['tightening']): string {
  const { low, spec, high } = tightening.preload_N;
  return (
    `Long form: ${wordForce(spec)} of preload, ${wordForce(low)} to ${wordForce(high)} as friction and wrench go; that is a nut factor of ${figure(short.ownFactor, 2)}. ` +
    `Beside it the short form with ${figure(short.published.nutFactor, 2)} (${short.published.surface}): ${wordForce(short.preload_N.spec_N)}, ${wordForce(short.preload_N.low_N)} to ${wordForce(short.preload_N.high_N)} with ±${shareWord(short.uncertainty)} on it. It decides nothing here.`
  );
}

function rangeWords({ from_Nm, to_Nm }: Pick<WrenchChoice, 'from_Nm' | 'to_Nm'>): string {
  return `${figure(from_Nm, 1)} to ${figure(to_Nm, 1)} N·m`;
}

const FIT_WORDS: Readonly<Record<WrenchChoice['fit'], string>> = {
  good: 'serves well',
  'lowest-fifth': 'works in the lowest fifth of its range: a poor choice',
  'below-range': 'cannot be set so low',
  'above-range': 'does not reach so far',
};

/** One wrench and how it serves. */
export function wordChoice(choice: WrenchChoice): string {
  return `${rangeWords(choice)}: ${FIT_WORDS[choice.fit]}`;
}

/** What an adapter does to the setting; undefined without one. */
export function wordAdapter({ adapter, setting, torque_Nm }: WrenchAdvice): string | undefined {
  if (!adapter) return undefined;
  const change = setting['N·m'] - torque_Nm;
  const does =
    Math.abs(change) < 0.005 ? 'changes nothing' : change < 0 ? 'makes the wrench longer' : 'makes the wrench shorter';
  return `For ${wordTorque(torque_Nm)} at the bolt: the adapter stands ${figure(adapter.angle_deg, 0)}° from straight ahead and ${does}. Hold the wrench at its grip mark.`;
}

/** Which wrench to take. */
export function wordTake({ best, choices }: WrenchAdvice): string {
  if (!best) return `None of these wrenches serves: ${choices.map(wordChoice).join('; ')}.`;
  return best.fit === 'good'
    ? `Take the wrench of ${rangeWords(best)}; it may be off by ±${shareWord(best.scatter)}.`
    : `Of these only the wrench of ${rangeWords(best)} reaches, in the lowest fifth of its range, where it reads poorly: find a smaller one.`;
}

/** What to set, on which wrench, and why. */
export function wordWrench(advice: WrenchAdvice): Worded {
  const setting = advice.setting['N·m'];
  const set = `Set ${wordTorque(setting)} (${wordOtherUnits(setting)}).`;
  return {
    title: `Set ${wordTorque(setting)}`,
    text: [set, wordAdapter(advice), wordTake(advice)].filter((words) => words !== undefined).join(' '),
  };
}

/** The torque for a wanted clamp, or why there is none. */
export function wordTorqueForClamp(found: TorqueForClamp | undefined, clamp_N: number, weakest: string): string {
  if (!found)
    return `No torque within reach puts ${wordForce(clamp_N)} on the ${weakest}: the column is not closed, or something gives first.`;
  const warning = found.passes
    ? ` That may pass a limit: ${lower(LIMIT_TITLES[found.passes.kind])} from ${wordTorque(found.passes.sure_Nm)}.`
    : '';
  return `For ${wordForce(clamp_N)} on the ${weakest}: ${wordTorque(found.torque_Nm)} at the usual friction, ${wordTorque(found.least_Nm)} if the thread rubs little, ${wordTorque(found.sure_Nm)} to be sure.${warning} The frame maker’s figure comes first.`;
}

/** Said loudly where a screw tightens anticlockwise. */
export function wordHabit({ tightening }: Pick<TorqueCard, 'tightening'>): string {
  return `Against habit: from the ${sideWord(tightening.stand)} this one tightens anticlockwise. Clockwise undoes it.`;
}

/** A dimension as a mechanic would ask for it. */
export function wordDimension(dimension: Dimension, analysis: Analysis): string {
  const [first, second] = dimension.items.map((id) => lower(nameOf(id, analysis)));
  const side = dimension.side === undefined ? '' : ` on the ${sideWord(dimension.side satisfies Side)}`;
  switch (dimension.kind) {
    case 'length':
      return `Length of ${first}`;
    case 'land-height':
      return `Land of ${first}`;
    case 'bearing-width':
      return `Width of ${first}`;
    case 'boss-width':
      return `Width of ${first}`;
    case 'seat-depth':
      return `Seat depth of ${first}${side}`;
    case 'behind-seat':
      return `Wall behind the seat of ${first}`;
    case 'between-seats':
      return `Distance between the shoulders of ${first}`;
    case 'span':
      return `Distance from ${first} to ${second}`;
    case 'step':
      return `Step of ${first} at ${mm(dimension.nominal_mm)}`;
    case 'thread-start':
      return `Start of the thread of ${first}`;
    case 'thread-depth':
      return `Thread depth of ${first}`;
  }
}

/** Limits of a dimension: `7 mm +0/−0.12`. */
export function wordDimensionLimits({ nominal_mm, lower_mm, upper_mm, basis }: Dimension): string {
  if (basis === 'measured')
    return `${mm(nominal_mm + (lower_mm + upper_mm) / 2)} measured, ±${figure((upper_mm - lower_mm) / 2, 2)}`;
  const signed = (value: number): string =>
    value > 0 ? `+${figure(value, 3)}` : value < 0 ? `−${figure(-value, 3)}` : '0';
  return Math.abs(lower_mm + upper_mm) < 1e-9
    ? `${mm(nominal_mm)} ±${figure(upper_mm, 3)}`
    : `${mm(nominal_mm)} ${signed(upper_mm)}/${signed(lower_mm)}`;
}

/** A chain: what it is about and what it adds up to. */
export function wordChain(
  chain: Pick<Chain, 'kind' | 'parts' | 'member' | 'sum' | 'isOneBoss'>,
  analysis: Analysis,
): Worded {
  const { sum } = chain;
  const ends = list([chain.parts[0]!, chain.parts.at(-1)!].map((id) => lower(nameOf(id, analysis))));
  const figures = `${mm(sum.mean_mm)} with every size in the middle of its tolerance. Nearly all sets of parts lie within ±${mm(sum.rss_mm)} of that; at worst it is ${mm(sum.worstLow_mm)} to ${mm(sum.worstHigh_mm)}`;
  if (chain.kind === 'room')
    return {
      title: 'Room left on the thread',
      text: `Once the column is closed the thread could run on by ${figures}. Below 0 it bottoms before it clamps.`,
    };
  const member =
    chain.member === undefined
      ? 'member'
      : lower((analysis.model.members[chain.member]?.name ?? chain.member).split(',')[0]!);
  return {
    title: `Span of ${member} between ${ends}`,
    text: `The column is short of its place by ${figures}. ${chain.isOneBoss ? 'Above 0 the two inner rings are pressed together, below 0 held apart: either loads the bearings sideways once their play is used up.' : `Tightening draws the ${member} in above 0 and pushes it out below.`}`,
  };
}

/** What a class of sets does, in a word or two. */
export function wordSetClass(name: SetClass): string {
  return { clamps: 'clamp', pinches: 'pinch', plays: 'play' }[name];
}

const REASONS: Readonly<Record<SetReason, string>> = {
  'inner-ring-loose': 'an inner ring is not clamped',
  'side-play': 'the column stays open',
  'bottoms-before-clamp': 'the thread bottoms first',
  'outer-ring-touched': 'an outer ring is touched',
  'arm-rubbed': 'an arm rubs',
  'arm-drawn': 'an arm is bent too far',
  'member-off-line': 'a member is pulled off its line',
  'bearing-side-loaded': 'a bearing carries too much side load',
};

/** What came of a sampling, in a few sentences. */
export function wordSampling(sampling: Sampling, dimensions: readonly Dimension[], analysis: Analysis): Worded {
  const { sets, counts, shares, reasons, blame } = sampling;
  const bad = sets - counts.clamps;
  const said = (name: SetClass): string => `${counts[name].toLocaleString('en-GB')} ${wordSetClass(name)}`;
  const [least, most] = [shareWord(1 - shares.clamps.high), shareWord(1 - shares.clamps.low)];
  const sure =
    bad === 0
      ? `fewer than ${most} do otherwise`
      : counts.clamps === 0
        ? 'no set clamps as it should'
        : `between ${least} and ${most} do not clamp as they should`;
  const why = Object.entries(reasons)
    .sort(([, a], [, b]) => b - a)
    .map(([reason, count]) => `${REASONS[reason as SetReason]} (${count.toLocaleString('en-GB')})`);
  const named = blame
    .slice(0, 3)
    .filter(({ share }) => share >= 0.05)
    .map(
      ({ dimension, share }) =>
        `${lower(wordDimension(dimensions.find(({ id }) => id === dimension)!, analysis))} (${shareWord(share)})`,
    );
  return {
    title: `Of ${sets.toLocaleString('en-GB')} sets of parts ${said('clamps')}, ${said('pinches')}, ${said('plays')}`,
    text: [
      `As far as so many sets can tell, ${sure}.`,
      ...(why.length > 0 ? [`Where they do not: ${why.join('; ')}.`] : []),
      ...(named.length > 0 ? [`What shows in those sets: ${list(named)}. Measure there first.`] : []),
      `Side load of the worst bearing: ${wordForce(sampling.sideLoad_N.mean)} on average, up to ${wordForce(sampling.sideLoad_N.most)}.`,
    ].join(' '),
  };
}

const SHIM_REFUSALS: Readonly<Record<ShimRefusal, string>> = {
  'on-seal': 'it would lie on the seal',
  'on-outer-ring': 'it would lie on the outer ring',
  overhangs: 'it would stand over the edge',
  'hole-too-small': 'no face is wide enough',
};

/** A place in a span and why a shim may or may not go there. */
function wordShimPlace(place: ShimPlace, analysis: Analysis): string {
  const between = list(place.between.map((id) => lower(nameOf(id, analysis))));
  return place.refusal === undefined
    ? `between ${between}`
    : `not between ${between}: ${SHIM_REFUSALS[place.refusal]} of ${lower(nameOf(place.against!, analysis))}; ${mm(place.widest_mm)} is the widest that will do`;
}

/** Places where a shim may not go, a sentence for each reason. */
function wordShut(places: readonly ShimPlace[], analysis: Analysis): string {
  const groups = new Map<string, Set<string>>();
  for (const { refusal, against, widest_mm } of places) {
    if (refusal === undefined) continue;
    const why = `${SHIM_REFUSALS[refusal]}. ${mm(widest_mm)} across is the most there.`;
    groups.set(why, (groups.get(why) ?? new Set()).add(lower(nameOf(against!, analysis))));
  }
  return [...groups].map(([why, names]) => ` Not beside ${[...names].join(' or ')}: ${why}`).join('');
}

function wordSpacer(spacer: SpacerAdvice, analysis: Analysis): string {
  const from =
    spacer.part === undefined
      ? `one turned to ${mm(spacer.length_mm)}`
      : `${lower(analysis.model.parts[spacer.part]?.name ?? spacer.part)}, which is on the parts list`;
  return `${from}, in place of ${lower(nameOf(spacer.replaces, analysis))}, now ${mm(spacer.now_mm)}`;
}

/** What would put a span right. */
export function wordShims(advice: ShimAdvice, analysis: Analysis): Worded {
  const { gap_mm, now } = advice;
  const off = gap_mm > 0 ? `${mm(gap_mm)} too short for its place` : `${mm(-gap_mm)} too long for its place`;
  const state =
    now === 'clamps'
      ? 'It still clamps as it is'
      : now === 'pinches'
        ? 'As it is the joint pinches'
        : 'As it is the joint has play';
  if (advice.what === 'none')
    return { title: 'Nothing to mend', text: `The column fits its span within 0.05 mm. ${state}.` };
  const spacers =
    advice.spacers.length > 0
      ? advice.spacers
          .map(
            (spacer, k) => ` ${advice.what === 'shim' || k > 0 ? 'Or take' : 'Take'} ${wordSpacer(spacer, analysis)}.`,
          )
          .join('')
      : '';
  if (advice.what === 'shim') {
    const ring = advice.ring!;
    const stack = advice.thicknesses_mm!.map((thickness) => `${figure(thickness, 2)} mm`).join(' and ');
    const open = advice.places
      .filter(({ refusal }) => refusal === undefined)
      .map((place) => wordShimPlace(place, analysis));
    const shut = wordShut(advice.places, analysis);
    const after =
      advice.becomes === 'clamps'
        ? ''
        : ` That alone does not do: the joint still ${advice.becomes === 'plays' ? 'has play' : 'pinches'}.`;
    return {
      title: `Shim of ${stack}`,
      text: `The column is ${off}. ${state}. Lay in a shim washer ${figure(ring.bore_mm, 1)} × ${figure(ring.outside_mm, 1)}, ${stack}, ${open.join('. Or lay it ')}. ${Math.abs(advice.leaves_mm!) < 0.005 ? 'That closes the gap.' : `${mm(Math.abs(advice.leaves_mm!))} is left.`}${after}${shut}${spacers}`,
    };
  }
  const shut = wordShut(advice.places, analysis);
  const isShut = advice.places.every(({ refusal }) => refusal !== undefined);
  const noShim =
    gap_mm < 0
      ? 'No shim shortens a column.'
      : advice.ring && !isShut
        ? 'A shim alone does not bring the joint to clamp.'
        : advice.ring
          ? `No standard shim washer (${figure(advice.ring.bore_mm, 1)} × ${figure(advice.ring.outside_mm, 1)}) may go in.${shut}`
          : 'No standard shim washer fits this axle.';
  return { title: 'Another spacer, no shim', text: `The column is ${off}. ${state}. ${noShim}${spacers}` };
}
