/**
 * The open tray behind a hook: kept in the browser's storage for each model, so that a reload or a flat battery in the
 * middle of a task loses nothing. Where storage is refused the tray lives as long as the page.
 */
import { create } from 'zustand';
import { type CalliperReading } from '../../shared/index.ts';
import { recall, remember } from '../page/keep.ts';
import {
  draftOf,
  EMPTY_TRAY,
  freshKey,
  MOST_DRAFTS,
  readTray,
  withText,
  writeTray,
  type Draft,
  type Field,
  type PartKindName,
  type TrayState,
  type Unit,
} from './tray.ts';

const KEY = 'axlewright.tray.';

interface TrayStore extends TrayState {
  readonly modelId: string | undefined;
  /** Key of the draft under the hand, and its field. */
  readonly hand: number | undefined;
  readonly field: Field | undefined;
  /** Key of the draft whose row is open. */
  readonly unfolded: number | undefined;
  /** The tray before something was last taken off it, to put it back. */
  readonly before: readonly Draft[] | undefined;
  /** False when the browser would not keep the tray. */
  readonly isKept: boolean;
  readonly openFor: (modelId: string) => void;
  readonly add: () => void;
  readonly addReadings: (readings: readonly CalliperReading[]) => void;
  readonly takeInHand: (key: number | undefined, field?: Field) => void;
  readonly setKind: (key: number, kind: PartKindName | undefined) => void;
  readonly type: (key: number, field: Field, text: string) => void;
  readonly goTo: (field: Field) => void;
  readonly remove: (key: number) => void;
  readonly putBack: () => void;
  readonly clear: () => void;
  readonly unfold: (key: number | undefined) => void;
  readonly setUnit: (unit: Unit) => void;
  readonly setAccuracy: (accuracy: string) => void;
  readonly setWear: (wear: boolean) => void;
}

/** The tray on the screen. */
export const useTray = create<TrayStore>((set, get) => {
  const change = (next: Partial<TrayStore>): void => {
    set(next);
    const { modelId, drafts, unit, accuracy, wear } = get();
    if (modelId !== undefined)
      set({ isKept: remember('localStorage', KEY + modelId, writeTray({ drafts, unit, accuracy, wear })) });
  };
  const changeDraft = (key: number, turn: (draft: Draft) => Draft): void =>
    change({ drafts: get().drafts.map((draft) => (draft.key === key ? turn(draft) : draft)) });
  return {
    ...EMPTY_TRAY,
    modelId: undefined,
    hand: undefined,
    field: undefined,
    unfolded: undefined,
    before: undefined,
    isKept: true,
    openFor: (modelId) => {
      if (get().modelId !== modelId)
        set({
          ...readTray(recall('localStorage', KEY + modelId)),
          modelId,
          hand: undefined,
          field: undefined,
          unfolded: undefined,
          before: undefined,
        });
    },
    add: () => {
      const { drafts } = get();
      if (drafts.length >= MOST_DRAFTS) return;
      const key = freshKey(drafts);
      change({ drafts: [...drafts, { key, texts: {} }], hand: key, field: undefined, unfolded: undefined });
    },
    addReadings: (readings) => {
      let { drafts } = get();
      for (const reading of readings.slice(0, MOST_DRAFTS - drafts.length))
        drafts = [...drafts, draftOf(reading, freshKey(drafts), get().unit)];
      change({ drafts, hand: undefined });
    },
    takeInHand: (hand, field) => set({ hand, field }),
    setKind: (key, kind) =>
      changeDraft(key, (draft) => {
        const { kind: _before, ...rest } = draft;
        return kind === undefined ? rest : { ...rest, kind };
      }),
    type: (key, field, text) => changeDraft(key, (draft) => withText(draft, field, text)),
    goTo: (field) => set({ field }),
    remove: (key) => {
      const { drafts, hand, unfolded } = get();
      change({
        drafts: drafts.filter((other) => other.key !== key),
        before: drafts,
        hand: hand === key ? undefined : hand,
        unfolded: unfolded === key ? undefined : unfolded,
      });
    },
    putBack: () => {
      const { before } = get();
      if (before) change({ drafts: before, before: undefined, hand: undefined });
    },
    clear: () => change({ drafts: [], before: get().drafts, hand: undefined, field: undefined, unfolded: undefined }),
    unfold: (unfolded) => set({ unfolded }),
    setUnit: (unit) => change({ unit }),
    setAccuracy: (accuracy) => change({ accuracy }),
    setWear: (wear) => change({ wear }),
  };
});
