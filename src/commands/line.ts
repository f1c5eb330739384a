/**
 * The words of a command line taken apart, and the help that tells what they may be.
 *
 * Each command has its own options: what is unknown, given twice, without its value or with one it does not take is
 * refused by name, with the one that was meant. `--name value` and `--name=value` are the same; behind `--` no word is
 * an option.
 */
import { nearestName } from '../../shared/index.ts';
import { Refusal, unknown, type Command, type Ending, type Options, textsOption } from './command.ts';

/** How the program is called. */
export const CALL = 'npm run -s axlewright --';

/** A command line taken apart: what to run, or what to tell instead. */
export type Line =
  | {
      readonly kind: 'run';
      readonly command: Command<Ending>;
      readonly file: string;
      readonly options: Options;
      readonly words: readonly string[];
    }
  | { readonly kind: 'help'; readonly command?: Command<Ending> }
  | { readonly kind: 'version' };

/** Words that ask for help or the version, wherever they stand. */
const HELP = ['--help', '-h'];
const VERSION = ['--version', '-V'];

/** The command that a line names, if it names one: where its help is. */
export function commandNamed(
  args: readonly string[],
  commands: readonly Command<Ending>[],
): Command<Ending> | undefined {
  const [first, second] = args.filter((word) => !word.startsWith('-'));
  return commands.find(({ name }) => name === (first === 'help' ? second : first));
}

/** Take a line apart. */
export function lineOf(args: readonly string[], commands: readonly Command<Ending>[]): Line {
  const end = args.indexOf('--');
  const before = end < 0 ? args : args.slice(0, end);
  const [name, more] = before.filter((word) => !word.startsWith('-'));
  const names = commands.map((command) => command.name);
  const known = commands.find((command) => command.name === name);
  if (name === 'help' || before.some((word) => HELP.includes(word))) {
    const asked = name === 'help' ? more : name;
    if (asked === undefined) return { kind: 'help' };
    const command = commands.find((candidate) => candidate.name === asked);
    if (!command) throw unknown('command', asked, names);
    return { kind: 'help', command };
  }
  if (before.some((word) => VERSION.includes(word))) return { kind: 'version' };
  if (name === undefined) throw new Refusal(`command: met nothing, allowed: ${names.join(', ')}`);
  if (!known) throw unknown('command', name, [...names, 'help']);
  const { options, words } = optionsOf(known, args, commands);
  const [, file, ...rest] = words;
  if (file === undefined)
    throw new Refusal(
      `${name}: ${known.subject?.name ?? 'model file'}: met nothing, allowed: ${known.subject?.says ?? 'the path of a .json file'}`,
    );
  const takes = known.takes ?? [];
  const least = takes.filter(({ isOptional }) => isOptional !== true).length;
  if (rest.length < least || rest.length > takes.length)
    throw new Refusal(
      `${name}: met ${rest.join(' ') || 'nothing'} after ${known.subject?.name ?? 'the model file'}, allowed: ${takes.map((taken) => taken.name).join(' ') || 'nothing more'}`,
    );
  return { kind: 'run', command: known, file, options, words: rest };
}

function optionsOf(
  command: Command<Ending>,
  args: readonly string[],
  commands: readonly Command<Ending>[],
): { readonly options: Options; readonly words: readonly string[] } {
  const options: Record<string, string | boolean | string[]> = {};
  const words: string[] = [];
  for (let k = 0; k < args.length; k++) {
    const word = args[k]!;
    if (word === '--') {
      words.push(...args.slice(k + 1));
      break;
    }
    if (!word.startsWith('-') || word === '-') {
      words.push(word);
      continue;
    }
    const [, name = '', given] = /^--?([^=]*)(?:=([\s\S]*))?$/.exec(word) ?? [];
    const option = word.startsWith('--') && Object.hasOwn(command.options, name) ? command.options[name] : undefined;
    if (!option) throw strange(word.replace(/=[\s\S]*$/, ''), command, commands);
    const isMultiple = option.isMultiple === true;
    if (!isMultiple && Object.hasOwn(options, name))
      throw new Refusal(`${command.name}: --${name}: met twice, allowed: once`);
    if (option.type === 'boolean') {
      if (given !== undefined) throw new Refusal(`${command.name}: --${name}: met ${given}, allowed: no value`);
      options[name] = true;
      continue;
    }
    const value = given ?? args[k + 1];
    if (value === undefined || (given === undefined && value.startsWith('--')))
      throw new Refusal(
        `${command.name}: --${name}: met nothing, allowed: ${option.value ?? 'a value'}: ${option.says}`,
      );
    if (given === undefined) k++;
    options[name] = isMultiple ? [...textsOption(options, name), value] : value;
  }
  return { options, words };
}

/** An option that the command does not have: of which command it is, or which one was meant. */
function strange(word: string, command: Command<Ending>, commands: readonly Command<Ending>[]): Refusal {
  const name = word.replace(/^-+/, '');
  const owners = commands.filter(({ options }) => Object.hasOwn(options, name)).map((owner) => owner.name);
  if (word.startsWith('--') && owners.length > 0)
    return new Refusal(`${command.name}: met ${word}, which is an option of ${owners.join(', ')}`);
  const known = Object.keys(command.options);
  const meant = nearestName(name, known);
  return new Refusal(
    `${command.name}: met ${word}, allowed: ${known.map((own) => `--${own}`).join(', ')}${meant === undefined ? '' : `. Did you mean “--${meant}”?`}`,
  );
}

const EXIT_CODES =
  'Exit code 0: sound. 1: faulty, or to look at again. 2: a file that cannot be read, or a command line that is wrong.';

/** What the program can do. */
export function helpText(commands: readonly Command<Ending>[]): string {
  const width = Math.max(...commands.map(({ name }) => name.length));
  return lines(
    'Axlewright: how the parts of a linkage pivot fit together.',
    '',
    `  ${CALL} <command> <model.json> [options]`,
    '',
    ...commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`),
    '',
    `Help for one command, with its options and an example: ${CALL} help ${commands[0]!.name}`,
    `The version: ${CALL} --version`,
    '',
    EXIT_CODES,
  );
}

/** What one command can do: its options, each with what it means, and an example. */
export function commandHelp(command: Command<Ending>): string {
  const { name, summary, options, takes = [], examples, subject } = command;
  const needed = Object.entries(options).filter(([, option]) => option.isNeeded === true);
  const rows: (readonly [string, string])[] = [
    ...(subject ? [[subject.name, subject.says] as const] : []),
    ...takes.map((taken) => [taken.name, taken.says] as const),
    ...Object.entries(options).map(
      ([key, { value, says }]) => [`--${key}${value === undefined ? '' : ` ${value}`}`, says] as const,
    ),
  ];
  const width = Math.max(...rows.map(([left]) => left.length));
  return lines(
    `${name}: ${summary}`,
    '',
    `  ${[CALL, name, subject?.name ?? '<model.json>', ...takes.map((taken) => taken.name), ...needed.map(([key, { value }]) => `--${key} ${value}`), '[options]'].join(' ')}`,
    '',
    ...rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`),
    '',
    examples.length === 1 ? 'An example:' : 'Examples:',
    ...examples.map((example) => `  ${CALL} ${example}`),
    '',
    EXIT_CODES,
  );
}

function lines(...all: readonly string[]): string {
  return `${all.join('\n')}\n`;
}
