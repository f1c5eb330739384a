/**
 * Words as they stand at the beginning of a line.
 */

/** With a capital letter first. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
