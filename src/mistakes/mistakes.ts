/**
 * The mistake table as the page shows it, and the build of a mistake as a place of its own: plain functions.
 *
 * Rows come ranked from the core; here they are put under headings, sifted by kind, and joined where they do the same.
 */
import {
  analyseChange,
  applyMistake,
  beginMistakes,
  listMistakes,
  MISTAKE_KINDS,
  tryMistake,
  wordBrief,
  type Analysis,
  type Mistake,
  type MistakeKind,
  type TriedMistake,
} from '../../shared/index.ts';

/** Headings of the table, in their order. */
export const MISTAKE_GROUPS = ['turned', 'silent', 'telling', 'passing', 'not-together'] as const;
export type MistakeGroup = (typeof MISTAKE_GROUPS)[number];

/** Which heading a row stands under. */
export function groupOf(row: TriedMistake): MistakeGroup {
  if (row.assembly.goes === 'no') return 'not-together';
  // A tapered spacer is the one that a hand turns round.
  if (row.mistake.kind === 'turned' && row.mistake.slots[0]?.row !== 'receiver') return 'turned';
  if (row.isSilent) return 'silent';
  return row.verdict === 'sound' ? 'passing' : 'telling';
}

/** The rows of a kind (or of all) under their headings; headings without rows are left out, the order stays. */
export function sortIntoGroups(
  rows: readonly TriedMistake[],
  kind: MistakeKind | undefined,
): readonly { readonly group: MistakeGroup; readonly rows: readonly TriedMistake[] }[] {
  const wanted = kind === undefined ? rows : rows.filter((row) => row.mistake.kind === kind);
  return MISTAKE_GROUPS.map((group) => ({ group, rows: wanted.filter((row) => groupOf(row) === group) })).filter(
    (entry) => entry.rows.length > 0,
  );
}

/** Kinds that occur, with how many rows each has. */
export function countKinds(
  rows: readonly TriedMistake[],
): readonly { readonly kind: MistakeKind; readonly count: number }[] {
  return MISTAKE_KINDS.map((kind) => ({ kind, count: rows.filter((row) => row.mistake.kind === kind).length })).filter(
    ({ count }) => count > 0,
  );
}

/** A build that is looked at instead of the written one: what it comes to, and its analysis. */
export interface WhatIf {
  readonly row: TriedMistake;
  readonly analysis: Analysis;
}

/** The mistake of an id, as an address names it; none where the pivot has none of that name. */
export function findMistake(written: Analysis, pivotId: string | undefined, id: string): Mistake | undefined {
  if (pivotId === undefined || !written.pivots.some((pivot) => pivot.id === pivotId)) return undefined;
  return listMistakes(written.model, pivotId, { two: id.startsWith('two:') }).find((candidate) => candidate.id === id);
}

/** A mistake built and solved, and the analysis of the build it leaves. */
export function lookAt(written: Analysis, mistake: Mistake): WhatIf {
  return {
    row: tryMistake(beginMistakes(written.model), mistake),
    analysis: analyseChange(written, applyMistake(written.model, mistake)),
  };
}

/** Rows of one heading that do the same: the first of them tells for all. */
export interface SameOutcome {
  readonly rows: readonly [TriedMistake, ...TriedMistake[]];
}

/** Rows joined where nothing that is told of them differs; the order is that of the first ones. */
export function joinSame(rows: readonly TriedMistake[]): readonly SameOutcome[] {
  const joined = new Map<string, [TriedMistake, ...TriedMistake[]]>();
  for (const row of rows) {
    const told = JSON.stringify([row.pivot, row.verdict, wordBrief(row), row.bench, row.check.kind, row.isSilent]);
    const same = joined.get(told);
    if (same) same.push(row);
    else joined.set(told, [row]);
  }
  return [...joined.values()].map((same) => ({ rows: same }));
}
