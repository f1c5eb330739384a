/**
 * What the text of a file tells beside its data: how deep it nests, and which names it gives twice.
 *
 * Both go wrong inside a JSON parser: a bomb of brackets makes it recurse, and of two entries with one name it keeps
 * the last without a word, so that a part copied and not renamed would be lost. The text is walked once, strings
 * skipped; nothing is built.
 */
import { writePath } from './problems.ts';

/** A bracket, a comma, or a whole string with its quotes; everything else between them is passed over. */
interface Mark {
  readonly sign: '{' | '}' | '[' | ']' | ',' | '"';
  readonly from: number;
  readonly to: number;
}

/** The marks of a text, in order. */
export function* marksOf(text: string): Generator<Mark> {
  for (let i = 0; i < text.length; i++) {
    const sign = text.charAt(i);
    if (sign === '"') {
      const from = i;
      for (i++; i < text.length && text.charAt(i) !== '"'; i++) if (text.charAt(i) === '\\') i++;
      yield { sign, from, to: i + 1 };
    } else if (sign === '{' || sign === '}' || sign === '[' || sign === ']' || sign === ',') {
      yield { sign, from: i, to: i + 1 };
    }
  }
}

/** Deepest level of brackets outside strings; the text need not be JSON. */
export function deepestNesting(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (const { sign } of marksOf(text)) {
    if (sign === '{' || sign === '[') deepest = Math.max(deepest, ++depth);
    else if (sign === '}' || sign === ']') depth--;
  }
  return deepest;
}

/** Characters looked at for how a file was saved. */
const LOOKED_AT = 400;

/** What a file holds that is no text in UTF-8, by what decoding it as UTF-8 has left; undefined for a text. */
export function noText(text: string): string | undefined {
  const start = text.slice(0, LOOKED_AT);
  const nuls = start.split('\0').length - 1;
  if (nuls === 0) return text.includes('\0') ? 'bytes that are no text' : undefined;
  // UTF-16 writes a Latin letter as the letter and a NUL; its mark at the start is two bytes that UTF-8 never has.
  const isMarked = start.startsWith('\ufffd\ufffd');
  const parity = (from: number): number => [...start].filter((sign, k) => k % 2 === from && sign === '\0').length;
  const isPaired = Math.max(parity(0), parity(1)) > 0.8 * Math.floor(start.length / 2) && start.length >= 4;
  return isPaired || (isMarked && nuls > start.length / 4) ? 'a text saved as UTF-16' : 'bytes that are no text';
}

/** A name that an object gives to more than one of its entries. */
export interface RepeatedName {
  readonly name: string;
  readonly path: string;
}

/** Every name given twice in one object of a JSON text; the text must have been parsed without error. */
export function repeatedNames(text: string): RepeatedName[] {
  const found: RepeatedName[] = [];
  const open: { readonly names?: Set<string>; step: string | number; awaitsName: boolean }[] = [];
  for (const { sign, from, to } of marksOf(text)) {
    const here = open.at(-1);
    if (sign === '{') open.push({ names: new Set(), step: '', awaitsName: true });
    else if (sign === '[') open.push({ step: 0, awaitsName: false });
    else if (sign === '}' || sign === ']') open.pop();
    else if (sign === ',' && here) {
      if (typeof here.step === 'number') here.step++;
      else here.awaitsName = true;
    } else if (sign === '"' && here?.names && here.awaitsName) {
      const name = JSON.parse(text.slice(from, to)) as string;
      here.step = name;
      here.awaitsName = false;
      if (here.names.has(name)) found.push({ name, path: writePath(open.map(({ step }) => step)) });
      here.names.add(name);
    }
  }
  return found;
}
