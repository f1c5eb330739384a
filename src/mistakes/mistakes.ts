/**
 * The mistake table as the page shows it, and the build of a mistake as a place of its own: plain functions.
 *
 * Rows come ranked from the core; here they are put under headings and sifted by kind. While a mistake is looked at its
 * build is shown beside the open one, whose pivot can be drawn next to the mistaken one under ids of its own.
 */
import {
  analyse,
  applyMistake,
  beginMistakes,
  listMistakes,
  MISTAKE_KINDS,
  tryMistake,
  type Analysis,
  type PivotAnalysis,
  type PlacedItem,
  type Mistake,
  type MistakeKind,
  type TriedMistake,
} from '../../shared/index.ts';
import { radiusOf } from '../drawings/outline.ts';
import type { View } from '../page/route.ts';

/** Headings of the table, in their order. */
export const MISTAKE_GROUPS = ['silent', 'telling', 'passing', 'not-together'] as const;
export type MistakeGroup = (typeof MISTAKE_GROUPS)[number];

/** Which heading a row stands under. */
export function groupOf(row: TriedMistake): MistakeGroup {
  if (row.assembly.goes === 'no') return 'not-together';
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

/** A mistake that is looked at, and the analysis of its build. */
export interface WhatIf {
  readonly row: TriedMistake;
  readonly analysis: Analysis;
}

/** The mistake of an id, as an address names it, built and solved; none where the pivot has none of that name. */
export function tryMistakeId(written: Analysis, pivotId: string | undefined, id: string): TriedMistake | undefined {
  if (pivotId === undefined || !written.pivots.some((pivot) => pivot.id === pivotId)) return undefined;
  const mistake = listMistakes(written.model, pivotId, { two: id.startsWith('two:') }).find(
    (candidate) => candidate.id === id,
  );
  return mistake && tryMistake(beginMistakes(written.model), mistake);
}

/** The analysis of a mistaken build; the variant of the written one stays its variant. */
export function analyseMistake(written: Analysis, mistake: Mistake): Analysis {
  const { variant } = written;
  return { ...analyse(applyMistake(written.model, mistake)), ...(variant === undefined ? {} : { variant }) };
}

/** Marks the ids of a pivot that is drawn beside the one it is compared with. */
const BESIDE = 'as-written:';
/** Gap between the two rows, as a share of the wider one's diameter. */
const BESIDE_GAP = 1.25;

/** A pivot as written, as a pivot of its own, next to the mistaken one: under it, or from above behind it. */
export function besideOf(written: PivotAnalysis, view: View): PivotAnalysis {
  const diameter = 2 * Math.max(...written.stacks.flatMap((stack) => stack.items.map(radiusOf)));
  const away =
    view === 'above' ? { x_mm: written.x_mm - BESIDE_GAP * diameter } : { y_mm: written.y_mm - BESIDE_GAP * diameter };
  return {
    ...written,
    ...away,
    id: `${BESIDE}${written.id}`,
    findings: [],
    stacks: written.stacks.map((stack) => ({
      ...stack,
      id: `${BESIDE}${stack.id}`,
      items: stack.items.map((item): PlacedItem => ({ ...item, id: `${BESIDE}${item.id}` })),
    })),
  };
}
