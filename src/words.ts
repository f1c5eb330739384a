/**
 * Words as they are written and typed, whatever they are about.
 */

/** A number as a person types it, comma or point; undefined for an empty field, NaN for what is none. */
export function readTyped(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return plain === '' ? undefined : Number(plain);
}
