/**
 * What was said of each pivot, as long as the page lives: a look at the picture and back loses nothing; and how often
 * each thing goes wrong in this shop, which is kept.
 */
import { create } from 'zustand';
import { CAUSE_KINDS, type CauseKind, type FeltAnswer, type Priors } from '../../shared/index.ts';
import { openThing, type Thing } from '../page/keep.ts';

interface FeltStore {
  /** Answers by build and pivot, in the order they were given. */
  readonly said: Readonly<Record<string, readonly FeltAnswer[]>>;
  readonly say: (at: string, answers: readonly FeltAnswer[]) => void;
  /** Chances before anything is asked, where this shop has its own. */
  readonly own: Priors;
  readonly openOwn: () => void;
  /** Undefined: as it was written. */
  readonly setOwn: (kind: CauseKind, chance: number | undefined) => void;
}

const NAME = 'chances';

export const useFelt = create<FeltStore>((set) => {
  let opened: Promise<Thing> | undefined;
  const open = (): Promise<Thing> => {
    opened ??= openThing(NAME).then((thing) => {
      const give = (): void =>
        set({
          own: Object.fromEntries(
            CAUSE_KINDS.flatMap((kind) => {
              const value = thing.sum.fields.get(kind);
              return typeof value === 'number' && value > 0 && value <= 1 ? [[kind, value]] : [];
            }),
          ),
        });
      thing.watch(give);
      give();
      return thing;
    });
    return opened;
  };
  return {
    said: {},
    say: (at, answers) => set(({ said }) => ({ said: { ...said, [at]: answers } })),
    own: {},
    openOwn: () => void open(),
    setOwn: (kind, chance) => void open().then((thing) => thing.set({ [kind]: chance ?? null }, true)),
  };
});
