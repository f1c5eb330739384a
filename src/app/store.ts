/**
 * The one store of the page: the state of `state.ts` behind a hook, its transitions as actions.
 */
import { create } from 'zustand';
import type { Follow, Side } from '../../shared/index.ts';
import type { OrderView } from './order.ts';
import type { Planned } from './planned.ts';
import type { Direction, PlaceName, Route, Scope, View } from './route.ts';
import { loadSettings, saveSettings, type Settings } from './settings.ts';
import * as turn from './state.ts';
import type { TravelView } from './travel.ts';
import { hasWebGL } from './webgl.ts';

/** What a panel may do. */
export interface Actions {
  pickPivot: (id: string | undefined) => void;
  pickNextPivot: (by: 1 | -1) => void;
  pickStack: (id: string) => void;
  light: (id: string | undefined) => void;
  select: (id: string | undefined) => void;
  mark: (ids: readonly string[]) => void;
  setApart: (apart: number) => void;
  glideApart: (apart: number) => void;
  stepTo: (index: number | undefined) => void;
  stepBy: (by: 1 | -1) => void;
  planned: (planned: Planned) => void;
  setFollow: (follow: Follow) => void;
  setDirection: (direction: Direction) => void;
  setScope: (scope: Scope) => void;
  tryWhatIf: (slipId: string) => void;
  leaveWhatIf: () => void;
  setTravel: (view: TravelView | undefined) => void;
  goToPlace: (place: PlaceName | undefined) => void;
  setOrder: (order: OrderView) => void;
  goBack: () => void;
  lookFrom: (view: View) => void;
  stand: (side: Side) => void;
  setCut: (cut: boolean) => void;
  backToBench: () => void;
  show: (route: Route) => void;
  set: (settings: Partial<Settings>) => void;
  setTab: (tab: turn.Tab) => void;
  openDialog: (dialog: turn.DialogName | undefined) => void;
  stageDrew: () => void;
  stageLost: () => void;
  stageBack: () => void;
  stageAgain: () => void;
  opening: () => void;
  opened: (opened: turn.Opened, route: Route) => void;
  failed: (trouble: turn.Trouble) => void;
  closeTrouble: () => void;
}

export type Store = turn.AppState & { readonly act: Actions };

/** The store; in a component `useApp((state) => …)`, elsewhere `useApp.getState()`. */
export const useApp = create<Store>((set, get) => ({
  ...turn.firstState(loadSettings(), hasWebGL() ? 'ok' : 'missing'),
  act: {
    pickPivot: (id) => set((state) => turn.pickPivot(state, id)),
    pickNextPivot: (by) => set((state) => turn.pickNextPivot(state, by)),
    pickStack: (id) => set((state) => turn.pickStack(state, id)),
    light: (id) => {
      if (get().litId !== id) set({ litId: id });
    },
    select: (id) => set((state) => turn.select(state, id)),
    mark: (ids) => set((state) => turn.mark(state, ids)),
    setApart: (apart) => set((state) => turn.setApart(state, apart, false)),
    glideApart: (apart) => set((state) => turn.setApart(state, apart, true)),
    stepTo: (index) => set((state) => turn.stepTo(state, index)),
    stepBy: (by) => set((state) => turn.stepBy(state, by)),
    planned: (planned) => set((state) => turn.plan(state, planned)),
    setFollow: (follow) => set((state) => turn.setFollow(state, follow)),
    setDirection: (direction) => set((state) => turn.setDirection(state, direction)),
    setScope: (scope) => set((state) => turn.setScope(state, scope)),
    tryWhatIf: (slipId) => set((state) => turn.tryWhatIf(state, slipId)),
    leaveWhatIf: () => set((state) => turn.leaveWhatIf(state)),
    setTravel: (view) => set((state) => turn.setTravel(state, view)),
    goToPlace: (place) => set((state) => turn.goToPlace(state, place)),
    setOrder: (order) => set({ order }),
    goBack: () => set((state) => turn.goBack(state)),
    lookFrom: (view) => set((state) => turn.lookFrom(state, view)),
    stand: (side) => {
      if (get().stand !== side) set({ stand: side });
    },
    setCut: (cut) => set({ cut }),
    backToBench: () => set((state) => turn.backToBench(state)),
    show: (route) => set((state) => turn.show(state, route)),
    set: (settings) => {
      const next = { ...get().settings, ...settings };
      saveSettings(next);
      set({ settings: next });
    },
    setTab: (tab) => set({ tab }),
    openDialog: (dialog) => set({ dialog }),
    stageDrew: () => set((state) => ({ drawn: state.opened?.count ?? 0 })),
    stageLost: () => set({ webgl: 'lost' }),
    stageBack: () => set((state) => (state.webgl === 'lost' ? { webgl: 'ok', drawn: turn.NOT_SINCE } : {})),
    // While a graphics process starts anew there is none for a moment: then the stage stays lost, and may be tried again.
    stageAgain: () => {
      if (hasWebGL()) set({ webgl: 'ok', drawn: 0 });
    },
    opening: () => set({ isOpening: true }),
    opened: (opened, route) => set((state) => turn.open(state, opened, route)),
    failed: (trouble) => set({ isOpening: false, trouble }),
    closeTrouble: () => set({ trouble: undefined }),
  },
}));
