/**
 * What the sentences of the build order share: members, axles and parts by name, counts, directions, lists cut to
 * length.
 */
import type { Stack } from '../model/schema.ts';
import type { PlanStep } from '../order/tasks.ts';
import type { MaterialFamily } from '../standards/index.ts';
import { MATERIALS } from '../standards/index.ts';
import type { Analysis, PlacedItem, StackAnalysis } from '../types.ts';
import { capital, list, lower } from './figures.ts';
import { nameOf, wordMeasure } from './fit.ts';

/** `one task`, `3 tasks`. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number === 1 ? 'one' : number} ${number === 1 ? one : many}`;
}

/** A length with its unit. */
export const mm = (value: number): string => wordMeasure({ value, unit: 'mm' });
/** An angle in whole degrees. */
export const degrees = (value: number): string => `${Math.round(value)}°`;

/** A unit or an obstacle in a sentence, without what stands behind a comma: `the rocker`. */
export function pieceName(id: string, analysis: Analysis): string {
  const { shock } = analysis.model;
  if (shock && (id === shock.body || id === shock.shaft)) return 'the shock';
  const name =
    analysis.model.members[id]?.name ?? analysis.model.obstacles?.find((obstacle) => obstacle.id === id)?.name ?? id;
  const [plain = name, side] = name.split(', ');
  const about = side === 'non-drive side' || side === 'drive side' ? ` on the ${side}` : '';
  return `the ${lower(plain)}${about}`;
}

/** A stack as analysed and as written. */
export interface Told {
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

/** All stacks of a bike. */
export function stacksOf(analysis: Analysis): readonly Told[] {
  return analysis.pivots.flatMap(({ stacks }) => stacks.map(({ id }) => stackIn(id, analysis)!));
}

/** A stack by its id. */
export function toldOf(stackId: string | undefined, analysis: Analysis): Told | undefined {
  return stackId === undefined ? undefined : stackIn(stackId, analysis);
}

/** What a pivot’s axle is called in a sentence: `“main pivot”`. */
export function stackName(stackId: string | undefined, analysis: Analysis): string {
  const name = toldOf(stackId, analysis)?.stack.name;
  return name === undefined ? 'the pivot' : `“${lower(name)}”`;
}

/** Direction of the side plane that something comes from, in words. */
export function fromWord(angle_rad: number): string {
  return [
    'the front',
    'the front and above',
    'above',
    'behind and above',
    'behind',
    'behind and below',
    'below',
    'the front and below',
  ][eighth(angle_rad)]!;
}

/** Direction of the side plane that something goes to, in words. */
export function towardWord(angle_rad: number): string {
  return [
    'forward',
    'forward and upward',
    'upward',
    'back and upward',
    'backward',
    'back and downward',
    'downward',
    'forward and downward',
  ][eighth(angle_rad)]!;
}

function eighth(angle_rad: number): number {
  return ((Math.round((angle_rad * 4) / Math.PI) % 8) + 8) % 8;
}

/** Items of a step's own stack. */
export function itemsOf(step: PlanStep, analysis: Analysis): PlacedItem[] {
  const own = toldOf(step.stackId, analysis);
  return step.items.flatMap((id) => own?.stack.items.find((item) => item.id === id) ?? []);
}

/** Names of items inside a sentence. */
export function names(items: readonly PlacedItem[], analysis: Analysis): string {
  return list(items.map(({ id }) => lower(nameOf(id, analysis))));
}

/** Most words of a list in one sentence: the rest goes into the next. */
const LISTED_WORDS = 26;

/** A long list as sentences of their own, each short enough to be read out. */
export function inSentences(told: readonly string[]): string {
  const sentences: string[][] = [];
  let words = Infinity;
  for (const one of told) {
    const more = one.split(' ').length;
    if (words + more > LISTED_WORDS) {
      sentences.push([]);
      words = 0;
    }
    sentences.at(-1)!.push(one);
    words += more;
  }
  return sentences.map((sentence) => `${capital(list(sentence))}.`).join(' ');
}

/** Items from the non-drive to the drive side. */
export function inRow(items: readonly PlacedItem[]): PlacedItem[] {
  return [...items].sort((one, other) => one.from_mm + one.to_mm - other.from_mm - other.to_mm);
}

/** Any item of the bike by its id. */
export function anyItem(id: string, analysis: Analysis): PlacedItem | undefined {
  return analysis.pivots
    .flatMap(({ stacks }) => stacks.flatMap(({ items }) => items))
    .find((candidate) => candidate.id === id);
}

/** A model with a wheel or anything that turns at the cranks is a bike; one without is a rig at a vice. */
export function isBike({ model }: Analysis): boolean {
  return model.wheel !== undefined || (model.obstacles ?? []).length > 0;
}

/** The frame by its name. */
export function frameName(analysis: Analysis): string {
  const frame = Object.entries(analysis.model.members).find(([, { kind }]) => kind === 'frame');
  return frame ? pieceName(frame[0], analysis) : 'the frame';
}

/** Families of what some members are made of, each once. */
export function familiesOf(members: readonly string[], analysis: Analysis): MaterialFamily[] {
  const keys = members.flatMap((id) => analysis.model.members[id]?.material ?? []);
  return [...new Set(keys.map((key) => MATERIALS[key].family))];
}
