/**
 * What of a pivot can be compared instead of measured one by one: the two sizes of a fit tried on one another, a whole
 * chain of lengths by a straight edge or a feeler, and what lies side by side under the jaws at once. mm, minutes.
 */
import type { Compared, CompareTool, Draft } from '../envelope/draft.ts';
import { benchesOf, type Bench } from './bench.ts';
import { slopesOf } from './judge.ts';
import { MEASURE_LIMITS } from './limits.ts';
import { bodiesOf } from './row.ts';

/** A comparison that could be made. */
export interface Comparison {
  readonly with: CompareTool;
  readonly terms: Compared['terms'];
  /** ± what it is good for. */
  readonly accuracy: number;
  readonly minutes: number;
}

/** Everything that can be compared at each pivot of a draft, whatever it would settle. */
export function comparisonsOf(draft: Draft): { readonly pivot: string; readonly comparisons: readonly Comparison[] }[] {
  return benchesOf(draft).map((bench) => ({
    pivot: bench.pivot,
    comparisons: [...fitsOf(bench), ...chainsOf(bench), ...togetherOf(bench)],
  }));
}

/** Fits nearer than this are tried on one another, mm. */
const ALIKE_mm = 0.6;

/** Sizes that go into one another, each pair once. */
export function fitsOf({ pairs, bands }: Bench): Comparison[] {
  const { tried_mm, compareMinutes, insideMinutes } = MEASURE_LIMITS;
  const middle = (name: string): number => bands.get(name)!.middle;
  return pairs.flatMap(({ size, of }): Comparison[] => {
    if (Math.abs(middle(size) - middle(of)) >= ALIKE_mm) return [];
    if ([size, of].some((own) => /thread|length|width|depth/.test(own))) return [];
    return [
      {
        with: 'gauge',
        terms: [
          { size, times: 1 },
          { size: of, times: -1 },
        ],
        accuracy: tried_mm.value,
        minutes: insideMinutes.value + compareMinutes.value,
      },
    ];
  });
}

/** Chains of more terms than this are felt with the row put together. */
const EDGE_TERMS = 4;

/** What is left, or missing, between two faces of one member. */
export function chainsOf(bench: Bench): Comparison[] {
  const { compared_mm, compareMinutes } = MEASURE_LIMITS;
  return chainTerms(bench).map((terms) => ({
    with: terms.length <= EDGE_TERMS ? 'straight-edge' : 'feeler',
    terms,
    accuracy: compared_mm.value,
    minutes: compareMinutes.value,
  }));
}

/** What the outside jaws close over at once: a member over its bosses, and loose parts that lie next to one another. */
function togetherOf(bench: Bench): Comparison[] {
  const { calliper_mm, outsideMinutes } = MEASURE_LIMITS;
  const model = bench.model(new Map());
  const pivot = model.pivots[0]!;
  const sums: string[][] = [];
  for (const [member, bores] of bodiesOf(pivot))
    if (bores.length > 1)
      sums.push(
        bores.flatMap((bore, k) => {
          const at = `members.${member}.bores.${bore}.`;
          return k === 0 ? [`${at}width_mm`] : [`${at}gap_mm`, `${at}width_mm`];
        }),
      );
  for (const { row } of pivot.stacks)
    row.forEach(({ part }, k) => {
      const next = row[k + 1]?.part;
      if (part !== undefined && next !== undefined) sums.push([lengthOf(bench, part), lengthOf(bench, next)]);
    });
  const whole = sums.filter((names) => names.every((name) => bench.bands.has(name)));
  return whole.map((names) => ({
    with: 'outside-jaws',
    terms: [...new Set(names)].map((size) => ({ size, times: names.filter((own) => own === size).length })),
    accuracy: calliper_mm.value,
    minutes: outsideMinutes.value,
  }));
}

function lengthOf({ bands }: Bench, part: string): string {
  const at = `parts.${part}.`;
  return bands.has(`${at}length_mm`) ? `${at}length_mm` : `${at}width_mm`;
}

function chainTerms(bench: Bench): Compared['terms'][] {
  const lengths = [...bench.bands.keys()].filter((path) => /_mm$/.test(path) && !/thread|pivots/.test(path));
  const at = bench.gaps(new Map());
  if (!at) return [];
  return [...slopesOf(bench, lengths)].flatMap(([id, slopes]) => {
    if (id.endsWith(':room')) return [];
    const terms = [...slopes].flatMap(([size, slope]) =>
      Math.abs(slope) > 1e-6 ? [{ size, times: Math.round(slope * 1e3) / 1e3 }] : [],
    );
    const sum = terms.reduce((total, { size, times }) => total + times * bench.bands.get(size)!.middle, 0);
    // What is fixed (a ring's width by its table) is no term of ours: a chain that has any cannot be told by sizes.
    const whole = withRings(bench, terms, at.get(id)! - sum);
    return whole ? [whole] : [];
  });
}

/** The chain with the widths of the rings in it, which a table fixes; undefined where these do not explain the rest. */
function withRings(bench: Bench, terms: Compared['terms'], rest: number): Compared['terms'] | undefined {
  if (Math.abs(rest) < 1e-6) return terms;
  for (const [path, { middle, least, most }] of bench.bands) {
    if (!/^parts\.[^.]+\.width_mm$/.test(path) || most > least) continue;
    const times = rest / middle;
    if (Math.abs(times - Math.round(times)) < 1e-6 && Math.abs(times) < 5)
      return [...terms, { size: path, times: Math.round(times) }];
  }
  return undefined;
}
