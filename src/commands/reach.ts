/**
 * `reach`: what must come off to get at one part, and how it all goes back.
 *
 * The part is named by its id (`stackId/rowId`, a member, an obstacle) or by words of its name: `rocker bearing drive`.
 * Exit code 0 where it can be freed, 1 where nothing frees it.
 */
import {
  nameOf,
  planOf,
  reachOf,
  reachTargets,
  targetOf,
  wordBecause,
  wordReach,
  wordReachTarget,
  wordTool,
  type LinkageModel,
  type Plan,
  type ReachTarget,
} from '../../shared/index.ts';
import { analysed, putJson, Refusal, type Command, type Options } from './command.ts';
import { buildLines, buildSteps, ended, stripLines, stripSteps } from './order.ts';

/** The command. */
export const reachCommand: Command = {
  name: 'reach',
  summary: 'what must come off to get at one part, by id or by words of its name, and how it goes back',
  usage: 'reach   <model.json> <part> [--json] [--variant ID]',
  options: { json: { type: 'boolean' }, variant: { type: 'string' } },
  takes: ['<part>'],
  run,
};

function run(base: LinkageModel, options: Options, [wanted = '']: readonly string[]): number {
  const analysis = analysed(base, options);
  const plan = planOf(analysis);
  const target = named(plan, wanted);
  const reach = reachOf(plan, target.id);
  if (options['json'] === true)
    putJson({
      model: analysis.model.id,
      ...reach,
      strip: stripSteps(reach.strip, analysis),
      back: buildSteps(reach.back, analysis),
    });
  else {
    const words = wordReach(reach, analysis);
    const lines = [
      `${analysis.model.name}: ${wordReachTarget(target, analysis)}`,
      `${words.title} ${words.text}`,
      ...words.notes.map((note) => `! ${note}`),
    ];
    if (reach.because.length > 0)
      lines.push(
        '',
        'Why',
        ...[...new Set(reach.because.map((one) => wordBecause(one, analysis)))].map((line) => `  · ${line}`),
      );
    if (reach.blocked.length > 0)
      lines.push(
        '',
        'In the way',
        ...[...new Set(reach.blocked.map((one) => wordBecause(one, analysis)))].map((line) => `  · ${line}`),
      );
    if (reach.tools.length > 0) lines.push('', `Tools: ${reach.tools.map(wordTool).join(', ')}`);
    if (words.threadlocker.length > 0)
      lines.push('', 'New threadlocker', ...words.threadlocker.map((line) => `  ${line}`));
    lines.push(
      '',
      `OFF: ${reach.strip.length} steps`,
      ...stripLines(reach.strip, analysis),
      '',
      `BACK: ${reach.back.length} steps`,
      ...buildLines(reach.back, analysis),
    );
    process.stdout.write(ended(lines));
  }
  return reach.blocked.length === 0 && reach.jobs.length > 0 ? 0 : 1;
}

/** The one thing that an id or the words of a name mean; words that mean several or none are refused with what they could mean. */
function named(plan: Plan, wanted: string): ReachTarget {
  const { analysis } = plan;
  const all = reachTargets(plan);
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
  const called = (target: ReachTarget): string =>
    `${target.kind === 'item' ? `${nameOf(target.id, analysis)} ${pivots.get(target.id) ?? ''}` : wordReachTarget(target, analysis)} ${target.id}`.toLowerCase();
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
  const listed = (meant.length > 0 ? meant : all)
    .map((target) => `  ${target.id}  ${wordReachTarget(target, analysis)}`)
    .join('\n');
  throw new Refusal(
    `reach: part: met ${wanted === '' ? 'nothing' : `“${wanted}”`}, which means ${meant.length === 0 ? 'no part' : `${meant.length} parts`}, allowed:\n${listed}`,
  );
}
