/**
 * What the build order's place shows, every way it changes, and its part of the address.
 *
 * `at` counts the steps done in the picture: 0 is the bike before the first step. The user's own order is held as the
 * places of its tasks in the list of all task ids from a to z, so that an address stays short and means the same
 * whatever order is recommended; one that names a task twice or not at all is no order and left aside.
 */

/** The four things the place tells, and the step itself where there is no room beside them. */
const ORDER_TABS = ['step', 'plan', 'own', 'access', 'variants'] as const;
export type OrderTab = (typeof ORDER_TABS)[number];

/** Putting the whole bike together, or taking it apart. */
export type Way = 'build' | 'strip';

/** What the slider goes through: the recommended order, the user's own, or what it takes to reach a part. */
const RUN_NAMES = ['plan', 'own', 'access'] as const;
export type RunName = (typeof RUN_NAMES)[number];

/** What is shown. */
export interface OrderView {
  readonly tab: OrderTab;
  readonly of: RunName;
  readonly way: Way;
  /** Steps done in the picture. */
  readonly at: number;
  /**
   * The user's own order, each number a task's place among the task ids from a to z; absent where it is the recommended
   * one.
   */
  readonly own?: readonly number[];
  /** Scene id of the part that is to be reached. */
  readonly access?: string;
  /** The variant whose order is compared; the model as written is empty. */
  readonly against?: string;
}

export const FIRST_VIEW: OrderView = { tab: 'plan', of: 'plan', way: 'build', at: 0 };

const MOST_TASKS = 4000;
const LARGEST_AT = 1e6;
const LONGEST_ID = 120;

/** The run that a tab tells of; of the tabs that tell of none, the recommended one. */
export function runOfTab(tab: OrderTab | undefined): RunName {
  return tab === 'own' || tab === 'access' ? tab : 'plan';
}

/** Add what is shown to the words of an address; what stands at its usual value is left out. */
export function writeOrder(words: URLSearchParams, view: OrderView): void {
  if (view.tab !== FIRST_VIEW.tab) words.set('tab', view.tab);
  if (view.of !== runOfTab(view.tab)) words.set('of', view.of);
  if (view.way !== FIRST_VIEW.way) words.set('way', view.way);
  if (view.at > 0) words.set('at', String(view.at));
  if (view.own) words.set('own', writeOwn(view.own));
  if (view.access !== undefined) words.set('access', view.access);
  if (view.against !== undefined) words.set('against', view.against);
}

/** What the words of an address say. */
export function readOrder(words: URLSearchParams): OrderView {
  const tab = ORDER_TABS.find((known) => known === words.get('tab'));
  const at = Number(words.get('at') ?? '0');
  const own = readOwn(words.get('own'));
  const [access, against] = ['access', 'against'].map((key) => words.get(key) ?? undefined);
  return {
    tab: tab ?? FIRST_VIEW.tab,
    of: RUN_NAMES.find((known) => known === words.get('of')) ?? runOfTab(tab),
    way: words.get('way') === 'strip' ? 'strip' : 'build',
    at: Number.isInteger(at) && at >= 0 && at <= LARGEST_AT ? at : 0,
    ...(own ? { own } : {}),
    ...(access !== undefined && access.length <= LONGEST_ID && /^[a-z0-9:/-]+$/.test(access) ? { access } : {}),
    ...(against !== undefined && against.length <= LONGEST_ID && /^[a-z0-9-]*$/.test(against) ? { against } : {}),
  };
}

/** An order in the letters of an address; an empty text for none. */
export function writeOwn(own: readonly number[] | undefined): string {
  return own?.map((task) => task.toString(36)).join('.') ?? '';
}

/** The own order that a text tells; undefined where it is none. */
export function readOwn(text: string | null): readonly number[] | undefined {
  if (text === null || !/^[0-9a-z]+(\.[0-9a-z]+)*$/.test(text)) return undefined;
  const own = text.split('.').map((word) => Number.parseInt(word, 36));
  return own.length <= MOST_TASKS && isOrderOf(own, own.length) ? own : undefined;
}

/** Whether numbers name each of `count` tasks once. */
export function isOrderOf(own: readonly number[], count: number): boolean {
  const seen = new Set(own);
  return (
    own.length === count &&
    seen.size === count &&
    own.every((task) => Number.isInteger(task) && task >= 0 && task < count)
  );
}

/** Between the places of ids in a list and their places from a to z. */
export function lettered(ids: readonly string[]): {
  readonly toLetter: readonly number[];
  readonly toPlace: readonly number[];
} {
  const toPlace = ids.map((_, k) => k).sort((one, other) => (ids[one]! < ids[other]! ? -1 : 1));
  const toLetter: number[] = [];
  toPlace.forEach((place, letter) => (toLetter[place] = letter));
  return { toLetter, toPlace };
}

/** A list with one thing of it moved to another place. */
export function moved<T>(list: readonly T[], from: number, to: number): readonly T[] {
  const rest = [...list];
  const [taken] = rest.splice(from, 1);
  return taken === undefined ? list : [...rest.slice(0, to), taken, ...rest.slice(to)];
}

/** The place a dragged row would take: how many of the other rows' middles lie above its own, px. */
export function dropPlace(middles: readonly number[], from: number, y: number): number {
  return middles.filter((middle, k) => k !== from && middle < y).length;
}

/**
 * Where the picture is on its way to `at` after a time: a fraction between whole steps. A neighbouring step is moved to
 * at a step's own pace; a jump shows the last step's movement alone.
 */
export function towards(position: number, at: number, steps: number): number {
  const from = at - position > 1 ? at - 1 : position - at > 1 ? at : position;
  return from < at ? Math.min(at, from + steps) : Math.max(at, from - steps);
}
