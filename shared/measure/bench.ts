/**
 * One pivot of a draft on the bench: every completion of it that the bands allow can be built and judged.
 *
 * Of the draft only what the pivot needs is kept, so that a completion costs the solve of one joint. Threads that screw
 * into one another are completed alike, a thread is one of the series, a bearing one of the table, and what was read of
 * sums and differences holds in every completion.
 */
import type { Draft, DraftModel, SizePath } from '../envelope/draft.ts';
import { isStopped, judge, verdictOf, type Judged } from '../findings/judge.ts';
import { checkModel } from '../model/check.ts';
import type { Problem } from '../model/problems.ts';
import { resolveModel } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';
import { makeJoint } from '../joint/joint.ts';
import { contentKey } from '../numbers/figures.ts';
import { randomStream } from '../numbers/random.ts';
import { THREADS } from '../standards/threads.ts';
import { chainsOf } from '../tolerance/chain.ts';
import { dimensionsOf } from '../tolerance/dimensions.ts';
import type { Finding, Verdict } from '../types.ts';
import { bandsOf, type Bands } from './bands.ts';
import { besideOf } from './beside.ts';
import { completed, modelAt } from './draft.ts';
import type { SizeBand } from './known.ts';
import { bodiesOf } from './row.ts';

/** A completion: values of sizes that may vary, by path; the rest stands at its middle. */
export type Values = ReadonlyMap<string, number>;

/** What a completion comes to: its stops, or why it cannot be judged. */
export interface Outcome {
  /** Stops by code and parts. */
  readonly stops: readonly string[];
  readonly faults: readonly Problem[];
  readonly findings: readonly Finding[];
}

/** A pivot of a draft, ready to be completed. */
export interface Bench {
  readonly pivot: string;
  readonly name: string;
  /** The same text for all that bears on this pivot. */
  readonly key: string;
  /** What was compared of its sizes. */
  readonly compared: NonNullable<Draft['compared']>;
  /** Sizes of this pivot by the paths of the whole draft. */
  readonly bands: ReadonlyMap<string, SizeBand>;
  /** Those that may vary, in the order of the draft. */
  readonly open: readonly string[];
  /** Pairs of sizes that stand beside one another. */
  readonly pairs: readonly { readonly size: string; readonly of: string }[];
  model(values: Values): LinkageModel;
  outcome(values: Values): Outcome;
  /** Whether anything stops a completion; undefined where it cannot be. */
  stopped(values: Values): boolean | undefined;
  /** The verdict that stands whatever the core estimates. */
  verdict(values: Values): Verdict;
  /** What each span and room of the column leaves, by its id, mm; undefined where the model cannot be. */
  gaps(values: Values): ReadonlyMap<string, number> | undefined;
}

/** The benches of a draft, one a pivot, in its order. */
export function benchesOf(draft: Draft): Bench[] {
  const bands = bandsOf(draft);
  const full = completed(draft).model;
  return draft.model.pivots.map((_, k) => benchAt(draft, bands, full, k));
}

const HAIR = 1e-9;

function benchAt(draft: Draft, all: Bands, full: LinkageModel, k: number): Bench {
  const pivot = draft.model.pivots[k]!;
  const own = narrowed(draft, full, k);
  const here = `pivots[${k}].`;
  const local = (name: string): string => (name.startsWith(here) ? `pivots[0].${name.slice(here.length)}` : name);
  const bodies = bodiesOf(pivot as unknown as LinkageModel['pivots'][number]);
  const isHere = (path: SizePath): boolean =>
    path[0] === 'parts'
      ? Object.hasOwn(own.model.parts, path[1]!)
      : path[0] === 'members'
        ? bodies.get(String(path[1]))?.includes(String(path[3])) === true
        : path[1] === k;
  const names = [...all.paths].filter(([, path]) => isHere(path)).map(([name]) => name);
  const sizes = new Map(names.map((name) => [name, all.sizes.get(name)!] as const));
  const bands: Bands = {
    sizes: new Map(names.map((name) => [local(name), all.sizes.get(name)!])),
    paths: new Map(
      names.map((name) => {
        const path = all.paths.get(name)!;
        return [local(name), path[0] === 'pivots' ? ['pivots', 0, ...path.slice(2)] : path] as const;
      }),
    ),
    bearings: new Map([...all.bearings].filter(([id]) => Object.hasOwn(own.model.parts, id))),
  };
  const pairs = besideOf(draft.model).filter(({ size, of }) => sizes.has(size) && sizes.has(of));
  const leaders = leadersOf(pairs, sizes);
  const open = names.filter((name) => {
    const { least, most } = sizes.get(name)!;
    return most - least > HAIR && (leaders.get(name) ?? name) === name;
  });
  const compared = (draft.compared ?? []).filter(({ terms }) => terms.every(({ size }) => sizes.has(size)));
  const complete = (values: Values, agreed = compared): Map<string, number> => {
    const now = new Map<string, number>();
    for (const name of names) {
      const leader = leaders.get(name) ?? name;
      now.set(name, snapped(name, values.get(leader) ?? sizes.get(leader)!.middle, sizes.get(name)!));
    }
    agree(now, sizes, agreed);
    return now;
  };
  const model = (values: Values, agreed = compared): LinkageModel => {
    const now = complete(values, agreed);
    const byLocal = new Map([...now].map(([name, value]) => [local(name), value]));
    return modelAt(own, bands, (name) => byLocal.get(name)!);
  };
  const judged = (made: LinkageModel): Judged => judge(resolveModel(made), pivot.id);
  const faultsIn = (made: LinkageModel): readonly Problem[] => {
    const { problems } = checkModel(made);
    return problems.length > 0 ? problems : burstBosses(made);
  };
  return {
    pivot: pivot.id,
    name: pivot.name,
    key: keyOf(own, bodies, sizes, compared),
    compared,
    bands: sizes,
    open,
    pairs,
    model: (values) => model(values),
    outcome: (values) => {
      const made = model(values);
      const faults = faultsIn(made);
      if (faults.length > 0) return { stops: [], faults, findings: [] };
      const { findings } = judged(made);
      const stops = findings.flatMap(({ severity, code, parts }) =>
        severity === 'stop' ? [`${code} ${parts.join(' ')}`] : [],
      );
      return { stops: [...new Set(stops)], faults, findings };
    },
    stopped: (values) => {
      const made = model(values);
      return faultsIn(made).length > 0 ? undefined : isStopped(resolveModel(made), pivot.id);
    },
    verdict: (values) => {
      const made = model(values);
      return faultsIn(made).length > 0 ? 'unsure' : verdictOf(judged(made));
    },
    gaps: (values) => {
      // How a gap moves with one size is asked for as if nothing tied it to others.
      const made = model(values, []);
      if (faultsIn(made).length > 0) return undefined;
      const joint = makeJoint(resolveModel(made), pivot.id);
      return new Map(chainsOf(joint, dimensionsOf(joint)).map(({ id, gap_mm }) => [id, gap_mm]));
    },
  };
}

/** Of bosses of other pivots only the place bears on this one: where the webs go. */
function keyOf(
  { model }: Draft,
  bodies: ReadonlyMap<string, readonly string[]>,
  sizes: ReadonlyMap<string, SizeBand>,
  compared: NonNullable<Draft['compared']>,
): string {
  const members = Object.entries(model.members).map(([member, { bores, ...rest }]) => [
    member,
    rest,
    Object.entries(bores).map(([id, bore]) => {
      const { x_mm, y_mm } = bore as { readonly x_mm?: number; readonly y_mm?: number };
      return bodies.get(member)?.includes(id) === true ? [id, bore] : [id, x_mm, y_mm];
    }),
  ]);
  return contentKey([model.parts, members, model.pivots, [...sizes], compared]);
}

/** Bosses no wider than the bearing in them: no file of a bike says so, a completion may. */
function burstBosses(model: LinkageModel): Problem[] {
  return resolveModel(model).pivots.flatMap(({ stacks }) =>
    stacks.flatMap(({ row }) =>
      row.flatMap((entry): Problem[] => {
        if (entry.role !== 'bearing') return [];
        const { memberId, boreId, boss_mm } = entry.seat.bore;
        const { outside_mm } = entry.bearing;
        if (boss_mm > outside_mm) return [];
        return [
          {
            code: 'impossible-size',
            path: `members.${memberId}.bores.${boreId}.boss_mm`,
            met: String(boss_mm),
            allowed: `more than outside_mm (${outside_mm}) of the bearing in it`,
          },
        ];
      }),
    ),
  );
}

/** The draft with one pivot alone, and of the rest only what carries its bosses. */
function narrowed(draft: Draft, full: LinkageModel, k: number): Draft {
  const pivot = draft.model.pivots[k]!;
  const used = new Set(
    pivot.stacks.flatMap(({ axle, receiver, row }) => [axle, receiver, ...row.flatMap(({ part }) => part ?? [])]),
  );
  const bodies = bodiesOf(pivot as unknown as LinkageModel['pivots'][number]);
  const places = new Map(
    full.pivots.flatMap((own) =>
      [...bodiesOf(own)].flatMap(([member, bores]) =>
        bores.map((bore) => [`${member}/${bore}`, { x_mm: own.x_mm, y_mm: own.y_mm }] as const),
      ),
    ),
  );
  const members = Object.entries(draft.model.members)
    .filter(([member]) => bodies.has(member))
    .map(([member, own]) => {
      const bores = Object.entries(own.bores).map(([id, bore]) =>
        bodies.get(member)!.includes(id)
          ? ([id, bore] as const)
          : ([id, { ...full.members[member]!.bores[id]!, ...places.get(`${member}/${id}`) }] as const),
      );
      return [member, { ...own, bores: Object.fromEntries(bores) }] as const;
    });
  const { schema, id, name, units, parts } = draft.model;
  const model = {
    schema,
    id,
    name,
    units,
    parts: Object.fromEntries(Object.entries(parts).filter(([part]) => used.has(part))),
    members: Object.fromEntries(members),
    pivots: [pivot],
  } as unknown as DraftModel;
  return { model };
}

/** Sizes that are one and the same in every completion, by the first of them. */
function leadersOf(
  pairs: ReturnType<typeof besideOf>,
  sizes: ReadonlyMap<string, SizeBand>,
): ReadonlyMap<string, string> {
  const leaders = new Map<string, string>();
  const leaderOf = (name: string): string => {
    const next = leaders.get(name);
    return next === undefined ? name : leaderOf(next);
  };
  for (const { size, of, less } of pairs) {
    if (less[0] !== 0 || less[2] !== 0 || !sizes.get(size)!.isOpen || !sizes.get(of)!.isOpen) continue;
    const [a, b] = [leaderOf(size), leaderOf(of)];
    if (a !== b) leaders.set(a, b);
  }
  return new Map([...leaders.keys()].map((name) => [name, leaderOf(name)]));
}

/** A thread comes in the sizes of its series. */
function snapped(name: string, value: number, { least, most }: SizeBand): number {
  const key = /thread\.(size|pitch)_mm$/.exec(name)?.[1];
  const within = Math.min(most, Math.max(least, value));
  if (key === undefined || least === most) return within;
  let best: number | undefined;
  for (const row of THREADS) {
    const own = key === 'size' ? row.size_mm : row.pitch_mm;
    if (own < least - HAIR || own > most + HAIR) continue;
    if (best === undefined || Math.abs(own - value) < Math.abs(best - value)) best = own;
  }
  return best ?? within;
}

/** Rounds over what was compared: two comparisons of one size settle in a few. */
const ROUNDS = 4;

/** Moves values until what was compared holds, each as far as its band is wide. */
function agree(
  values: Map<string, number>,
  sizes: ReadonlyMap<string, SizeBand>,
  compared: NonNullable<Draft['compared']>,
): void {
  const half = (name: string): number => (sizes.get(name)!.most - sizes.get(name)!.least) / 2;
  for (let round = 0; round < ROUNDS; round++)
    for (const { terms, value_mm, accuracy_mm } of compared) {
      const off = terms.reduce((sum, { size, times }) => sum + times * values.get(size)!, 0) - value_mm;
      const beyond = off > accuracy_mm ? off - accuracy_mm : off < -accuracy_mm ? off + accuracy_mm : 0;
      const weight = terms.reduce((sum, { size, times }) => sum + (times * half(size)) ** 2, 0);
      if (beyond === 0 || weight === 0) continue;
      for (const { size, times } of terms) {
        const { least, most } = sizes.get(size)!;
        const moved = values.get(size)! - (times * half(size) ** 2 * beyond) / weight;
        values.set(size, Math.min(most, Math.max(least, moved)));
      }
    }
}

/** Seeded completions: one in three at the ends of the bands, the rest anywhere between them. */
export function* completionsOf(bench: Bench, seed: number): Generator<Values> {
  const stream = randomStream(seed);
  for (let k = 0; ; k++)
    yield new Map(
      bench.open.map((name) => {
        const { least, most } = bench.bands.get(name)!;
        const share = k % 3 === 0 ? Math.round(stream.even()) : stream.even();
        return [name, least + share * (most - least)] as const;
      }),
    );
}
