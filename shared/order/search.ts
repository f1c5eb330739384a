/**
 * The best order of the tasks: few changes of side and tool, little waiting threadlocker, what is hard to reach early,
 * what will be opened again late.
 *
 * Work at the bench comes first: it needs nothing of the bike, and going back to it would be one more change of place.
 * The rest is a shortest path over the sets of tasks done, told apart by where one stands and what is in the hand; costs
 * add up task by task. Equal costs are settled by the tasks' own order. Where the sets grow too many, only the cheapest are
 * kept at each length (a beam, of one where there are more tasks than any bike has) and the result is no longer known to be
 * the best. Deterministic.
 */
import type { Digraph, MayGo } from './graph.ts';
import { ORDER_COSTS } from './limits.ts';

/** What a task costs depends on. */
export interface Work {
  /** Where one stands as it begins and ends; none where it does not matter. */
  readonly begins?: string;
  readonly ends?: string;
  readonly isBench: boolean;
  /** Names of the tools it takes in hand. */
  readonly tools: readonly string[];
  /** For an axle's two tasks: the same number, and which of them it is. */
  readonly axle?: number;
  readonly part?: 'fit' | 'tighten';
  readonly isThreadlocked?: boolean;
  readonly isFittedForNow?: boolean;
  /** Things that would cover it later. */
  readonly covered: number;
  /** Whether members that stand together have to be moved apart for it, when these tasks are done; never where left out. */
  readonly isSwung?: (isDone: (other: number) => boolean) => boolean;
}

/** An order and what it costs. */
export interface Recommendation {
  readonly order: readonly number[];
  readonly cost: Cost;
  /** No possible order costs less. */
  readonly isBest: boolean;
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

const FREE: Cost = { sideChanges: 0, toolChanges: 0, waits: 0, lateness: 0, reopened: 0, swings: 0, total: 0 };

/** States kept at each length before the search becomes a beam. */
const WIDEST = 3000;
/** From so many tasks on only the cheapest is kept. */
const MANY = 160;

/** Where a partial order has brought one. */
interface At {
  readonly place: string | undefined;
  readonly tools: readonly string[];
  /** Tasks done on the bike. */
  readonly done: number;
  /** Axles that are in but not tight and whose threadlocker waits. */
  readonly wet: number;
  /** Temporary axles that are tight. */
  readonly fitted_for_now: number;
}

const START: At = { place: undefined, tools: [], done: 0, wet: 0, fitted_for_now: 0 };

function step(at: At, work: Work, isDone: (other: number) => boolean): { readonly at: At; readonly cost: Cost } {
  const isMove = work.begins !== undefined && at.place !== undefined && work.begins !== at.place;
  const within = work.begins !== undefined && work.ends !== undefined && work.begins !== work.ends;
  const sideChanges = (isMove ? 1 : 0) + (within ? 1 : 0);
  const toolChanges = work.tools.filter((tool) => !at.tools.includes(tool)).length;
  const closes = work.part === 'tighten' && work.isThreadlocked === true;
  const waits = work.isBench ? 0 : at.wet - (closes ? 1 : 0);
  const lateness = work.part ? work.covered * at.done : 0;
  const reopened = work.part ? at.fitted_for_now : 0;
  const swings = work.isSwung?.(isDone) === true ? 1 : 0;
  const total =
    ORDER_COSTS.side * sideChanges +
    ORDER_COSTS.tool * toolChanges +
    ORDER_COSTS.wait * waits +
    ORDER_COSTS.late * lateness +
    ORDER_COSTS.reopen * reopened +
    ORDER_COSTS.swing * swings;
  return {
    at: {
      place: work.ends ?? work.begins ?? at.place,
      tools: work.tools.length > 0 ? work.tools : at.tools,
      done: at.done + (work.isBench ? 0 : 1),
      wet: at.wet + (work.part === 'fit' && work.isThreadlocked === true ? 1 : 0) - (closes ? 1 : 0),
      fitted_for_now: at.fitted_for_now + (work.part === 'tighten' && work.isFittedForNow === true ? 1 : 0),
    },
    cost: { sideChanges, toolChanges, waits, lateness, reopened, swings, total },
  };
}

function sum(one: Cost, other: Cost): Cost {
  return {
    sideChanges: one.sideChanges + other.sideChanges,
    toolChanges: one.toolChanges + other.toolChanges,
    waits: one.waits + other.waits,
    lateness: one.lateness + other.lateness,
    reopened: one.reopened + other.reopened,
    swings: one.swings + other.swings,
    total: one.total + other.total,
  };
}

/** What an order costs. */
export function costOf(order: readonly number[], works: readonly Work[]): Cost {
  let at = START;
  let cost = FREE;
  const done = new Set<number>();
  for (const task of order) {
    const next = step(at, works[task]!, (other) => done.has(other));
    done.add(task);
    at = next.at;
    cost = sum(cost, next.cost);
  }
  return cost;
}

/** The best order of all tasks of a graph without a cycle; undefined where the rule beyond the edges lets none come to its end. */
export function recommend(graph: Digraph, works: readonly Work[], mayGo: MayGo): Recommendation | undefined {
  const needs = needsOf(graph);
  const bench = benchFirst(graph, works, needs);
  const found = search(graph, works, needs, bench, mayGo);
  return found && { order: found.order, cost: costOf(found.order, works), isBest: found.isBest };
}

function needsOf(graph: Digraph): number[][] {
  const needs = Array.from({ length: graph.count }, (): number[] => []);
  graph.next.forEach((list, before) => list.forEach((after) => needs[after]!.push(before)));
  return needs;
}

/** Bench tasks with all they need, when all of that is free or at the bench. */
function benchFirst(graph: Digraph, works: readonly Work[], needs: readonly (readonly number[])[]): number[] {
  const first = new Set<number>();
  for (let again = true; again; ) {
    again = false;
    for (let task = 0; task < graph.count; task++) {
      const isReady = !first.has(task) && needs[task]!.every((need) => first.has(need));
      const isUseful =
        works[task]!.isBench ||
        (works[task]!.begins === undefined && graph.next[task]!.some((after) => works[after]!.isBench));
      if (!isReady || !isUseful) continue;
      first.add(task);
      again = true;
    }
  }
  return [...first];
}

interface State {
  readonly at: At;
  readonly total: number;
  readonly done: Uint8Array;
  /** How many of its needs each task still waits for. */
  readonly open: Int16Array;
  readonly before?: State;
  readonly task: number;
  /** Place among its peers by the tasks taken so far. */
  rank: number;
}

function search(
  graph: Digraph,
  works: readonly Work[],
  needs: readonly (readonly number[])[],
  bench: readonly number[],
  mayGo: MayGo,
): { order: number[]; isBest: boolean } | undefined {
  const first: State = {
    at: START,
    total: 0,
    done: new Uint8Array(graph.count),
    open: Int16Array.from(needs, (list) => list.length),
    task: -1,
    rank: 0,
  };
  let level: State[] = [bench.reduce((state, task) => go(graph, works, state, task), first)];
  const widest = graph.count > MANY ? 1 : WIDEST;
  let isBest = true;
  for (let length = bench.length; length < graph.count; length++) {
    const next = new Map<string, State>();
    for (const state of level) {
      for (let task = 0; task < graph.count; task++) {
        if (state.done[task] || state.open[task] !== 0 || !mayGo(task, (other) => state.done[other] === 1)) continue;
        const reached = go(graph, works, state, task);
        const key = `${reached.done.join('')} ${reached.at.place ?? ''} ${reached.at.tools.join()}`;
        const rival = next.get(key);
        // States of a level come in rank order, so that an equal later one never goes before.
        if (!rival || reached.total < rival.total) next.set(key, reached);
      }
    }
    level = ranked([...next.values()]);
    if (level.length > widest) {
      isBest = false;
      level = ranked(
        [...level].sort((one, other) => one.total - other.total || one.rank - other.rank).slice(0, widest),
      );
    }
  }
  const best = level.reduce<State | undefined>(
    (least, state) => (least && least.total <= state.total ? least : state),
    undefined,
  );
  return best && { order: trail(best), isBest };
}

function go(graph: Digraph, works: readonly Work[], state: State, task: number): State {
  const { at, cost } = step(state.at, works[task]!, (other) => state.done[other] === 1);
  const done = Uint8Array.from(state.done);
  const open = Int16Array.from(state.open);
  done[task] = 1;
  for (const after of graph.next[task]!) open[after]!--;
  return { at, total: state.total + cost.total, done, open, before: state, task, rank: 0 };
}

/** In the order of their trails: by the rank of what they came from, then by the task taken last. */
function ranked(states: State[]): State[] {
  states.sort((one, other) => (one.before?.rank ?? 0) - (other.before?.rank ?? 0) || one.task - other.task);
  states.forEach((state, k) => (state.rank = k));
  return states;
}

function trail(state: State): number[] {
  const order: number[] = [];
  for (let at: State | undefined = state; at && at.task >= 0; at = at.before) order.push(at.task);
  return order.reverse();
}
