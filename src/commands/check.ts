/**
 * `check`: every pivot's verdict and findings, and what every spacer's faces bear on.
 *
 * Exit code 0 for a sound bike, 1 for any other.
 */
import {
  nameOf,
  sideWord,
  wordFace,
  wordFacing,
  wordFinding,
  wordForce,
  wordTorque,
  wordTurn,
  wordVerdict,
  type Analysis,
  type AnalyseOptions,
  type LinkageModel,
} from '../../shared/index.ts';
import { checkReport } from './check-report.ts';
import { checkDraft } from './draft.ts';
import {
  analysed,
  commandOf,
  exitCode,
  findingLine,
  JSON_OPTION,
  LAST_WORD,
  putJson,
  Refusal,
  textsOption,
  VARIANT_OPTION,
  type Command,
  type Options,
} from './command.ts';

/** The command. */
export const checkCommand: Command = commandOf({
  name: 'check',
  summary: 'every pivot’s verdict and findings',
  options: {
    json: JSON_OPTION,
    variant: VARIANT_OPTION,
    reached: {
      type: 'string',
      value: 'PIVOT=N·m',
      isMultiple: true,
      says: 'a torque reached at a pivot or axle, against its setting; one or more',
    },
  },
  examples: [
    'check models/skarn-140.json',
    'check models/skarn-140.json --reached shock-frame=8',
    'check tests/fixtures/draft-axle-and-nut.json',
  ],
  takesText: (text, file, options) => checkDraft(text, file, options['json'] === true),
  run(model, options) {
    const analysis = analysed(model, options, reachedOption(model, options));
    if (options['json'] === true) putJson(checkReport(analysis));
    else process.stdout.write(text(analysis));
    return exitCode(analysis);
  },
});

/** What `--reached pivot=8` says of pivots and stacks, each once; anything else is refused in words. */
function reachedOption({ pivots }: LinkageModel, options: Options): AnalyseOptions {
  const known = [...new Set(pivots.flatMap(({ id, stacks }) => [id, ...stacks.map((stack) => stack.id)]))];
  const reached_Nm: Record<string, number> = {};
  for (const words of textsOption(options, 'reached')) {
    const [id = '', torque = '', ...more] = words.split('=').map((word) => word.trim());
    if (!known.includes(id))
      throw new Refusal(`check: --reached: met ${id || 'nothing'}, allowed: ${known.join(', ')}`);
    const value = torque === '' ? NaN : Number(torque);
    if (more.length > 0 || !(Number.isFinite(value) && value > 0))
      throw new Refusal(`check: --reached: met ${words}, allowed: a torque in N·m above 0, such as ${id}=8`);
    if (Object.hasOwn(reached_Nm, id)) throw new Refusal(`check: --reached: ${id} is named twice, allowed: once`);
    reached_Nm[id] = value;
  }
  return Object.keys(reached_Nm).length > 0 ? { reached_Nm } : {};
}

function text(analysis: Analysis): string {
  const lines = [`${analysis.model.name}: ${wordVerdict(analysis)}`];
  for (const pivot of analysis.pivots) {
    lines.push('', `${pivot.name} (${pivot.id}): ${wordVerdict(pivot)}`);
    for (const stack of pivot.stacks) {
      lines.push(
        `  ${stack.name}: axle from the ${sideWord(stack.from)}, ${wordTorque(stack.tightening.torque_Nm)}, ${stack.items.some(({ role }) => role === 'bearing') ? 'inner rings' : 'row'} clamped with ${wordForce(stack.clamp_N)}`,
      );
      for (const item of stack.items.filter(
        (candidate) => candidate.role === 'spacer' || candidate.role === 'lining' || candidate.role === 'tip',
      )) {
        lines.push(`    ${nameOf(item.id, analysis)}: ${wordFacing(item, analysis)}`);
        lines.push(
          `      non-drive face ${wordFace(item.nonDrive, analysis)}; drive face ${wordFace(item.drive, analysis)}`,
        );
      }
      lines.push(`    ${wordTurn(stack.tightening)}`);
    }
    for (const finding of pivot.findings)
      lines.push(`  ${findingLine(finding.severity, wordFinding(finding, analysis))}`);
  }
  for (const finding of analysis.findings)
    lines.push('', findingLine(finding.severity, wordFinding(finding, analysis)));
  return [...lines, '', LAST_WORD, ''].join('\n');
}
