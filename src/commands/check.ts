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
  wordTurn,
  wordVerdict,
  type Analysis,
} from '../../shared/index.ts';
import { checkReport } from './check-report.ts';
import {
  analysed,
  commandOf,
  exitCode,
  findingLine,
  JSON_OPTION,
  LAST_WORD,
  putJson,
  VARIANT_OPTION,
  type Command,
} from './command.ts';

/** The command. */
export const checkCommand: Command = commandOf({
  name: 'check',
  summary: 'every pivot’s verdict and findings',
  options: { json: JSON_OPTION, variant: VARIANT_OPTION },
  examples: ['check models/skarn-140.json'],
  run(model, options) {
    const analysis = analysed(model, options);
    if (options['json'] === true) putJson(checkReport(analysis));
    else process.stdout.write(text(analysis));
    return exitCode(analysis);
  },
});

function text(analysis: Analysis): string {
  const lines = [`${analysis.model.name}: ${wordVerdict(analysis)}`];
  for (const pivot of analysis.pivots) {
    lines.push('', `${pivot.name} (${pivot.id}): ${wordVerdict(pivot)}`);
    for (const stack of pivot.stacks) {
      lines.push(
        `  ${stack.name}: axle from the ${sideWord(stack.from)}, ${stack.tightening.torque_Nm} N·m, inner rings clamped with ${wordForce(stack.clamp_N)}`,
      );
      for (const item of stack.items.filter((candidate) => candidate.role === 'spacer')) {
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
