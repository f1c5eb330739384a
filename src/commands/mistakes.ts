/**
 * `mistakes`: what every single mistake at a pivot would do, the silent ones first, then worst first.
 *
 * Exit code 0 when the build as written is sound (that its mistakes are not is the point of the table), 1 when it is
 * not.
 */
import {
  asMistaken,
  placements,
  mistakeItems,
  mistakes,
  wordFeel,
  wordPlacements,
  wordMistakeFinding,
  wordTried,
  type Analysis,
  type LinkageModel,
  type TriedMistake,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  exitCode,
  JSON_OPTION,
  LAST_WORD,
  pivotOption,
  putJson,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** The command. */
export const mistakesCommand: Command = commandOf({
  name: 'mistakes',
  summary: 'what every single mistake would do, the silent ones first',
  options: {
    pivot: { type: 'string', value: 'ID', says: 'this pivot alone' },
    two: { type: 'boolean', says: 'every two mistakes at once as well' },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  examples: ['mistakes models/skarn-140.json --pivot shock-frame'],
  run,
});

function run(base: LinkageModel, options: Options): number {
  const analysis = analysed(base, options);
  const { model } = analysis;
  const pivot = pivotOption('mistakes', model, options);
  const shown = pivot === undefined ? model.pivots.map(({ id }) => id) : [pivot];
  const two = options['two'] === true;
  const table = mistakes(model, { two, ...(pivot === undefined ? {} : { pivot }) });
  if (options['json'] === true) putJson(table.map((row) => report(row, analysis)));
  else process.stdout.write(text(table, analysis, shown));
  return exitCode(analysis);
}

/**
 * The fixed form of `mistakes --json`: one entry a mistake and pivot; `parts` are the places it gets wrong, as
 * `stackId/rowId`.
 */
export type MistakeReport = ReturnType<typeof report>;

function report(row: TriedMistake, analysis: Analysis) {
  const words = wordTried(row, analysis);
  const mistaken = asMistaken(analysis, row.mistake);
  return {
    id: row.mistake.id,
    pivot: row.pivot,
    kind: row.mistake.kind,
    parts: mistakeItems(row.mistake),
    title: words.title,
    verdict: row.verdict,
    goesTogether: row.assembly.goes,
    silent: row.isSilent,
    clamp_N: row.clamp_N,
    written_N: row.written_N,
    findings: row.findings.map((finding) => {
      const { title, text: said } = wordMistakeFinding(finding, mistaken);
      return {
        code: finding.code,
        severity: finding.severity,
        parts: finding.parts,
        numbers: finding.numbers,
        text: `${title}. ${said}`,
      };
    }),
    touched: row.touched,
    arms: row.arms,
    sideLoads: row.sideLoads,
    open_mm: row.open_mm,
    felt: { bench: row.bench, trail: row.trail, friction: row.drags, text: `${words.bench} ${words.trail}` },
    check: { ...row.check, text: words.check },
    ...(row.elsewhere ? { elsewhere: row.elsewhere } : {}),
  };
}

function text(table: readonly TriedMistake[], analysis: Analysis, pivots: readonly string[]): string {
  const lines = [
    `${analysis.model.name}: ${table.length} mistakes, ${table.filter(({ isSilent }) => isSilent).length} of them silent`,
  ];
  for (const id of pivots) {
    const rows = table.filter((row) => row.pivot === id);
    const pivot = analysis.pivots.find((candidate) => candidate.id === id)!;
    const only = wordPlacements(placements(analysis.model, id), analysis);
    lines.push(
      '',
      `${pivot.name} (${id})`,
      `  ${only.title}. ${only.text}`,
      ...only.others.map((other) => `    ${other}`),
    );
    const silent = rows.filter(({ isSilent }) => isSilent);
    if (silent.length > 0)
      lines.push(
        '',
        `  Silent: ${silent.length} of ${rows.length} tighten up normally and give no clear sign at the bench.`,
      );
    for (const row of silent) lines.push(...lineUp(row, analysis));
    const rest = rows.filter(({ isSilent }) => !isSilent);
    if (rest.length > 0) lines.push('', `  The others, worst first: ${rest.length}.`);
    for (const row of rest) lines.push(...lineUp(row, analysis));
  }
  return [...lines, '', LAST_WORD, ''].join('\n');
}

function lineUp(row: TriedMistake, analysis: Analysis): string[] {
  const words = wordTried(row, analysis);
  const lines = [`    ${words.verdict.toUpperCase()}  ${words.title}`, `      ${words.brief}`];
  if (row.assembly.goes === 'no') return lines;
  return [
    ...lines,
    `      bench: ${row.bench.map(wordFeel).join(', ')}. ${words.trail}`,
    `      ${words.check}`,
    ...(words.elsewhere === undefined ? [] : [`      ${words.elsewhere}`]),
  ];
}
