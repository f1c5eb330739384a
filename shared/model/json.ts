/**
 * Why a text is not JSON, in our own words: where, what stands there, and what could.
 *
 * The parser of the machine says it in the words of its maker, another way on each. This one runs only on what that
 * one refused, walks the text once without building anything, and stops at the first fault. Grammar: RFC 8259.
 */
import { harmless } from '../numbers/harmless.ts';

/** The first fault of a text. Line and column count from 1, in characters as they are seen. */
export interface JsonFault {
  readonly line: number;
  readonly column: number;
  /** What stands there, and in which line. */
  readonly met: string;
  readonly allowed: string;
}

const VALUE = 'a value: a number, a text in double quotes, true, false, null, { or [';
const NAME = 'a name in double quotes';
const ESCAPES = 'one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX after a backslash';
/** Characters of the line shown before and behind the fault. */
const BEFORE = 30;
const BEHIND = 24;

/** Where the walk stands: what may come next. */
type Awaits = 'value' | 'first-value' | 'name' | 'first-name' | 'colon' | 'next';

/** The first fault of a text; undefined where it is JSON. */
export function jsonFault(text: string): JsonFault | undefined {
  const open: ('{' | '[')[] = [];
  let awaits: Awaits = 'value';
  let at = 0;
  const fault = (place: number, allowed: string, met?: string): JsonFault => located(text, place, allowed, met);
  for (;;) {
    while (at < text.length && ' \t\r\n'.includes(text.charAt(at))) at++;
    const sign = text.charAt(at);
    const inside = open.at(-1);
    if (awaits === 'next') {
      if (inside === undefined) return at === text.length ? undefined : fault(at, 'nothing more after the end');
      if (sign === ',') awaits = inside === '{' ? 'name' : 'value';
      else if (sign === closing(inside)) open.pop();
      else return fault(at, `“,” or “${closing(inside)}”`);
      at++;
    } else if (awaits === 'colon') {
      if (sign !== ':') return fault(at, '“:” after the name');
      awaits = 'value';
      at++;
    } else if (inside !== undefined && sign === closing(inside)) {
      if (awaits === 'value' && inside === '{') return fault(at, VALUE);
      if (!awaits.startsWith('first')) return fault(at, `no comma before “${sign}”`);
      open.pop();
      awaits = 'next';
      at++;
    } else if (sign === '"') {
      const end = stringEnd(text, at);
      if (typeof end !== 'number') return fault(end.at, end.allowed, end.met);
      awaits = awaits.endsWith('name') ? 'colon' : 'next';
      at = end;
    } else if (awaits.endsWith('name')) return fault(at, NAME);
    else if (sign === '{' || sign === '[') {
      open.push(sign);
      awaits = sign === '{' ? 'first-name' : 'first-value';
      at++;
    } else {
      PLAIN.lastIndex = at;
      if (!PLAIN.test(text)) return fault(at, VALUE);
      at = PLAIN.lastIndex;
      awaits = 'next';
    }
  }
}

/** A number, true, false or null. */
const PLAIN = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;

function closing(inside: '{' | '['): '}' | ']' {
  return inside === '{' ? '}' : ']';
}

/** Behind the closing quote of the text that starts at `from`, or what is wrong in it. */
function stringEnd(text: string, from: number): number | { at: number; allowed: string; met?: string } {
  for (let at = from + 1; at < text.length; at++) {
    const sign = text.charAt(at);
    if (sign === '"') return at + 1;
    if (sign < ' ')
      return { at, allowed: 'a double quote at the end of the text, in the same line', met: 'a line break or tab' };
    if (sign === '\\') {
      const escape = /^\\(?:["\\/bfnrt]|u[\da-fA-F]{4})/.exec(text.slice(at, at + 6));
      if (!escape) return { at, allowed: ESCAPES, met: `“${harmless(text.slice(at, at + 2))}”` };
      at += escape[0].length - 1;
    }
  }
  return { at: from, allowed: 'a double quote at its end', met: 'a text that does not end' };
}

function located(text: string, place: number, allowed: string, met?: string): JsonFault {
  const before = text.slice(0, place).split(/\r\n|\r|\n/);
  const start = before.at(-1)!;
  const rest = text.slice(place).split(/[\r\n]/, 1)[0]!;
  const [word = ''] = /^(?:[\p{L}\d_.+-]+|.)/u.exec(rest) ?? [];
  const found = met ?? (place >= text.length ? 'the end of the file' : `“${harmless(word.slice(0, BEHIND))}”`);
  // By characters as they are seen: a pair of halves is one.
  const [left, right] = [[...start], [...rest]];
  const line = harmless(
    `${left.length > BEFORE ? '…' : ''}${left.slice(-BEFORE).join('')}${right.slice(0, BEHIND).join('')}${right.length > BEHIND ? '…' : ''}`,
  ).trim();
  return {
    line: before.length,
    column: left.length + 1,
    met: line === '' ? found : `${found} in the line “${line}”`,
    allowed,
  };
}
