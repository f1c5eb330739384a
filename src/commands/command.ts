/**
 * What a command of the command line is: a name, its options, and a run that gives the exit code.
 *
 * Exit code 0: sound; 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage, said
 * by throwing a `Refusal`.
 */
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import {
  analyse,
  MOST_PROBLEMS,
  nearestName,
  planOf,
  wordMakersOrder,
  wordMoreProblems,
  type AnalyseOptions,
  type Analysis,
  type LinkageModel,
  type Plan,
  type Severity,
} from '../../shared/index.ts';

/**
 * Trouble with what the user gave: words for stderr, exit code 2. `help` says that the help of the command tells more.
 */
export class Refusal extends Error {
  readonly help: boolean;
  constructor(message: string, help = true) {
    super(message);
    this.help = help;
  }
}

/** Values of a command line's options, by name. */
export type Options = Readonly<Record<string, string | boolean | readonly string[] | undefined>>;

/** One option. A switch has no `value`; otherwise that stands for it in the help: `ID`. */
export interface Option {
  readonly type: 'string' | 'boolean';
  readonly value?: string;
  readonly says: string;
  /** The command does nothing without it. */
  readonly isNeeded?: boolean;
  /** It may be given more than once. */
  readonly isMultiple?: boolean;
}

/** What a command ends with: its exit code, at once or when a library it had to load has done its part. */
export type Ending = number | Promise<number>;

/** One command. */
export interface Command<E extends Ending = number> {
  readonly name: string;
  readonly summary: string;
  /** Every option it knows. */
  readonly options: Readonly<Record<string, Option>>;
  /** Words after the model file that the command takes; none when left out. */
  readonly takes?: readonly { readonly name: string; readonly says: string; readonly isOptional?: boolean }[];
  /** What stands behind `axlewright` in the examples of its help. */
  readonly examples: readonly string[];
  /** Options that do not go together: the first with none of the others. */
  readonly apart?: readonly (readonly [string, readonly string[]])[];
  /** What stands where other commands have their model, for the help; a model unless said. */
  readonly subject?: { readonly name: string; readonly says: string };
  /** For a command that takes other words than files: its exit code, or undefined where the word is a file. */
  readonly begins?: (word: string, options: Options) => number | undefined;
  /** For a command that takes other files than models: its exit code, or undefined where the text is a model's. */
  readonly takesText?: (text: string, file: string, options: Options) => number | undefined;
  run(model: LinkageModel, options: Options, words: readonly string[]): E;
}

/** A command that refuses options that do not go together before it runs. */
export function commandOf<E extends Ending>(command: Command<E>): Command<E> {
  return {
    ...command,
    run(model, options, words) {
      const isGiven = (name: string): boolean => options[name] !== undefined && options[name] !== false;
      for (const [one, others] of command.apart ?? []) {
        const other = others.find(isGiven);
        if (isGiven(one) && other !== undefined)
          throw new Refusal(`${command.name}: --${one} and --${other}: met both, allowed: one of them`);
      }
      return command.run(model, options, words);
    },
  };
}

/** The option of every command that prints data. */
export const JSON_OPTION: Option = { type: 'boolean', says: 'the plain result as JSON instead of text' };
/** The option of every command that takes a variant of the model. */
export const VARIANT_OPTION: Option = { type: 'string', value: 'ID', says: 'this variant of the model' };

/** A value that is none of those known, with the one that was meant; `said` is how it is told. */
export function unknown(
  what: string,
  met: string,
  known: readonly string[],
  none = 'nothing',
  said: string = met,
): Refusal {
  const meant = nearestName(met, known);
  return new Refusal(
    `${what}: met ${said}, allowed: ${known.join(', ') || none}${meant === undefined ? '' : `. Did you mean “${meant}”?`}`,
  );
}

/** The option's text, or undefined where it was not given. */
export function textOption(options: Options, name: string): string | undefined {
  const value = options[name];
  return typeof value === 'string' ? value : undefined;
}

/** The texts of an option that may be given more than once. */
export function textsOption(options: Options, name: string): readonly string[] {
  const value = options[name];
  return typeof value === 'object' ? value : [];
}

/**
 * Analyse a model with the `--variant` option; an unknown variant is refused in words. `more` is what else was said.
 */
export function analysed(model: LinkageModel, options: Options, more: AnalyseOptions = {}): Analysis {
  const known = (model.variants ?? []).map((variant) => variant.id);
  const variant = textOption(options, 'variant');
  if (variant === undefined) return analyse(model, more);
  if (!known.includes(variant)) throw unknown('--variant', variant, known, 'none, the model has no variants');
  return analyse(model, { ...more, variant });
}

/**
 * The plan of an analysis, the maker's where `--makers` asks for it; an order that there is none of is refused in
 * words.
 */
export function planned(analysis: Analysis, options: Options): Plan {
  if (options['makers'] !== true) return planOf(analysis);
  const plan = planOf(analysis, { follow: 'makers' });
  if (plan.follows === 'makers') return plan;
  if (!plan.makersOrder)
    throw new Refusal('--makers: met a model that gives no order of its maker, allowed: one that does');
  const { title, lines } = wordMakersOrder(plan.makersOrder, analysis);
  throw new Refusal(['--makers: ' + title, ...lines.map((line) => `  ${line}`)].join('\n'), false);
}

/** 0 for a sound build, 1 for any other. */
export function exitCode({ verdict }: Pick<Analysis, 'verdict'>): number {
  return verdict === 'sound' ? 0 : 1;
}

/** The pivot of `--pivot`; an unknown one is refused in words. */
export function pivotOption(command: string, { pivots }: LinkageModel, options: Options): string | undefined {
  return oneOf(
    command,
    options,
    'pivot',
    pivots.map(({ id }) => id),
  );
}

/** An option that names one of a few. */
export function oneOf<T extends string>(
  command: string,
  options: Options,
  name: string,
  allowed: readonly T[],
): T | undefined {
  const given = textOption(options, name);
  const found = allowed.find((candidate) => candidate === given);
  if (given !== undefined && found === undefined) throw unknown(`${command}: --${name}`, given, allowed);
  return found;
}

/** A number in the option's own words, refused with what is allowed. */
export function numberOption(
  command: string,
  options: Options,
  name: string,
  isAllowed: (value: number) => boolean,
  allowed: string,
): number | undefined {
  const given = textOption(options, name);
  if (given === undefined) return undefined;
  const value = given.trim() === '' ? NaN : Number(given);
  if (!Number.isFinite(value) || !isAllowed(value))
    throw new Refusal(`${command}: --${name}: met ${given}, allowed: ${allowed}`);
  return value;
}

/** What the core refuses by a RangeError is the user's doing here. */
export function refusing<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new Refusal(error.message);
    throw error;
  }
}

/** A file's text. A device may never end, and a huge file is refused before it is read. */
export function readText(file: string, kind: string, bytes: number, most = `${bytes} bytes`): string {
  try {
    const entry = statSync(file);
    if (!entry.isFile() && !entry.isFIFO())
      throw new Refusal(`${file}: met ${entry.isDirectory() ? 'a folder' : 'a device'}, allowed: ${kind}`);
    if (entry.size > bytes) throw new Refusal(`${file}: met ${entry.size} bytes, allowed: at most ${most}`);
    return readFileSync(file, 'utf8');
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(`${file}: cannot be read: ${systemWords(error)}`);
  }
}

/** What the system says of a file, in our words. */
const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'there is no such folder',
  EISDIR: 'it is a folder',
  EACCES: 'you have no right to it',
  EPERM: 'you have no right to it',
  EROFS: 'nothing can be written there',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'its name is too long',
  ELOOP: 'its links lead in a circle',
  ERR_INVALID_ARG_VALUE: 'no file can have this name',
};

/** Why the system could not do something with a file, without its codes. */
export function systemWords(error: unknown): string {
  const code = (error as { code?: unknown } | null)?.code;
  return (
    (typeof code === 'string' && Object.hasOwn(SYSTEM_WORDS, code) && SYSTEM_WORDS[code]) || 'the system refuses it'
  );
}

/** The problems of a file in words, the first of them where there are very many. */
export function problemsOf(file: string, problems: readonly string[], more = 0): Refusal {
  const told = problems.slice(0, MOST_PROBLEMS);
  const left = more + problems.length - told.length;
  const count = told.length + left;
  return new Refusal(
    [
      `${file}: ${count} ${count === 1 ? 'problem' : 'problems'}`,
      ...told.map((words) => `  ${words}`),
      ...(left === 0 ? [] : [`  ${wordMoreProblems(left)}`]),
    ].join('\n'),
    false,
  );
}

/** Write to the file an option names, or to stdout where it was not given. */
export function put(options: Options, text: string | Uint8Array, name = 'out'): void {
  const file = textOption(options, name);
  if (file === undefined) {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw new Refusal(`--${name}: ${file}: cannot be written: ${systemWords(error)}`);
  }
}

/** What each severity is called at the head of a line. */
const SEVERITIES: Readonly<Record<Severity, string>> = { stop: 'STOP', warn: 'LOOK', note: 'NOTE' };

/** A finding in a line. */
export function findingLine(
  severity: Severity,
  { title, text }: { readonly title: string; readonly text: string },
): string {
  return `${SEVERITIES[severity]} ${title}. ${text}`;
}

/** Whose word goes before ours: the end of a text. */
export const LAST_WORD = 'The frame maker’s instructions, local rules and a qualified mechanic have the last word.';

/** A plain result as `--json` prints it. */
export function putJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, undefined, 2)}\n`);
}
