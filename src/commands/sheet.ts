/**
 * `sheet`: the sheet of a job, or the wall chart of a linkage: as text, or as the PDF or SVG file that `--out` names.
 *
 * Exit code 0 for a sound bike, 1 for any other.
 */
import {
  jobBike,
  jobView,
  readEnvelope,
  wordEnvelopeTrouble,
  type Job,
  type LinkageModel,
} from '../../shared/index.ts';
import { svg } from '../drawings/svg.ts';
import { chartPages } from '../sheet/files.ts';
import { jobSheet } from '../sheet/jobSheet.ts';
import { asOne, pagesOf } from '../sheet/pages.ts';
import { sheetText } from '../sheet/text.ts';
import type { Block } from '../sheet/blocks.ts';
import {
  analysed,
  commandOf,
  exitCode,
  JSON_OPTION,
  planned,
  put,
  problemsOf,
  putJson,
  readText,
  Refusal,
  textOption,
  VARIANT_OPTION,
  type Command,
} from './command.ts';

/** The command. */
export const sheetCommand: Command<Promise<number>> = commandOf({
  name: 'sheet',
  summary: 'the job sheet to print: tasks, torques, rows, signatures; or the wall chart',
  options: {
    out: { type: 'string', value: 'FILE', says: 'a .pdf or .svg file instead of text' },
    chart: { type: 'boolean', says: 'the wall chart, A3, beside --out' },
    makers: { type: 'boolean', says: 'in the order of the frame’s maker' },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  examples: ['sheet models/class-rig.json --out sheet.pdf', 'sheet models/skarn-140.json --chart --out chart.svg'],
  takes: [
    {
      name: '[job]',
      says: 'a job’s file (.json): what was found, reached and fitted, and what is open',
      isOptional: true,
    },
  ],
  apart: [['json', ['out', 'chart']]],
  async run(base, options, [file]) {
    const job = file === undefined ? undefined : jobIn(file, base);
    const bike = job && jobBike(base, job);
    const plan = bike?.plan ?? planned(analysed(base, options), options);
    const { analysis } = plan;
    const form = formOf(textOption(options, 'out'));
    if (options['chart'] === true && form === undefined)
      throw new Refusal('sheet: --chart: met without a file, allowed: beside --out with a .pdf or .svg file');
    if (options['chart'] === true) {
      const { title, pages } = chartPages(plan);
      put(options, form === 'svg' ? svg(asOne(pages)) : await (await pdfWriter())(pages, { title }));
      return exitCode(analysis);
    }
    const sheet = jobSheet(plan, job && bike && { job, view: jobView(bike, job, Date.now()), time });
    if (options['json'] === true)
      putJson({
        model: analysis.model.id,
        title: sheet.title,
        blocks: sheet.blocks.flatMap(withoutDrawings),
        foot: sheet.foot,
      });
    else if (form === undefined) put(options, sheetText(sheet));
    else if (form === 'svg') put(options, svg(asOne(pagesOf(sheet))));
    else put(options, await (await pdfWriter())(pagesOf(sheet), { title: sheet.title }));
    return exitCode(analysis);
  },
});

const time = (at_ms: number): string =>
  new Date(at_ms).toLocaleString('en-GB', { dateStyle: 'short', timeStyle: 'short' });

/** Larger than any job: what a mechanic writes of one bike. */
const LARGEST_JOB_BYTES = 8_000_000;

function jobIn(file: string, model: LinkageModel): Job {
  const text = readText(file, 'a job’s .json file', LARGEST_JOB_BYTES);
  const reading = readEnvelope(text, 'job');
  if (!reading.ok) throw problemsOf(file, [wordEnvelopeTrouble(reading.trouble)]);
  if (reading.body.model !== model.id)
    throw new Refusal(`sheet: ${file}: met a job of model ${reading.body.model}, allowed: of ${model.id}`);
  return reading.body;
}

function formOf(file: string | undefined): 'pdf' | 'svg' | undefined {
  const form = /\.([^./\\]+)$/.exec(file ?? '')?.[1]?.toLowerCase();
  if (file === undefined) return undefined;
  if (form === 'pdf' || form === 'svg') return form;
  throw new Refusal(`sheet: --out: met ${file}, allowed: a name that ends in .pdf or .svg`);
}

/** Loaded when a file is asked for: no other command waits for it. */
const pdfWriter = async () => (await import('../drawings/pdf.ts')).pdf;

function withoutDrawings(block: Block): unknown[] {
  if (block.kind === 'drawing') return [];
  if (block.kind === 'together') return block.blocks.flatMap(withoutDrawings);
  return [block];
}
