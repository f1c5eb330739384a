/**
 * `section`: one pivot's section drawing as SVG, non-drive side on the left. Which stack it is, and which others there
 * are, goes to stderr.
 *
 * Exit code 0 for a sound bike, 1 for any other.
 */
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import type { Analysis } from '../../shared/index.ts';
import {
  analysed,
  commandOf,
  exitCode,
  numberOption,
  oneOf,
  put,
  Refusal,
  VARIANT_OPTION,
  type Command,
} from './command.ts';

/** The command. */
export const sectionCommand: Command = commandOf({
  name: 'section',
  summary: 'one pivot’s section drawing, non-drive side on the left, as SVG',
  options: {
    pivot: { type: 'string', value: 'ID', says: 'the pivot', isNeeded: true },
    stack: { type: 'string', value: 'ID', says: 'which of its stacks; the first when left out' },
    apart: { type: 'string', value: '0..1', says: 'from closed, 0, to apart along the axle, 1' },
    theme: { type: 'string', value: 'light|dark|print', says: 'the colours; print when left out' },
    out: { type: 'string', value: 'FILE', says: 'write there instead of printing' },
    variant: VARIANT_OPTION,
  },
  examples: ['section models/skarn-140.json --pivot shock-frame --out section.svg'],
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
    // On stderr: what goes to stdout is the drawing alone.
    process.stderr.write(`${drawn(pivot, stack)}\n`);
    return exitCode(analysis);
  },
});

function drawn(pivot: Analysis['pivots'][number], stack: Analysis['pivots'][number]['stacks'][number]): string {
  const others = pivot.stacks.filter(({ id }) => id !== stack.id).map(({ id }) => id);
  return `Drawn: stack ${stack.id}, ${stack.name}. ${
    others.length === 0
      ? `Pivot ${pivot.id} has no other.`
      : `Others of pivot ${pivot.id}, by --stack: ${others.join(', ')}.`
  }`;
}
