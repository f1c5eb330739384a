/**
 * Words for the sorting tray: what a loose part is, what it could as well be, what is wrong with a reading, and what to
 * measure next.
 *
 * A sentence says what the readings say and no more: a part that only its number tells is 'the likeliest', a pair that
 * differs by less than the calliper's accuracy 'cannot be told apart by what you measured'.
 */
import { kindOf, type PartKind } from '../parts/kinds.ts';
import { partSizes, wordsOfSize } from '../parts/measuring.ts';
import { SIZE_NAMES, type PartSizeName, type SizeName } from '../parts/sizes.ts';
import type { EyeGroup } from '../sort/by-eye.ts';
import type { MeasuredSize } from '../sort/measured.ts';
import type { SizeFit } from '../sort/misfit.ts';
import type { NextName, NextReading } from '../sort/next.ts';
import type { PartPlace } from '../sort/places.ts';
import type { CalliperReading, ReadingProblem, ReadingProblemCode } from '../sort/reading.ts';
import { CLOSE_ODDS, type Alternative, type Placement, type Tray, type TrayRow, type Worn } from '../sort/tray.ts';
import type { Analysis } from '../types.ts';
import { nameOf, sideWord, wordMarkedFace, wordTool, type Worded } from './fit.ts';
import { figure } from '../numbers/figures.ts';
import { anyItem } from './pieces.ts';
import { capital, list, lower, percent } from './figures.ts';
import type { LinkageModel } from '../model/schema.ts';
import { material } from '../standards/index.ts';

/** What a kind of part is called. */
export function wordKind(kind: PartKind): string {
  return kindOf({ kind }).noun.one;
}

/**
 * What a size is called; of a shanked part the length is the one under the head, of a nut the bore is its thread's
 * hole.
 */
export function wordSize(name: SizeName, kind?: PartKind): string {
  return wordsOfSize(name, kind).word;
}

/** A size as read: `5.48 mm`, or a count of turns. */
export function wordSizeValue(name: SizeName, value: number): string {
  return name === 'turns_in_10mm' ? `${figure(value, 1)} turns` : `${figure(value)} mm`;
}

/**
 * How one part differs from another, seen from the one: `2.5 mm shorter`. The difference is the other's less its own.
 */
export function wordDifference(
  { name, by }: { readonly name: PartSizeName; readonly by: number },
  kind?: PartKind,
): string {
  const word = wordsOfSize(name, kind).compared[by > 0 ? 0 : 1];
  return name === 'turns_in_10mm' ? `${figure(Math.abs(by), 1)} ${word}` : `${figure(Math.abs(by))} mm ${word}`;
}

/** What a reading is called: its label, else its number on the tray. */
export function wordReading(reading: CalliperReading, index: number): string {
  return reading.label === undefined ? `no. ${index + 1}` : `“${reading.label}”`;
}

/** Everything a reading says, on one line. */
export function wordReadingSizes(reading: CalliperReading): string {
  const words: string[] = [];
  for (const name of SIZE_NAMES) {
    const value = reading[name];
    if (value !== undefined) words.push(`${wordSize(name, reading.kind)} ${wordSizeValue(name, value)}`);
  }
  if (reading.slides_on !== undefined) words.push(`slides on ${reading.slides_on}`);
  if (reading.drive) words.push(`takes a ${wordTool(reading.drive)}`);
  const kind = reading.kind === undefined ? 'part' : wordKind(reading.kind);
  return `${reading.count > 1 ? `${reading.count} × ` : ''}${kind}${words.length > 0 ? `: ${words.join(', ')}` : ', not measured'}`;
}

/** How well a reading fits: what the size that fits worst is off by. */
function wordFit({ fit }: Pick<Placement, 'fit'>, kind?: PartKind): string {
  const worst = fit.sizes.reduce<SizeFit | undefined>(
    (most, size) => (most === undefined || Math.abs(size.accuracies) > Math.abs(most.accuracies) ? size : most),
    undefined,
  );
  if (!worst) return 'no size to go by';
  if (Math.abs(worst.accuracies) < 0.05) return 'fits in every size';
  const much = wordSizeValue(worst.name, Math.abs(worst.read - worst.nominal));
  return `off by ${much} at most (${wordSize(worst.name, kind)} ${wordSizeValue(worst.name, worst.read)}, listed ${wordSizeValue(worst.name, worst.nominal)})`;
}

/** A worn size in words. */
export function wordWorn({ name, read, nominal, gone_mm, limit_mm, isBeyond }: Worn, kind?: PartKind): string {
  const what = `${wordSize(name, kind)} ${wordSizeValue(name, read)} instead of ${wordSizeValue(name, nominal)}: worn by ${figure(gone_mm)} mm`;
  return isBeyond
    ? `${what}, more than the ${figure(limit_mm)} mm it may have lost. Do not fit it again.`
    : `${what}, within the ${figure(limit_mm)} mm it may lose.`;
}

/** How much likelier the placement is than an alternative. */
export function wordOdds(odds: number): string {
  if (odds < 1.5) return 'as likely';
  return odds >= CLOSE_ODDS * 0.999
    ? `less likely by ${CLOSE_ODDS} to 1`
    : `less likely by ${figure(odds, odds < 10 ? 1 : 0)} to 1`;
}

function nameIn(tray: Tray, id: string): string {
  return tray.candidates.get(id)?.name ?? id;
}

/** An alternative in a sentence of its own. */
export function wordAlternative(alternative: Alternative, row: TrayRow, tray: Tray): string {
  if (alternative.candidate === undefined)
    return `It could also be one too many, or no part of this bike (${wordOdds(alternative.odds)}).`;
  const name = nameIn(tray, alternative.candidate);
  if (row.placements.length === 0)
    return `It could be ${name} in place of what was taken for it (${wordOdds(alternative.odds)}).`;
  const telling =
    alternative.apart.find((difference) => row.reading[difference.name] === undefined) ?? alternative.apart[0];
  const tells = telling
    ? ` What tells them apart: ${name} is ${wordDifference({ ...telling, by: -telling.by }, tray.candidates.get(alternative.candidate)?.kind)}.`
    : ' The parts list gives both the same sizes: either will do where their places allow it.';
  return alternative.cannotBeTold
    ? `It could as well be ${name}: the two cannot be told apart by what you measured.${tells}`
    : `It could be ${name} (${wordOdds(alternative.odds)}).${tells}`;
}

/** What one reading turned out to be: a heading and a sentence. */
export function wordTrayRow(row: TrayRow, tray: Tray): Worded {
  const [main] = row.placements;
  if (!main) {
    if (row.looksLike !== undefined) {
      return {
        title: `Left over: looks like ${nameIn(tray, row.looksLike)}`,
        text: 'All the parts list calls for are found already. Count again, and look for a part that was swapped.',
      };
    }
    return {
      title: 'Fits nothing',
      text: 'No part of this bike and no standard bearing or thread in our tables has these sizes. Measure again. If the sizes are the same, it belongs to another bike.',
    };
  }
  const candidate = tray.candidates.get(main.candidate)!;
  const pieces =
    row.placements.length > 1 || main.pieces < row.reading.count ? `${main.pieces} of ${row.reading.count}: ` : '';
  const strange =
    candidate.from === 'standard' ? ' This bike’s parts list has none; the sizes are those of the standard.' : '';
  const others = row.placements
    .slice(1)
    .map(({ candidate: id, pieces: count }) => `${count} of them ${nameIn(tray, id)}`);
  const more =
    others.length === 0 ? [] : [` The parts list has not so many alike: ${others.join(', ')}. Measure each by itself.`];
  const over = row.leftOver > 0 ? ` ${row.leftOver} left over: the parts list calls for no more.` : '';
  const sure = row.isSure ? '' : row.alternatives.length > 0 ? 'Likeliest, not certain: ' : '';
  const last = row.byElimination ? ' By elimination: what else would fit these sizes is found already.' : '';
  return {
    title: `${pieces}${candidate.name}`,
    text: `${capital(`${sure}${wordFit(main, candidate.kind)}`)}.${last}${strange}${more.join('')}${over}`,
  };
}

/** One place of the build in words: pivot, side, neighbours, facing. */
export function wordPartPlace(place: PartPlace, analysis: Analysis): string {
  const pivot = analysis.pivots.find(({ id }) => id === place.pivotId)?.name ?? place.pivotId;
  const side = place.side === 'middle' ? 'in the middle' : sideWord(place.side);
  if (place.role === 'axle') return `${pivot}: goes in from the ${sideWord(place.from ?? 'drive')}`;
  if (place.role === 'receiver')
    return `${pivot}: on the ${place.side === 'middle' ? 'tip of the axle' : sideWord(place.side)}`;
  const facing =
    place.smallFace === undefined
      ? ''
      : `, ${wordMarkedFace(anyItem(place.itemId, analysis)?.kind ?? '')} to the ${sideWord(place.smallFace)}`;
  const between = place.between.map((id) => lower(nameOf(id, analysis)));
  return `${pivot}: ${side}, between ${between.join(' and ')}${facing}`;
}

/** The same place in a few words: the pivot, the side, which way it looks. */
export function wordPlaceBrief(place: PartPlace, analysis: Analysis): string {
  const pivot = analysis.pivots.find(({ id }) => id === place.pivotId)?.name ?? place.pivotId;
  if (place.role === 'axle') return `${pivot}, from the ${sideWord(place.from ?? 'drive')}`;
  const side = place.side === 'middle' ? 'middle' : sideWord(place.side);
  const facing =
    place.smallFace === undefined
      ? ''
      : `, ${wordMarkedFace(anyItem(place.itemId, analysis)?.kind ?? '')} to the ${sideWord(place.smallFace)}`;
  return `${pivot}, ${side}${facing}`;
}

/** Parts that look alike, and what tells them apart. */
export function wordEyeGroup({ parts, byMaterial, size }: EyeGroup, model: LinkageModel): Worded {
  const all = parts.flatMap((id) => (model.parts[id] ? [model.parts[id]] : []));
  const title = list(all.map(({ name }) => name));
  if (byMaterial) {
    const told = all.map((part) => ('material' in part ? material(part.material).family : part.kind));
    return { title, text: `Look at the material: ${list(told)}.` };
  }
  if (all.length < 2) return { title, text: 'No other part looks like it.' };
  if (size === undefined) return { title, text: 'No one size tells them all apart: put them on the tray.' };
  const told = all.map((part) => wordSizeValue(size, partSizes(part)[size]?.nominal ?? 0));
  return { title, text: `Measure the ${wordSize(size, all[0]?.kind)}: ${list(told)}.` };
}

/** How a size is taken, as an instruction. */
export function wordHow(name: NextName, kind?: PartKind): string {
  if (name === 'kind') return 'Look what it is';
  return name === 'drive' ? 'Try which tool fits without play' : wordsOfSize(name, kind).how;
}

/** The next measurement in words. */
export function wordNext(next: NextReading, tray: Tray): Worded {
  const { reading } = tray.rows[next.row]!;
  const kind = tray.candidates.get(next.between[0]!)?.kind;
  const what = next.name === 'kind' ? 'kind' : next.name === 'drive' ? 'drive' : wordSize(next.name, kind);
  const names = next.between.slice(0, 3).map((id) => nameIn(tray, id));
  const more = next.between.length - names.length;
  const among = list(more > 0 ? [...names, `${more} more`] : names);
  return {
    title: `Measure next: the ${what} of ${wordReading(reading, next.row)}${next.again ? ', once more' : ''}`,
    text: `${wordHow(next.name, kind)}. It tells ${among} apart: the likeliest is ${sureness(next.sureNow)} now, and should be ${sureness(next.sureAfter)} then.`,
  };
}

function sureness(share: number): string {
  return share > 0.999 ? 'over 99.9 %' : percent(share, share > 0.99 ? 1 : 0);
}

/** A missing part in words. */
export function wordMissing({ candidate, pieces }: Tray['missing'][number], tray: Tray): string {
  return `${pieces} × ${nameIn(tray, candidate)}`;
}

/** A size taken over into the task. */
export function wordMeasured(
  { part, name, nominal_mm, measured_mm }: MeasuredSize,
  analysis: Pick<Analysis, 'model'>,
): string {
  const known = analysis.model.parts[part];
  return `${known?.name ?? part}: ${wordSize(name, known?.kind)} ${wordSizeValue(name, measured_mm)} instead of ${wordSizeValue(name, nominal_mm)}`;
}

const PROBLEM_WORDS: Readonly<Record<ReadingProblemCode, string>> = {
  'not-readings': 'no readings',
  'too-many': 'too many readings',
  'unknown-column': 'unknown column',
  'unit-missing': 'the unit is missing',
  'column-twice': 'a column stands twice',
  'not-a-number': 'not a number',
  'out-of-range': 'out of range',
  'unknown-kind': 'no such kind of part',
  'unknown-drive': 'no such tool',
  'unknown-key': 'unknown key',
  'wrong-type': 'wrong kind of value',
  'says-nothing': 'the reading says nothing',
  'label-twice': 'the label is given twice',
  'bore-over-outside': 'the bore cannot be as wide as the outside',
  'bore-over-face': 'the bore cannot be as wide as the face around it',
  'small-over-large': 'the small face is larger than the large face: are the two swapped?',
  'face-over-outside': 'a face cannot be wider than the part',
  'shank-over-head': 'the shank cannot be thicker than the head',
  'thread-over-outside': 'the thread cannot be larger than what carries it',
  'pitch-over-thread': 'the pitch is too coarse for the thread',
  'pitch-against-count': 'the pitch and the count of turns contradict each other',
  'kind-lacks-size': 'a part of this kind has no such size',
  'no-such-axle': 'no axle of that name',
  'axle-not-measured': 'the axle it slides on has not been measured',
};

/** A problem of a reading as one sentence: where, what, what was met, what is allowed. */
export function wordReadingProblem({ code, row, label, field, met, allowed, suggestion }: ReadingProblem): string {
  const where = [row === undefined ? '' : `row ${row}`, label === undefined ? '' : `“${label}”`, field ?? '']
    .filter((part) => part !== '')
    .join(', ');
  const meant = suggestion === undefined ? '' : ` Did you mean “${suggestion}”?`;
  return `${where === '' ? '' : `${where}: `}${PROBLEM_WORDS[code]}: met ${met}, allowed: ${allowed}.${meant}`;
}

/** What is wrong, beside the field it is wrong in: no more than that, and what would be right where it is not plain. */
export function wordReadingTrouble({ code, allowed }: ReadingProblem): string {
  const isPlain = ![
    'out-of-range',
    'wrong-type',
    'unknown-drive',
    'unknown-kind',
    'pitch-over-thread',
    'pitch-against-count',
    'label-twice',
  ].includes(code);
  const words = capital(PROBLEM_WORDS[code]);
  return isPlain ? (words.endsWith('?') ? words : `${words}.`) : `${words}: ${allowed}.`;
}

/** What the tray rests on, in one sentence. */
export function wordSetting({ accuracy_mm, wear }: Tray['setting']): string {
  return `Calliper accuracy ± ${figure(accuracy_mm, 3)} mm (about 95 in 100 readings)${wear ? '; spacers may have worn shorter, their bores wider, shanks thinner' : '; wear left out'}.`;
}
