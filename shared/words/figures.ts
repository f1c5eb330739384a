/**
 * Small words of a sentence: a list with its 'and', a name's first letter, a share in per cent.
 */
import { figure } from '../numbers/figures.ts';

/** `a`, `a and b`, `a, b and c`; parted by semicolons where a name holds a comma of its own. */
export function list(words: readonly string[]): string {
  const comma = words.some((word) => word.includes(',')) ? '; ' : ', ';
  return words.length < 2
    ? (words[0] ?? '')
    : `${words.slice(0, -1).join(comma)}${words.length > 2 && comma === '; ' ? comma : ' '}and ${words.at(-1)}`;
}

/** As `list`, but of more than `most` only the first are named, and how many more there are. */
export function few(words: readonly string[], most = 3): string {
  return list(words.length > most ? [...words.slice(0, most - 1), `${words.length - most + 1} more`] : words);
}

/** A name inside a sentence: its first letter small unless it is a code such as M12. */
export function lower(name = ''): string {
  return /^[A-Z][a-z]/.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}

/** A text at the start of a sentence, behind a quotation mark too. */
export function capital(text: string): string {
  const at = text.startsWith('“') ? 1 : 0;
  return text.slice(0, at) + text.charAt(at).toUpperCase() + text.slice(at + 1);
}

/** A share in per cent with at most `digits` behind the point: `50 %`. */
export function percent(share: number, digits = 0): string {
  return `${figure(100 * share, digits)} %`;
}
