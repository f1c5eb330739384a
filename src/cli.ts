/**
 * The command line: `npm run -s axlewright -- <command> <model.json> [options]`.
 *
 * A thin shell round the same core as the app. Results go to stdout, problems and usage to stderr. Exit code 0: sound;
 * 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage; 3: the program is wrong,
 * so that a fault of ours is never read as a verdict.
 */
import { parseArgs } from 'node:util';
import { LARGEST_FILE, readModel, wordProblem, type LinkageModel } from '../shared/index.ts';
import { checkCommand } from './commands/check.ts';
import { problemsOf, readText, Refusal, type Command, type Options } from './commands/command.ts';
import { orderCommand } from './commands/order.ts';
import { accessCommand } from './commands/access.ts';
import { sectionCommand } from './commands/section.ts';
import { mistakesCommand } from './commands/mistakes.ts';
import { sortCommand } from './commands/sort.ts';
import { torqueCommand } from './commands/torque.ts';
import { travelCommand } from './commands/travel.ts';

/** A new command is one more name here. */
const COMMANDS: readonly Command[] = [
  checkCommand,
  sectionCommand,
  mistakesCommand,
  orderCommand,
  accessCommand,
  sortCommand,
  torqueCommand,
  travelCommand,
];

const USAGE = `Axlewright: how the parts of a linkage pivot fit together.

${COMMANDS.map(({ usage }) => `  axlewright ${usage}`).join('\n')}

${COMMANDS.map(({ name, summary }) => `${name.padEnd(8)}  ${summary}`).join('\n')}
`;

function parse(args: string[]): { values: Options; positionals: string[] } {
  // Two commands may give one option's name two meanings: the one asked for has its own.
  const asked = COMMANDS.filter(({ name }) => name === args.find((word) => !word.startsWith('-')));
  const known = Object.assign({}, ...[...COMMANDS, ...asked].map(({ options }) => options)) as Command['options'];
  try {
    const help = { type: 'boolean', short: 'h' } as const;
    return parseArgs({ args, options: { ...known, help }, allowPositionals: true, strict: true }) as ReturnType<
      typeof parse
    >;
  } catch (error) {
    throw new Refusal(`${error instanceof Error ? error.message : String(error)}\n\n${USAGE}`);
  }
}

function main(args: string[]): number {
  const { values, positionals } = parse(args);
  if (values['help'] === true) {
    process.stdout.write(USAGE);
    return 0;
  }
  const [name, file, ...more] = positionals;
  const command = COMMANDS.find((candidate) => candidate.name === name);
  if (!command) {
    throw new Refusal(
      `command: met ${name ?? 'nothing'}, allowed: ${COMMANDS.map((known) => known.name).join(', ')}\n\n${USAGE}`,
    );
  }
  if (file === undefined)
    throw new Refusal(`${name}: model file: met nothing, allowed: the path of a .json file\n\n${USAGE}`);
  const { takes = [], options } = command;
  if (more.length !== takes.length)
    throw new Refusal(
      `${name}: met ${more.join(' ') || 'nothing'} after the model file, allowed: ${takes.join(' ') || 'nothing more'}\n\n${USAGE}`,
    );
  const stranger = Object.keys(values).find((option) => !Object.hasOwn(options, option));
  if (stranger !== undefined)
    throw new Refusal(
      `${name}: option --${stranger} is not one of this command: ${Object.keys(options)
        .map((known) => `--${known}`)
        .join(', ')}`,
    );
  return command.run(open(file), values, more);
}

function open(file: string): LinkageModel {
  // The byte count bounds the characters.
  const most = { bytes: 4 * LARGEST_FILE, words: `${LARGEST_FILE} characters` };
  const reading = readModel(readText(file, 'a .json file', most));
  if (!reading.ok) throw problemsOf(file, reading.problems.map(wordProblem));
  return reading.model;
}

// Whoever reads may have seen enough: `| head` closes the pipe, which is no fault of anyone's.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

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
