/**
 * The command line: `npm run -s axlewright -- <command> <model.json> [options]`.
 *
 * A thin shell round the same core as the app. Results go to stdout, problems and usage to stderr. Exit code 0: sound;
 * 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage; 3: the program is wrong,
 * so that a fault of ours is never read as a verdict.
 */
import packageJson from '../package.json' with { type: 'json' };
import { harmlessLines, LARGEST_FILE, readModel, wordProblem, type LinkageModel } from '../shared/index.ts';
import { COMMANDS } from './commands/all.ts';
import { problemsOf, readText, Refusal, systemWords, type Ending } from './commands/command.ts';
import { CALL, commandHelp, commandNamed, helpText, lineOf } from './commands/line.ts';

function main(args: readonly string[]): Ending {
  const line = lineOf(args, COMMANDS);
  if (line.kind === 'run') return line.command.run(open(line.file), line.options, line.words);
  if (line.kind === 'version') process.stdout.write(`${packageJson.version}\n`);
  else process.stdout.write(line.command ? commandHelp(line.command) : helpText(COMMANDS));
  return 0;
}

function open(file: string): LinkageModel {
  // The byte count bounds the characters.
  const most = { bytes: 4 * LARGEST_FILE, words: `${LARGEST_FILE} characters` };
  const reading = readModel(readText(file, 'a .json file', most));
  if (!reading.ok) throw problemsOf(file, reading.problems.map(wordProblem), reading.more);
  return reading.model;
}

/** The error in its line, with what came from outside made harmless, and where help is. */
function refused({ message, help }: Refusal, args: readonly string[]): string {
  const command = commandNamed(args, COMMANDS);
  const where = help ? `Help: ${CALL} help${command ? ` ${command.name}` : ''}\n` : '';
  return `${harmlessLines(message)}\n${where}`;
}

// Whoever reads may have seen enough: `| head` closes the pipe, which is no fault of anyone's.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return;
  process.stderr.write(`The result cannot be written: ${systemWords(error)}\n`);
  process.exitCode = 2;
});
process.stderr.on('error', () => undefined);

const args = process.argv.slice(2);
try {
  process.exitCode = await main(args);
} catch (error) {
  const isRefusal = error instanceof Refusal;
  process.stderr.write(
    isRefusal
      ? refused(error, args)
      : `Axlewright has failed, not your file: ${error instanceof Error ? error.stack : String(error)}\n`,
  );
  process.exitCode = isRefusal ? 2 : 3;
}
