/**
 * `travel`: the linkage run through its stroke: what turns, what clears, what carries; as text, JSON, or CSV.
 *
 * Exit code 0 when nothing rubs, locks or falls short, 1 at a stop finding of the travel (the fit of the pivots is
 * `check`'s to judge).
 */
import {
  CAUTIONS,
  DEFAULT_LOAD_N,
  linkageOf,
  travel,
  wordAngle,
  wordForce,
  wordLowPivots,
  wordMeasure,
  wordPassing,
  wordPlace,
  wordRanking,
  wordSafeties,
  wordTravelFeel,
  wordTravelFinding,
  type LinkageModel,
  type Travel,
  type TravelOptions,
  type TravelPose,
} from '../../shared/index.ts';
import { drawPoses } from '../drawings/poses.ts';
import { svg } from '../drawings/svg.ts';
import {
  analysed,
  commandOf,
  exitCode,
  findingLine,
  JSON_OPTION,
  LAST_WORD,
  numberOption,
  oneOf,
  put,
  putJson,
  Refusal,
  refusing,
  textOption,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** Rows of the text table, however many poses were run. */
const TABLE_ROWS = 12;
/** Gaps the text lists, the tightest first. */
const GAP_ROWS = 6;
const MOST_POSES = 5000;

/** The command. */
export const travelCommand: Command = commandOf({
  name: 'travel',
  summary: 'the linkage run through its stroke: what turns, what clears, what carries',
  options: {
    poses: { type: 'string', value: 'N', says: 'how many poses are solved, 2 to 5000; 61 when left out' },
    load_N: { type: 'string', value: 'N', says: 'push upright at the rear axle; 1000 when left out' },
    eye_to_eye_mm: { type: 'string', value: 'MM', says: 'a shock of another length' },
    stroke_mm: { type: 'string', value: 'MM', says: 'a shock of another stroke' },
    free: { type: 'string', value: 'MEMBER', says: 'the shock out, this member swung by hand' },
    from_deg: { type: 'string', value: 'DEG', says: 'beside --free: from this turn, −180 to 0' },
    to_deg: { type: 'string', value: 'DEG', says: 'beside --free: to this turn, 0 to 180' },
    sheet: { type: 'string', value: 'FILE', says: 'write a strip of poses there as SVG' },
    json: JSON_OPTION,
    csv: { type: 'boolean', says: 'one row a pose as CSV instead of text' },
    variant: VARIANT_OPTION,
  },
  examples: ['travel models/skarn-140.json', 'travel models/skarn-140.json --free rocker --from_deg -20 --to_deg 20'],
  apart: [
    ['json', ['csv']],
    ['free', ['load_N', 'eye_to_eye_mm', 'stroke_mm']],
  ],
  run,
});

function run(base: LinkageModel, options: Options): number {
  const analysis = analysed(base, options);
  const movers = linkageOf(analysis.resolved, true).bodies.flatMap(({ members }) => members);
  oneOf('travel', options, 'free', movers);
  const result = refusing(() => travel(analysis.model, { ...travelOptions(options), analysis }));
  if (textOption(options, 'sheet') !== undefined) {
    const strip = drawPoses(result);
    if (strip === undefined)
      throw new Refusal('travel: --sheet: nothing of this model moves, so there is nothing to draw');
    put(options, svg(strip), 'sheet');
  }
  if (options['json'] === true) putJson(rounded(result.travel));
  else if (options['csv'] === true) process.stdout.write(csv(result.travel));
  else process.stdout.write(text(analysis.model, result.travel));
  return exitCode(result.travel);
}

function travelOptions(options: Options): TravelOptions {
  const given = <K extends string>(key: K, value: number | undefined): Partial<Record<K, number>> =>
    value === undefined ? {} : ({ [key]: value } as Record<K, number>);
  const free = textOption(options, 'free');
  if (free === undefined && (textOption(options, 'from_deg') ?? textOption(options, 'to_deg')) !== undefined) {
    throw new Refusal('travel: --from_deg and --to_deg: met without --free, allowed: beside --free MEMBER');
  }
  return {
    ...given('poses', number(options, 'poses', 2, MOST_POSES, true)),
    ...given('load_N', number(options, 'load_N', 0, 100_000)),
    ...given('eyeToEye_mm', number(options, 'eye_to_eye_mm', 50, 400)),
    ...given('stroke_mm', number(options, 'stroke_mm', 1, 150)),
    ...(free === undefined
      ? {}
      : {
          free: {
            member: free,
            from_deg: number(options, 'from_deg', -180, 0) ?? -30,
            to_deg: number(options, 'to_deg', 0, 180) ?? 30,
          },
        }),
  };
}

function number(options: Options, name: string, least: number, most: number, isWhole = false): number | undefined {
  const isAllowed = (value: number): boolean =>
    value >= least && value <= most && (!isWhole || Number.isInteger(value));
  return numberOption(
    'travel',
    options,
    name,
    isAllowed,
    `a ${isWhole ? 'whole ' : ''}number from ${least} to ${most}`,
  );
}

/** Every number to a millionth, so that the report is the same on every machine; what is not finite becomes null. */
function rounded(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? Math.round(value * 1e6) / 1e6 + 0 : null;
  if (Array.isArray(value)) return value.map(rounded);
  if (value !== null && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, rounded(inner)]));
  return value;
}

function csv(result: Travel): string {
  const joints = result.pivots.map(({ joint }) => joint).sort();
  const unit = result.drive.kind === 'turn' ? 'turn_deg' : 'stroke_mm';
  const head = [
    unit,
    'eye_to_eye_mm',
    'axle_x_mm',
    'axle_y_mm',
    'rise_mm',
    ...joints.map((id) => `${id}_turn_deg`),
    'shock_N',
    ...joints.map((id) => `${id}_N`),
  ];
  const cell = (value: number | undefined): string => (value === undefined ? '' : String(Number(value.toFixed(4)) + 0));
  const rows = result.poses.map((pose) =>
    [
      pose.drive,
      pose.eyeToEye_mm,
      pose.axle?.x_mm,
      pose.axle?.y_mm,
      pose.rise_mm,
      ...joints.map((id) => pose.turns_deg[id]),
      pose.shock_N,
      ...joints.map((id) => pose.forces_N?.[id]),
    ].map(cell),
  );
  return `${[head, ...rows].map((row) => row.join(',')).join('\n')}\n`;
}

function text(model: LinkageModel, result: Travel): string {
  const lines = [
    `${model.name}: travel${result.verdict === 'sound' ? '' : ': see the findings'}`,
    ...summary(model, result),
  ];
  if (result.poses.length > 0) lines.push('', ...table(model, result));
  if (result.pivots.length > 0)
    lines.push('', 'Pivots, the hardest worked first', ...wordRanking(result, model).map((line) => `  ${line}`));
  const low = wordLowPivots(result, model);
  if (low !== '') lines.push(`  ${low}`);
  const safeties = wordSafeties(result, model);
  if (safeties.length > 0)
    lines.push(
      '',
      `Static safety of the hardest pressed bearing, C0/P0 after ISO 76, at ${wordForce(result.load_N)}`,
      ...safeties.map((line) => `  ${line}`),
    );
  if (result.gaps.length > 0) {
    lines.push(
      '',
      'Smallest gaps in the side plane',
      ...result.gaps.slice(0, GAP_ROWS).map((gap) => `  ${wordPassing(gap, model, result.drive.kind === 'turn')}`),
    );
  }
  if (result.findings.length > 0) lines.push('');
  for (const finding of result.findings) {
    lines.push(findingLine(finding.severity, wordTravelFinding(finding, model)));
  }
  return [...lines, '', CAUTIONS.air, LAST_WORD, ''].join('\n');
}

function summary(
  model: LinkageModel,
  { drive, shock, rear, pivots, load_N, closure_mm, forceCheck_N, ...result }: Travel,
): string[] {
  const lines: string[] = [];
  if (shock) {
    const used = shock.reached_mm < shock.stroke_mm ? `, ${mm(shock.reached_mm)} of it usable` : '';
    lines.push(
      `  shock ${mm(shock.used_mm)} between the eyes (drawn ${mm(shock.drawn_mm)}), stroke ${mm(shock.stroke_mm)}${used}`,
    );
  }
  if (rear)
    lines.push(
      `  rear axle rises ${mm(rear.rise_mm)}${rear.stated_mm === undefined ? '' : ` (stated ${mm(rear.stated_mm)})`}, its path is ${mm(rear.path_mm)} long`,
    );
  if (drive.kind === 'turn') lines.push(`  shock out: driven by the turn of ${wordPlace(model, drive.member)}`);
  if (pivots.length > 0) lines.push(`  ${wordTravelFeel({ ...result, drive, pivots, load_N, closure_mm }, model)}`);
  if (pivots.length > 0)
    lines.push(
      `  check: loops close within ${power(closure_mm)} mm${forceCheck_N === undefined ? '' : `; forces for ${wordForce(load_N)} upright at the axle agree with virtual work within ${power(forceCheck_N)} N`}`,
    );
  if (load_N !== DEFAULT_LOAD_N || forceCheck_N === undefined) return lines;
  return [...lines, '  1000 N is a round figure: forces grow in step with the load'];
}

/** A tiny number as a power of ten. */
const power = (value: number): string => (value === 0 ? '0' : value.toExponential(0));
const mm = (value: number): string => wordMeasure({ value, unit: 'mm' });

function table(model: LinkageModel, result: Travel): string[] {
  const joints = model.pivots.flatMap(({ id }) =>
    result.pivots.flatMap(({ pivot, joint }) => (pivot === id ? [joint] : [])).sort(),
  );
  const head = [result.drive.kind === 'turn' ? 'turn' : 'stroke', 'rise', ...joints];
  const rows = sampled(result.poses).map((pose) => [
    result.drive.kind === 'turn' ? signed(pose.drive) : pose.drive.toFixed(1),
    pose.rise_mm === undefined ? '' : pose.rise_mm.toFixed(1),
    ...joints.map(
      (id) => `${signed(pose.turns_deg[id] ?? 0)}${pose.forces_N ? ` ${wordForce(pose.forces_N[id] ?? 0)}` : ''}`,
    ),
  ]);
  const widths = head.map((title, column) => Math.max(title.length, ...rows.map((row) => row[column]!.length)));
  const line = (row: readonly string[]): string =>
    `  ${row.map((cell, column) => cell.padStart(widths[column]!)).join('  ')}`;
  return [line(head), ...rows.map(line)];
}

/** A turn with its sign, anticlockwise seen from the drive side positive. */
function signed(turn_deg: number): string {
  const words = wordAngle(turn_deg);
  return turn_deg < -0.05 ? `−${words}` : words;
}

/** About a dozen poses, first and last among them. */
function sampled(poses: readonly TravelPose[]): TravelPose[] {
  if (poses.length <= TABLE_ROWS) return [...poses];
  return Array.from({ length: TABLE_ROWS }, (_, k) => poses[Math.round((k * (poses.length - 1)) / (TABLE_ROWS - 1))]!);
}
