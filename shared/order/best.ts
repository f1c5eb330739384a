/**
 * The best order of the tasks: few changes of side and tool, little waiting threadlocker, what is hard to reach early,
 * what will be opened again late.
 *
 * Work at the bench comes first: it needs nothing of the bike, and going back to it would be one more change of place.
 * The rest is a shortest path over the sets of tasks done, told apart by where one stands and what is in the hand,
 * length by length. What is left can never cost less than a bound (`Rest`), so that a state is let go once its cost and
 * its bound reach beyond an order that is known. Tasks that can be exchanged without a difference are done in their own
 * order, and a task that costs nothing now and hinders none is done now. Where the states grow too many only those that
 * promise most are kept, and the least that the others promised stays as a bound: the order is known to be the best
 * where that bound is no lower than its cost. One narrow search gives a good order at once, wider ones better it.
 *
 * Equal costs are settled by the tasks' own order wherever no state had to be let go. Deterministic: what a search may
 * take is counted in states, never in time.
 */
import { remembered } from './bike.ts';
import { type Digraph, type MayGo, closureOf, digraph, reversed, sweep } from './graph.ts';
import { ORDER_COSTS } from './limits.ts';

/** What a task costs depends on. */
export interface Work {
  /** Where one stands as it begins and ends; none where it does not matter. */
  readonly begins?: string;
  readonly ends?: string;
  readonly isBench: boolean;
  /** Names of the tools it takes in hand. */
  readonly tools: readonly string[];
  /** Which of an axle's two tasks it is. */
  readonly part?: 'fit' | 'tighten';
  readonly isThreadlocked?: boolean;
  readonly isFittedForNow?: boolean;
  /** Things that would cover it later. */
  readonly covered: number;
  /**
   * Whether members that stand together have to be moved apart for it, when these tasks are done; never where left out.
   */
  readonly isSwung?: (isDone: (other: number) => boolean) => boolean;
  /** Tasks that `isSwung` and the rule beyond the edges ask about for it; any task where left out. */
  readonly asks?: readonly number[];
}

/** An order and what it costs. */
export interface Recommendation {
  readonly order: readonly number[];
  readonly cost: Cost;
  /** No possible order costs less. */
  readonly isBest: boolean;
  /** No possible order takes fewer changes of side and tool together: a bound, mostly too modest. */
  readonly leastChanges: number;
}

/** What an order costs, by kind, and all together. */
export interface Cost {
  readonly sideChanges: number;
  readonly toolChanges: number;
  /** Tasks done while threadlocker on a started thread waits, summed over the threads. */
  readonly waits: number;
  /** Tasks done on the bike before each axle, times what would cover it. */
  readonly lateness: number;
  /** Tasks at axles done after one that will be opened again. */
  readonly reopened: number;
  /** Tasks for which members that met already are moved apart again. */
  readonly swings: number;
  readonly total: number;
}

/** What one of each kind weighs. */
const WEIGHTS: Readonly<Record<Exclude<keyof Cost, 'total'>, number>> = {
  sideChanges: ORDER_COSTS.side,
  toolChanges: ORDER_COSTS.tool,
  waits: ORDER_COSTS.wait,
  lateness: ORDER_COSTS.late,
  reopened: ORDER_COSTS.reopen,
  swings: ORDER_COSTS.swing,
};
const COST_KINDS = Object.keys(WEIGHTS) as (keyof typeof WEIGHTS)[];

/** Where a partial order has brought one. */
interface At {
  readonly place: string | undefined;
  readonly tools: readonly string[];
  /** Tasks done on the bike. */
  readonly done: number;
  /** Axles that are in but not tight and whose threadlocker waits. */
  readonly wet: number;
  /** Temporary axles that are tight. */
  readonly forNow: number;
}

const START: At = { place: undefined, tools: [], done: 0, wet: 0, forNow: 0 };

function step(at: At, work: Work, isDone: (other: number) => boolean): { readonly at: At; readonly cost: Cost } {
  const { begins, ends, tools, part, isThreadlocked = false } = work;
  const closes = part === 'tighten' && isThreadlocked ? 1 : 0;
  const counts = {
    sideChanges:
      Number(begins !== undefined && at.place !== undefined && begins !== at.place) +
      Number(begins !== undefined && ends !== undefined && begins !== ends),
    toolChanges: tools.filter((tool) => !at.tools.includes(tool)).length,
    waits: work.isBench ? 0 : at.wet - closes,
    lateness: part ? work.covered * at.done : 0,
    reopened: part ? at.forNow : 0,
    swings: work.isSwung?.(isDone) === true ? 1 : 0,
  };
  return {
    at: {
      place: ends ?? begins ?? at.place,
      tools: tools.length > 0 ? tools : at.tools,
      done: at.done + (work.isBench ? 0 : 1),
      wet: at.wet + (part === 'fit' && isThreadlocked ? 1 : 0) - closes,
      forNow: at.forNow + (part === 'tighten' && work.isFittedForNow === true ? 1 : 0),
    },
    cost: { ...counts, total: COST_KINDS.reduce((sum, kind) => sum + WEIGHTS[kind] * counts[kind], 0) },
  };
}

/** What an order costs. */
export function costOf(order: readonly number[], works: readonly Work[]): Cost {
  let at = START;
  const sum = { sideChanges: 0, toolChanges: 0, waits: 0, lateness: 0, reopened: 0, swings: 0, total: 0 };
  const done = new Set<number>();
  for (const task of order) {
    const next = step(at, works[task]!, (other) => done.has(other));
    done.add(task);
    at = next.at;
    for (const kind of [...COST_KINDS, 'total'] as const) sum[kind] += next.cost[kind];
  }
  return sum;
}

/**
 * What the tasks of a state cost at least from there on, by their numbers alone, whatever their order.
 *
 * Leaving a task out never makes the rest dearer, so that every kind of cost is bounded by the tasks it hangs on. Side:
 * a fit that ends on the other side is an arc, and a walk that takes all arcs has to go back without work as often as
 * more of them lead one way. A locked axle that is tightened from where its fit began is a loop, there and back, or an
 * arc whose thread waits for one task, and for two where that task is a locked fit itself. Tool: each that is not in
 * the hand is taken up once. Waiting: of open threads all but one wait for each next, and each for what must come
 * between. What is covered is done at once, heaviest first; what is fitted for now, last.
 */
class Rest {
  /** Of each task, what it counts as in `left`. */
  private readonly counts: readonly (readonly (readonly [index: number, by: number])[])[];
  private readonly tools: readonly string[];
  private readonly places: readonly string[];
  private readonly isLoop: readonly boolean[];
  private readonly covered: readonly number[];
  private readonly walks = new Map<string, number>();
  private readonly works: readonly Work[];

  constructor(graph: Digraph, works: readonly Work[], isLeft: (task: number) => boolean) {
    this.works = works;
    this.tools = [...new Set(works.flatMap(({ tools }) => tools))];
    const left = works.map((work, task) => (isLeft(task) ? work : undefined));
    const places = [...new Set(left.flatMap((work) => (work?.begins === undefined ? [] : [work.begins, endOf(work)])))];
    // A bike has two sides; of more places nothing is said.
    this.places = places.length > 2 ? [] : places;
    const closure = closureOf(graph)!;
    const between = (fit: number, tight: number): number =>
      works.filter((_, task) => closure.has(fit, task) && closure.has(task, tight)).length;
    const isLoop: boolean[] = [];
    this.counts = works.map((work, task) => {
      const tight = partnerOf(graph, works, task);
      const isLocked = work.part === 'fit' && work.isThreadlocked === true && tight !== undefined;
      const forced = isLocked ? between(task, tight) : 0;
      const found: [number, number][] = this.tools.flatMap((tool, k) =>
        work.tools.includes(tool) ? [[FIRST_TOOL + k, 1] as [number, number]] : [],
      );
      found.push([FORCED, forced], [PARTS, work.part ? 1 : 0]);
      found.push([FOR_NOW, work.part === 'tighten' && work.isFittedForNow === true ? 1 : 0]);
      const from = this.places.indexOf(work.begins ?? '');
      const isArc = from >= 0 && endOf(work) !== work.begins;
      const back = tight === undefined ? undefined : works[tight]!;
      const isBack = back !== undefined && back.begins === work.begins;
      isLoop[task] = isArc && isLocked && forced === 0 && isBack && endOf(back) === back.begins;
      if (isLoop[task]) found.push([LOOPS + from, 1]);
      else if (isArc) {
        found.push([ARCS + from, 1], [PLAIN_ARCS + from, !isLocked || forced > 0 ? 1 : 0]);
        found.push([LAST_ARCS + from, isBack ? 0 : 1]);
      } else if (from >= 0) found.push([STAYS + from, 1]);
      return found.filter(([, by]) => by > 0);
    });
    this.isLoop = isLoop;
    this.covered = [...works.keys()]
      .filter((task) => works[task]!.part && works[task]!.covered > 0)
      .sort((one, other) => works[other]!.covered - works[one]!.covered || one - other);
  }

  /** The numbers of all tasks. */
  all(): Int16Array {
    const left = new Int16Array(FIRST_TOOL + this.tools.length);
    for (const task of this.works.keys()) this.take(left, task, 1);
    return left;
  }

  /** Take a task out of the numbers, or put it in. */
  take(left: Int16Array, task: number, by: 1 | -1): void {
    for (const [index, count] of this.counts[task]!) left[index]! += by * count;
  }

  /** The least that a state's rest costs. */
  least({ task, place, hand, wet, forNow, onBike }: Numbers, left: Int16Array, done: Uint16Array): number {
    const { side, tool, wait, late, reopen } = ORDER_COSTS;
    let walk = this.walk(place, left, wait);
    // Just begun, a loop is closed by going back, or its thread waits.
    if (wet === 1 && this.isLoop[task])
      walk = Math.min(walk + wait, side + this.walk(this.works[task]!.begins, left, wait));
    const [forNowLeft, parts] = [left[FOR_NOW]!, left[PARTS]!];
    const waits = (wet * (wet - 1)) / 2 + left[FORCED]!;
    const reopened = forNow * parts + (forNowLeft * (forNowLeft - 1)) / 2;
    let [covers, at] = [0, onBike];
    for (const one of this.covered) if (!has(done, one)) covers += this.works[one]!.covered * at++;
    return walk + tool * this.toTake(hand, left) + wait * waits + reopen * reopened + late * covers;
  }

  /** Changes of side and tool that no order of the rest can do without. */
  leastChanges({ place, hand }: Numbers, left: Int16Array): number {
    return this.walk(place, left, 0) / ORDER_COSTS.side + this.toTake(hand, left);
  }

  /** Nothing is left that could be covered. */
  isUncovered(done: Uint16Array): boolean {
    return this.covered.every((task) => has(done, task));
  }

  /** Tools that are not in the hand and still have to be. */
  private toTake(hand: readonly string[], left: Int16Array): number {
    return this.tools.filter((name, k) => left[FIRST_TOOL + k]! > 0 && !hand.includes(name)).length;
  }

  /** The cheapest walk from a place that takes all arcs, loops and stays. */
  private walk(from: string | undefined, left: Int16Array, wait: number): number {
    if (this.places.length === 0) return 0;
    const counts = left.subarray(0, FORCED);
    const at = from === undefined ? ANYWHERE : this.places.indexOf(from);
    const key = String.fromCharCode(wait, at + 2, ...counts);
    const known = this.walks.get(key);
    if (known !== undefined) return known;
    const pair = (first: number) => [counts[first]!, counts[first + 1]!] as const;
    const [arcs, loops, stays, plain] = [pair(ARCS), pair(LOOPS), pair(STAYS), pair(PLAIN_ARCS)];
    const isLast = pair(LAST_ARCS).map((count) => count > 0);
    const isAsked = [0, 1].map((place) => stays[place]! + loops[place]! > 0);
    let least = Infinity;
    // Loops taken as arcs: any number of the one side, and of the other so many that a bend of the cost lies there.
    for (let one = 0; one <= loops[0]; one++) {
      const even = arcs[0] + one - arcs[1];
      for (const other of [0, loops[1], plain[0], even - 2, even - 1, even, even + 1, even + 2]) {
        if (other < 0 || other > loops[1]) continue;
        const [there, back] = [arcs[0] + one, arcs[1] + other];
        const changes = there + back + 2 * (loops[0] - one + loops[1] - other);
        const waits = one + Math.max(0, one - plain[1]) + other + Math.max(0, other - plain[0]);
        const cost = ORDER_COSTS.side * (changes + movesOf(at, there, back, isAsked, isLast)) + wait * waits;
        least = Math.min(least, cost);
      }
    }
    this.walks.set(key, least);
    return least;
  }
}

/** Places in the numbers of what is left; of pairs, first what begins on the one side, then on the other. */
const [ARCS, LOOPS, STAYS, PLAIN_ARCS, LAST_ARCS, FORCED, PARTS, FOR_NOW, FIRST_TOOL] = [0, 2, 4, 6, 8, 10, 11, 12, 13];
const ANYWHERE = -2;

/**
 * Moves without work that a walk over all arcs needs: to where it begins, between arcs, and back after the last where
 * that has to be tightened from where its fit began. `at`: 0, 1, -1 elsewhere.
 */
function movesOf(
  at: number,
  there: number,
  back: number,
  isAsked: readonly boolean[],
  isLast: readonly boolean[],
): number {
  if (there + back === 0) {
    const visits = isAsked.filter((isOne, place) => isOne && place !== at).length;
    return at === ANYWHERE ? Math.max(0, visits - 1) : visits;
  }
  let least = Infinity;
  for (const start of [0, 1]) {
    const to = at === ANYWHERE || at === start ? 0 : 1;
    for (const last of [0, 1]) {
      if ((last === 0 ? there : back) === 0) continue;
      const between = Math.abs(1 - start - last - (there - back));
      least = Math.min(least, to + between + (isLast[last] ? 0 : 1));
    }
  }
  return least;
}

/** Where one stands after a task. */
function endOf({ begins, ends }: Work): string {
  return ends ?? begins!;
}

/** The task that tightens what a task fits. */
function partnerOf(graph: Digraph, works: readonly Work[], fit: number): number | undefined {
  return works[fit]!.part === 'fit' && works[fit + 1]?.part === 'tighten' && graph.next[fit]!.includes(fit + 1)
    ? fit + 1
    : undefined;
}

function has(done: Uint16Array, task: number): boolean {
  return (done[task >> 4]! & (1 << (task & 15))) !== 0;
}

/** Graph, costs and rule of some tasks alone, numbered as they are listed; `isRestDone` says how the others stand. */
export function partOf(
  graph: Digraph,
  works: readonly Work[],
  mayGo: MayGo,
  nodes: readonly number[],
  isRestDone: boolean,
): { readonly graph: Digraph; readonly works: readonly Work[]; readonly mayGo: MayGo } {
  const place = new Map(nodes.map((node, k) => [node, k]));
  const placesOf = (list: readonly number[]): number[] => list.flatMap((node) => place.get(node) ?? []);
  const within =
    (isDone: (k: number) => boolean) =>
    (node: number): boolean =>
      place.has(node) ? isDone(place.get(node)!) : isRestDone;
  return {
    graph: digraph(
      nodes.length,
      nodes.flatMap((node, k) => placesOf(graph.next[node]!).map((after) => [k, after] as const)),
    ),
    works: nodes.map((node) => {
      const { isSwung, asks, ...work } = works[node]!;
      return {
        ...work,
        ...(isSwung && { isSwung: (isDone) => isSwung(within(isDone)) }),
        ...(asks && { asks: placesOf(asks) }),
      };
    }),
    mayGo: (k, isDone) => mayGo(nodes[k]!, within(isDone)),
  };
}

/** What a state is told by, and what it cost. */
interface Numbers {
  readonly place: string | undefined;
  readonly hand: readonly string[];
  readonly onBike: number;
  readonly wet: number;
  readonly forNow: number;
  /** The task done last. */
  readonly task: number;
}

interface State extends Numbers {
  readonly cost: number;
  /** With the least that the rest costs. */
  promise: number;
  readonly before: State | undefined;
  /** Place among its peers by the tasks taken so far. */
  rank: number;
  /** Only while it is looked at: tasks done, those whose needs are done, and the numbers of what is left. */
  open?: { readonly done: Uint16Array; readonly ready: readonly number[]; readonly left: Int16Array };
}

/** How wide each search is. A hasty one does at once what costs nothing, so that equal costs are not settled. */
const SEARCHES = [
  { widest: 12, isHasty: true },
  { widest: 200, isHasty: false },
  { widest: 60, isHasty: true },
  { widest: 250, isHasty: true },
  { widest: 1000, isHasty: true },
  { widest: 4000, isHasty: true },
] as const;
/** With more tasks left that a rule asks about, it is not tried whether it will ever let its task go. */
const MOST_TRIED = 8;
/** Of more tasks equal costs are not settled: there are too many equal orders. */
const MOST_SETTLED = 64;
/** States times tasks that all searches but the first may take together. */
const MOST_WORK = 12_000_000;

/** How far a search is, 0 to 1, and an order better than any told before. */
export interface Found {
  readonly share: number;
  readonly better?: Recommendation;
}

/**
 * The best order of all tasks of a graph without a cycle, bettered in sight; undefined where none was found, which is
 * so wherever the rule beyond the edges lets none come to its end.
 */
export function* recommending(
  graph: Digraph,
  works: readonly Work[],
  mayGo: MayGo,
): Generator<Found, Recommendation | undefined> {
  const search = new Search(graph, works, mayGo);
  search.merge();
  for (const [k, { widest, isHasty }] of SEARCHES.entries()) {
    if (isHasty ? search.isOver() : graph.count > MOST_SETTLED) continue;
    for (const share of search.look(widest, isHasty)) yield { share: (k + share) / SEARCHES.length, ...search.news() };
    yield { share: (k + 1) / SEARCHES.length, ...search.news() };
  }
  return search.told();
}

/** The best order of all tasks of a graph without a cycle. */
export function recommend(graph: Digraph, works: readonly Work[], mayGo: MayGo): Recommendation | undefined {
  const search = recommending(graph, works, mayGo);
  for (let found = search.next(); ; found = search.next()) if (found.done) return found.value;
}

class Search {
  private readonly graph: Digraph;
  private readonly works: readonly Work[];
  private readonly mayGo: MayGo;
  private readonly needs: readonly (readonly number[])[];
  private readonly rest: Rest;
  private readonly bench: readonly number[];
  /** Tasks that can be exchanged with one another carry one number; the others none. */
  private readonly alike: readonly (number | undefined)[];
  /** Tasks that no rule asks about and that ask for nothing. */
  private readonly isFree: readonly boolean[];
  /** What each task asks about, itself left out, and which tasks ask about it. */
  private readonly asks: readonly (readonly number[])[];
  private readonly askers: readonly (readonly number[])[];
  private readonly mayStill = new Map<string, boolean>();
  private best: { readonly order: readonly number[]; readonly cost: number } | undefined;
  /** The best that was told last. */
  private toldOf: unknown;
  /** No order costs less. */
  private bound = 0;
  private work = 0;

  constructor(graph: Digraph, works: readonly Work[], mayGo: MayGo) {
    [this.graph, this.works, this.mayGo] = [graph, works, mayGo];
    const needs = reversed(graph).next;
    this.needs = needs;
    // Work at the bench with all it needs, where all of that is free or at the bench.
    const bench = sweep(
      graph.count,
      (task, taken) =>
        needs[task]!.every((need) => taken.has(need)) &&
        (works[task]!.isBench ||
          (works[task]!.begins === undefined && graph.next[task]!.some((after) => works[after]!.isBench))),
    );
    this.bench = [...bench];
    this.rest = new Rest(graph, works, (task) => !bench.has(task));
    const asks = works.map((work, task) => (work.asks ?? [...works.keys()]).filter((other) => other !== task));
    this.asks = asks;
    const askers = works.map((): number[] => []);
    for (const [task, list] of asks.entries()) for (const other of list) askers[other]!.push(task);
    this.askers = askers;
    this.isFree = works.map((_, task) => asks[task]!.length === 0 && askers[task]!.length === 0);
    this.alike = this.alikes();
  }

  /** Two free tasks are alike where they cost the same and let the same go; two axles, where both of their tasks do. */
  private alikes(): (number | undefined)[] {
    const { graph, works, needs, isFree } = this;
    const known = new Map<string, number>();
    const lookOf = (task: number, partner: number | undefined): string => {
      const { asks: _asks, isSwung: _isSwung, ...look } = works[task]!;
      return `${JSON.stringify(look)} ${graph.next[task]!.filter((after) => after !== partner).join()}`;
    };
    return works.map((_, task) => {
      if (!isFree[task]) return undefined;
      const partner = partnerOf(graph, works, task);
      if (partner !== undefined && !isFree[partner]) return undefined;
      const needed = partner === undefined ? '' : needs[partner]!.filter((need) => need !== task).join();
      const look = [lookOf(task, partner), ...(partner === undefined ? [] : [lookOf(partner, undefined)]), needed];
      return remembered(known, look.join(' / '), () => known.size);
    });
  }

  /** The best found so far. */
  told(): Recommendation | undefined {
    if (!this.best) return undefined;
    const { order, cost } = this.best;
    const first = this.first();
    const bench = costOf(this.bench, this.works);
    const leastChanges = bench.sideChanges + bench.toolChanges + this.rest.leastChanges(first, first.open!.left);
    return { order, cost: costOf(order, this.works), isBest: this.bound >= cost, leastChanges };
  }

  /** The best found so far, where it has not been told. */
  news(): Pick<Found, 'better'> {
    if (this.toldOf === this.best) return {};
    this.toldOf = this.best;
    return { better: this.told()! };
  }

  /**
   * Groups of axles that have nothing to do with one another, each in its own best order, one group after the other: an
   * order to better, where it is possible.
   */
  merge(): void {
    const { graph, works, mayGo } = this;
    const groups = this.groups();
    if (groups.length < 2) return;
    const row = groups.flatMap((nodes) => {
      const part = partOf(graph, works, mayGo, nodes, false);
      return recommend(part.graph, part.works, part.mayGo)?.order.map((k) => nodes[k]!) ?? nodes;
    });
    const order = [...this.bench, ...row, ...graph.next.keys()];
    const done = new Set<number>();
    const isDone = (task: number): boolean => done.has(task);
    const isReady = (task: number): boolean => !isDone(task) && this.needs[task]!.every(isDone) && mayGo(task, isDone);
    // What has to wait for the whole bike is done as soon as it may be.
    for (let task = order.find(isReady); task !== undefined; task = order.find(isReady)) done.add(task);
    if (done.size === graph.count) this.best = { order: [...done], cost: costOf([...done], works).total };
  }

  private groups(): number[][] {
    const { graph, works, asks } = this;
    const group = works.map((_, task) => task);
    const of = (task: number): number => (group[task] === task ? task : (group[task] = of(group[task]!)));
    for (const [task, { part }] of works.entries())
      for (const other of part ? [...graph.next[task]!, ...asks[task]!] : [])
        if (works[other]!.part) group[of(other)] = of(task);
    const found = new Map<number, number[]>();
    for (const [task, { part }] of works.entries())
      if (part) remembered(found, of(task), (): number[] => []).push(task);
    return [...found.values()];
  }

  /** The state before anything is done on the bike. */
  private first(): State {
    const { graph, needs } = this;
    const none: State = {
      ...{ place: undefined, hand: [], onBike: 0, wet: 0, forNow: 0, task: -1, cost: 0, promise: 0 },
      ...{ before: undefined, rank: 0 },
      open: {
        done: new Uint16Array((graph.count >> 4) + 1),
        ready: [...needs.keys()].filter((task) => needs[task]!.length === 0),
        left: this.rest.all(),
      },
    };
    return this.bench.reduce((state, task) => this.opened(this.after(state, task)), none);
  }

  /** Nothing better is to be found, or it would take too long. */
  isOver(): boolean {
    return this.best !== undefined && (this.bound >= this.best.cost || this.work > MOST_WORK);
  }

  /** One search, no wider than this at any length; yields how far it is. */
  *look(widest: number, isHasty: boolean): Generator<number> {
    const { count } = this.graph;
    let level = [this.first()];
    let cut = Infinity;
    this.bound = Math.max(this.bound, level[0]!.promise);
    for (let length = this.bench.length; length < count; length++) {
      const next = this.onward(level, isHasty);
      if (next.length > widest) {
        if (!isHasty) return;
        next.sort((one, other) => one.promise - other.promise || one.rank - other.rank);
        cut = Math.min(cut, next[widest]!.promise);
        next.length = widest;
      }
      const opened = ranked(next).map((state) => this.opened(state));
      for (const state of level) delete state.open;
      level = opened;
      if (this.work > MOST_WORK && widest > SEARCHES[0].widest) return;
      yield length / count;
    }
    const last = level.reduce<State | undefined>(
      (least, one) => (least && least.cost <= one.cost ? least : one),
      undefined,
    );
    const known = this.best?.cost ?? Infinity;
    // Of equal orders the settled one is kept.
    if (last && (last.cost < known || (!isHasty && last.cost === known)))
      this.best = { order: trailOf(last), cost: last.cost };
    this.bound = Math.max(this.bound, Math.min(cut, this.best?.cost ?? Infinity));
  }

  /** All states one task further on that may still lead to something better, each but once, in rank order. */
  private onward(level: readonly State[], isHasty: boolean): State[] {
    const next = new Map<string, State>();
    for (const state of level) {
      for (const task of this.choices(state, isHasty)) {
        this.work += this.graph.count;
        const reached = this.after(state, task);
        if (this.best && reached.promise > this.best.cost) continue;
        const { done } = state.open!;
        done[task >> 4]! ^= 1 << (task & 15);
        const isDead = this.askers[task]!.some((other) => !has(done, other) && !this.mayYetGo(other, done));
        const key = `${String.fromCharCode(...done)}${reached.place} ${reached.hand.join()}`;
        done[task >> 4]! ^= 1 << (task & 15);
        if (isDead) continue;
        const rival = next.get(key);
        // States of a level come in rank order, so that an equal later one never goes before.
        if (!rival || reached.cost < rival.cost) next.set(key, reached);
      }
    }
    return ranked([...next.values()]);
  }

  /** Tasks that can be done next and are worth it. */
  private choices(state: State, isHasty: boolean): readonly number[] {
    const { done, ready } = state.open!;
    const seen = new Set<number>();
    const isDone = (task: number): boolean => has(done, task);
    const found = ready.filter((task) => {
      const alike = this.alike[task];
      if (alike !== undefined) {
        if (seen.has(alike)) return false;
        seen.add(alike);
      }
      return this.mayGo(task, isDone);
    });
    const now =
      isHasty && this.rest.isUncovered(done) ? found.find((task) => this.costsNothing(state, task)) : undefined;
    return now === undefined ? found : [now];
  }

  /** Whether the rule lets a task go now, or once some more of what it asks about is done. */
  private mayYetGo(task: number, done: Uint16Array): boolean {
    const asks = this.asks[task]!;
    const left = asks.filter((other) => !has(done, other));
    if (left.length > MOST_TRIED) return true;
    const key = `${task}:${left.join()}`;
    const known = this.mayStill.get(key);
    if (known !== undefined) return known;
    const may = Array.from({ length: 2 ** left.length }, (_, set) => set).some((set) =>
      this.mayGo(task, (other) => (left.includes(other) ? (set & (1 << left.indexOf(other))) !== 0 : has(done, other))),
    );
    this.mayStill.set(key, may);
    return may;
  }

  /** Whether a task is done where one stands, with what is in the hand, while no thread waits, and hinders none. */
  private costsNothing({ place, hand, wet }: State, task: number): boolean {
    const { begins, tools, part, isThreadlocked, isFittedForNow } = this.works[task]!;
    return (
      this.isFree[task]! &&
      part === 'tighten' &&
      isFittedForNow !== true &&
      begins === place &&
      endOf(this.works[task]!) === place &&
      (tools.length === 0 || tools.join() === hand.join()) &&
      wet === (isThreadlocked === true ? 1 : 0)
    );
  }

  /** The state after a task, not yet opened. */
  private after(state: State, task: number): State {
    const { done, left } = state.open!;
    const from = { place: state.place, tools: state.hand, done: state.onBike, wet: state.wet, forNow: state.forNow };
    const { at, cost } = step(from, this.works[task]!, (other) => has(done, other));
    const { place, tools: hand, done: onBike, wet, forNow } = at;
    const reached = { place, hand, onBike, wet, forNow, task, cost: state.cost + cost.total, before: state, rank: 0 };
    this.rest.take(left, task, -1);
    done[task >> 4]! ^= 1 << (task & 15);
    const promise = reached.cost + this.rest.least(reached, left, done);
    done[task >> 4]! ^= 1 << (task & 15);
    this.rest.take(left, task, 1);
    return { ...reached, promise };
  }

  /** A state with what is looked at to go on from it. */
  private opened(state: State): State {
    const { task, before } = state;
    const from = before!.open!;
    const [done, left] = [Uint16Array.from(from.done), Int16Array.from(from.left)];
    done[task >> 4]! |= 1 << (task & 15);
    this.rest.take(left, task, -1);
    const fresh = this.graph.next[task]!.filter((after) => this.needs[after]!.every((need) => has(done, need)));
    const ready = [...from.ready.filter((other) => other !== task), ...fresh];
    if (fresh.length > 0) ready.sort((one, other) => one - other);
    state.open = { done, left, ready };
    return state;
  }
}

/** The tasks that led to a state. */
function trailOf(state: State): number[] {
  const order: number[] = [];
  for (let at: State | undefined = state; at && at.task >= 0; at = at.before) order.push(at.task);
  return order.reverse();
}

/** In the order of their trails: by the rank of what they came from, then by the task taken last. */
function ranked(states: State[]): State[] {
  states.sort((one, other) => (one.before?.rank ?? 0) - (other.before?.rank ?? 0) || one.task - other.task);
  states.forEach((state, k) => (state.rank = k));
  return states;
}
