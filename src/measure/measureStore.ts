/**
 * The open draft behind a hook: a thing that is kept. What is on the screen is what is on the disk; only the text under
 * a typing hand stands there before.
 */
import { create } from 'zustand';
import { setSize, type Draft, type DraftModel, type SizeEntry, type Sum } from '../../shared/index.ts';
import { openThing, type Thing } from '../page/keep.ts';
import { act } from '../page/store.ts';
import { changedFields, draftFrom, fieldsOf, thingOf } from './kept.ts';

interface MeasureState {
  readonly id: string | undefined;
  readonly draft: Draft | undefined;
  /** The thing was opened and holds no draft. */
  readonly isGone: boolean;
  readonly sum: Sum | undefined;
  readonly steps: Thing['steps'];
  /** The stack in the hand, and the row id of the thing picked in it. */
  readonly stackId: string | undefined;
  readonly item: string | undefined;
  /** The size whose field is gone to. */
  readonly asked: string | undefined;
  readonly openFor: (id: string | undefined) => void;
  readonly pickStack: (stackId: string) => void;
  readonly pick: (item: string | undefined) => void;
  /** Another entry at a size; `isTyped`: one of a row of keys. False where it is no size of the draft. */
  readonly size: (path: string, entry: SizeEntry, isTyped?: boolean) => boolean;
  /** Another make than a draft on the screen has; what was typed since then stays. */
  readonly make: (from: Draft, model: DraftModel | undefined, item?: string) => void;
  readonly put: (change: (draft: Draft, set: typeof setSize) => Draft) => void;
  /** Take in hand what a size belongs to, and go to its field. */
  readonly ask: (stackId: string, item: string | undefined, path: string) => void;
  readonly undo: () => void;
  readonly redo: () => void;
}

const NONE_OPEN = {
  id: undefined,
  draft: undefined,
  isGone: false,
  sum: undefined,
  steps: { undo: 0, redo: 0 },
  stackId: undefined,
  item: undefined,
  asked: undefined,
} as const;

/** The draft on the screen. */
export const useMeasure = create<MeasureState>((set, get) => {
  let thing: Thing | undefined;
  let leave = (): void => undefined;
  const show = (): void => {
    if (!thing) return;
    const draft = draftFrom(thing.sum);
    const stacks = draft?.model.pivots.flatMap((pivot) => pivot.stacks) ?? [];
    const { stackId, item } = get();
    const stack = stacks.find(({ id }) => id === stackId) ?? stacks[0];
    const isThere = item === 'axle' || item === 'receiver' || stack?.row.some(({ id }) => id === item) === true;
    set({
      draft,
      isGone: draft === undefined,
      sum: thing.sum,
      steps: thing.steps,
      stackId: stack?.id,
      item: isThere && stack?.id === stackId ? item : undefined,
    });
  };
  const put = (next: Draft, isTyped = false): Promise<boolean> => {
    const { draft } = get();
    if (!draft || !thing) return Promise.resolve(false);
    return thing.set(changedFields(draft, next), isTyped);
  };
  return {
    ...NONE_OPEN,
    openFor: (id) => {
      if (id === get().id) return;
      leave();
      thing = undefined;
      set({ ...NONE_OPEN, id });
      let isLeft = false;
      leave = () => {
        isLeft = true;
      };
      if (id === undefined) return;
      void openThing(thingOf(id)).then((opened) => {
        if (isLeft) return;
        thing = opened;
        leave = opened.watch(show);
        show();
      });
    },
    pickStack: (stackId) => set({ stackId, item: undefined, asked: undefined }),
    pick: (item) => set({ item, asked: undefined }),
    size: (path, entry, isTyped = false) => {
      const { draft } = get();
      if (!draft) return false;
      void put(setSize(draft, path, entry), isTyped);
      return true;
    },
    make: (from, model, item) => {
      if (!thing || !model) return;
      const fields = changedFields(from, { ...from, model });
      void thing.set(fields).then(() => item !== undefined && set({ item }));
    },
    put: (change) => {
      const { draft } = get();
      if (draft) void put(change(draft, setSize));
    },
    ask: (stackId, item, path) => set({ stackId, item, asked: path }),
    undo: () => void thing?.undo(),
    redo: () => void thing?.redo(),
  };
});

/** Changes the make of a draft as it is shown. */
export function useMake(draft: Draft): (model: DraftModel | undefined, item?: string) => void {
  const make = useMeasure((state) => state.make);
  return (model, item) => make(draft, model, item);
}

/** A name that nobody else gives. */
export function freshId(): string {
  const [chance = 0] = crypto.getRandomValues(new Uint32Array(1));
  return chance.toString(36);
}

/** Keep a draft under a name that nobody else gives, and open it. */
export async function beginDraft(draft: Draft): Promise<void> {
  const id = `${draft.model.id.slice(0, 24)}-${freshId()}`;
  const thing = await openThing(thingOf(id));
  await thing.set(fieldsOf({ ...draft, model: { ...draft.model, id } }));
  act.openDraft(id);
}
