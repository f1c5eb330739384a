/**
 * The gate for all text that comes from outside: a name of a file, a label of a reading, a word of the command line.
 *
 * A terminal acts on control characters, and a page as well as a terminal on those that turn the way of reading round:
 * `axle` could be made to look like another part. Both kinds are written out, as `\u001b`, and so are characters that
 * nothing shows. Every other letter of every script passes as it is. Texts of a model pass where the reader ends.
 */

/** Control characters, line ends, signs of the way of reading, halves of pairs, and what has no width. */
const UNSEEN =
  /[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\p{Cs}\u00ad\u200b\u2060-\u2064\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;

/** A text on one line that nothing acts on. */
export function harmless(text: string): string {
  return text.replace(UNSEEN, writtenOut);
}

/** The same line by line: what a terminal is told may have more than one. */
export function harmlessLines(text: string): string {
  return text.replace(UNSEEN, (sign) => (sign === '\n' ? sign : writtenOut(sign)));
}

/** A text of a file that may be long: its line ends and tabs are spaces. */
export function harmlessText(text: string): string {
  return harmless(text.replace(/\s*[\t\r\n\u2028\u2029]\s*/gu, ' '));
}

function writtenOut(sign: string): string {
  const code = sign.codePointAt(0)!.toString(16);
  return code.length > 4 ? `\\u{${code}}` : `\\u${code.padStart(4, '0')}`;
}
