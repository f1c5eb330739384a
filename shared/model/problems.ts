/**
 * What can be wrong with a model file, as data. `words/fit.ts` makes the sentences.
 *
 * `path` names the place the way a reader finds it in the file (`pivots[2].stacks[0].torque_Nm`); `met` is the value
 * found there, shortened; `allowed` says what would have been right.
 */
import { harmless } from '../numbers/harmless.ts';

export const PROBLEM_CODES = [
  'not-text',
  'not-json',
  'too-large',
  'too-deep',
  'forbidden-key',
  'unknown-key',
  'missing',
  'wrong-type',
  'out-of-range',
  'not-one-of',
  'bad-text',
  'bad-count',
  'duplicate-id',
  'no-such-part',
  'no-such-member',
  'no-such-bore',
  'no-such-stack',
  'no-such-point',
  'wrong-kind',
  'bearing-unknown',
  'bearing-contradicts',
  'impossible-size',
  'seat-missing',
  'groove-missing',
  'row-contradicts',
  'place-missing',
  'drive-missing',
] as const;
export type ProblemCode = (typeof PROBLEM_CODES)[number];

export interface Problem {
  readonly code: ProblemCode;
  readonly path: string;
  readonly met: string;
  readonly allowed: string;
  readonly suggestion?: string;
}

/** The problems of a file, as many as are told, and how many more were found. */
export interface Problems {
  readonly problems: readonly Problem[];
  readonly more: number;
}

/** Problems of one file that are told; a reader mends those first and reads the file again. */
export const MOST_PROBLEMS = 100;

/** Longest value or name shown whole, in characters. */
const LONGEST_SHOWN = 60;

/** A path of keys and indices as a reader would write it. */
export function writePath(path: readonly PropertyKey[]): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else text += text === '' ? showName(String(step)) : `.${showName(String(step))}`;
  }
  return text === '' ? '(the whole file)' : text;
}

/** A value as one short line, for `Problem.met`. */
export function showValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'number' || typeof value === 'bigint') return String(value);
  const text = JSON.stringify(value) ?? String(value);
  return showName(text);
}

/** A name of a file as one short line, cut when long. */
export function showName(name: string): string {
  const line = harmless(name);
  if (line === '') return '""';
  // A sign of two halves is not cut between them: a half alone is no text.
  return line.length > LONGEST_SHOWN ? `${line.slice(0, LONGEST_SHOWN - 3).replace(/[\ud800-\udbff]$/, '')}…` : line;
}

/** Of `known`, the name nearest to `met` by edit distance, when it is near enough to be what was meant. */
export function nearestName(met: string, known: readonly string[]): string | undefined {
  // Names of a file are short; a long text is no typing mistake and not worth the quadratic comparison.
  if (met.length > LONGEST_SHOWN) return undefined;
  let best: string | undefined;
  let bestDistance = Infinity;
  for (const name of known) {
    const distance = editDistance(met.toLowerCase(), name.toLowerCase());
    if (distance < bestDistance) {
      best = name;
      bestDistance = distance;
    }
  }
  return best !== undefined && bestDistance <= Math.max(2, Math.ceil(met.length * 0.4)) ? best : undefined;
}

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
