/**
 * `section`: one pivot's section drawing as SVG, non-drive side on the left.
 *
 * Exit code 0 for a sound bike, 1 for any other.
 */
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { analysed, exitCode, numberOption, oneOf, put, Refusal, type Command } from './command.ts';

const text = { type: 'string' } as const;

/** The command. */
export const sectionCommand: Command = {
  name: 'section',
  summary: "one pivot's section drawing, non-drive side on the left, as SVG",
  usage:
    'section <model.json> --pivot ID [--stack ID] [--apart 0..1] [--theme light|dark|print] [--out FILE] [--variant ID]',
  options: { pivot: text, stack: text, apart: text, theme: text, out: text, variant: text },
  run(model, options) {
    const analysis = analysed(model, options);
    const ids = analysis.pivots.map(({ id }) => id);
    const pivotId = oneOf('section', options, 'pivot', ids);
    const pivot = analysis.pivots.find(({ id }) => id === pivotId);
    if (!pivot) throw new Refusal(`section: --pivot: met nothing, allowed: ${ids.join(', ')}`);
    const stackId = oneOf(
      'section',
      options,
      'stack',
      pivot.stacks.map(({ id }) => id),
    );
    const stack = pivot.stacks.find(({ id }) => id === stackId) ?? pivot.stacks[0]!;
    const apart =
      numberOption(
        'section',
        options,
        'apart',
        (value) => value >= 0 && value <= 1,
        'a number from 0 (closed) to 1 (apart)',
      ) ?? 0;
    const theme = oneOf('section', options, 'theme', ['light', 'dark', 'print'] as const) ?? 'print';
    put(options, svg(drawSection(stack, analysis, { apart, theme })));
    return exitCode(analysis);
  },
};
