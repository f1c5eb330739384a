/**
 * A hand with a calliper: answers what a draft asks for from a model that it does not see, with the noise of its tool.
 */
import {
  asker,
  draftOf,
  setSize,
  sizesOf,
  type Draft,
  type DraftVerdict,
  type LinkageModel,
  type NextMeasure,
} from '../../shared/index.ts';
import { randomStream } from '../../shared/numbers/random.ts';

/** Reads what is asked for. */
export type Hand = (draft: Draft, next: Pick<NextMeasure, 'path' | 'compare' | 'accuracy'>, k: number) => Draft;

/** Standard deviations that an accuracy stands for. */
const DEVIATIONS = 2;

/** A hand that measures a model; the same seed reads the same. */
export function measuring(truth: LinkageModel, seed: number): Hand {
  const stream = randomStream(seed);
  const sizes = new Map(sizesOf(draftOf(truth)).map(({ path, band }) => [path, band.middle]));
  return (draft, { path, compare, accuracy }, k) => {
    // A reading is off by no more than its accuracy says.
    const noise = Math.max(-1, Math.min(1, stream.bell() / DEVIATIONS)) * accuracy;
    const rounded = (value: number): number => Math.round(value * 1000) / 1000;
    if (path !== undefined) {
      const value = sizes.get(path)!;
      return setSize(
        draft,
        path,
        accuracy === 0 ? value : { value: rounded(value + noise), accuracy, from: 'measured', by: 'hand' },
      );
    }
    const { terms, with: tool } = compare!;
    const value_mm = rounded(terms.reduce((sum, { size, times }) => sum + times * sizes.get(size)!, 0) + noise);
    return {
      ...draft,
      compared: [...(draft.compared ?? []), { id: `${k}`, with: tool, terms, value_mm, accuracy_mm: accuracy }],
    };
  };
}

/** What came of asking until nothing is asked any more. */
export interface Measured {
  readonly draft: Draft;
  readonly asked: readonly NextMeasure[];
  readonly verdicts: readonly DraftVerdict[];
}

/** Readings after which a hand gives up. */
const MOST = 400;

/** Measures what is asked for until nothing is. */
export function answered(start: Draft, hand: Hand): Measured {
  let draft = start;
  const asked: NextMeasure[] = [];
  const askOf = asker();
  for (;;) {
    const { next, verdicts } = askOf(draft);
    const [first] = next;
    if (!first || asked.length >= MOST) return { draft, asked, verdicts };
    draft = hand(draft, first, asked.length);
    asked.push(first);
  }
}

/** A draft with every size in mm read at its middle, and all else known. */
export function everySize(start: Draft, accuracy: number): Draft {
  return sizesOf(start).reduce(
    (draft, { path, band, unit }) =>
      setSize(draft, path, unit === 'mm' ? { value: band.middle, accuracy, from: 'measured' } : band.middle),
    start,
  );
}
