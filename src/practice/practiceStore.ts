/**
 * Who practises and what was done, behind a hook: the thing that is kept under these initials. Who it is, is picked anew
 * each time the page is loaded, since tablets go round.
 */
import { create } from 'zustand';
import { PRACTICE_THING, type Grade, type Sum } from '../../shared/index.ts';
import { listThings, openThing, type Thing } from '../page/keep.ts';
import { keptDone, progressOf, type Progress } from './progress.ts';

/** A drill that has been begun. */
export interface DrillAt {
  readonly kind: 'lay' | 'sight' | 'find';
  readonly of: string;
  readonly id: string;
  readonly seed: number;
}

interface PracticeStore {
  readonly initials: string | undefined;
  readonly progress: Progress;
  /** Initials that are known on this device. */
  readonly known: readonly string[];
  readonly drill: DrillAt | undefined;
  readonly lookAround: () => void;
  readonly begin: (initials: string) => void;
  readonly leave: () => void;
  readonly open: (drill: DrillAt | undefined) => void;
  /** Over when it is on the disk. */
  readonly keep: (run: { readonly grade: Grade; readonly tries: number; readonly minutes: number }) => Promise<void>;
}

const NONE: Progress = { cards: new Map(), done: [] };
const KIND = PRACTICE_THING;

/** Everybody whose practice is kept here. */
export async function everybody(): Promise<
  readonly { readonly initials: string; readonly sum: Sum; readonly progress: Progress }[]
> {
  return (await listThings())
    .filter(({ name }) => name.startsWith(KIND))
    .map(({ name, sum }) => ({ initials: name.slice(KIND.length), sum, progress: progressOf(sum) }))
    .sort((a, b) => (a.initials < b.initials ? -1 : 1));
}

/** A few letters that no other device gives. */
function freshKey(): string {
  return [...crypto.getRandomValues(new Uint8Array(4))].map((byte) => byte.toString(36)).join('');
}

/** The practice on the screen. */
export const usePractice = create<PracticeStore>((set, get) => {
  let thing: Thing | undefined;
  let leave = (): void => undefined;
  let kept: DrillAt | undefined;
  return {
    initials: undefined,
    progress: NONE,
    known: [],
    drill: undefined,
    lookAround: () => void everybody().then((all) => set({ known: all.map(({ initials }) => initials) })),
    begin: (initials) => {
      leave();
      void openThing(KIND + initials).then((opened) => {
        thing = opened;
        const show = (): void => set({ progress: progressOf(opened.sum) });
        leave = opened.watch(show);
        show();
        set({ initials });
      });
    },
    leave: () => {
      leave();
      thing = undefined;
      set({ initials: undefined, progress: NONE, drill: undefined });
      get().lookAround();
    },
    open: (drill) => set({ drill }),
    keep: async (run) => {
      const { drill } = get();
      // What a drill came to counts once, however often it is pressed.
      if (!drill || drill === kept) return;
      kept = drill;
      await thing?.set(keptDone({ ...run, drill: drill.id, at_ms: Date.now() }, freshKey()));
    },
  };
});
