/**
 * `sort`: which part each reading of a loose part is, where it goes, what cannot be told apart, and what to measure
 * next.
 *
 * Exit code 0 when every reading has its one place and nothing is worn out; 1 when a reading fits nothing, is left
 * over, could as well be another part, or belongs to a part worn beyond its limit. A part that is missing from the tray
 * is told but decides nothing: a tray may be measured in parts.
 */
import {
  capital,
  CAUTIONS,
  checkReadings,
  nextReading,
  placesOf,
  readReadings,
  sortTray,
  wordAlternative,
  wordMissing,
  wordNext,
  wordPartPlace,
  wordReading,
  wordReadingProblem,
  wordReadingSizes,
  wordSetting,
  wordTrayRow,
  wordWorn,
  type Analysis,
  type LinkageModel,
  type Readings,
  type Tray,
  type TrayRow,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  JSON_OPTION,
  problemsOf,
  putJson,
  readText,
  Refusal,
  textOption,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** The command. */
export const sortCommand: Command = commandOf({
  name: 'sort',
  summary: 'which part each loose part is, from calliper readings, and what to measure next',
  options: {
    accuracy: { type: 'string', value: 'MM', says: 'of the calliper, 0.001 to 2 mm' },
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
  },
  takes: [{ name: '<readings>', says: 'a table (.csv, units in its header row) or a list (.json)' }],
  examples: ['sort models/skarn-140.json tests/fixtures/sort/skarn-tray.csv'],
  run,
});

/** Largest file of readings opened, bytes. */
const LARGEST_BYTES = 2_000_000;

function run(base: LinkageModel, options: Options, words: readonly string[]): number {
  const [file] = words;
  if (file === undefined)
    throw new Refusal('sort: readings: met nothing, allowed: the path of a .csv or .json file of readings');
  const analysis = analysed(base, options);
  const readings = readingsOf(file, analysis.model, options);
  const tray = sortTray(analysis.model, readings);
  if (options['json'] === true) putJson(report(tray, analysis));
  else process.stdout.write(text(tray, analysis));
  return tray.rows.every(isSettled) ? 0 : 1;
}

function isSettled({ isSure, placements }: TrayRow): boolean {
  return isSure && placements.every(({ worn }) => worn.every(({ isBeyond }) => !isBeyond));
}

function readingsOf(file: string, model: LinkageModel, options: Options): Readings {
  const result = readReadings(readText(file, 'a .csv or .json file', LARGEST_BYTES));
  if (!result.ok) throw problemsOf(file, result.problems.map(wordReadingProblem));
  const accuracy = textOption(options, 'accuracy');
  const accuracy_mm = accuracy === undefined ? result.setting.accuracy_mm : Number(accuracy.replace(',', '.'));
  if (!(accuracy_mm >= 0.001 && accuracy_mm <= 2))
    throw new Refusal(`sort: --accuracy: met ${accuracy}, allowed: 0.001 to 2 mm`);
  const readings: Readings = { readings: result.readings, setting: { ...result.setting, accuracy_mm } };
  const problems = checkReadings(readings, model);
  if (problems.length > 0) throw problemsOf(file, problems.map(wordReadingProblem));
  return readings;
}

/** The fixed form of `sort --json`. */
export type SortReport = ReturnType<typeof report>;

function report(tray: Tray, analysis: Analysis) {
  const next = nextReading(tray);
  return {
    model: analysis.model.id,
    ...tray.setting,
    readings: tray.rows.map((row, index) => ({
      row: index + 1,
      ...(row.reading.label === undefined ? {} : { label: row.reading.label }),
      sure: row.isSure,
      placements: row.placements.map(({ candidate, pieces, fit, worn }) => ({
        part: candidate,
        from: tray.candidates.get(candidate)!.from,
        pieces,
        misfit_accuracies: fit.misfit_accuracies,
        sizes: fit.sizes.map(({ name, read, nominal, off, accuracies }) => ({ name, read, nominal, off, accuracies })),
        worn,
        places: placesOf(analysis, candidate),
      })),
      leftOver: row.leftOver,
      ...(row.looksLike === undefined ? {} : { looksLike: row.looksLike }),
      alternatives: row.alternatives.map((alternative) => ({
        ...(alternative.candidate === undefined ? {} : { part: alternative.candidate }),
        odds: alternative.odds,
        cannotBeTold: alternative.cannotBeTold,
        text: wordAlternative(alternative, row, tray),
      })),
      text: sentence(row, tray),
    })),
    missing: tray.missing.map(({ candidate, pieces }) => ({ part: candidate, pieces })),
    ...(next ? { next: { ...next, text: `${wordNext(next, tray).title}. ${wordNext(next, tray).text}` } } : {}),
  };
}

function sentence(row: TrayRow, tray: Tray): string {
  const { title, text: said } = wordTrayRow(row, tray);
  return `${title}. ${said}`;
}

function text(tray: Tray, analysis: Analysis): string {
  const sure = tray.rows.filter(isSettled).length;
  const lines = [`${analysis.model.name}: ${tray.rows.length} readings, ${sure} settled`, wordSetting(tray.setting)];
  tray.rows.forEach((row, index) => {
    lines.push(
      '',
      `${capital(wordReading(row.reading, index))}, ${wordReadingSizes(row.reading)}`,
      `  ${sentence(row, tray)}`,
    );
    for (const { candidate, worn } of row.placements) {
      const { kind } = tray.candidates.get(candidate)!;
      for (const size of worn) lines.push(`  ${size.isBeyond ? 'STOP' : 'NOTE'} ${capital(wordWorn(size, kind))}`);
      for (const place of placesOf(analysis, candidate)) lines.push(`    ${wordPartPlace(place, analysis)}`);
    }
    for (const alternative of row.alternatives) lines.push(`  ${wordAlternative(alternative, row, tray)}`);
  });
  if (tray.missing.length > 0)
    lines.push('', 'Not on the tray:', ...tray.missing.map((part) => `  ${wordMissing(part, tray)}`));
  const next = nextReading(tray);
  if (next) lines.push('', `${wordNext(next, tray).title}.`, `  ${wordNext(next, tray).text}`);
  lines.push('', CAUTIONS.defer, '');
  return lines.join('\n');
}
