/** Places in a draft as text, and what stands there. */
import type { SizePath } from '../envelope/draft.ts';
import { writePath } from '../model/problems.ts';

/** A path as text, the way a problem of a file names it: `parts.axle.shank[0].length_mm`. */
export function pathText(path: SizePath): string {
  return writePath(path);
}

/** The keys of a path that was written by `pathText`. */
export function pathKeys(path: string): SizePath {
  return path.split('.').flatMap((step): (string | number)[] => {
    const [key, ...indices] = step.split('[');
    return [key!, ...indices.map((index) => Number.parseInt(index, 10))];
  });
}

/** What stands at a path; undefined where nothing does. */
export function valueAt(data: unknown, path: SizePath): unknown {
  let at = data;
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

/** The same data with another value at a path, which must lead somewhere; undefined takes the key away. */
export function withValue<T>(data: T, path: SizePath, value: unknown): T {
  const [step, ...rest] = path;
  if (step === undefined) return value as T;
  if (Array.isArray(data)) return data.map((own, k) => (k === step ? withValue(own, rest, value) : own)) as T;
  const own = data as Record<string, unknown>;
  const inner = rest.length === 0 ? value : withValue(own[step] ?? {}, rest, value);
  const { [step as string]: _old, ...others } = own;
  if (inner === undefined) return others as T;
  return (Object.hasOwn(own, step) ? { ...own, [step]: inner } : { ...own, [step]: inner }) as T;
}

/** Set a value in data of our own. */
export function put(data: unknown, path: SizePath, value: unknown): void {
  let at = data as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) at = at[step] as Record<string | number, unknown>;
  const key = path.at(-1)!;
  if (value === undefined) delete at[key];
  else at[key] = value;
}
