/**
 * `slips`: what every single mistake at a pivot would do, the silent ones first, then worst first.
 *
 * Exit code 0 when the written build is sound (that its slips are not is the point of the table), 1 when it is not.
 */
import {
  asSlipped,
  placements,
  slipItems,
  slips,
  wordFeel,
  wordPlacements,
  wordSlipFinding,
  wordTried,
  type Analysis,
  type LinkageModel,
  type TriedSlip,
  type Verdict,
} from '../../shared/index.ts';
import { analysed, exitCode, putJson, Refusal, textOption, type Command, type Options } from './command.ts';

/** The fixed form of `slips --json`: one entry a slip and pivot. */
export interface SlipReport {
  readonly id: string;
  readonly pivot: string;
  readonly kind: string;
  /** Places the slip gets wrong, as `stackId/rowId`. */
  readonly parts: readonly string[];
  readonly title: string;
  readonly verdict: Verdict;
  readonly goesTogether: 'yes' | 'by-force' | 'no';
  readonly silent: boolean;
  readonly clamp_N: number;
  readonly written_N: number;
  readonly findings: readonly {
    readonly code: string;
    readonly severity: string;
    readonly parts: readonly string[];
    readonly numbers: TriedSlip['findings'][number]['numbers'];
    readonly text: string;
  }[];
  readonly touched: TriedSlip['touched'];
  readonly arms: TriedSlip['arms'];
  readonly sideLoads: TriedSlip['sideLoads'];
  readonly open_mm: number;
  readonly felt: {
    readonly bench: TriedSlip['bench'];
    readonly trail: TriedSlip['trail'];
    readonly friction: TriedSlip['drags'];
    readonly text: string;
  };
  readonly check: TriedSlip['check'] & { readonly text: string };
  readonly elsewhere?: TriedSlip['elsewhere'];
}

/** The command. */
export const slipsCommand: Command = {
  name: 'slips',
  summary: 'what every single mistake would do, the silent ones first; --two adds every two at once of one pivot',
  usage: 'slips   <model.json> [--pivot ID] [--two] [--json] [--variant ID]',
  options: {
    pivot: { type: 'string' },
    two: { type: 'boolean' },
    json: { type: 'boolean' },
    variant: { type: 'string' },
  },
  run,
};

function run(base: LinkageModel, options: Options): number {
  const analysis = analysed(base, options);
  const { model } = analysis;
  const pivot = textOption(options, 'pivot');
  const known = model.pivots.map(({ id }) => id);
  if (pivot !== undefined && !known.includes(pivot))
    throw new Refusal(`slips: --pivot: met ${pivot}, allowed: ${known.join(', ')}`);
  const two = options['two'] === true;
  const table = slips(model, { two, ...(pivot === undefined ? {} : { pivot }) });
  if (options['json'] === true) putJson(table.map((row) => report(row, analysis)));
  else process.stdout.write(text(table, analysis, pivot === undefined ? known : [pivot]));
  return exitCode(analysis);
}

function report(row: TriedSlip, analysis: Analysis): SlipReport {
  const words = wordTried(row, analysis);
  const slipped = asSlipped(analysis, row.slip);
  return {
    id: row.slip.id,
    pivot: row.pivot,
    kind: row.slip.kind,
    parts: slipItems(row.slip),
    title: words.title,
    verdict: row.verdict,
    goesTogether: row.assembly.goes,
    silent: row.isSilent,
    clamp_N: row.clamp_N,
    written_N: row.written_N,
    findings: row.findings.map((finding) => {
      const { title, text: said } = wordSlipFinding(finding, slipped);
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

function text(table: readonly TriedSlip[], analysis: Analysis, pivots: readonly string[]): string {
  const lines = [
    `${analysis.model.name}: ${table.length} slips, ${table.filter(({ isSilent }) => isSilent).length} of them silent`,
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
  lines.push('', 'The frame maker’s instructions, local rules and a qualified mechanic have the last word.', '');
  return lines.join('\n');
}

function lineUp(row: TriedSlip, analysis: Analysis): string[] {
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
