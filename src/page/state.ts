/**
 * What the screen shows, and every way it changes, as plain functions.
 *
 * The picture follows from this state and nothing else. A transition takes a state and gives the part that changes; an
 * id that the open model does not have is never stored. `store.ts` puts the transitions behind one hook, `history.ts`
 * ties the state to the address bar.
 */
import {
  analyseReached,
  applyMistake,
  editModel,
  mistakeOf,
  type Analysis,
  type Follow,
  type LinkageModel,
  type PivotAnalysis,
  type PlacedItem,
  type Problem,
  type Mistake,
  type RowEdit,
  type Side,
  type Spot,
  type StackAnalysis,
  type StackEdit,
} from '../../shared/index.ts';
import { FIRST_VIEW, type OrderView } from '../build/order.ts';
import { standOf, turnedAt, type Run, type RunStep } from '../build/orderRun.ts';
import { PLANNING, runIn, type Planned } from '../build/planned.ts';
import {
  hasPicture,
  USUAL_VIEW,
  writeRoute,
  type Direction,
  type PlaceName,
  type Route,
  type Scope,
  type View,
} from './route.ts';
import type { Settings } from './settings.ts';
import { findMistake, lookAt, type WhatIf } from '../mistakes/mistakes.ts';
import { NO_EDITS, redo, undo, undoAll, withEdit, type Edits } from '../editor/edits.ts';
import { canMove, type TravelView } from '../travel/travel.ts';

/** Where the text of the open model came from. */
export type Source =
  | { readonly kind: 'bundled'; readonly id: string }
  | { readonly kind: 'file'; readonly name: string };

/** A model that has been read and analysed. `count` differs for every opening. */
export interface Opened {
  readonly analysis: Analysis;
  readonly text: string;
  readonly source: Source;
  readonly count: number;
}

/** Why a file did not open; the one that was open stays. */
export type Trouble =
  | {
      readonly kind: 'file';
      readonly name: string;
      readonly problems: readonly Problem[];
      readonly more: number;
      /** Where each problem stands in the text, where it stands in one place. */
      readonly spots?: readonly (Spot | undefined)[];
      /** Reads the file once more. */
      readonly again?: () => void;
    }
  | { readonly kind: 'program'; readonly name: string; readonly message: string }
  | { readonly kind: 'not-here'; readonly name: string }
  /** The server did not send it; `again` asks once more. */
  | { readonly kind: 'not-sent'; readonly name: string; readonly again: () => void };

export type Tab = 'steps' | 'the-row' | 'card';
/** A file of what was kept, opened by a hand and not yet taken in. */
export interface KeptFile {
  readonly name: string;
  readonly text: string;
}

export type DialogName =
  | 'menu'
  | 'find'
  | 'share'
  | 'kept'
  | 'pivot-sheet'
  | 'keys'
  | 'safety'
  | 'legend'
  | 'torque-list'
  | 'tolerance';

export interface AppState {
  readonly opened: Opened | undefined;
  /** The build that is shown instead of the written one, if any; `shownOf` gives the one in force. */
  readonly whatIf: WhatIf | undefined;
  /** The mistake that build began with where no edit says it, and what a hand has done to the rows since. */
  readonly base: Mistake | undefined;
  readonly edits: Edits;
  /** The picture shows the build as written for a moment, beside a what-if that stays. */
  readonly asWritten: boolean;
  /** Torques that were reached, N·m, by stack: what the torque card was told. */
  readonly reached: Readonly<Record<string, number>>;
  /** The moment of the travel that is shown instead of the bike as drawn, if any. */
  readonly travel: TravelView | undefined;
  /** What stands in place of the bike, if anything. */
  readonly place: PlaceName | undefined;
  /** What the build order's place shows. */
  readonly order: OrderView;
  /** A file of a draft, opened by a hand and not yet taken in. */
  readonly draftFile: KeptFile | undefined;
  /** The draft that is measured up in its place. */
  readonly draft: string | undefined;
  /** The job that is open in its place; none is the list of them. */
  readonly job: string | undefined;
  readonly isOpening: boolean;
  readonly trouble: Trouble | undefined;
  /** What the address asked for and is not here, and the address of what is shown instead. */
  readonly missing: { readonly route: Route; readonly shown: string } | undefined;
  /** A file of what was kept, to be taken in. */
  readonly keptFile: KeptFile | undefined;
  /** Keys of the address that mean nothing here, until the page has been told that they were read. */
  readonly unknownKeys: readonly string[];
  readonly pivotId: string | undefined;
  readonly stackId: string | undefined;
  /** 0 (tight) to 1 (fully apart). */
  readonly apart: number;
  /** The last change of `apart` is shown as a movement; a hand on the slider is followed at once. */
  readonly isGliding: boolean;
  /** Whose build order is followed, and the plan of the build as written by it. */
  readonly follow: Follow;
  readonly planned: Planned;
  /** Index into the run of steps; none means built. While the plan is not there, what the address asks for. */
  readonly step: number | undefined;
  readonly direction: Direction;
  readonly scope: Scope;
  readonly litId: string | undefined;
  readonly selectedId: string | undefined;
  /** Items of the finding that was tapped. */
  readonly marked: readonly string[];
  readonly cut: boolean;
  readonly view: View;
  /**
   * Counts the times a view was asked for: asking again for the same one brings a camera back that a hand has moved.
   */
  readonly looks: number;
  /** Side of the bike the person looks from. */
  readonly stand: Side;
  readonly settings: Settings;
  readonly webgl: 'ok' | 'missing' | 'lost';
  /** The picture is lost since the server did not send what draws it. */
  readonly isNotSent: boolean;
  /**
   * `count` of the opening the picture has drawn; 0 before its first frame, `NOT_SINCE` when it has come back and not
   * drawn since.
   */
  readonly drawn: number;
  readonly tab: Tab;
  readonly dialog: DialogName | undefined;
}

export type Change = Partial<AppState>;

/** What `drawn` is from the return of a lost picture to its next frame. */
export const NOT_SINCE = -1;

/** How far apart a pivot is when it is picked. */
export const PICKED_APART = 1;

const NOTHING_TRIED = { whatIf: undefined, base: undefined, edits: NO_EDITS, asWritten: false };

const NOTHING_PICKED: Change = {
  ...NOTHING_TRIED,
  travel: undefined,
  pivotId: undefined,
  stackId: undefined,
  step: undefined,
  litId: undefined,
  selectedId: undefined,
  marked: [],
};

/** One list for all: a new one at every look would never let the page come to rest. */
const NONE: readonly never[] = [];

const NOTHING_REACHED: AppState['reached'] = {};

/** The screen before any model is open. */
export function firstState(settings: Settings, webgl: AppState['webgl']): AppState {
  return {
    opened: undefined,
    ...NOTHING_TRIED,
    reached: NOTHING_REACHED,
    travel: undefined,
    place: undefined,
    order: FIRST_VIEW,
    draftFile: undefined,
    draft: undefined,
    job: undefined,
    isOpening: true,
    trouble: undefined,
    missing: undefined,
    keptFile: undefined,
    unknownKeys: NONE,
    pivotId: undefined,
    stackId: undefined,
    apart: 0,
    isGliding: false,
    follow: 'ours',
    planned: PLANNING,
    step: undefined,
    direction: 'build',
    scope: 'pivot',
    litId: undefined,
    selectedId: undefined,
    marked: [],
    cut: false,
    view: USUAL_VIEW,
    looks: 0,
    stand: 'drive',
    settings,
    webgl,
    isNotSent: false,
    drawn: 0,
    tab: 'card',
    dialog: undefined,
  };
}

/** The state as the picture has it: without the what-if while the build as written is looked at. */
export function seenIn(state: AppState): AppState {
  return state.asWritten && state.whatIf ? { ...state, whatIf: undefined } : state;
}

/** The build that is shown: that of the mistake looked at, else the written one. */
export function shownOf({ whatIf, opened }: AppState): Analysis | undefined {
  return whatIf?.analysis ?? opened?.analysis;
}

const told = new WeakMap<Analysis, { readonly words: string; readonly analysis: Analysis }>();

/**
 * The build that is shown as it is told: with the torques that were reached. Beside the shown one, so that a torque
 * that is typed moves verdicts and no picture. At the pivot of a mistake that is looked at nothing was reached.
 */
export function toldOf(state: AppState): Analysis | undefined {
  const shown = shownOf(state);
  const mistaken = state.whatIf && shown?.pivots.find(({ id }) => id === state.whatIf?.row.pivot);
  const reached = Object.entries(state.reached).filter(
    ([id]) => mistaken?.stacks.some((stack) => stack.id === id) !== true,
  );
  if (!shown || reached.length === 0) return shown;
  const words = JSON.stringify(reached);
  const known = told.get(shown);
  if (known?.words === words) return known.analysis;
  const analysis = analyseReached(shown, Object.fromEntries(reached));
  told.set(shown, { words, analysis });
  return analysis;
}

/** The picked pivot, if any. */
export function pivotOf(state: AppState): PivotAnalysis | undefined {
  return shownOf(state)?.pivots.find((pivot) => pivot.id === state.pivotId);
}

/** The stack of the picked pivot that row and card tell of. */
export function stackOf(state: AppState): StackAnalysis | undefined {
  const pivot = pivotOf(state);
  return pivot?.stacks.find((stack) => stack.id === state.stackId) ?? pivot?.stacks[0];
}

/** An item of the picked pivot by its scene id. */
export function itemOf(state: AppState, id: string | undefined): PlacedItem | undefined {
  if (id === undefined) return undefined;
  return pivotOf(state)
    ?.stacks.flatMap((stack) => stack.items)
    .find((item) => item.id === id);
}

/** With no pivot picked there is only the whole bike to step through. */
export function scopeOf(state: AppState): Scope {
  return state.pivotId === undefined ? 'bike' : state.scope;
}

/** The steps as they are gone through: of the picked pivot or the whole bike; none while the plan is not there. */
export function runOf(state: AppState): Run {
  return runIn(state.planned, scopeOf(state) === 'bike' ? undefined : state.pivotId, state.direction);
}

/** The step shown, or none when the pivot stands built or its plan is not there yet. */
export function stepOf(state: AppState): RunStep | undefined {
  return state.step === undefined ? undefined : runOf(state).steps[state.step];
}

/** A plan has come, or word that there is none; a step that the address asked for is shown where the plan has it. */
export function plan(state: AppState, planned: Planned): Change {
  const step = stepOf({ ...state, planned })?.step;
  if (!step || step.pivotId !== state.pivotId) return { planned, step: undefined };
  return { planned, stackId: step.stackId ?? state.stackId };
}

/** Follow our order or the maker's; its plan is asked for, and until it is there no step is shown. */
export function setFollow(state: AppState, follow: Follow): Change {
  return follow === state.follow
    ? {}
    : { follow, planned: PLANNING, step: undefined, order: { ...state.order, at: 0 } };
}

/** Pick a pivot, or none. */
export function pickPivot(state: AppState, id: string | undefined): Change {
  if (id === state.pivotId) return state.travel ? { travel: undefined } : {};
  const pivot = state.opened?.analysis.pivots.find((candidate) => candidate.id === id);
  if (!pivot) return { ...NOTHING_PICKED, apart: 0, isGliding: true };
  const isFirst = state.pivotId === undefined;
  return {
    ...NOTHING_PICKED,
    pivotId: pivot.id,
    stackId: pivot.stacks[0]?.id,
    ...(isFirst ? { apart: PICKED_APART, isGliding: true } : {}),
  };
}

/** Pick the pivot `by` places on in the list, round and round. */
export function pickNextPivot(state: AppState, by: 1 | -1): Change {
  const pivots = state.opened?.analysis.pivots ?? [];
  if (pivots.length === 0) return {};
  const at = pivots.findIndex((pivot) => pivot.id === state.pivotId);
  const next = at < 0 ? (by > 0 ? 0 : pivots.length - 1) : (at + by + pivots.length) % pivots.length;
  return pickPivot(state, pivots[next]?.id);
}

/** Tell of another stack of the picked pivot. */
export function pickStack(state: AppState, id: string): Change {
  const isKnown = pivotOf(state)?.stacks.some((stack) => stack.id === id) ?? false;
  return isKnown && id !== stackOf(state)?.id
    ? { stackId: id, selectedId: undefined, litId: undefined, marked: [] }
    : {};
}

/** Select an item, the same one again or none to let go; its stack comes to the row. */
export function select(state: AppState, id: string | undefined): Change {
  const item = itemOf(state, id);
  if (!item || id === state.selectedId) return { selectedId: undefined };
  // Who works the row stays at it.
  const tab = state.tab === 'the-row' ? state.tab : 'card';
  return { selectedId: item.id, stackId: item.stackId, marked: [], tab };
}

/** Pick a part of the row that is worked, one that was left out of it included, or let go of it. */
export function pickPart(state: AppState, id: string | undefined): Change {
  return id === state.selectedId ? {} : { selectedId: id, marked: [] };
}

/** Mark the items of a finding, or let go of them when they are marked already. */
export function mark(state: AppState, ids: readonly string[]): Change {
  const isSame = ids.length === state.marked.length && ids.every((id, k) => id === state.marked[k]);
  const first = itemOf(state, ids[0]);
  return isSame ? { marked: [] } : { marked: ids, ...(first ? { stackId: first.stackId } : {}) };
}

/** Set how far apart the picked pivot is; out of range is brought into it. */
export function setApart(state: AppState, apart: number, isGliding: boolean): Change {
  if (state.pivotId === undefined || !Number.isFinite(apart)) return {};
  return { apart: Math.min(Math.max(apart, 0), 1), isGliding };
}

/** Go round to the side a step is done from, where the picture follows it; from above both sides are seen. */
function goWith(state: AppState, step: RunStep): Change {
  const side = standOf(step);
  if (!state.settings.followsSide || side === 'bench' || side === state.stand || state.view === 'above') return {};
  return { ...lookFrom(state, side === 'drive' ? USUAL_VIEW : side), stand: side };
}

/** Show step `index` of the run, or the built pivot. Only the build as written has steps to follow. */
export function stepTo(state: AppState, index: number | undefined): Change {
  if (index === undefined) return { step: undefined };
  const { steps } = runOf(state);
  const at = Math.min(Math.max(Math.trunc(index), 0), steps.length - 1);
  const step = steps[at]?.step;
  if (!step) return {};
  const isElsewhere = step.pivotId !== state.pivotId;
  return {
    ...leaveWhatIf(state),
    ...goWith(state, steps[at]!),
    step: at,
    travel: undefined,
    // With no pivot picked it was the whole bike that was stepped through; picking one must not change that.
    scope: scopeOf(state),
    pivotId: step.pivotId,
    stackId: step.stackId,
    marked: [],
    // Where there is room for one panel, who steps wants to read the step, unless he watches the row.
    tab: state.tab === 'card' ? 'steps' : state.tab,
    ...(isElsewhere ? { selectedId: undefined, litId: undefined, apart: PICKED_APART } : {}),
  };
}

/** Go on or back by one step; back from the first is the built pivot, on from built is the first step here. */
export function stepBy(state: AppState, by: 1 | -1): Change {
  if (state.step !== undefined) return state.step + by < 0 ? stepTo(state, undefined) : stepTo(state, state.step + by);
  if (by < 0) return {};
  const here = runOf(state).steps.findIndex(({ step }) => step.pivotId === state.pivotId);
  return stepTo(state, Math.max(here, 0));
}

/** Walk the run the other way from where it stands. */
export function setDirection(state: AppState, direction: Direction): Change {
  if (direction === state.direction) return {};
  if (state.step === undefined) return { direction };
  const turned = { ...state, direction };
  const [build, strip] = direction === 'strip' ? [runOf(state), runOf(turned)] : [runOf(turned), runOf(state)];
  const done = turnedAt(
    build.steps.map(({ step }) => step),
    strip.steps.map((step) => step.strip!),
    state.step + 1,
    direction,
  );
  // All built is no step at all; all apart is the first step of building, since there is none before it.
  if (done === 0 && direction === 'strip') return { direction, step: undefined };
  return { direction, ...stepTo(turned, Math.max(done - 1, 0)) };
}

/** Step through this pivot, or through all; the step shown stays the same where both have it. */
export function setScope(state: AppState, scope: Scope): Change {
  if (scope === state.scope || state.pivotId === undefined) return {};
  const shown = stepOf(state);
  const widened = { ...state, scope };
  const at = shown ? runOf(widened).steps.findIndex((step) => step.id === shown.id) : -1;
  return { scope, step: at < 0 ? undefined : at };
}

/** Back one level: travel, part or finding, what-if, steps, pivot. */
export function goBack(state: AppState): Change {
  if (state.travel) return { travel: undefined };
  if (state.selectedId !== undefined || state.marked.length > 0) return { selectedId: undefined, marked: [] };
  if (state.whatIf) return leaveWhatIf(state);
  if (state.step !== undefined) return { step: undefined };
  return pickPivot(state, undefined);
}

/** Look from somewhere; from a side means standing on it, from elsewhere the picture tells. */
export function lookFrom(state: AppState, view: View): Change {
  return { view, looks: state.looks + 1, ...(view === 'drive' || view === 'non-drive' ? { stand: view } : {}) };
}

/** The whole bike, tight, from where it is first seen. */
export function backToBike(state: AppState): Change {
  return { ...pickPivot(state, undefined), ...lookFrom(state, USUAL_VIEW), cut: false };
}

/** Measure up a draft, or choose one. */
export function openDraft(state: AppState, draft: string | undefined): Change {
  return { ...goToPlace(state, 'measure'), draft, dialog: undefined, keptFile: undefined };
}

/** Go to another place of the page; a picture that was not there has to be drawn again. */
export function goToPlace(state: AppState, place: PlaceName | undefined): Change {
  if (place === state.place) return {};
  return { place, dialog: undefined, ...(hasPicture(place) && !hasPicture(state.place) ? { drawn: 0 } : {}) };
}

/** Show a moment of the travel, or the bike as drawn; what does not move has none. */
export function setTravel(state: AppState, view: TravelView | undefined): Change {
  if (!view) return { travel: undefined };
  const isEntered = state.travel === undefined;
  if (isEntered && !canMove(state.opened?.analysis)) return {};
  const share = Math.min(1, Math.max(0, view.share));
  return {
    travel: { ...view, share },
    ...(isEntered
      ? { step: undefined, selectedId: undefined, litId: undefined, marked: [], tab: 'card' as const }
      : {}),
  };
}

/** Tell which torque was reached at a stack of the open model, or that none is told. */
export function setReached(state: AppState, stackId: string, torque_Nm: number | undefined): Change {
  if (!hasStack(state, stackId) || state.reached[stackId] === torque_Nm) return {};
  const { [stackId]: _, ...others } = state.reached;
  return { reached: torque_Nm === undefined ? others : { ...others, [stackId]: torque_Nm } };
}

function hasStack({ opened }: AppState, stackId: string): boolean {
  return opened?.analysis.pivots.some(({ stacks }) => stacks.some(({ id }) => id === stackId)) ?? false;
}

/**
 * Show the build that a mistake of the picked pivot leaves instead of the written one; one that cannot be put together
 * is no build.
 */
export function tryWhatIf(state: AppState, mistakeId: string): Change {
  const { opened, pivotId } = state;
  const mistake = opened && findMistake(opened.analysis, pivotId, mistakeId);
  const whatIf = mistake && lookAt(opened.analysis, mistake);
  if (!whatIf || whatIf.row.assembly.goes === 'no') return leaveWhatIf(state);
  const edit = editFor(opened.analysis, mistake);
  return {
    ...NOTHING_TRIED,
    whatIf,
    ...(edit ? { edits: { done: [edit], undone: [] } } : { base: mistake }),
    stackId: mistake.slots[0]?.stack,
    step: undefined,
    selectedId: undefined,
    litId: undefined,
    marked: [],
  };
}

/** The edit by which a hand makes a listed mistake, so that it can be taken back like any other. */
function editFor({ model }: Analysis, mistake: Mistake): StackEdit | undefined {
  const [slot, other] = mistake.slots;
  if (!slot || mistake.also !== undefined || (other && other.stack !== slot.stack)) return undefined;
  const edits: Partial<Record<Mistake['kind'], RowEdit>> = {
    'left-out': { do: 'leave-out', item: slot.row },
    turned: { do: 'turn', item: slot.row },
    swapped: { do: 'swap', item: slot.row, with: other?.row ?? '' },
  };
  const edit = edits[mistake.kind];
  const edited = edit && editModel(model, [{ stack: slot.stack, edit }]);
  return edited && mistakeOf(model, mistake.pivot, edited.model)?.id === mistake.id
    ? { stack: slot.stack, edit }
    : undefined;
}

/** The rows of the picked pivot as edits leave them, or no change where one of them cannot be done. */
function lay(state: AppState, edits: Edits, base: Mistake | undefined): Change | undefined {
  const { opened, pivotId } = state;
  if (!opened || pivotId === undefined) return undefined;
  const { analysis } = opened;
  const own = analysis.pivots.find(({ id }) => id === pivotId)?.stacks ?? [];
  if (!edits.done.every(({ stack }) => own.some(({ id }) => id === stack))) return undefined;
  const edited = editModel(laidBase(analysis, base), edits.done);
  if (!edited) return undefined;
  const mistake = mistakeOf(analysis.model, pivotId, edited.model, base);
  return {
    base,
    edits,
    whatIf: mistake && lookAt(analysis, mistake),
    asWritten: false,
    step: undefined,
    travel: undefined,
    marked: [],
  };
}

/** The model that edits begin with: as written, or with the mistake that was being tried. */
function laidBase({ model }: Analysis, base: Mistake | undefined): LinkageModel {
  return base ? applyMistake(model, base) : model;
}

/** Do something to a row of the picked pivot; what cannot be done changes nothing. The part is then the picked one. */
export function editRow(state: AppState, edit: StackEdit): Change {
  const edits = withEdit(state.edits, edit);
  const laid = lay(state, edits, state.base);
  if (!laid || !state.opened) return {};
  const selectedId = editModel(laidBase(state.opened.analysis, state.base), edits.done)?.last;
  return { ...laid, stackId: edit.into ?? edit.stack, selectedId };
}

/** Take the last edit back. */
export function undoEdit(state: AppState): Change {
  const edits = undo(state.edits);
  return edits === state.edits ? {} : (lay(state, edits, state.base) ?? {});
}

/** Do the edit again that was taken back last. */
export function redoEdit(state: AppState): Change {
  const edits = redo(state.edits);
  return edits === state.edits ? {} : (lay(state, edits, state.base) ?? {});
}

/** Show the build as written in the picture, or what a hand has made of it again. */
export function showAsWritten({ whatIf }: AppState, asWritten: boolean): Change {
  return { asWritten: asWritten && whatIf !== undefined };
}

/** Back to the build as written; what a hand has done can be done again. */
export function leaveWhatIf({ whatIf, base, edits }: AppState): Change {
  if (!whatIf) return {};
  return {
    ...NOTHING_TRIED,
    ...(base ? {} : { edits: undoAll(edits) }),
    selectedId: undefined,
    litId: undefined,
    marked: [],
  };
}

/** A model has been opened; `route` says what of it to show. */
export function open(state: AppState, opened: Opened, route: Route): Change {
  const fresh: Change = {
    ...NOTHING_PICKED,
    opened,
    follow: route.follow ?? 'ours',
    planned: PLANNING,
    apart: 0,
    isGliding: false,
  };
  return {
    ...fresh,
    order: FIRST_VIEW,
    missing: undefined,
    ...show({ ...state, ...fresh }, route),
  };
}

/** Show of the open model what a route says; what the model does not have is left aside. */
export function show(state: AppState, route: Route): Change {
  const isSame = route.pivot === state.pivotId && triedWords(route) === triedWords(routeOf(state));
  return through(
    state,
    (now) => (isSame ? {} : leaveWhatIf(now)),
    (now) => showPlace(now, route),
    (now) => (isSame ? {} : tryAsked(now, route)),
    (now) => setTravel(now, route.travel),
    (now) => showPart(now, route),
    () => ({ unknownKeys: route.unknown ?? NONE, isOpening: false, trouble: undefined }),
  );
}

/** What an address says was tried, as text. */
function triedWords({ mistake, edits }: Route): string {
  return JSON.stringify([mistake, edits]);
}

/** The mistake and the edits that an address asks for. */
function tryAsked(state: AppState, { mistake, edits = NONE }: Route): Change {
  const tried = mistake === undefined ? {} : tryWhatIf(state, mistake);
  if (edits.length === 0) return tried;
  const now = { ...state, ...tried };
  return { ...tried, ...lay(now, { done: [...now.edits.done, ...edits], undone: [] }, now.base) };
}

/** The part an address tells of, of the pivot it names; a travel tells of none. */
function showPart(state: AppState, { part, pivot }: Route): Change {
  const item = pivot === state.pivotId && !state.travel ? itemOf(state, part) : undefined;
  return item ? { selectedId: item.id, stackId: item.stackId } : { selectedId: undefined };
}

/** Several transitions one after another, as one change. */
function through(state: AppState, ...turns: readonly ((now: AppState) => Change)[]): Change {
  return turns.reduce<Change>((change, turn) => ({ ...change, ...turn({ ...state, ...change }) }), {});
}

function showPlace(state: AppState, route: Route): Change {
  const looked: Change = {
    ...goToPlace(state, route.place),
    draft: route.draft,
    ...setFollow(state, route.follow ?? 'ours'),
    ...(route.order ? { order: route.order } : {}),
    job: route.job,
    reached: Object.fromEntries(Object.entries(route.reached ?? {}).filter(([id]) => hasStack(state, id))),
    direction: route.direction,
    scope: route.scope,
    cut: route.cut,
    ...(route.view === state.view ? {} : lookFrom(state, route.view)),
  };
  const pivot = state.opened?.analysis.pivots.find((candidate) => candidate.id === route.pivot);
  if (!pivot) {
    const isWhole = route.pivot === undefined && route.scope === 'bike';
    return {
      ...looked,
      ...NOTHING_PICKED,
      apart: 0,
      ...stepAsked({ ...state, ...looked, ...NOTHING_PICKED }, isWhole ? route.step : undefined),
    };
  }
  const stack = pivot.stacks.find((candidate) => candidate.id === route.stack) ?? pivot.stacks[0];
  const isSame = pivot.id === state.pivotId;
  const picked: Change = {
    ...looked,
    ...(isSame ? {} : NOTHING_PICKED),
    pivotId: pivot.id,
    stackId: stack?.id,
    apart: route.apart ?? PICKED_APART,
    step: undefined,
  };
  return { ...picked, ...stepAsked({ ...state, ...picked }, route.step) };
}

/** The step an address asks for: one of another pivot than it names is no step of this place. */
function stepAsked(there: AppState, step: number | undefined): Change {
  if (step === undefined) return { step };
  const asked: Change = { step, tab: 'steps' };
  return there.planned.is === 'running' ? asked : { ...asked, ...plan({ ...there, step }, there.planned) };
}

/** A build that is one of the listed mistakes goes by its name, any other by what was done. */
function triedIn({ whatIf, base, edits: { done } }: AppState): Pick<Route, 'mistake' | 'edits'> {
  if (!whatIf) return {};
  const { kind, id } = whatIf.row.mistake;
  if (done.length === 0 || (!base && !UNLISTED.includes(kind))) return { mistake: id };
  return { ...(base ? { mistake: base.id } : {}), edits: done };
}

/** Kinds of mistake that no list has: a row worked by hand. */
const UNLISTED: readonly Mistake['kind'][] = ['moved', 'several'];

/** The route that the address bar holds: of what is shown, or as it was asked for until anything is moved. */
export function routeOf(state: AppState): Route {
  const shown = shownRoute(state);
  const { missing } = state;
  return missing !== undefined && writeRoute(shown) === missing.shown ? missing.route : shown;
}

/** What stands for something that is not here, with the address it was asked for by. */
export function missing(state: AppState, route: Route): Change {
  return { missing: { route, shown: writeRoute(shownRoute(state)) } };
}

function shownRoute(state: AppState): Route {
  const { opened } = state;
  const pivot = pivotOf(state);
  const hasStacks = (pivot?.stacks.length ?? 0) > 1;
  return {
    ...(opened
      ? opened.source.kind === 'bundled'
        ? { model: opened.source.id }
        : { file: opened.analysis.model.id }
      : {}),
    ...(opened?.analysis.variant === undefined ? {} : { variant: opened.analysis.variant }),
    ...(state.place === undefined ? {} : { place: state.place }),
    ...(state.place === 'order' ? { order: state.order } : {}),
    ...(state.place === 'measure' && state.draft !== undefined ? { draft: state.draft } : {}),
    ...(state.place === 'job' && state.job !== undefined ? { job: state.job } : {}),
    ...(pivot ? { pivot: pivot.id, apart: state.apart } : {}),
    ...(pivot && hasStacks && state.stackId !== undefined ? { stack: state.stackId } : {}),
    ...(pivot && itemOf(state, state.selectedId) ? { part: state.selectedId! } : {}),
    ...(state.step === undefined ? {} : { step: state.step }),
    ...triedIn(state),
    ...(state.travel ? { travel: state.travel } : {}),
    ...(Object.keys(state.reached).length > 0 ? { reached: state.reached } : {}),
    ...(state.follow === 'ours' ? {} : { follow: state.follow }),
    direction: state.direction,
    scope: state.scope,
    view: state.view,
    cut: state.cut,
  };
}

/** Whether the screen shows what the state says, so that a picture of it may be taken. */
export function isReady(state: AppState): boolean {
  return (
    state.opened !== undefined &&
    !state.isOpening &&
    state.planned.is !== 'running' &&
    (state.webgl !== 'ok' || !hasPicture(state.place) || state.drawn === state.opened.count)
  );
}
