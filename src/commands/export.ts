/**
 * `export`: a bike, one of its rows or one of its parts as a file for other programs: the picture as glTF, a row's
 * section at its own size as DXF or SVG, a part as STL to print, the parts as a table.
 *
 * Exit code 0 for a sound bike, 1 for any other.
 */
import { exported, OF_PART, OF_ROW } from '../exports/files.ts';
import { EXPORT_FORMS, STL_SCALES, type ExportForm } from '../exports/forms.ts';
import type { Analysis } from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  exitCode,
  numberOption,
  oneOf,
  put,
  Refusal,
  textOption,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

const { least, usual, most } = STL_SCALES;

/** The command. */
export const exportCommand: Command = commandOf({
  name: 'export',
  summary: 'for other programs: the picture as glTF, a row as DXF or SVG, a part as STL, the table of parts',
  options: {
    out: { type: 'string', value: 'FILE', says: 'its ending says what is written', isNeeded: true },
    stack: { type: 'string', value: 'ID', says: 'the row, for .dxf and .svg' },
    part: { type: 'string', value: 'ID', says: 'the part, for .stl: as the table names it' },
    scale: { type: 'string', value: 'N', says: `of a part: times its own size; ${usual} when left out` },
    variant: VARIANT_OPTION,
  },
  examples: [
    'export models/class-rig.json --out rig.glb',
    'export models/skarn-140.json --stack shock-frame --out row.dxf',
  ],
  run(model, options) {
    const form = formOf(textOption(options, 'out') ?? '');
    const analysis = analysed(model, options);
    put(options, exported(analysis, { form, ...chosen(analysis, form, options) }));
    return exitCode(analysis);
  },
});

function formOf(file: string): ExportForm {
  const ending = /\.([^./\\]+)$/.exec(file)?.[1]?.toLowerCase();
  const form = EXPORT_FORMS.find((each) => each === ending);
  if (form === undefined)
    throw new Refusal(`export: --out: met ${file}, allowed: a name that ends in .${EXPORT_FORMS.join(', .')}`);
  return form;
}

/** What of the bike is meant: a form of one row or one part wants it named. */
function chosen({ pivots }: Analysis, form: ExportForm, options: Options) {
  const stacks = pivots.flatMap((pivot) => pivot.stacks);
  if (OF_ROW.has(form)) {
    const ids = stacks.map(({ id }) => id);
    const id = oneOf('export', options, 'stack', ids);
    if (id === undefined) throw new Refusal(`export: --stack: met nothing, allowed: ${ids.join(', ')}`);
    return { stack: stacks.find((stack) => stack.id === id) };
  }
  if (!OF_PART.has(form)) return {};
  const items = stacks.flatMap((stack) => stack.items.filter(({ role }) => role !== 'boss'));
  const ids = items.map(({ id }) => id);
  const id = oneOf('export', options, 'part', ids);
  if (id === undefined) throw new Refusal(`export: --part: met nothing, allowed: ${ids.join(', ')}`);
  const scale = numberOption(
    'export',
    options,
    'scale',
    (value) => value >= least && value <= most,
    `a number from ${least} to ${most}`,
  );
  return { item: items.find((item) => item.id === id), scale };
}
