/**
 * `torque`: the whole bike's torque list in build order, or one pivot's torque cards: preload, window, wrench, the
 * torque for a wanted clamp, and the spread of its parts.
 *
 * Exit code 0 when every pivot shown is sound and its torque in or near its window, 1 when one is not.
 */
import {
  limitsOf,
  torqueStack,
  capital,
  CAUTIONS,
  checkTolerances,
  DEFAULT_SETS,
  figure,
  GENERAL_CLASSES,
  setUpTorque,
  torqueCards,
  torqueForClamp,
  torqueList,
  TORQUE_UNITS,
  toNm,
  unitOf,
  wordChain,
  wordChoice,
  wordDimension,
  wordDimensionLimits,
  wordForce,
  wordFriction,
  wordHabit,
  wordLimit,
  wordOtherUnits,
  wordPair,
  wordSampling,
  wordSecuring,
  wordShims,
  wordShortForm,
  wordTorque,
  wordTorqueForClamp,
  wordTreatment,
  wordTurn,
  wordVerdict,
  wordWeakest,
  wordWindow,
  wordWindowStrip,
  wordWrench,
  type Analysis,
  type GeneralClass,
  type LinkageModel,
  type ToleranceQuestion,
  type ToleranceReport,
  type WrenchInHand,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  JSON_OPTION,
  numberOption,
  oneOf,
  pivotOption,
  planned,
  putJson,
  Refusal,
  refusing,
  textOption,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** The command. */
export const torqueCommand: Command = commandOf({
  name: 'torque',
  summary: 'the bike’s torque list, or one pivot’s card: limits, wrench setting, torque for a clamp, tolerances',
  options: {
    pivot: { type: 'string', value: 'ID', says: 'this pivot’s card instead of the list' },
    clamp_N: { type: 'string', value: 'N', says: 'beside --pivot: the torque that clamps with this force' },
    wrenches_Nm: { type: 'string', value: '2-10,5-25', says: 'the ranges of the torque wrenches you have' },
    'wrench-length_mm': { type: 'string', value: 'MM', says: 'grip mark to drive, for the reading with an adapter' },
    'adapter-length_mm': { type: 'string', value: 'MM', says: 'drive to bolt' },
    'adapter-angle_deg': { type: 'string', value: 'DEG', says: 'of the adapter, 0 straight ahead' },
    sets: { type: 'string', value: 'N', says: 'beside --pivot: so many sets of parts within their tolerances' },
    seed: { type: 'string', value: 'N', says: 'another draw of the sets' },
    draw: { type: 'string', value: 'bell|even', says: 'how sizes spread within their tolerances' },
    class: { type: 'string', value: 'f|m|c', says: 'general tolerances where the file gives none' },
    measured_mm: { type: 'string', value: 'ROW=MM,…', says: 'sizes you have measured' },
    convert: { type: 'string', value: '"N UNIT"', says: 'a torque in N·m and in the other units' },
    makers: { type: 'boolean', says: 'the list in the order of the frame’s maker' },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  examples: [
    'torque models/skarn-140.json',
    'torque models/skarn-140.json --pivot shock-frame --wrenches_Nm 2-10,5-25',
  ],
  apart: [
    [
      'convert',
      [
        'pivot',
        'clamp_N',
        'wrenches_Nm',
        'wrench-length_mm',
        'adapter-length_mm',
        'adapter-angle_deg',
        'sets',
        'seed',
        'draw',
        'class',
        'measured_mm',
        'makers',
      ],
    ],
  ],
  run,
});

function run(base: LinkageModel, options: Options): number {
  const convert = textOption(options, 'convert');
  if (convert !== undefined) return putConversion(convert, options);
  const analysis = analysed(base, options);
  const known = analysis.model.pivots.map(({ id }) => id);
  const pivot = pivotOption('torque', analysis.model, options);
  const shown = pivot === undefined ? known : [pivot];
  const report = refusing(() => reportOf(analysis, shown, options, pivot));
  if (options['json'] === true) putJson(report);
  else
    process.stdout.write(
      pivot === undefined ? listText(report, analysis, options) : cardsText(report, analysis, options),
    );
  const isSound = analysis.pivots.every(({ id, verdict }) => !shown.includes(id) || verdict === 'sound');
  const isIn = report.cards.every(({ window }) => window.enough !== 'no' && window.notTooMuch !== 'no');
  return isSound && isIn ? 0 : 1;
}

/** The fixed form of `torque --json`: the cards are those of the pivots asked for, of every pivot without `--pivot`. */
export type TorqueReport = ReturnType<typeof reportOf>;

function reportOf(analysis: Analysis, shown: readonly string[], options: Options, pivot: string | undefined) {
  const { model } = analysis;
  const wrench = wrenchOf(options);
  const clamp_N = numberOption('torque', options, 'clamp_N', (value) => value > 0, 'a force above 0');
  const question = toleranceOf(options, pivot);
  if (clamp_N !== undefined && pivot === undefined)
    throw new Refusal(
      `torque: --clamp_N: met without --pivot, allowed: beside --pivot ${model.pivots.map(({ id }) => id).join(', ')}`,
    );
  const cards = shown.flatMap((id) => {
    const bench = setUpTorque(analysis.resolved, id);
    return torqueCards(analysis, id, wrench).map((card) => {
      const forClamp = clamp_N === undefined ? undefined : torqueForClamp(torqueStack(bench, card.stackId), clamp_N);
      return { ...card, ...(forClamp ? { forClamp } : {}) };
    });
  });
  const tolerance = question && toEnd(checkTolerances(model, question));
  return {
    model: model.id,
    ...(analysis.variant === undefined ? {} : { variant: analysis.variant }),
    list: torqueList(planned(analysis, options)),
    cards,
    ...(tolerance ? { tolerance } : {}),
  };
}

function toEnd<T>(run: Generator<unknown, T>): T {
  for (;;) {
    const step = run.next();
    if (step.done === true) return step.value;
  }
}

function wrenchOf(options: Options): WrenchInHand {
  const length_mm = numberOption(
    'torque',
    options,
    'wrench-length_mm',
    (value) => value > 0,
    'a length above 0, grip mark to drive',
  );
  const adapter_mm = numberOption(
    'torque',
    options,
    'adapter-length_mm',
    (value) => value >= 0,
    'a length of at least 0, drive to bolt',
  );
  const angle_deg = numberOption(
    'torque',
    options,
    'adapter-angle_deg',
    (value) => Math.abs(value) <= 180,
    'an angle from -180 to 180 degrees, 0 straight ahead',
  );
  const ranges = textOption(options, 'wrenches_Nm');
  if ((length_mm === undefined) !== (adapter_mm === undefined)) {
    throw new Refusal(
      `torque: --${length_mm === undefined ? 'wrench-length_mm' : 'adapter-length_mm'}: met nothing, allowed: both lengths together, --wrench-length_mm and --adapter-length_mm`,
    );
  }
  if (angle_deg !== undefined && length_mm === undefined)
    throw new Refusal(
      'torque: --adapter-angle_deg: met without its lengths, allowed: beside --wrench-length_mm and --adapter-length_mm',
    );
  return {
    ...(ranges === undefined ? {} : { ranges_Nm: ranges.split(',').map(rangeOf) }),
    ...(length_mm === undefined || adapter_mm === undefined
      ? {}
      : { adapter: { length_mm, adapter_mm, angle_deg: angle_deg ?? 0 } }),
  };
}

function rangeOf(words: string): readonly [number, number] {
  const [from, to, ...more] = words.split('-').map((part) => (part.trim() === '' ? NaN : Number(part)));
  if (from === undefined || to === undefined || more.length > 0 || !(from >= 0 && to > from))
    throw new Refusal(`torque: --wrenches_Nm: met ${words}, allowed: ranges such as 2-10,5-25`);
  return [from, to];
}

function toleranceOf(options: Options, pivotId: string | undefined): ToleranceQuestion | undefined {
  const sets = numberOption(
    'torque',
    options,
    'sets',
    (value) => Number.isInteger(value) && value >= 1 && value <= 1_000_000,
    'a whole number from 1 to 1000000',
  );
  const seed = numberOption('torque', options, 'seed', Number.isSafeInteger, 'a whole number');
  const draw = oneOf('torque', options, 'draw', ['bell', 'even'] as const);
  const generalClass = oneOf('torque', options, 'class', GENERAL_CLASSES);
  const measured = textOption(options, 'measured_mm');
  const given = [sets, seed, draw, generalClass, measured].some((value) => value !== undefined);
  if (!given) return undefined;
  if (pivotId === undefined)
    throw new Refusal(
      'torque: --sets, --seed, --draw, --class, --measured_mm: met without --pivot, allowed: beside --pivot, since tolerances are one pivot’s',
    );
  return {
    pivotId,
    sets: sets ?? DEFAULT_SETS,
    ...(seed === undefined ? {} : { seed }),
    ...(draw === undefined ? {} : { draw }),
    ...(generalClass === undefined ? {} : { generalClass: generalClass satisfies GeneralClass }),
    ...(measured === undefined ? {} : { measured_mm: Object.fromEntries(measured.split(',').map(measureOf)) }),
  };
}

function measureOf(words: string): readonly [string, number] {
  const at = words.lastIndexOf('=');
  const value = at < 1 || words.slice(at + 1).trim() === '' ? NaN : Number(words.slice(at + 1));
  if (!(value > 0))
    throw new Refusal(
      `torque: --measured_mm: met ${words}, allowed: a row or dimension and its length, such as tube=30.02`,
    );
  return [words.slice(0, at).trim(), value];
}

function putConversion(words: string, options: Options): number {
  const match = /^\s*(\S+?)\s*([a-zA-Z·.\-*/ ]+)\s*$/.exec(words);
  const unit = match && unitOf(match[2]!);
  const value = match ? Number(match[1]) : NaN;
  if (!unit || !(Number.isFinite(value) && value >= 0))
    throw new Refusal(
      `torque: --convert: met ${words}, allowed: a number of at least 0 and a unit (${TORQUE_UNITS.join(', ')}), such as "97 in·lb"`,
    );
  const torque_Nm = toNm(value, unit);
  if (options['json'] === true) putJson({ torque_Nm });
  else process.stdout.write(`${wordTorque(torque_Nm)}, ${wordOtherUnits(torque_Nm)}\n`);
  return 0;
}

const MAKERS_TORQUE =
  'The frame maker’s torque for this year and size comes first; local rules and a qualified mechanic have the last word.';

function listText(report: TorqueReport, analysis: Analysis, options: Options): string {
  const lines = [
    `${analysis.model.name}: torque list in ${options['makers'] === true ? 'the maker’s' : 'build'} order`,
    '',
  ];
  for (const row of report.list) {
    const card = report.cards.find(({ stackId }) => stackId === row.stackId)!;
    lines.push(
      `${String(row.place).padStart(2)}. ${wordTorque(row.torque['N·m'])}  (${wordOtherUnits(row.torque['N·m'])})  ${row.stackName} (${row.stackId})`,
    );
    lines.push(
      `    ${wordTurn(row.tightening)}`,
      `    ${capital(wordTreatment(row.stackId, analysis))}. ${wordWindow(card.window).title}; ${wordWindowStrip(card.window)}`,
    );
    const pair = wordPair(row.stackId, analysis);
    if (pair !== undefined) lines.push(`    ${pair}`);
    const securing = wordSecuring(row.stackId, analysis);
    if (securing !== undefined) lines.push(`    ${securing}`);
    if (row.isAgainstHabit) lines.push(`    !! ${wordHabit(row)}`);
    if (row.fitted_for_now !== undefined) lines.push(`    Will be opened again: ${row.fitted_for_now}`);
  }
  lines.push('', CAUTIONS.after, MAKERS_TORQUE, '');
  return lines.join('\n');
}

function cardsText(report: TorqueReport, analysis: Analysis, options: Options): string {
  const pivot = analysis.pivots.find(({ id }) => id === report.cards[0]!.pivotId)!;
  const lines = [`${pivot.name} (${pivot.id}): ${wordVerdict(pivot)}`];
  for (const card of report.cards) {
    lines.push(
      '',
      `${card.name}: ${wordTorque(card.torque['N·m'])}  (${wordOtherUnits(card.torque['N·m'])})`,
      `  ${wordTurn(card.tightening)}`,
    );
    if (card.isAgainstHabit) lines.push(`  !! ${wordHabit(card)}`);
    lines.push(
      `  ${capital(wordTreatment(card.stackId, analysis))}. At the spec the ${wordWeakest(card.stackId, analysis)} carries ${wordForce(card.clamp_N)}.`,
    );
    lines.push(`  ${wordFriction(card)}`, `  ${wordShortForm(card.shortForm, card.tightening)}`);
    const window = wordWindow(card.window);
    lines.push(`  ${window.title}. ${window.text}`, `  ${wordWindowStrip(card.window)}`);
    for (const limit of limitsOf(card.window)) {
      const { title, text: said } = wordLimit(limit, analysis);
      lines.push(`    ${title}. ${said}`);
    }
    lines.push(
      `  ${wordWrench(card.wrench).text}`,
      ...card.wrench.choices.map((choice) => `    ${wordChoice(choice)}`),
    );
    const clamp_N = Number(textOption(options, 'clamp_N'));
    if (clamp_N > 0) lines.push(`  ${wordTorqueForClamp(card.forClamp, clamp_N, wordWeakest(card.stackId, analysis))}`);
    if (card.fitted_for_now !== undefined) lines.push(`  Will be opened again: ${card.fitted_for_now}`);
  }
  if (report.tolerance) lines.push('', ...toleranceText(report.tolerance, analysis));
  lines.push('', CAUTIONS.after, MAKERS_TORQUE, '');
  return lines.join('\n');
}

function toleranceText(report: ToleranceReport, analysis: Analysis): string[] {
  const byId = new Map(report.dimensions.map((dimension) => [dimension.id, dimension] as const));
  const said = wordSampling(report.sampling, report.dimensions, analysis);
  const lines = [`Tolerances, seed ${report.sampling.seed}: ${said.title}`, `  ${said.text}`];
  for (const chain of report.chains) {
    const { title, text: sum } = wordChain(chain, analysis);
    lines.push('', `  ${title}`, `    ${sum}`);
    if (chain.limits)
      lines.push(
        `    It clamps from ${figureOf(chain.limits.low_mm)} to ${figureOf(chain.limits.high_mm)} with the rest as it is.`,
      );
    for (const { dimension, coefficient, share } of [...chain.terms].sort((a, b) => b.share - a.share)) {
      const own = byId.get(dimension)!;
      lines.push(
        `    ${coefficient > 0 ? '+' : '−'} ${wordDimension(own, analysis)} (${own.id}): ${wordDimensionLimits(own)}, ${Math.round(100 * share)} % of the variance`,
      );
    }
  }
  for (const advice of report.shims) {
    const { title, text: told } = wordShims(advice, analysis);
    lines.push('', `  ${title} (${advice.chainId})`, `    ${told}`);
  }
  const sources = [...new Set(report.dimensions.map(({ source }) => source))];
  return [...lines, '', `  Tolerances from: ${sources.join('; ')}.`];
}

function figureOf(value: number | undefined): string {
  return value === undefined ? 'beyond 3 mm' : `${figure(value)} mm`;
}
