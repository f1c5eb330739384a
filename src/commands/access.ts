/**
 * `access`: what must come off to get at one part, and how it all goes back.
 *
 * The part is named by its id (`stackId/rowId`, a member, an obstacle) or by words of its name: `rocker bearing drive`.
 * Exit code 0 where it can be freed, 1 where nothing frees it.
 */
import {
  nameOf,
  planOf,
  accessOf,
  accessTargets,
  targetOf,
  wordBecause,
  wordAccess,
  wordAccessTarget,
  wordTool,
  type LinkageModel,
  type Plan,
  type AccessTarget,
} from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  JSON_OPTION,
  putJson,
  Refusal,
  unknown,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';
import { buildLines, buildSteps, ended, stripLines, stripSteps } from './order.ts';

/** The command. */
export const accessCommand: Command = commandOf({
  name: 'access',
  summary: 'what must come off to get at one part, and how it goes back',
  options: { json: JSON_OPTION, variant: VARIANT_OPTION },
  takes: [{ name: '<part>', says: 'its id, or words of its name: "rocker bearing drive"' }],
  examples: ['access models/skarn-140.json "the shock"'],
  run,
});

function run(base: LinkageModel, options: Options, [wanted = '']: readonly string[]): number {
  const analysis = analysed(base, options);
  const plan = planOf(analysis);
  const target = named(plan, wanted);
  const access = accessOf(plan, target.id);
  if (options['json'] === true)
    putJson({
      model: analysis.model.id,
      ...access,
      strip: stripSteps(access.strip, analysis),
      back: buildSteps(access.back, analysis),
    });
  else {
    const words = wordAccess(access, analysis);
    const lines = [
      `${analysis.model.name}: ${wordAccessTarget(target, analysis)}`,
      `${words.title} ${words.text}`,
      ...words.notes.map((note) => `! ${note}`),
    ];
    if (access.because.length > 0)
      lines.push(
        '',
        'Why',
        ...[...new Set(access.because.map((one) => wordBecause(one, analysis)))].map((line) => `  · ${line}`),
      );
    if (access.blocked.length > 0)
      lines.push(
        '',
        'In the way',
        ...[...new Set(access.blocked.map((one) => wordBecause(one, analysis)))].map((line) => `  · ${line}`),
      );
    if (access.tools.length > 0) lines.push('', `Tools: ${access.tools.map(wordTool).join(', ')}`);
    if (words.threadlocker.length > 0)
      lines.push('', 'New threadlocker', ...words.threadlocker.map((line) => `  ${line}`));
    lines.push(
      '',
      `OFF: ${access.strip.length} steps`,
      ...stripLines(access.strip, analysis),
      '',
      `BACK: ${access.back.length} steps`,
      ...buildLines(access.back, analysis),
    );
    process.stdout.write(ended(lines));
  }
  return access.blocked.length === 0 && access.tasks.length > 0 ? 0 : 1;
}

/**
 * The one thing that an id or the words of a name mean; words that mean several or none are refused with what they
 * could mean.
 */
function named(plan: Plan, wanted: string): AccessTarget {
  const { analysis } = plan;
  const all = accessTargets(plan);
  const byId = targetOf(plan, wanted);
  if (byId && all.some(({ id }) => id === byId.id)) return byId;
  const words = wanted
    .toLowerCase()
    .split(/[\s,]+/)
    .filter((word) => !['', 'the', 'side'].includes(word));
  const pivots = new Map(
    analysis.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ items, name }) => items.map(({ id }) => [id, name] as const)),
    ),
  );
  const called = (target: AccessTarget): string =>
    `${target.kind === 'item' ? `${nameOf(target.id, analysis)} ${pivots.get(target.id) ?? ''}` : wordAccessTarget(target, analysis)} ${target.id}`.toLowerCase();
  const meant =
    words.length === 0
      ? []
      : all.filter((target) =>
          words.every((word) =>
            called(target)
              .split(/[^\p{L}\d-]+/u)
              .some((part) => part.startsWith(word)),
          ),
        );
  // A whole piece goes before the parts that bear its name.
  const whole = meant.filter(({ kind }) => kind !== 'item');
  const one = meant.length === 1 ? meant[0] : whole.length === 1 ? whole[0] : undefined;
  if (one) return one;
  const met = wanted.trim() === '' ? 'nothing' : `“${wanted}”`;
  if (meant.length === 0) {
    const ids = all.map(({ id }) => id);
    throw unknown('access: part', wanted, ids, undefined, `${met}, which means no part`);
  }
  throw new Refusal(
    `access: part: met ${met}, which means ${meant.length} parts, allowed: ${meant
      .map((target) => `${target.id} (${wordAccessTarget(target, analysis)})`)
      .join(', ')}`,
  );
}
