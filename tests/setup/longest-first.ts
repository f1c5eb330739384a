/**
 * In which order test files are run: the longest first, so that no fresh checkout ends with one of them alone. Which
 * those are is known by name; of the others, the larger file first.
 */
import { statSync } from 'node:fs';

/** Longest first; the slowest of a fresh checkout. */
const LONGEST = ['/pictures.spec.ts', '/app.spec.ts', '/kept.spec.ts', '/travel.spec.ts', '/picture.spec.ts'] as const;

interface TestFile {
  readonly moduleId: string;
}

/** As vitest wants it. */
export class LongestFirst {
  sort<T extends TestFile>(files: readonly T[]): Promise<T[]> {
    return Promise.resolve([...files].sort((one, other) => rank(one) - rank(other) || size(other) - size(one)));
  }

  shard<T extends TestFile>(files: readonly T[]): Promise<T[]> {
    return Promise.resolve([...files]);
  }
}

function rank({ moduleId }: TestFile): number {
  const at = LONGEST.findIndex((end) => moduleId.endsWith(end));
  return at === -1 ? LONGEST.length : at;
}

const size = ({ moduleId }: TestFile): number => statSync(moduleId).size;
