/**
 * `felt`: from what a hand feels to what is wrong at one pivot, and the check that tells most a minute.
 *
 * Exit code 0 where the answers lead to nothing wrong, 1 where they lead to a cause or to none yet.
 */
import {
  CAUSE_KINDS,
  diagnose,
  PRIORS,
  planOf,
  readFelt,
  settingUpFelt,
  wordAsk,
  wordCause,
  wordDiagnosis,
  wordNextCheck,
  wordRemedy,
  type Diagnosis,
  type Diagnosing,
  type LinkageModel,
  type Plan,
  type Priors,
  type RankedCause,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  JSON_OPTION,
  pivotOption,
  putJson,
  Refusal,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';
import { ended } from './order.ts';

/** Causes that are shown; the rest is counted. */
const SHOWN = 6;

/** The command. */
export const feltCommand: Command = commandOf({
  name: 'felt',
  summary: 'from what a hand feels to what is wrong at one pivot, by the fewest checks',
  options: {
    pivot: { type: 'string', value: 'ID', says: 'the pivot it is felt at', isNeeded: true },
    often: {
      type: 'string',
      value: 'KIND:N,…',
      says: 'how often in 1,000 a kind of thing goes wrong in your shop: "grit:20,turned:5"',
    },
    next: { type: 'boolean', says: 'only the next check, and why' },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  takes: [
    {
      name: '<felt>',
      says: 'what is felt, with commas: "notchy, gap:drive, no left-over, unsure clicks, again facing:taper-left"',
    },
  ],
  examples: ['felt models/skarn-140.json --pivot rocker-frame "tight, rubs:drive"'],
  apart: [['next', ['json']]],
  run,
});

function run(base: LinkageModel, options: Options, [said = '']: readonly string[]): number {
  const analysis = analysed(base, options);
  const pivot = pivotOption('felt', analysis.model, options);
  if (pivot === undefined) throw new Refusal('felt: --pivot: met nothing, allowed: the id of a pivot');
  const set = setUp(planOf(analysis), pivot);
  const answers = readFelt(said, set.asks);
  if (!Array.isArray(answers)) {
    const { met, allowed } = answers as Exclude<typeof answers, readonly unknown[]>;
    throw new Refusal(`felt: met “${met}”, allowed: ${allowed.join(', ')}`);
  }
  const priors = readOften(options['often']);
  const found = diagnose(set, answers, priors);
  if (options['json'] === true)
    putJson({
      model: analysis.model.id,
      pivot,
      answers,
      often_per1000: Object.fromEntries(
        CAUSE_KINDS.map((kind) => [kind, perThousand(priors[kind] ?? PRIORS[kind].value)]),
      ),
      ends: found.ends,
      open_bits: found.open_bits,
      first: found.first.map(({ cause }) => cause.id),
      causes: found.causes.map(plain),
      ...(found.next ? { next: { ...found.next, yes: found.next.yes?.id, no: found.next.no?.id } } : {}),
    });
  else process.stdout.write(ended(options['next'] === true ? nextLines(found) : lines(found)));
  return found.ends === 'one' && found.first[0]!.cause.kind === 'nothing-wrong' ? 0 : 1;

  function lines(diagnosis: Diagnosis): string[] {
    const { title, text } = wordDiagnosis(diagnosis, pivot!, analysis);
    const name = analysis.pivots.find(({ id }) => id === pivot)!.name;
    const told = (answers as readonly { key: string; is: string }[]).map(({ key, is }) => {
      const ask = set.asks.find((one) => one.key === key) ?? { code: set.asks.find(({ code }) => code === key)!.code };
      return `  ${is === 'yes' ? '+' : is === 'no' ? '−' : '?'} ${wordAsk(ask, analysis)}`;
    });
    const shown = diagnosis.causes.slice(0, SHOWN);
    const rest = diagnosis.causes.slice(SHOWN).reduce((sum, { probability }) => sum + probability, 0);
    return [
      `${analysis.model.name}: ${name}`,
      ...told,
      '',
      `${title}. ${text}`,
      '',
      ...shown.flatMap(({ cause, probability }) => [
        `${shareOf(probability)}  ${wordCause(cause, pivot!, analysis)}`,
        `        ${wordRemedy(cause)}`,
      ]),
      `${shareOf(rest)}  ${diagnosis.causes.length - shown.length} others together`,
      ...(diagnosis.next ? ['', ...nextLines(diagnosis)] : []),
    ];
  }

  function nextLines(diagnosis: Diagnosis): string[] {
    if (!diagnosis.next) {
      const { title, text } = wordDiagnosis(diagnosis, pivot!, analysis);
      return [`No further check. ${title}. ${text}`];
    }
    const { title, text, why } = wordNextCheck(diagnosis.next, pivot!, analysis);
    return [`Check next (${diagnosis.next.ask.key}): ${title}`, `  ${text}`, `  ${why}`];
  }
}

function perThousand(chance: number): number {
  return Number((1000 * chance).toPrecision(6));
}

/** The shop's own figures, from "grit:20,turned:5". */
function readOften(text: Options[string] | undefined): Priors {
  if (typeof text !== 'string') return {};
  return Object.fromEntries(
    text.split(',').map((piece) => {
      const [name = '', number = '', ...more] = piece.split(':').map((word) => word.trim());
      const kind = CAUSE_KINDS.find((known) => known === name);
      if (kind === undefined) throw new Refusal(`felt: --often: met “${name}”, allowed: ${CAUSE_KINDS.join(', ')}`);
      const value = Number(number);
      if (more.length > 0 || number === '' || !(value > 0 && value <= 1000))
        throw new Refusal(`felt: --often: ${kind}: met “${number}”, allowed: a number above 0, at most 1000`);
      return [kind, value / 1000];
    }),
  );
}

/** A cause without how its mistake is made, which `mistakes` tells. */
function plain({ cause: { id, kind, pivot, item, stack }, probability }: RankedCause): object {
  return { id, kind, pivot, item, stack, probability };
}

function shareOf(probability: number): string {
  return `${(100 * probability).toFixed(1).padStart(5)} %`;
}

function setUp(plan: Plan, pivot: string): Diagnosing {
  const steps = settingUpFelt(plan, pivot);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
}
