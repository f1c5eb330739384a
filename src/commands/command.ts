/**
 * What a command of the command line is: a name, its options, and a run that gives the exit code.
 *
 * Exit code 0: sound; 1: a stop finding, or a verdict that an estimate decides; 2: unreadable input or bad usage, said
 * by throwing a `Refusal`.
 */
import { writeFileSync } from 'node:fs';
import { analyse, planOf, wordPinned, type Analysis, type LinkageModel, type Plan } from '../../shared/index.ts';

/** Trouble with what the user gave: words for stderr, exit code 2. */
export class Refusal extends Error {}

/** Values of a command line's options, by name. */
export type Options = Readonly<Record<string, string | boolean | undefined>>;

/** One command. `usage` is its line in the help text, `options` every option it knows. */
export interface Command {
  readonly name: string;
  readonly summary: string;
  readonly usage: string;
  readonly options: Readonly<Record<string, { readonly type: 'string' | 'boolean' }>>;
  /** Words after the model file that the command takes, for the usage and the check; none when left out. */
  readonly takes?: readonly string[];
  run(model: LinkageModel, options: Options, words: readonly string[]): number;
}

/** The option's text, or undefined where it was not given. */
export function textOption(options: Options, name: string): string | undefined {
  const value = options[name];
  return typeof value === 'string' ? value : undefined;
}

/** Analyse a model with the `--variant` option; an unknown variant is refused in words. */
export function analysed(model: LinkageModel, options: Options): Analysis {
  const known = (model.variants ?? []).map((variant) => variant.id);
  const variant = textOption(options, 'variant');
  if (variant === undefined) return analyse(model);
  if (!known.includes(variant))
    throw new Refusal(`--variant: met ${variant}, allowed: ${known.join(', ') || 'none, the model has no variants'}`);
  return analyse(model, { variant });
}

/** The plan of an analysis, the maker's where `--makers` asks for it; an order that there is none of is refused in words. */
export function planned(analysis: Analysis, options: Options): Plan {
  if (options['makers'] !== true) return planOf(analysis);
  const plan = planOf(analysis, { follow: 'makers' });
  if (plan.follows === 'makers') return plan;
  if (!plan.pinned) throw new Refusal('--makers: met a model that gives no order of its maker, allowed: one that does');
  const { title, lines } = wordPinned(plan.pinned, analysis);
  throw new Refusal(['--makers: ' + title, ...lines.map((line) => `  ${line}`)].join('\n'));
}

/** 0 for a sound build, 1 for any other. */
export function exitCode({ verdict }: Pick<Analysis, 'verdict'>): number {
  return verdict === 'sound' ? 0 : 1;
}

/** Write to `--out` when it was given, else to stdout. */
export function put(options: Options, text: string): void {
  const file = textOption(options, 'out');
  if (file === undefined) {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw new Refusal(`--out: ${file}: cannot be written (${error instanceof Error ? error.message : String(error)})`);
  }
}

/** A plain result as `--json` prints it. */
export function putJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, undefined, 2)}\n`);
}
