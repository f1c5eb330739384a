/**
 * A bike's jobs, edges and senses, worked out once for each analysis and kept as long as that is.
 *
 * Everything that asks about an order (plan, check, reach) asks here whether a job may be done when others are.
 */
import type { Analysis } from '../types.ts';
import { toSet } from './between.ts';
import { bikeOf, type Bike, type Joined } from './bike.ts';
import { digraph, type Digraph, type MayGo } from './graph.ts';
import { jobsOf, type Job } from './jobs.ts';
import { precedence, type Block, type Edge, type Reason } from './precedence.ts';
import type { Work } from './recommend.ts';
import { Sense } from './sense.ts';

/** All that is worked out for one analysis. */
export class Works {
  readonly bike: Bike;
  readonly jobs: readonly Job[];
  readonly at: ReadonlyMap<string, number>;
  readonly edges: readonly Edge[];
  readonly blocks: readonly Block[];
  readonly graph: Digraph;
  readonly costs: readonly Work[];
  readonly sense: Sense;
  /** Edges into and out of each job. */
  readonly edgesAt: ReadonlyMap<string, readonly Edge[]>;
  private readonly relevant = new Map<string, readonly number[]>();
  private readonly bringers: readonly number[];
  private readonly swung = new Map<string, boolean>();
  private readonly known = new Map<string, readonly Reason[]>();

  constructor(analysis: Analysis) {
    this.bike = bikeOf(analysis);
    this.jobs = jobsOf(this.bike);
    this.at = new Map(this.jobs.map(({ id }, k) => [id, k]));
    const { edges, blocks } = precedence(this.bike, this.jobs);
    this.edges = edges;
    this.blocks = blocks;
    this.graph = digraph(
      this.jobs.length,
      edges.map(({ before, after }) => [this.at.get(before)!, this.at.get(after)!] as const),
    );
    this.sense = new Sense(this.bike);
    const edgesAt = new Map<string, Edge[]>(this.jobs.map(({ id }) => [id, []]));
    for (const edge of edges) for (const id of new Set([edge.before, edge.after])) edgesAt.get(id)!.push(edge);
    this.edgesAt = edgesAt;
    this.bringers = this.jobs.flatMap(({ brings }, k) => (brings.length > 0 ? [k] : []));
    this.costs = this.jobs.map((job) => this.workOf(job));
  }

  /** Why an axle cannot be fitted when these jobs are done; nothing for any other job. */
  whyNot(node: number, isDone: (other: number) => boolean): readonly Reason[] {
    const job = this.jobs[node]!;
    if (job.kind !== 'fit') return [];
    const fits = this.relevantTo(this.bike.byStack.get(job.stackId!)!).filter(isDone);
    const bringers = this.bringers.filter(isDone);
    const key = `${node}:${fits.join()}:${bringers.join()}`;
    let found = this.known.get(key);
    if (!found) {
      const standing = this.sense.standing(
        fits.map((k) => this.jobs[k]!.stackId!),
        bringers.flatMap((k) => this.jobs[k]!.brings),
      );
      found = this.sense.whyNot(job.stackId!, standing);
      this.known.set(key, found);
    }
    return found;
  }

  /**
   * Axles that what can be said of one depends on: those that join its own units, or any so near that it could stand in
   * the way of them or be moved away for them. A long row of bikes is as fast to ask about as one.
   */
  relevantTo(own: Joined): readonly number[] {
    const known = this.relevant.get(own.id);
    if (known) return known;
    const { byUnit, units } = this.bike;
    const near = new Set(
      own.units.flatMap((unit) => [unit, ...this.sense.ways.nearOf(unit)]).filter((id) => units.has(id)),
    );
    const found = new Set(
      [...near].flatMap((unit) => (byUnit.get(unit) ?? []).map(({ id }) => this.at.get(`fit:${id}`)!)),
    );
    const sorted = [...found].sort((one, other) => one - other);
    this.relevant.set(own.id, sorted);
    return sorted;
  }

  /** Units an axle joins, or obstacles a job brings. */
  brings(node: number): readonly string[] {
    const { stackId, kind, brings } = this.jobs[node]!;
    return kind === 'fit' && stackId !== undefined ? this.bike.byStack.get(stackId)!.units : brings;
  }

  /** The rule beyond the edges. */
  readonly mayGo: MayGo = (node, isDone) => this.whyNot(node, isDone).length === 0;

  /** Whether members that stand together have to be moved apart for an axle. */
  private isSwung(own: Joined, isDone: (other: number) => boolean): boolean {
    const fits = this.relevantTo(own).filter(isDone);
    const key = `${own.id}:${fits.join()}`;
    let found = this.swung.get(key);
    if (found === undefined) {
      const { fitted, units } = this.sense.standing(fits.map((k) => this.jobs[k]!.stackId!));
      found = toSet(this.bike, this.sense.between, own, fitted, units).apart.length > 0;
      this.swung.set(key, found);
    }
    return found;
  }

  private workOf(job: Job): Work {
    const own = job.stackId === undefined ? undefined : this.bike.byStack.get(job.stackId);
    const isAxle = job.kind === 'fit' || job.kind === 'tighten';
    const covering = this.edgesAt
      .get(job.id)!
      .filter(({ before, reasons }) => before === job.id && reasons.some(({ code }) => COVERING.has(code)));
    return {
      ...(job.begins === undefined ? {} : { begins: job.begins }),
      ...(job.ends === undefined ? {} : { ends: job.ends }),
      isBench: job.kind === 'inspect',
      tools: job.tools.map(({ tool }) => `${tool.tool} ${tool.size_mm}`),
      ...(own && isAxle
        ? {
            axle: this.bike.stacks.indexOf(own),
            part: job.kind as 'fit' | 'tighten',
            isThreadlocked: own.isThreadlocked,
            isFittedForNow: own.isFittedForNow,
          }
        : {}),
      covered: covering.length,
      ...(own && job.kind === 'fit'
        ? { isSwung: (isDone: (other: number) => boolean) => this.isSwung(own, isDone) }
        : {}),
    };
  }
}

const COVERING: ReadonlySet<string> = new Set(['axle-path', 'nut-path', 'tool-room', 'handle-room']);

const kept = new WeakMap<Analysis, Works>();

/** The works of an analysis. */
export function worksOf(analysis: Analysis): Works {
  const known = kept.get(analysis);
  if (known) return known;
  const works = new Works(analysis);
  kept.set(analysis, works);
  return works;
}
