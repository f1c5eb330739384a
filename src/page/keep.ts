/**
 * What the browser keeps for the page: texts under a key, for this tab or for good.
 *
 * Storage may be switched off, full or hold rubbish: then nothing is kept, and who asks is told so.
 */
type Where = 'localStorage' | 'sessionStorage';

/** A stored text, or null where there is none or storage is refused. */
export function recall(where: Where, key: string): string | null {
  try {
    return globalThis[where].getItem(key);
  } catch {
    return null;
  }
}

/** Store a text if the browser lets us; false if not. */
export function remember(where: Where, key: string, text: string): boolean {
  try {
    globalThis[where].setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

/** The entries of a stored object; none where the text says no such thing. */
export function entriesOf(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const data: unknown = JSON.parse(text ?? 'null');
    return typeof data === 'object' && data !== null ? (data as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}
