/**
 * The slip table as the page shows it, and the build of a slip as a place of its own: plain functions.
 *
 * Rows come ranked from the core; here they are put under headings and sifted by kind. While a slip is looked at its
 * build is shown beside the open one, whose pivot can be drawn next to the slipped one under ids of its own.
 */
import {
  analyse,
  applySlip,
  beginSlips,
  listSlips,
  SLIP_KINDS,
  trySlip,
  type Analysis,
  type PivotAnalysis,
  type PlacedItem,
  type Slip,
  type SlipKind,
  type TriedSlip,
} from '../../shared/index.ts';
import { radiusOf } from '../drawings/outline.ts';
import type { View } from '../page/route.ts';

/** Headings of the table, in their order. */
export const SLIP_GROUPS = ['silent', 'telling', 'passing', 'not-together'] as const;
export type SlipGroup = (typeof SLIP_GROUPS)[number];

/** Which heading a row stands under. */
export function groupOf(row: TriedSlip): SlipGroup {
  if (row.assembly.goes === 'no') return 'not-together';
  if (row.isSilent) return 'silent';
  return row.verdict === 'sound' ? 'passing' : 'telling';
}

/** The rows of a kind (or of all) under their headings; headings without rows are left out, the order stays. */
export function sortIntoGroups(
  rows: readonly TriedSlip[],
  kind: SlipKind | undefined,
): readonly { readonly group: SlipGroup; readonly rows: readonly TriedSlip[] }[] {
  const wanted = kind === undefined ? rows : rows.filter((row) => row.slip.kind === kind);
  return SLIP_GROUPS.map((group) => ({ group, rows: wanted.filter((row) => groupOf(row) === group) })).filter(
    (entry) => entry.rows.length > 0,
  );
}

/** Kinds that occur, with how many rows each has. */
export function countKinds(rows: readonly TriedSlip[]): readonly { readonly kind: SlipKind; readonly count: number }[] {
  return SLIP_KINDS.map((kind) => ({ kind, count: rows.filter((row) => row.slip.kind === kind).length })).filter(
    ({ count }) => count > 0,
  );
}

/** A slip that is looked at, and the analysis of its build. */
export interface WhatIf {
  readonly row: TriedSlip;
  readonly analysis: Analysis;
}

/** The slip of an id, as an address names it, built and solved; none where the pivot has none of that name. */
export function trySlipId(written: Analysis, pivotId: string | undefined, id: string): TriedSlip | undefined {
  if (pivotId === undefined || !written.pivots.some((pivot) => pivot.id === pivotId)) return undefined;
  const slip = listSlips(written.model, pivotId, { two: id.startsWith('two:') }).find(
    (candidate) => candidate.id === id,
  );
  return slip && trySlip(beginSlips(written.model), slip);
}

/** The analysis of a slipped build; the variant of the written one stays its variant. */
export function analyseSlip(written: Analysis, slip: Slip): Analysis {
  const { variant } = written;
  return { ...analyse(applySlip(written.model, slip)), ...(variant === undefined ? {} : { variant }) };
}

/** Marks the ids of a pivot that is drawn beside the one it is compared with. */
const BESIDE = 'as-written:';
/** Gap between the two rows, as a share of the wider one's diameter. */
const BESIDE_GAP = 1.25;

/** The written build of a pivot as a pivot of its own, next to the slipped one: under it, or from above behind it. */
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
