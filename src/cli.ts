/**
 * The command line: `npm run -s axlewright -- <command> <model.json> [options]`.
 *
 * A thin shell round the same core as the app. Results go to stdout, problems and usage to stderr. Exit code 0: sound;
 * 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage; 3: the program is wrong,
 * so that a fault of ours is never read as a verdict.
 */
import { readFileSync, statSync } from 'node:fs';
import { parseArgs } from 'node:util';
import {
  LARGEST_FILE,
  readModel,
  sideWord,
  wordFace,
  wordFacing,
  wordFinding,
  wordForce,
  wordProblem,
  wordTurn,
  wordVerdict,
  nameOf,
  type Analysis,
  type LinkageModel,
} from '../shared/index.ts';
import { analysed, exitCode, put, putJson, Refusal, type Command } from './commands/command.ts';
import { orderCommand } from './commands/order.ts';
import { reachCommand } from './commands/reach.ts';
import { slipsCommand } from './commands/slips.ts';
import { sortCommand } from './commands/sort.ts';
import { torqueCommand } from './commands/torque.ts';
import { travelCommand } from './commands/travel.ts';
import { checkReport } from './output/check.ts';
import { drawSection } from './output/section.ts';

/** Commands with a file of their own; a new one is one more name here. */
const JOBS: readonly Command[] = [slipsCommand, orderCommand, reachCommand, sortCommand, torqueCommand, travelCommand];

const USAGE = `Axlewright: how the parts of a linkage pivot fit together.

  axlewright check   <model.json> [--json] [--variant ID]
  axlewright section <model.json> --pivot ID [--stack ID] [--apart 0..1] [--theme light|dark|print] [--out FILE] [--variant ID]
${JOBS.map(({ usage }) => `  axlewright ${usage}`).join('\n')}

check    every pivot's verdict and findings; exit code 0 when sound, 1 when not
section  one pivot's section drawing, non-drive side on the left, as SVG
${JOBS.map(({ name, summary }) => `${name.padEnd(7)}  ${summary}`).join('\n')}
`;

const OPTIONS = {
  json: { type: 'boolean' },
  variant: { type: 'string' },
  pivot: { type: 'string' },
  stack: { type: 'string' },
  apart: { type: 'string' },
  theme: { type: 'string' },
  out: { type: 'string' },
  help: { type: 'boolean', short: 'h' },
} as const;

/** Which options a command knows; any other is refused by name. */
const COMMANDS: Readonly<
  Record<
    string,
    { readonly options: readonly string[]; readonly run: (model: LinkageModel, options: Options) => number }
  >
> = {
  check: { options: ['json', 'variant'], run: check },
  section: { options: ['pivot', 'stack', 'apart', 'theme', 'out', 'variant'], run: section },
};

type Options = ReturnType<typeof parse>['values'];

function parse(args: string[]) {
  // Two commands may give one option's name two meanings: the one asked for has its own.
  const asked = JOBS.filter(({ name }) => name === args.find((word) => !word.startsWith('-')));
  try {
    return parseArgs({
      args,
      options: { ...(Object.assign({}, ...[...JOBS, ...asked].map(({ options }) => options)) as object), ...OPTIONS },
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new Refusal(`${error instanceof Error ? error.message : String(error)}\n\n${USAGE}`);
  }
}

function main(args: string[]): number {
  const { values, positionals } = parse(args);
  if (values.help === true) {
    process.stdout.write(USAGE);
    return 0;
  }
  const [name, file, ...more] = positionals;
  const job = JOBS.find((candidate) => candidate.name === name);
  const command = job
    ? commandOf(job, more)
    : name !== undefined && Object.hasOwn(COMMANDS, name)
      ? COMMANDS[name]
      : undefined;
  if (name === undefined || !command) {
    throw new Refusal(
      `command: met ${name ?? 'nothing'}, allowed: ${[...Object.keys(COMMANDS), ...JOBS.map((known) => known.name)].join(', ')}\n\n${USAGE}`,
    );
  }
  if (file === undefined)
    throw new Refusal(`${name}: model file: met nothing, allowed: the path of a .json file\n\n${USAGE}`);
  const takes = job?.takes ?? [];
  if (more.length !== takes.length)
    throw new Refusal(
      `${name}: met ${more.join(' ') || 'nothing'} after the model file, allowed: ${takes.join(' ') || 'nothing more'}\n\n${USAGE}`,
    );
  for (const option of Object.keys(values)) {
    if (!command.options.includes(option))
      throw new Refusal(
        `${name}: option --${option} is not one of this command: ${command.options.map((known) => `--${known}`).join(', ')}`,
      );
  }
  return command.run(open(file), values);
}

function commandOf(job: Command, words: readonly string[]): (typeof COMMANDS)[string] {
  return { options: Object.keys(job.options), run: (model, options) => job.run(model, options, words) };
}

function open(file: string): LinkageModel {
  let text: string;
  try {
    // A device may never end, and the byte count bounds the characters, so that a huge file is refused before it is read.
    const entry = statSync(file);
    if (!entry.isFile() && !entry.isFIFO())
      throw new Refusal(`${file}: met ${entry.isDirectory() ? 'a folder' : 'a device'}, allowed: a .json file`);
    const bytes = entry.size;
    if (bytes > 4 * LARGEST_FILE)
      throw new Refusal(`${file}: met ${bytes} bytes, allowed: at most ${LARGEST_FILE} characters`);
    text = readFileSync(file, 'utf8');
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(`${file}: cannot be read (${error instanceof Error ? error.message : String(error)})`);
  }
  const reading = readModel(text);
  if (reading.ok) return reading.model;
  const count = reading.problems.length;
  throw new Refusal(
    [
      `${file}: ${count} ${count === 1 ? 'problem' : 'problems'}`,
      ...reading.problems.map((problem) => `  ${wordProblem(problem)}`),
    ].join('\n'),
  );
}

function check(model: LinkageModel, options: Options): number {
  const analysis = analysed(model, options);
  if (options.json === true) putJson(checkReport(analysis));
  else process.stdout.write(checkText(analysis));
  return exitCode(analysis);
}

function checkText(analysis: Analysis): string {
  const lines = [`${analysis.model.name}: ${wordVerdict(analysis.verdict)}`];
  for (const pivot of analysis.pivots) {
    lines.push('', `${pivot.name} (${pivot.id}): ${wordVerdict(pivot.verdict)}`);
    for (const stack of pivot.stacks) {
      lines.push(
        `  ${stack.name}: axle from the ${sideWord(stack.from)}, ${stack.tightening.torque_Nm} N·m, inner rings clamped with ${wordForce(stack.clamp_N)}`,
      );
      for (const item of stack.items.filter((candidate) => candidate.role === 'ring')) {
        lines.push(`    ${nameOf(item.id, analysis)}: ${wordFacing(item, analysis)}`);
        lines.push(
          `      non-drive face ${wordFace(item.nonDrive, analysis)}; drive face ${wordFace(item.drive, analysis)}`,
        );
      }
      lines.push(`    ${wordTurn(stack.tightening)}`);
    }
    for (const finding of pivot.findings) {
      const { title, text } = wordFinding(finding, analysis);
      lines.push(`  ${finding.severity.toUpperCase()} ${title}. ${text}`);
    }
  }
  for (const finding of analysis.findings) {
    const { title, text } = wordFinding(finding, analysis);
    lines.push('', `${finding.severity.toUpperCase()} ${title}. ${text}`);
  }
  lines.push('', 'The frame maker’s instructions, local rules and a qualified mechanic have the last word.', '');
  return lines.join('\n');
}

function section(model: LinkageModel, options: Options): number {
  const analysis = analysed(model, options);
  const pivot = analysis.pivots.find((candidate) => candidate.id === options.pivot);
  if (!pivot)
    throw new Refusal(
      `section: --pivot: met ${options.pivot ?? 'nothing'}, allowed: ${analysis.pivots.map((candidate) => candidate.id).join(', ')}`,
    );
  const stack =
    options.stack === undefined ? pivot.stacks[0]! : pivot.stacks.find((candidate) => candidate.id === options.stack);
  if (!stack)
    throw new Refusal(
      `section: --stack: met ${options.stack}, allowed: ${pivot.stacks.map((candidate) => candidate.id).join(', ')}`,
    );
  const apart = Number(options.apart ?? '0');
  if (!(apart >= 0 && apart <= 1))
    throw new Refusal(`section: --apart: met ${options.apart}, allowed: a number from 0 (closed) to 1 (apart)`);
  const theme = options.theme ?? 'print';
  if (theme !== 'light' && theme !== 'dark' && theme !== 'print')
    throw new Refusal(`section: --theme: met ${theme}, allowed: light, dark, print`);
  const svg = drawSection(stack, analysis, { apart, theme });
  put(options, svg);
  return exitCode(analysis);
}

try {
  process.exitCode = main(process.argv.slice(2));
} catch (error) {
  const isRefusal = error instanceof Refusal;
  process.stderr.write(
    isRefusal
      ? `${error.message}\n`
      : `Axlewright has failed, not your file: ${error instanceof Error ? error.stack : String(error)}\n`,
  );
  process.exitCode = isRefusal ? 2 : 3;
}
