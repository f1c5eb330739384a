/**
 * Words for mistakes: what the mistake is, what it does in numbers, how it feels, and the one check that shows it.
 *
 * Sentences say no more than the solve gave: a face that touches without force 'may' be felt, a weight is 'estimated',
 * a build that passes 'passes the fit check'. Nothing here says that a bike may be ridden.
 */
import type { Part } from '../model/schema.ts';
import { everyPart } from '../model/variant.ts';
import { kindOf } from '../parts/kinds.ts';
import type { SizeCode } from '../parts/sizes.ts';
import type { RevealingCheck } from '../mistakes/check.ts';
import type { BenchFeel, Drag, LetGo } from '../mistakes/felt.ts';
import { KEYS_mm, LEAF_mm } from '../mistakes/limits.ts';
import type { Mistake, MistakeKind, Slot } from '../mistakes/list.ts';
import type { Filled, Placements } from '../mistakes/placements.ts';
import type { ArmBend, Assembly, TouchedFace, TrailEffect, TriedMistake } from '../mistakes/try.ts';
import type { Analysis, Finding, PlacedItem, Verdict } from '../types.ts';
import {
  VERDICT_WORDS,
  wordWeakest,
  nameOf,
  sideWord,
  wordFinding,
  wordForce,
  wordMarkedFace,
  wordMeasure,
  type Worded,
} from './fit.ts';
import { figure } from '../numbers/figures.ts';
import { anyItem } from './pieces.ts';
import { capital, lower } from './figures.ts';

/** A kind of mistake, as a filter shows it. */
export function wordMistakeKind(kind: MistakeKind): string {
  return {
    'left-out': 'Left out',
    turned: 'Turned round',
    swapped: 'Swapped',
    'other-part': 'Other axle or nut',
    'wrong-side': 'From the other side',
    'under-tightened': 'Too little torque',
    'over-tightened': 'Too much torque',
    'not-home': 'Bearing not home',
    two: 'Two at once',
    moved: 'In another place',
    several: 'Several at once',
  }[kind];
}

/** What a mistake's verdict is called. */
function wordMistakeVerdict({ verdict, assembly }: Pick<TriedMistake, 'verdict' | 'assembly'>): string {
  return assembly.goes === 'no' ? 'Does not go together' : VERDICT_WORDS[verdict];
}

/** The analysis with every item named as the mistake has it: a part that changed places keeps its own name. */
export function asMistaken(analysis: Analysis, mistake: Mistake): Analysis {
  const now = new Map<string, string>(
    mistake.slots.flatMap((slot) => (slot.now ? [[`${slot.stack}/${slot.row}`, slot.now.part]] : [])),
  );
  const added = new Map(
    mistake.changes.flatMap((change) => (change.what === 'part' ? [[change.part, change.after] as const] : [])),
  );
  const rename = (item: PlacedItem): PlacedItem => {
    const part = now.get(item.id);
    const known = part === undefined ? undefined : (added.get(part) ?? analysis.model.parts[part]);
    return known ? { ...item, part: part!, name: known.name } : item;
  };
  const come = (mistake.of ?? [mistake]).flatMap((single) => comeFrom(single, analysis));
  return {
    ...analysis,
    pivots: analysis.pivots.map((pivot) =>
      mistake.slots.some(({ stack }) => pivot.stacks.some(({ id }) => id === stack))
        ? {
            ...pivot,
            stacks: pivot.stacks.map((stack) => ({
              ...stack,
              items: [...stack.items.map(rename), ...come.filter(({ stackId }) => stackId === stack.id)],
            })),
          }
        : pivot,
    ),
  };
}

/** What a mistake has brought into a row from another one, as it stood there. */
function comeFrom({ kind, slots: [from, to] }: Mistake, { pivots }: Analysis): readonly PlacedItem[] {
  if (kind !== 'moved' || !from || !to) return [];
  const items = pivots.flatMap(({ stacks }) => stacks.flatMap((stack) => stack.items));
  const item = items.find(({ id }) => id === `${from.stack}/${from.row}`);
  const id = `${to.stack}/${to.row}`;
  return item && !items.some((one) => one.id === id) ? [{ ...item, id, stackId: to.stack, rowId: to.row }] : [];
}

/** The mistake in a line; `analysis` is that of the build as written. */
export function wordMistake(mistake: Mistake, analysis: Analysis): string {
  if (mistake.of)
    return mistake.of
      .map((single) => wordMistake(single, analysis))
      .map((words, k) => (k === 0 ? words : lower(words)))
      .join(', and ');
  const slot = mistake.slots[0]!;
  const name = slotName(slot, analysis);
  switch (mistake.kind) {
    case 'left-out':
      return `${name} left out`;
    case 'turned':
      return `${name} ${slot.row === 'receiver' ? 'put on back to front' : 'turned round'}`;
    case 'swapped': {
      const other = mistake.slots[1]!;
      const way = /:(as-drawn|turned)$/.exec(mistake.id)?.[1];
      const facing =
        way === undefined ? '' : `, small face to the ${sideWord(way === 'turned' ? 'drive' : 'non-drive')}`;
      if (mistake.also === undefined) return `${name} and ${lower(slotName(other, analysis))} swapped${facing}`;
      return `${name} swapped with ${lower(slotName(other, analysis))} of ${lower(pivotName(mistake.also, analysis))}${facing}`;
    }
    case 'other-part':
      return `${partOf(slot.now?.part, analysis)?.name ?? slot.now?.part} in place of ${lower(name)}`;
    case 'wrong-side': {
      const change = mistake.changes.find((one) => one.what === 'from');
      return `${name} put in from the ${change?.what === 'from' ? sideWord(change.after) : 'other side'}`;
    }
    case 'under-tightened':
    case 'over-tightened': {
      const change = mistake.changes.find((one) => one.what === 'torque');
      return change?.what === 'torque'
        ? `${name} tightened to ${setting(change.after)} instead of ${setting(change.before)}`
        : `${slot.part === undefined ? `Pinch bolt of ${lower(name)}` : name} left loose`;
    }
    case 'not-home': {
      const change = mistake.changes.find((one) => one.what === 'entry');
      const off = change?.what === 'entry' ? (change.after?.proud_mm ?? 0) - (change.before.proud_mm ?? 0) : 0;
      return `${name} ${millimetre(off)} off its shoulder`;
    }
    case 'moved': {
      const to = mistake.slots[1] ?? slot;
      const change = mistake.changes.find((one) => one.what === 'row' && one.stack === to.stack);
      const place = change?.what === 'row' ? movedTo(to, change.after, analysis) : '';
      if (to.stack === slot.stack) return `${name} moved ${place}`;
      const axle = analysis.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === to.stack);
      return `${name} moved to ${lower(axle?.name ?? to.stack)}, ${place}`;
    }
    case 'two':
    case 'several':
      return name;
  }
}

/** Where a part of a row has gone, by its new neighbours. */
function movedTo({ stack, row }: Slot, entries: readonly { readonly id: string }[], analysis: Analysis): string {
  const at = entries.findIndex(({ id }) => id === row);
  const [before, after] = [entries[at - 1], entries[at + 1]];
  const neighbour = ({ id }: { readonly id: string }): string => lower(slotName({ stack, row: id }, analysis));
  if (before && after) return `between ${neighbour(before)} and ${neighbour(after)}`;
  return before ? 'to the drive-side end' : 'to the non-drive-side end';
}

/** Name of what the build as written has at a slot, told from the same part in another stack of the pivot. */
function slotName({ stack, row }: Slot, analysis: Analysis): string {
  const id = `${stack}/${row}`;
  const name = nameOf(id, analysis);
  const stacks = analysis.pivots.find((pivot) => pivot.stacks.some((one) => one.id === stack))?.stacks ?? [];
  const own = stacks.find((one) => one.id === stack);
  const twins = stacks.filter(
    (one) => one.id !== stack && one.items.some((item) => nameOf(item.id, analysis) === name),
  );
  if (!own || twins.length === 0) return name;
  const isTold = twins.every((one) => one.from !== own.from);
  return `${name} (${isTold ? own.from : own.name})`;
}

function pivotName(id: string, analysis: Analysis): string {
  return analysis.pivots.find((pivot) => pivot.id === id)?.name ?? id;
}

function partOf(id: string | undefined, analysis: Analysis): Part | undefined {
  return everyPart(analysis.model).find(([known]) => known === id)?.[1];
}

/** What a mistake does, ready to read. */
export interface WordedMistake {
  readonly title: string;
  /** The numbers in one line. */
  readonly brief: string;
  readonly verdict: string;
  /** What the clamp force does, what is touched, how far arms bend, what friction there is. */
  readonly does: readonly string[];
  readonly bench: string;
  readonly trail: string;
  readonly check: string;
  /** What the same swap does at the other pivot. */
  readonly elsewhere?: string;
}

/** All words of a row of the mistake table; `analysis` is that of the build as written. */
export function wordTried(row: TriedMistake, analysis: Analysis): WordedMistake {
  const mistaken = asMistaken(analysis, row.mistake);
  return {
    title: wordMistake(row.mistake, analysis),
    brief: wordBrief(row),
    verdict: wordMistakeVerdict(row),
    does: wordDoes(row, mistaken),
    bench: wordBench(row),
    trail: wordTrail(row),
    check: wordCheck(row.check, analysis),
    ...(row.elsewhere ? { elsewhere: wordElsewhere(row.elsewhere, analysis) } : {}),
  };
}

/** The row's numbers in one line. */
export function wordBrief(row: TriedMistake): string {
  if (row.assembly.goes === 'no') return capital(WHY_NOT[row.assembly.why]);
  const arm = row.arms[0];
  const load = row.sideLoads[0];
  const drag = heaviest(row.drags);
  const touched = [...new Set(row.touched.map(({ what }) => TOUCHED_WORDS[what]))];
  return [
    ...(row.assembly.goes === 'by-force' ? [`takes ${wordForce(row.assembly.push_N)} to put together`] : []),
    `clamp ${wordForce(row.clamp_N)} of ${wordForce(row.written_N)}`,
    ...(touched.length > 0 ? [`touches ${touched.join(', ')}`] : []),
    ...(arm && Math.abs(arm.bend_mm) >= WORTH.bend_mm
      ? [`arm ${bendWord(arm)} ${asFound(Math.abs(arm.bend_mm))}`]
      : []),
    ...(load && load.load_N >= WORTH.load_N ? [`side load ${wordForce(load.load_N)}`] : []),
    ...(row.open_mm > 0 ? [`${asFound(row.open_mm)} open`] : []),
    ...(drag && drag.torque_Nm.nominal >= WORTH.torque_Nm ? [`friction ${newtonMetre(drag.torque_Nm.nominal)}`] : []),
  ].join(' · ');
}

/** Below these a number is not worth a word. */
const WORTH = { bend_mm: 0.05, load_N: 20, torque_Nm: 0.005, force_N: 1 } as const;

const TOUCHED_WORDS: Readonly<Record<TouchedFace['what'], string>> = {
  'outer-ring': 'outer ring',
  seal: 'seal',
  arm: 'arm',
};

function heaviest(drags: readonly Drag[]): Drag | undefined {
  return [...drags].sort((a, b) => b.torque_Nm.nominal - a.torque_Nm.nominal)[0];
}

function bendWord({ bend_mm }: ArmBend): string {
  return bend_mm > 0 ? 'drawn in' : 'pushed out';
}

const WHY_NOT: Readonly<Record<Extract<Assembly, { goes: 'no' }>['why'], string>> = {
  'axle-blocked': 'the axle does not pass',
  'thread-on-this-side': 'the thread the axle must reach is on that side',
  'thread-opens-other-side': 'the thread opens to the other side',
  'thread-does-not-match': 'the threads do not match',
  'thread-does-not-reach': 'the thread does not reach',
  'no-room': 'the parts do not fit into their place',
  'not-in-line': 'a member is pushed out of line with its other pivots',
};

function wordDoes(row: TriedMistake, mistaken: Analysis): string[] {
  const { assembly } = row;
  if (assembly.goes === 'no') {
    const push =
      assembly.push_N === undefined
        ? ''
        : `, which would take ${wordForce(assembly.push_N)}, more than a lever or a mallet gives`;
    const off = assembly.off_mm === undefined ? '' : ` by ${asFound(assembly.off_mm)}`;
    return [`It does not go together: ${WHY_NOT[assembly.why]}${push}${off}.`];
  }
  return [
    ...(assembly.goes === 'by-force'
      ? [`It goes together only by force: ${wordForce(assembly.push_N)} before the axle is tight.`]
      : []),
    clampWords(row, mistaken),
    ...row.findings.flatMap((finding) =>
      finding.severity === 'note' || SAID_ELSEWHERE.has(finding.code)
        ? []
        : [wordMistakeFinding(finding, mistaken).text],
    ),
    ...bendWords(row, mistaken),
    ...dragWords(row.drags, mistaken),
    ...(row.verdict === 'sound' ? [passWords(row.mistake)] : []),
  ];
}

/** Findings whose numbers the other lines give. */
const SAID_ELSEWHERE: ReadonlySet<Finding['code']> = new Set([
  'inner-ring-loose',
  'arm-drawn',
  'bearing-side-loaded',
  'row-too-long',
  'estimate-used',
  'part-missing',
  'part-left-over',
  'turns-against-habit',
]);

/** A finding of a mistaken build: what is held against the written torque has words of its own. */
export function wordMistakeFinding(finding: Finding, mistaken: Analysis): Worded {
  if (finding.code !== 'clamp-too-low' || finding.about?.['against'] !== 'written')
    return wordFinding(finding, mistaken);
  const clamp = finding.numbers['clamp_N'];
  return {
    title: 'Clamped too weakly',
    text: `The ${wordWeakest(finding.stack!, mistaken)} carries ${clamp ? wordMeasure(clamp) : 'too little'}; even a thread that rubs hard would give ${finding.limit ? wordMeasure(finding.limit) : 'more'} at the written torque.`,
  };
}

function clampWords({ clamp_N, written_N, mistake }: TriedMistake, mistaken: Analysis): string {
  const weakest = wordWeakest(mistake.slots[0]!.stack, mistaken);
  if (clamp_N < WORTH.force_N) return `Nothing clamps the ${weakest}; as written it carries ${wordForce(written_N)}.`;
  const share = written_N > 0 ? Math.round((100 * clamp_N) / written_N) : 100;
  const same =
    Math.abs(share - 100) <= 2 && wordForce(clamp_N) === wordForce(written_N)
      ? mistake.kind === 'wrong-side'
        ? 'as from the written side'
        : 'as much as in the row as written'
      : `${share} % of the ${wordForce(written_N)} as written`;
  return `The ${weakest} carries ${wordForce(clamp_N)}, ${same}.`;
}

function bendWords({ arms, sideLoads }: TriedMistake, mistaken: Analysis): string[] {
  const arm = arms[0];
  const load = sideLoads[0];
  return [
    ...(arm && Math.abs(arm.bend_mm) >= WORTH.bend_mm
      ? [
          `${nameOf(arm.item, mistaken)} is ${bendWord(arm)} ${asFound(Math.abs(arm.bend_mm))}, which takes ${wordForce(arm.force_N)}.`,
        ]
      : []),
    ...(load && load.load_N >= WORTH.load_N
      ? [
          `${nameOf(load.item, mistaken)} is pushed sideways with ${wordForce(load.load_N)} by tightening alone${load.load_N > load.limit_N ? `, more than its limit of ${wordForce(load.limit_N)}` : `; its limit is ${wordForce(load.limit_N)}`}.`,
        ]
      : []),
  ];
}

const LET_GO: Readonly<Record<LetGo, string>> = {
  falls: 'it should still fall by itself',
  either: 'whether it falls by itself cannot be told',
  sticks: 'it stays where it is let go',
  'too-light': 'it is too light to tell by falling, so turn it by hand',
  'no-weight': 'there is no weight to hold that against, so turn it by hand',
};

function dragWords(drags: readonly Drag[], mistaken: Analysis): string[] {
  const rubbing = drags.filter(({ torque_Nm }) => torque_Nm.nominal >= WORTH.torque_Nm);
  if (drags.length > 0 && rubbing.length === 0) return ['Nothing that should turn is pressed, so nothing rubs.'];
  return rubbing.map(({ member, torque_Nm, hangs, weight, letGo }) => {
    const name = mistaken.model.members[member]?.name ?? member;
    const hung =
      hangs === undefined || hangs === member
        ? 'its own weight'
        : `the weight of ${lower(mistaken.model.members[hangs]?.name ?? hangs)}`;
    const against = weight
      ? ` Held level, ${hung} turns with an estimated ${span(weight.low_Nm, weight.high_Nm)}: ${LET_GO[letGo]}.`
      : ` ${capital(LET_GO[letGo])}.`;
    return `Faces pressed against ${lower(name)} rub with ${span(torque_Nm.low, torque_Nm.high)} when it turns.${against}`;
  });
}

function span(low: number, high: number): string {
  return `${torqueFigure(low)} to ${newtonMetre(high)}`;
}

/** A build that passes is not proof that it is meant. */
function passWords({ kind }: Mistake): string {
  switch (kind) {
    case 'swapped':
      return 'Either will do as far as the fit check goes.';
    case 'turned':
      return 'Either way round is right as far as the fit check goes.';
    case 'wrong-side':
      return 'The axle fits from either side. Look for yourself whether a chainring, a hose or the tool is in the way.';
    case 'over-tightened':
      return 'No face and no section of the axle passes its limit. The thread’s own strength is not checked here.';
    case 'other-part':
      return 'It fits as well as the written one. Check for yourself whether its tool, length and strength suit.';
    default:
      return 'The fit check finds nothing that stops it; the maker may know more.';
  }
}

const FEELS: Readonly<Record<BenchFeel, string>> = {
  'will-not-go': 'It will not go together by hand.',
  tight: 'The arm turns tight.',
  notchy: 'The bearing feels notchy: it is pushed sideways so hard that the balls dent their tracks.',
  play: 'There is side play.',
  'off-line': 'An arm or a member stands visibly off its line.',
  grazes: 'The wrench clicks as usual. A face touches without force: it may graze, or feel free.',
  drags: 'The bearing drags more than its seals do, since it is pushed sideways.',
  free: 'The wrench clicks as usual and the arm feels free.',
};

/** What a hand notices at the bench. */
function wordBench({ bench, assembly }: Pick<TriedMistake, 'bench' | 'assembly'>): string {
  if (assembly.goes === 'no') return 'You notice at once: it does not go together.';
  return bench.map((feel) => FEELS[feel]).join(' ');
}

/** The same in one or two words, for a table. */
export function wordFeel(feel: BenchFeel): string {
  return {
    'will-not-go': 'will not go',
    tight: 'tight',
    notchy: 'notchy',
    play: 'play',
    'off-line': 'off line',
    grazes: 'grazes',
    drags: 'drags',
    free: 'free',
  }[feel];
}

const ON_TRAIL: Readonly<Record<TrailEffect, string>> = {
  knocks: 'it knocks, and the wheel wanders',
  'axle-may-break': 'the axle may stretch or break',
  'thread-may-strip': 'the thread may strip',
  'works-loose': 'it may work loose',
  'ring-creeps': 'the inner ring creeps on the axle and wears it',
  drags: 'it drags and rubs faces away',
  'wears-early': 'bearings wear out early',
  'arm-strained': 'an arm is bent all the time',
  'clamp-fades': 'a face gives way and the clamp fades',
  'lets-water-in': 'a seal wears and lets water in',
  'spacer-off-centre': 'a spacer hangs off centre',
  'bearing-moves': 'the bearing moves in its seat',
};

/** What riding would do to it. */
function wordTrail({
  trail,
  assembly,
  verdict,
  findings,
}: Pick<TriedMistake, 'trail' | 'assembly' | 'verdict' | 'findings'>): string {
  if (assembly.goes === 'no') return 'It never gets there.';
  if (trail.length === 0) {
    if (verdict === 'sound') return 'The fit check finds nothing that would be felt.';
    return findings.some(({ severity }) => severity === 'warn')
      ? 'Nothing of it would be felt, and yet there is something to look at.'
      : 'An estimate decides whether anything is wrong.';
  }
  const said = trail.slice(0, 4).map((effect) => ON_TRAIL[effect]);
  return `${capital(said.length < 3 ? said.join(', and ') : `${said.slice(0, -1).join('; ')}; and ${said.at(-1)}`)}.`;
}

const SIZES: Readonly<Record<SizeCode, string>> = {
  bore: 'the bore',
  outside: 'the outside diameter',
  length: 'the length',
  'small-face': 'the small face',
  'large-face': 'the large face',
  land: 'the land’s diameter',
  'land-height': 'the land’s height',
  width: 'the width',
  head: 'the head’s diameter',
  'head-height': 'the head’s height',
  'under-head': 'the length under the head',
  shank: 'the thickest part of the shank',
  thread: 'the thread’s diameter',
  pitch: 'the thread’s pitch',
  turns: 'the turns in 10 mm',
  'thread-length': 'the thread’s length',
};

/** The one check that gives the mistake away; `analysis` is that of the build as written. */
export function wordCheck(check: RevealingCheck, analysis: Analysis): string {
  switch (check.kind) {
    case 'count':
      return `Count the tray: ${lower(partOf(check.part, analysis)?.name ?? check.part)} is left over.`;
    case 'calliper':
      return `Measure ${SIZES[check.size]} before it goes in: ${millimetre(check.right_mm)} is right, ${millimetre(check.wrong_mm)} is the other part.`;
    case 'feeler':
      return gapCheck(check, lower(nameOf(check.between[0], analysis)), lower(nameOf(check.between[1], analysis)));
    case 'depth':
      return `Before you build on, measure from the bearing’s face to the face of its boss. A bearing that is not home stands ${millimetre(check.wrong_mm)} further out.`;
    case 'look':
      if (check.at === 'place')
        return `Check the order of the row: ${lower(nameOf(check.item, analysis))} lies in another place.`;
      return check.at === 'head'
        ? `Check which side the head of ${lower(nameOf(check.item, analysis))} is on.`
        : check.at === 'part'
          ? `Look at ${lower(nameOf(check.item, analysis))}: no size tells the two apart, only the material or the shape.`
          : `Check which way ${check.at === 'land' ? 'the land' : `the ${wordMarkedFace(anyItem(check.item, analysis)?.kind ?? '')}`} of ${lower(nameOf(check.item, analysis))} points, before the next part hides it.`;
    case 'wrench':
      return `Put the torque wrench on once more, set to ${setting(check.torque_Nm)}: too weak turns on, too tight never moves.`;
    case 'hand':
      return 'None needed: do not force it.';
  }
}

/** The thickest thing of a workshop that goes into a gap: a hex key, a leaf of a feeler gauge, or nothing. */
function gapTool(gap_mm: number): string {
  const key = KEYS_mm.filter((size_mm) => size_mm <= gap_mm).at(-1);
  if (key !== undefined) return `a ${key} mm hex key`.replace('a 8 ', 'an 8 ');
  return gap_mm < LEAF_mm.least ? 'no leaf' : `a leaf of ${figure(Math.min(gap_mm, LEAF_mm.most))} mm`;
}

/** The gap that tells right from wrong, by what goes in; by its size where the same thing would go into both. */
function gapCheck({ right_mm, wrong_mm }: { right_mm: number; wrong_mm: number }, one: string, other: string): string {
  const [right, wrong] = [gapTool(right_mm), gapTool(wrong_mm)];
  if (right === wrong)
    return `Once tight, measure the gap between ${one} and ${other}: ${millimetre(right_mm)} is right, ${millimetre(wrong_mm)} is wrong.`;
  return `Once tight, try the gap between ${one} and ${other}. If right, ${right} goes in; if wrong, ${wrong}${wrong === 'no leaf' ? '' : ' at most'}.`;
}

function wordElsewhere({ pivot, verdicts }: NonNullable<TriedMistake['elsewhere']>, analysis: Analysis): string {
  const name = pivotName(pivot, analysis);
  const word = (verdict: Verdict): string =>
    ({ faulty: 'does not fit', unsure: 'is to be looked at', sound: 'passes the fit check' })[verdict];
  return verdicts.length === 1
    ? `${name} then ${word(verdicts[0]!)} as well.`.replace('passes the fit check as well', 'passes the fit check')
    : `${name} then ${verdicts.map(word).join(' or ')}, by which way round the spacer lies there.`;
}

/** Whether the build as written is the only way to lay the pivot's spacers, in words; one line for each other way. */
export function wordPlacements(found: Placements, analysis: Analysis): Worded & { readonly others: readonly string[] } {
  const others = found.passing.filter(({ isWritten }) => !isWritten);
  const isWrittenIn = found.passing.some(({ isWritten }) => isWritten);
  const ways = `${found.ways} ${found.ways === 1 ? 'way' : 'ways'} to lay its loose spacers, equal ones taken as one`;
  const short = found.isWhole ? '' : ' Not all of them were tried: there are too many.';
  if (found.ways === 1)
    return {
      title: 'There is only one way',
      text: 'The loose spacers of this pivot can be laid in one way only: equal ones may be exchanged.',
      others: [],
    };
  const rest = others.map(
    ({ filled, verdict }) =>
      `${filled.map((one) => filledWords(one, analysis)).join('; ')}${verdict === 'unsure' ? ` (${VERDICT_WORDS.unsure.toLowerCase()})` : ''}`,
  );
  if (!isWrittenIn) {
    const count = others.length === 0 ? 'none passes' : `${others.length} pass, the written one not among them`;
    return { title: 'The written way does not pass', text: `Of ${ways}, ${count}.${short}`, others: rest };
  }
  if (others.length === 0)
    return {
      title: 'It is the only way',
      text: `Of ${ways}, only the written one passes the fit check.${short}`,
      others: [],
    };
  return {
    title: others.length === 1 ? 'Another way passes as well' : 'Other ways pass as well',
    text: `Of ${ways}, ${others.length + 1} pass the fit check, the written one and ${others.length === 1 ? 'this one: either is right as far as the fit check goes' : 'these'}.${short}`,
    others: rest,
  };
}

function filledWords({ stack, row, part, turned }: Filled, analysis: Analysis): string {
  const known = analysis.model.parts[part];
  const face = known && kindOf(known).smallFace?.(known);
  const facing =
    face && `, ${wordMarkedFace(known.kind)} to the ${sideWord(turned === (face === 'first') ? 'drive' : 'non-drive')}`;
  return `${known?.name ?? part} in the place of ${lower(nameOf(`${stack}/${row}`, analysis))}${facing ?? ''}`;
}

/** A size that a calliper or a gauge is held against. */
function millimetre(value: number): string {
  return `${figure(value)} mm`;
}

/** A length that the fit check tells as well, rounded as there. */
function asFound(value: number): string {
  return wordMeasure({ value, unit: 'mm' });
}

/** The setting of a wrench, as the torque card says it. */
function setting(torque_Nm: number): string {
  return wordMeasure({ value: torque_Nm, unit: 'N·m' });
}

/** A torque to about two figures, without its unit. */
function torqueFigure(value: number): string {
  return figure(value, value >= 10 ? 1 : 2);
}

function newtonMetre(value: number): string {
  return `${torqueFigure(value)} N·m`;
}
