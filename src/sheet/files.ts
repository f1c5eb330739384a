/**
 * The sheets that the page saves, each with its title and pages.
 */
import type { Analysis, PivotAnalysis, Plan } from '../../shared/index.ts';
import type { Drawing } from '../drawings/shapes.ts';
import { wallChart } from './chart.ts';
import { jobSheet } from './jobSheet.ts';
import type { JobOfSheet } from './jobPart.ts';
import { pagesOf } from './pages.ts';
import { pivotSheet } from './pivotSheet.ts';

/** Pages under a title. */
export interface SheetPages {
  readonly title: string;
  readonly pages: readonly Drawing[];
}

/** The job sheet of a plan, and of a job where there is one. */
export function jobPages(plan: Plan, of?: JobOfSheet): SheetPages {
  const sheet = jobSheet(plan, of);
  return { title: sheet.title, pages: pagesOf(sheet) };
}

/** The wall chart. */
export function chartPages(plan: Plan): SheetPages {
  const pages = wallChart(plan);
  return { title: pages[0]?.title ?? '', pages };
}

/** One pivot's sheet. */
export function pivotPages(pivot: PivotAnalysis, analysis: Analysis): SheetPages {
  const sheet = pivotSheet(pivot, analysis);
  return { title: sheet.title, pages: pagesOf(sheet) };
}
