/**
 * What was said of each pivot of the build on the screen, and how often each thing goes wrong in this shop: both are
 * kept, and stand on the screen once they are on the disk.
 */
import { create } from 'zustand';
import { CAUSE_KINDS, type CauseKind, type FeltAnswer, type Priors, type Sum } from '../../shared/index.ts';
import { openThing, type Thing } from '../page/keep.ts';

type Answers = readonly FeltAnswer[];

interface FeltStore {
  /** Answers by pivot, in the order they were given; undefined until it is known what is kept. */
  readonly said: Readonly<Record<string, Answers>> | undefined;
  /** Have what was said of a build on the screen; the function returned lets go of it. */
  readonly openFor: (build: string) => () => void;
  readonly say: (pivotId: string, change: (said: Answers) => Answers) => void;
  /** Chances before anything is asked, where this shop has its own. */
  readonly own: Priors;
  readonly openOwn: () => void;
  /** Undefined: as it was written. */
  readonly setOwn: (kind: CauseKind, chance: number | undefined) => void;
}

const NAME = 'chances';
const WAYS: readonly unknown[] = ['yes', 'no', 'unsure'] satisfies FeltAnswer['is'][];

function isAnswer(value: unknown): value is FeltAnswer {
  const { key, is } = (typeof value === 'object' && value !== null ? value : {}) as Partial<FeltAnswer>;
  return typeof key === 'string' && WAYS.includes(is);
}

/** What is kept of a build, by pivot; what is no answer is left out. */
function saidIn({ fields }: Sum): Readonly<Record<string, Answers>> {
  return Object.fromEntries(
    [...fields].map(([pivotId, value]) => [pivotId, Array.isArray(value) ? value.filter(isAnswer) : []]),
  );
}

export const useFelt = create<FeltStore>((set) => {
  let felt: Thing | undefined;
  let last: Promise<unknown> = Promise.resolve();
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
    said: undefined,
    openFor: (build) => {
      let isLeft = false;
      let leave = (): void => undefined;
      void openThing(`felt/${build}`).then((thing) => {
        if (isLeft) return;
        felt = thing;
        const give = (): void => set({ said: saidIn(thing.sum) });
        leave = thing.watch(give);
        give();
      });
      return () => {
        isLeft = true;
        leave();
        felt = undefined;
        set({ said: undefined });
      };
    },
    say: (pivotId, change) => {
      const thing = felt;
      // A second tap may come before the first is on the disk: it goes on from what that one leaves.
      last = last.then(() => {
        const next = change(thing === undefined ? [] : (saidIn(thing.sum)[pivotId] ?? []));
        return thing?.set({ [pivotId]: next.map(({ key, is }) => ({ key, is })) });
      });
    },
    own: {},
    openOwn: () => void open(),
    setOwn: (kind, chance) => void open().then((thing) => thing.set({ [kind]: chance ?? null }, true)),
  };
});
