/**
 * Where in the text of a file a problem stands: line, column, and what is written there.
 *
 * A problem names its place by keys and indices; the text is walked once for all of them. What is missing stands where
 * it would belong: at the nearest thing around it that is there.
 */
import { harmless } from '../numbers/harmless.ts';
import { marksOf } from './text.ts';
import { writePath, type Problem } from './problems.ts';

/** A place in a text; line and column count from 1, in characters as they are seen. */
export interface Spot {
  readonly line: number;
  readonly column: number;
  /** The line, cut when long. */
  readonly text: string;
}

/** Longest part of a line that is shown, in characters, and how much of it stands before the place. */
const LONGEST_LINE = 72;
const BEFORE = 28;

/** The spot of each problem in the text that was read, which must be JSON; undefined for one about the whole file. */
export function spotsOf(text: string, problems: readonly Pick<Problem, 'path'>[]): readonly (Spot | undefined)[] {
  const starts = startsIn(text, new Set(problems.flatMap(({ path }) => around(path))));
  return problems.map(({ path }) => {
    const at = around(path)
      .map((each) => starts.get(each))
      .find((start) => start !== undefined);
    return at === undefined ? undefined : spotAt(text, at);
  });
}

/** A path, and all that lies around it, nearest first. */
function around(path: string): string[] {
  const found = [path];
  for (let rest = path; ; ) {
    const cut = Math.max(rest.lastIndexOf('.'), rest.lastIndexOf('['));
    if (cut <= 0) return found;
    rest = rest.slice(0, cut);
    found.push(rest);
  }
}

/** Where each wanted path begins: at its name in an object, at its bracket in an array. */
function startsIn(text: string, wanted: ReadonlySet<string>): Map<string, number> {
  const starts = new Map<string, number>();
  const open: { readonly isObject: boolean; step: string | number; awaitsName: boolean }[] = [];
  const note = (at: number): void => {
    const path = writePath(open.map(({ step }) => step));
    if (wanted.has(path)) starts.set(path, at);
  };
  for (const { sign, from, to } of marksOf(text)) {
    const here = open.at(-1);
    if (sign === '{' || sign === '[') {
      if (here && !here.isObject) note(from);
      open.push({ isObject: sign === '{', step: sign === '{' ? '' : 0, awaitsName: sign === '{' });
    } else if (sign === '}' || sign === ']') open.pop();
    else if (sign === ',' && here) {
      if (typeof here.step === 'number') here.step += 1;
      else here.awaitsName = true;
    } else if (sign === '"' && here && !here.isObject) note(from);
    else if (sign === '"' && here?.awaitsName) {
      here.step = JSON.parse(text.slice(from, to)) as string;
      here.awaitsName = false;
      note(from);
    }
  }
  return starts;
}

function spotAt(text: string, at: number): Spot {
  const before = text.slice(0, at).split(/\r\n|\r|\n/);
  const left = [...before.at(-1)!];
  const right = [...text.slice(at).split(/[\r\n]/, 1)[0]!];
  const shown = [...left.slice(-BEFORE), ...right].slice(0, LONGEST_LINE).join('').trim();
  const isCut = Math.min(left.length, BEFORE) + right.length > LONGEST_LINE;
  return {
    line: before.length,
    column: left.length + 1,
    text: harmless(`${left.length > BEFORE ? '…' : ''}${shown}${isCut ? '…' : ''}`),
  };
}
