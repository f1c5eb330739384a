/**
 * The address of what is on the screen: a route in the URL's hash, written and read.
 *
 * `#model=skarn-140&variant=…&pivot=…&stack=…&part=…&apart=0.6&step=3&mistake=…&edit=…&travel=0.5&shock=out&follow=makers&reached=rear-left:8&do=strip&all=yes&view=above&cut=yes`.
 * `model` names a bundled file, `file` one that the user opened himself; `step` counts from 1. What stands at its usual
 * value is left out. Reading never throws: a value that cannot be meant is left aside, and a key that nothing asks for
 * is kept apart to be told, so that an old or a mistyped address still opens as much as it says.
 */
import type { Follow, StackEdit } from '../../shared/index.ts';
import { readEdits, writeEdits } from '../editor/edits.ts';
import { readOrder, writeOrder, type OrderView } from '../build/order.ts';

export const VIEWS = ['drive', 'non-drive', 'above', 'three-quarter'] as const;
/** Where the camera stands. */
export type View = (typeof VIEWS)[number];
/** Putting together, or taking apart. */
export type Direction = 'build' | 'strip';
/** Steps of the picked pivot alone, or of the whole bike. */
export type Scope = 'pivot' | 'bike';

/** What can stand in place of the bike; none is the bike itself. */
export const PLACES = ['tray', 'mat', 'order', 'practice', 'class', 'measure', 'job', 'felt'] as const;
export type PlaceName = (typeof PLACES)[number];

/** Whether the page's one picture is seen there: with the bike, and with what works on it. */
export function hasPicture(place: PlaceName | undefined): boolean {
  return place === undefined || place === 'order';
}

/** What an address holds. */
export interface Route {
  readonly model?: string;
  readonly file?: string;
  readonly variant?: string;
  readonly place?: PlaceName;
  /** What the build order's place shows; only there. */
  readonly order?: OrderView;
  /** The draft that is measured up; only there. */
  readonly draft?: string;
  /** The job that is open; only there. */
  readonly job?: string;
  readonly pivot?: string;
  readonly stack?: string;
  /** Scene id of the part that is told of. */
  readonly part?: string;
  /** 0 (tight) to 1 (fully apart). */
  readonly apart?: number;
  /** Index of the step shown, from 0. */
  readonly step?: number;
  /** The mistake whose build is shown instead of the written one. */
  readonly mistake?: string;
  /** What a hand has done to the pivot's rows, on top of that mistake where there is one. */
  readonly edits?: readonly StackEdit[];
  /**
   * How far through its travel the bike is shown, 0 to 1, and whether the shock is out; absent where it stands as
   * drawn.
   */
  readonly travel?: { readonly share: number; readonly isOut: boolean };
  /** Torques that were reached, N·m, by stack. */
  readonly reached?: Readonly<Record<string, number>>;
  /** Whose build order is followed; ours when absent. */
  readonly follow?: Follow;
  readonly direction: Direction;
  readonly scope: Scope;
  readonly view: View;
  readonly cut: boolean;
  /** Keys of the address that mean nothing here, if any. */
  readonly unknown?: readonly string[];
}

/** The view a pivot is first seen from. */
export const USUAL_VIEW: View = 'three-quarter';
const LONGEST_ID = 48;
const ID = /^[a-z0-9]+(-[a-z0-9]+)*$/;
/** A scene id: a stack and a row, or what stands for one. */
const LONGEST_PART = 120;
const PART = /^[a-z0-9:/-]+$/;
/** More than any wrench of a bicycle workshop gives. */
export const LARGEST_TORQUE_Nm = 400;
const LONGEST_REACHED = 2000;
const LARGEST_STEP = 1e5;
/** Two mistakes at once, each with two places of a stack and a row. */
const LONGEST_MISTAKE = 480;

/** The hash of a route, `#` included; the same route always gives the same text. */
export function writeRoute(route: Route): string {
  const words = new URLSearchParams();
  for (const key of ['model', 'file', 'variant', 'pivot', 'stack'] as const) {
    const value = route[key];
    if (value !== undefined) words.set(key, value);
  }
  if (route.place !== undefined) words.set('place', route.place);
  if (route.place === 'order' && route.order) writeOrder(words, route.order);
  if (route.place === 'measure' && route.draft !== undefined) words.set('draft', route.draft);
  if (route.place === 'job' && route.job !== undefined) words.set('job', route.job);
  if (route.part !== undefined && route.pivot !== undefined) words.set('part', route.part);
  if (route.apart !== undefined && route.pivot !== undefined)
    words.set('apart', String(Math.round(route.apart * 100) / 100));
  if (route.step !== undefined) words.set('step', String(route.step + 1));
  if (route.mistake !== undefined && route.pivot !== undefined) words.set('mistake', route.mistake);
  if (route.edits !== undefined && route.pivot !== undefined) words.set('edit', writeEdits(route.edits));
  if (route.travel) words.set('travel', String(Math.round(route.travel.share * 1000) / 1000));
  if (route.travel?.isOut === true) words.set('shock', 'out');
  const reached = Object.entries(route.reached ?? {});
  if (reached.length > 0) words.set('reached', reached.map(([stack, torque]) => `${stack}:${torque}`).join(','));
  if (route.follow === 'makers') words.set('follow', 'makers');
  if (route.direction === 'strip') words.set('do', 'strip');
  if (route.scope === 'bike') words.set('all', 'yes');
  if (route.view !== USUAL_VIEW) words.set('view', route.view);
  if (route.cut) words.set('cut', 'yes');
  return `#${words.toString()}`;
}

/** What a hash says. */
export function readRoute(hash: string): Route {
  const words = new Asked(hash.replace(/^#\/?/, ''));
  const apart = readNumber(words.get('apart'));
  const step = readNumber(words.get('step'));
  const mistake = words.get('mistake');
  const edits = readEdits(words.get('edit'));
  const part = words.get('part');
  const share = readNumber(words.get('travel'));
  const place = PLACES.find((known) => known === words.get('place'));
  const view = VIEWS.find((known) => known === words.get('view'));
  const reached = readReached(words.get('reached'));
  const isOut = words.get('shock') === 'out';
  const draft = place === 'measure' ? words.get('draft') : null;
  const route: Route = {
    ...ids(words),
    ...(place ? { place } : {}),
    ...(place === 'order' ? { order: readOrder(words) } : {}),
    ...(draft !== null && draft.length <= LONGEST_ID && ID.test(draft) ? { draft } : {}),
    ...(place === 'job' ? readJob(words.get('job')) : {}),
    ...(part !== null && part.length <= LONGEST_PART && PART.test(part) ? { part } : {}),
    ...(apart !== undefined && apart >= 0 && apart <= 1 ? { apart } : {}),
    ...(step !== undefined && Number.isInteger(step) && step >= 1 && step <= LARGEST_STEP ? { step: step - 1 } : {}),
    ...(mistake !== null && mistake.length <= LONGEST_MISTAKE && /^[a-z0-9:/+-]+$/.test(mistake) ? { mistake } : {}),
    ...(edits ? { edits } : {}),
    ...(share !== undefined && share >= 0 && share <= 1 ? { travel: { share, isOut } } : {}),
    ...(reached ? { reached } : {}),
    ...(words.get('follow') === 'makers' ? { follow: 'makers' as const } : {}),
    direction: words.get('do') === 'strip' ? 'strip' : 'build',
    scope: words.get('all') === 'yes' ? 'bike' : 'pivot',
    view: view ?? USUAL_VIEW,
    cut: words.get('cut') === 'yes',
  };
  const unknown = words.notAsked();
  return unknown.length > 0 ? { ...route, unknown } : route;
}

/** The words of an address, and which of them somebody has asked for: no list of keys has to be kept. */
class Asked extends URLSearchParams {
  private readonly asked = new Set<string>();

  override get(key: string): string | null {
    this.asked.add(key);
    return super.get(key);
  }

  notAsked(): readonly string[] {
    return [...new Set(this.keys())].filter((key) => key !== '' && !this.asked.has(key));
  }
}

/** Whether going from one route to the other is a new place for the back button, not a movement within one. */
export function isNewPlace(from: Route, to: Route): boolean {
  return (
    (['model', 'file', 'variant', 'place', 'draft', 'job', 'pivot', 'stack', 'mistake'] as const).some(
      (key) => from[key] !== to[key],
    ) ||
    (from.edits === undefined) !== (to.edits === undefined) ||
    (from.travel === undefined) !== (to.travel === undefined)
  );
}

function ids(words: URLSearchParams): Pick<Route, 'model' | 'file' | 'variant' | 'pivot' | 'stack'> {
  const found: Partial<Record<'model' | 'file' | 'variant' | 'pivot' | 'stack', string>> = {};
  for (const key of ['model', 'file', 'variant', 'pivot', 'stack'] as const) {
    const value = words.get(key);
    if (value !== null && value.length <= LONGEST_ID && ID.test(value)) found[key] = value;
  }
  return found;
}

function readJob(id: string | null): Pick<Route, 'job'> {
  return id !== null && id.length <= 2 * LONGEST_ID && ID.test(id) ? { job: id } : {};
}

/** `stack:torque` pairs; what cannot be meant is left aside. */
function readReached(text: string | null): Route['reached'] {
  if (text === null || text.length > LONGEST_REACHED) return undefined;
  const pairs = text.split(',').flatMap((pair): [string, number][] => {
    const [stack = '', torque = '', ...more] = pair.split(':');
    const value = readNumber(torque);
    const isMeant = more.length === 0 && stack.length <= LONGEST_ID && ID.test(stack);
    return isMeant && value !== undefined && value > 0 && value <= LARGEST_TORQUE_Nm ? [[stack, value]] : [];
  });
  return pairs.length > 0 ? Object.fromEntries(pairs) : undefined;
}

function readNumber(text: string | null): number | undefined {
  if (text === null || text.trim() === '') return undefined;
  const value = Number(text);
  return Number.isFinite(value) ? value : undefined;
}
