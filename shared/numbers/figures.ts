/**
 * Numbers as they are written, the side across, and a key that tells one content from another.
 *
 * The one place where a number becomes text: so many digits at the most, no trailing zeros behind the point, no minus
 * before nothing. Digits before the point are never cut: 50 stays 50.
 */

/** A finite number with at most `digits` (0 to 100) behind the point, no zeros at its end, and never −0. */
export function figure(value: number, digits = 2): string {
  const text = value.toFixed(digits);
  const tidy = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return tidy === '-0' ? '0' : tidy;
}

/** The side across from a side. */
export function otherSide(side: 'drive' | 'non-drive'): 'drive' | 'non-drive' {
  return side === 'drive' ? 'non-drive' : 'drive';
}

/**
 * A key of plain data: equal for equal content in equal order, whatever object holds it, and so the same after a
 * structured clone. 106 bits of two mixing hashes over the JSON text and its length: far more than a chance collision
 * needs among the models of a workshop.
 */
export function contentKey(data: unknown): string {
  const text = JSON.stringify(data);
  return `${text.length.toString(36)}-${mixed(text, 0x9e3779b9)}-${mixed(text, 0x85ebca6b)}`;
}

/** A 53-bit mix of a text, base 36: two 32-bit multiplicative hashes folded into one another. */
function mixed(text: string, seed: number): string {
  let [a, b] = [0xdeadbeef ^ seed, 0x41c6ce57 ^ seed];
  for (let k = 0; k < text.length; k++) {
    const code = text.charCodeAt(k);
    a = Math.imul(a ^ code, 2654435761);
    b = Math.imul(b ^ code, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return (4294967296 * (2097151 & b) + (a >>> 0)).toString(36);
}
