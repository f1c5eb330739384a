/** One command line from its words to its exit code: `cli.ts` says which codes there are. */
import packageJson from '../../package.json' with { type: 'json' };
import { harmlessLines, LARGEST_FILE, readModel, wordProblem, type LinkageModel } from '../../shared/index.ts';
import { COMMANDS } from './all.ts';
import { problemsOf, readText, Refusal, type Ending } from './command.ts';
import { CALL, commandHelp, commandNamed, helpText, lineOf } from './line.ts';

function main(args: readonly string[]): Ending {
  const line = lineOf(args, COMMANDS);
  if (line.kind === 'run') {
    const { command, file, options } = line;
    const begun = command.begins?.(file, options);
    if (begun !== undefined) return begun;
    const text = textOf(file);
    return command.takesText?.(text, file, options) ?? command.run(modelOf(text, file), options, line.words);
  }
  if (line.kind === 'version') process.stdout.write(`${packageJson.version}\n`);
  else process.stdout.write(line.command ? commandHelp(line.command) : helpText(COMMANDS));
  return 0;
}

function textOf(file: string): string {
  // The byte count bounds the characters.
  return readText(file, 'a .json file', 4 * LARGEST_FILE, `${LARGEST_FILE} characters`);
}

function modelOf(text: string, file: string): LinkageModel {
  const reading = readModel(text);
  if (!reading.ok) throw problemsOf(file, reading.problems.map(wordProblem), reading.more);
  return reading.model;
}

/** The error in its line, with what came from outside made harmless, and where help is. */
function refused({ message, help }: Refusal, args: readonly string[]): string {
  const command = commandNamed(args, COMMANDS);
  const where = help ? `Help: ${CALL} help${command ? ` ${command.name}` : ''}\n` : '';
  return `${harmlessLines(message)}\n${where}`;
}

/** Runs what a command line says, what it prints and what is wrong with it included; the exit code. */
export async function runLine(args: readonly string[]): Promise<number> {
  try {
    return await main(args);
  } catch (error) {
    const isRefusal = error instanceof Refusal;
    process.stderr.write(
      isRefusal
        ? refused(error, args)
        : `Axlewright has failed, not your file: ${error instanceof Error ? error.stack : String(error)}\n`,
    );
    return isRefusal ? 2 : 3;
  }
}
