/**
 * The open tray behind a hook: a thing that is kept for each model, so that a reload, a flat battery or a second tab in
 * the middle of a task loses nothing. What lies on the tray is what is on the disk; only the text that is being typed
 * stands in its field at once. Where nothing can be kept the tray lives as long as the page.
 */
import { create } from 'zustand';
import { type CalliperReading, type Sum } from '../../shared/index.ts';
import { openThing, type Thing } from '../page/keep.ts';
import {
  clashOf,
  draftOf,
  EMPTY_TRAY,
  keptDraft,
  keptField,
  keptTray,
  MOST_DRAFTS,
  readTray,
  takenOff,
  trayFrom,
  type Field,
  type PartKindName,
  type TrayState,
  type Unit,
} from './tray.ts';

const OLD_KEY = 'axlewright.tray.';

interface TrayStore extends TrayState {
  readonly modelId: string | undefined;
  /** Key of the draft under the hand, and its field. */
  readonly hand: number | undefined;
  readonly field: Field | undefined;
  /** Key of the draft whose row is open. */
  readonly unfolded: number | undefined;
  /** What is being typed, until it is kept. */
  readonly typing: { readonly key: number; readonly field: Field; readonly text: string } | undefined;
  readonly steps: Thing['steps'];
  readonly sum: Sum | undefined;
  readonly openFor: (modelId: string) => void;
  readonly add: () => void;
  readonly addReadings: (readings: readonly CalliperReading[]) => void;
  readonly takeInHand: (key: number | undefined, field?: Field) => void;
  readonly setKind: (key: number, kind: PartKindName | undefined) => void;
  readonly type: (key: number, field: Field, text: string) => void;
  readonly goTo: (field: Field) => void;
  readonly remove: (key: number) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly clear: () => void;
  readonly unfold: (key: number | undefined) => void;
  readonly setUnit: (unit: Unit) => void;
  readonly setAccuracy: (accuracy: string) => void;
  readonly setWear: (wear: boolean) => void;
}

const NOTHING_IN_HAND = { hand: undefined, field: undefined, unfolded: undefined, typing: undefined };

/** A key that no other tab or device gives: parts are told apart by it wherever their tray goes. */
function freshKey(): number {
  const [high = 0, low = 0] = crypto.getRandomValues(new Uint32Array(2));
  return (high % 0x100000) * 0x100000000 + low;
}

/** The tray on the screen. */
export const useTray = create<TrayStore>((set, get) => {
  let thing: Thing | undefined;
  let leave = (): void => undefined;
  const show = (): void => {
    if (!thing) return;
    const tray = trayFrom(thing.sum);
    const isThere = (key: number | undefined): boolean => tray.drafts.some((draft) => draft.key === key);
    const { hand, unfolded } = get();
    set({
      ...tray,
      sum: thing.sum,
      steps: thing.steps,
      hand: isThere(hand) ? hand : undefined,
      unfolded: isThere(unfolded) ? unfolded : undefined,
    });
  };
  const put = (...asked: Parameters<Thing['set']>): Promise<boolean> => thing?.set(...asked) ?? Promise.resolve(false);
  return {
    ...EMPTY_TRAY,
    ...NOTHING_IN_HAND,
    modelId: undefined,
    steps: { undo: 0, redo: 0 },
    sum: undefined,
    openFor: (modelId) => {
      if (thing?.name === `tray/${modelId}`) return;
      leave();
      thing = undefined;
      set({ ...EMPTY_TRAY, ...NOTHING_IN_HAND, modelId: undefined, sum: undefined });
      let isLeft = false;
      leave = () => {
        isLeft = true;
      };
      void openThing(`tray/${modelId}`, {
        where: 'localStorage',
        key: OLD_KEY + modelId,
        fieldsOf: (text) => {
          const tray = readTray(text);
          return tray.drafts.length === 0 ? {} : keptTray(tray);
        },
      }).then((opened) => {
        if (isLeft) return;
        thing = opened;
        leave = opened.watch(show);
        show();
        set({ modelId });
      });
    },
    add: () => {
      if (get().drafts.length >= MOST_DRAFTS) return;
      const key = freshKey();
      void put(keptDraft({ key, texts: {} })).then(() => set({ hand: key, field: undefined, unfolded: undefined }));
    },
    addReadings: (readings) => {
      const { drafts, unit } = get();
      const fresh = readings.slice(0, MOST_DRAFTS - drafts.length).map((one) => draftOf(one, freshKey(), unit));
      void put(Object.assign({}, ...fresh.map(keptDraft))).then(() => set({ hand: undefined }));
    },
    takeInHand: (hand, field) => set({ hand, field }),
    setKind: (key, kind) => void put(keptField(key, 'kind', kind)),
    type: (key, field, text) => {
      const typing = { key, field, text };
      set({ typing });
      void put(keptField(key, field, text), true).then(() => {
        if (get().typing === typing) set({ typing: undefined });
      });
    },
    goTo: (field) => set({ field }),
    remove: (key) => thing && void put(takenOff(thing.sum, [key])),
    undo: () => void thing?.undo(),
    redo: () => void thing?.redo(),
    clear: () => {
      const keys = get().drafts.map(({ key }) => key);
      if (thing && keys.length > 0) void put(takenOff(thing.sum, keys));
    },
    unfold: (unfolded) => set({ unfolded }),
    setUnit: (unit) => void put({ unit }),
    setAccuracy: (accuracy) => void put({ accuracy }, true),
    setWear: (wear) => void put({ wear }),
  };
});

/** What stands in a field: what is being typed, or what is kept. */
export function useFieldText(key: number, field: Field): string {
  return useTray(({ typing, drafts }) =>
    typing?.key === key && typing.field === field
      ? typing.text
      : (drafts.find((draft) => draft.key === key)?.texts[field] ?? ''),
  );
}

/** Values of a field that clash, the one that counts last; none where none do. */
export function useClash(key: number, field: Field): readonly (string | undefined)[] {
  const sum = useTray((state) => state.sum);
  return sum ? clashOf(sum, key, field) : [];
}
