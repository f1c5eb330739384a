/**
 * Everything of a bike that can be given away: what each file is called, what it holds, and what makes it.
 */
import type { Analysis, PlacedItem, StackAnalysis } from '../../shared/index.ts';
import { dxf } from '../drawings/dxf.ts';
import { svg } from '../drawings/svg.ts';
import { trueSection } from '../drawings/trueSize.ts';
import { STL_SCALES, type ExportForm } from './forms.ts';
import { gltf } from './gltf.ts';
import { partsCsv } from './parts.ts';
import { stl } from './stl.ts';

/** What is given away: the whole bike, one row, or one part of it at a scale. */
export interface ExportWish {
  readonly form: ExportForm;
  readonly stack?: StackAnalysis | undefined;
  readonly item?: PlacedItem | undefined;
  readonly scale?: number | undefined;
}

/** Which of the forms are of one row, and which of one part. */
export const OF_ROW: ReadonlySet<ExportForm> = new Set(['dxf', 'svg']);
export const OF_PART: ReadonlySet<ExportForm> = new Set(['stl']);

/** A file's content. */
export function exported(
  analysis: Analysis,
  { form, stack, item, scale = STL_SCALES.usual }: ExportWish,
): string | Uint8Array<ArrayBuffer> {
  switch (form) {
    case 'glb':
      return gltf(analysis);
    case 'csv':
      return partsCsv(analysis);
    case 'dxf':
      return dxf(trueSection(stack!, analysis));
    case 'svg':
      return svg(trueSection(stack!, analysis));
    case 'stl':
      return stl(item!, scale);
  }
}

/** The name of the file. */
export function exportName({ model }: Analysis, { form, stack, item }: ExportWish): string {
  const of = OF_ROW.has(form) ? `-${stack!.id}` : OF_PART.has(form) ? `-${item!.id.replaceAll('/', '-')}` : '';
  return `${model.id}${of}.${form}`;
}
