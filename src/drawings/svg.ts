/**
 * The few things SVG text needs: rounding, escaping, a tag, and an estimate of how wide a text will be.
 *
 * Everything is plain text, so that a drawing can be stored, compared and made without a browser. Numbers keep two
 * decimals (1/100 px, far below what a screen or a printer shows), so that stored drawings do not change with the last
 * bits of a computation. Lengths here are px of the drawing's view box.
 */

/** What an attribute may hold; `undefined` leaves the attribute out. */
export type AttributeValue = string | number | undefined;

/** A number as the drawing writes it: at most two decimals, never `-0`. */
export function px(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`section-svg: px met ${value}`);
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

// XML 1.0 section 2.2 forbids these even as character references.
const FORBIDDEN = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/g;
const LONE_SURROGATE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;

/** Text made safe for element content and for attributes in double quotes. */
export function escapeText(text: string): string {
  return text
    .replace(FORBIDDEN, '')
    .replace(LONE_SURROGATE, '\uFFFD')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}

/** One element; `inside` is SVG text already, not yet escaped words. */
export function tag(
  name: string,
  attributes: Readonly<Record<string, AttributeValue>>,
  ...inside: readonly string[]
): string {
  let open = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    open += ` ${key}="${typeof value === 'number' ? px(value) : escapeText(value)}"`;
  }
  const content = inside.join('');
  return content === '' ? `${open}/>` : `${open}>${content}</${name}>`;
}

/** A path through points; closed unless told otherwise. */
export function pathThrough(points: readonly (readonly [number, number])[], closed = true): string {
  const body = points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`).join('');
  return closed ? `${body}Z` : body;
}

/** Words at a place, escaped. */
export function words(
  text: string,
  x: number,
  y: number,
  attributes: Readonly<Record<string, AttributeValue>> = {},
): string {
  return tag('text', { x, y, ...attributes }, escapeText(text));
}

// Advance widths in em, measured once in Inter at weight 500 and taken a little wide, so that a stand-in font fits too.
const WIDTHS: readonly (readonly [string, number])[] = [
  ["ijlI.,:;'|!", 0.3],
  ['ft()[]r-/ ', 0.41],
  ['mwMW@%', 0.94],
  ['ABCDEFGHKNOPQRSTUVXYZ&', 0.74],
];
const EM = new Map(WIDTHS.flatMap(([letters, em]) => [...letters].map((letter) => [letter, em] as const)));
const USUAL_EM = 0.63;
// Anything beyond Latin may come from another font; East Asian letters fill a whole em.
const WIDE_EM = 1.05;

/** Width that `text` needs at `size_px`, estimated from above. */
export function textWidth(text: string, size_px: number): number {
  let em = 0;
  for (const letter of text) em += EM.get(letter) ?? ((letter.codePointAt(0) ?? 0) > 0x2e7f ? WIDE_EM : USUAL_EM);
  return em * size_px;
}

/** `text` cut with an ellipsis so that it needs no more than `width_px`. */
export function fitText(text: string, size_px: number, width_px: number): string {
  if (textWidth(text, size_px) <= width_px) return text;
  const letters = [...text];
  while (letters.length > 1 && textWidth(`${letters.join('')}…`, size_px) > width_px) letters.pop();
  return `${letters.join('').trimEnd()}…`;
}
