/**
 * The one store of the page: the state of `state.ts` behind a hook, its transitions as actions.
 */
import { create } from 'zustand';
import type { Side } from '../../shared/index.ts';
import type { OrderView } from '../build/order.ts';
import type { Route } from './route.ts';
import { followSettings, keepSettings, USUAL_SETTINGS, type Settings } from './settings.ts';
import * as turn from './state.ts';
import { askGpu } from '../scene/gpu.ts';

/** Transitions that are actions as they are. */
const TURNS = {
  pickPivot: turn.pickPivot,
  pickNextPivot: turn.pickNextPivot,
  pickStack: turn.pickStack,
  select: turn.select,
  pickPart: turn.pickPart,
  mark: turn.mark,
  stepTo: turn.stepTo,
  stepBy: turn.stepBy,
  planned: turn.plan,
  setFollow: turn.setFollow,
  setDirection: turn.setDirection,
  setScope: turn.setScope,
  tryWhatIf: turn.tryWhatIf,
  leaveWhatIf: turn.leaveWhatIf,
  editRow: turn.editRow,
  undoEdit: turn.undoEdit,
  redoEdit: turn.redoEdit,
  showAsWritten: turn.showAsWritten,
  setTravel: turn.setTravel,
  setReached: turn.setReached,
  goToPlace: turn.goToPlace,
  goBack: turn.goBack,
  openDraft: turn.openDraft,
  lookFrom: turn.lookFrom,
  backToBike: turn.backToBike,
  show: turn.show,
  opened: turn.open,
};

type Turns = typeof TURNS;
/** A transition without the state it starts from. */
type Act<T> = T extends (state: turn.AppState, ...asked: infer A) => turn.Change ? (...asked: A) => void : never;

type Actions = { readonly [K in keyof Turns]: Act<Turns[K]> } & {
  readonly light: (id: string | undefined) => void;
  readonly setApart: (apart: number) => void;
  readonly glideApart: (apart: number) => void;
  readonly setOrder: (order: OrderView) => void;
  readonly setJob: (job: string | undefined) => void;
  readonly stand: (side: Side) => void;
  readonly setCut: (cut: boolean) => void;
  readonly set: (settings: Partial<Settings>) => void;
  readonly setTab: (tab: turn.Tab) => void;
  readonly openDialog: (dialog: turn.DialogName | undefined) => void;
  readonly pictureDrew: () => void;
  /** The graphics have given up, or the server did not send what draws. */
  readonly pictureLost: (isNotSent?: boolean) => void;
  readonly pictureBack: () => void;
  readonly pictureAgain: () => void;
  readonly opening: () => void;
  /** `route`: what the address asked for, where that is what is not here. */
  readonly failed: (trouble: turn.Trouble, route?: Route) => void;
  readonly gotFile: (keptFile: turn.KeptFile) => void;
  readonly gotDraft: (draftFile: turn.KeptFile) => void;
  readonly tookDraft: () => void;
  readonly closeTrouble: () => void;
  readonly forgetUnknown: () => void;
};

type Store = turn.AppState & { readonly act: Actions };

/** The store; in a component `useApp((state) => …)`, elsewhere `useApp.getState()`. */
export const useApp = create<Store>((set, get) => ({
  ...turn.firstState(USUAL_SETTINGS, askGpu().hasWebGL ? 'ok' : 'missing'),
  act: {
    ...(Object.fromEntries(
      Object.entries(TURNS).map(([name, change]) => [
        name,
        (...asked: unknown[]) =>
          set((state) => (change as (state: turn.AppState, ...rest: unknown[]) => turn.Change)(state, ...asked)),
      ]),
    ) as { [K in keyof Turns]: Act<Turns[K]> }),
    light: (id) => {
      if (get().litId !== id) set({ litId: id });
    },
    setApart: (apart) => set((state) => turn.setApart(state, apart, false)),
    glideApart: (apart) => set((state) => turn.setApart(state, apart, true)),
    setOrder: (order) => set({ order }),
    setJob: (job) => set({ job }),
    stand: (side) => {
      if (get().stand !== side) set({ stand: side });
    },
    setCut: (cut) => set({ cut }),
    // Shown once it is kept, by who follows the settings.
    set: (settings) => void keepSettings(settings),
    setTab: (tab) => set({ tab }),
    openDialog: (dialog) => set({ dialog, keptFile: undefined }),
    pictureDrew: () => set((state) => ({ drawn: state.opened?.count ?? 0 })),
    pictureLost: (isNotSent = false) => set({ webgl: 'lost', isNotSent }),
    pictureBack: () => set((state) => (state.webgl === 'lost' ? { webgl: 'ok', drawn: turn.NOT_SINCE } : {})),
    // While a graphics process starts anew there is none for a moment: then the picture stays lost, and may be tried
    // again.
    pictureAgain: () => {
      if (askGpu().hasWebGL) set({ webgl: 'ok', drawn: 0 });
    },
    opening: () => set({ isOpening: true, trouble: undefined }),
    failed: (trouble, route) =>
      set((state) => ({ isOpening: false, trouble, ...(route ? turn.missing(state, route) : {}) })),
    gotFile: (keptFile) => set({ isOpening: false, keptFile, dialog: 'kept' }),
    gotDraft: (draftFile) => set((state) => ({ ...turn.openDraft(state, undefined), isOpening: false, draftFile })),
    tookDraft: () => set({ draftFile: undefined }),
    closeTrouble: () => set({ trouble: undefined }),
    forgetUnknown: () => set({ unknownKeys: [] }),
  },
}));

/** What a panel may do: the same functions as long as the page lives. */
export const { act } = useApp.getState();

/** Take over what is kept for this device, and whatever is set from now on; done once the first of it is there. */
export function loadSettings(): Promise<void> {
  return followSettings((settings) => useApp.setState({ settings }));
}
