/**
 * One pivot on one sheet: verdict, torque and side, which way each loose part goes, its sections, and the cautions.
 */
import {
  CAUTIONS,
  wordFinding,
  wordOtherUnits,
  wordTightening,
  wordTorque,
  wordVerdict,
  type Analysis,
  type PivotAnalysis,
} from '../../shared/index.ts';
import type { Block, Line, SheetText } from './blocks.ts';
import { altOf, bikeName, facings, sidedSection } from './common.ts';
import { A4 } from './pages.ts';

/** All sections of a pivot together, mm. */
const SECTIONS_mm = 120;

/** The sheet of one pivot. */
export function pivotSheet(pivot: PivotAnalysis, analysis: Analysis): SheetText {
  const pressing = pivot.findings.flatMap((finding): Line[] => {
    if (finding.severity === 'note') return [];
    const { title, text } = wordFinding(finding, analysis);
    return [{ text: `${title}. ${text}`, mark: finding.severity === 'stop' ? 'stop' : 'look' }];
  });
  const cautions = [CAUTIONS.air, CAUTIONS.body, CAUTIONS.torque, CAUTIONS.after];
  return {
    title: `${bikeName(analysis)}: ${pivot.name}`,
    foot: CAUTIONS.defer,
    blocks: [
      { kind: 'title', text: pivot.name, under: [bikeName(analysis)] },
      { kind: 'lines', lines: [{ text: wordVerdict(pivot), isStrong: true, isLarge: true }, ...pressing] },
      ...pivot.stacks.map((stack): Block => {
        const torque_Nm = stack.tightening.torque_Nm;
        const ways = facings(stack, analysis);
        const drawing = sidedSection(stack, analysis, {
          width_mm: A4.width_mm - 2 * A4.margin_mm,
          height_mm: SECTIONS_mm / pivot.stacks.length,
          apart: 0,
        });
        return {
          kind: 'together',
          blocks: [
            {
              kind: 'heading',
              text: `${pivot.stacks.length > 1 ? `${stack.name}: ` : ''}${wordTorque(torque_Nm)} (${wordOtherUnits(torque_Nm)})`,
            },
            { kind: 'lines', lines: [{ text: wordTightening(stack, analysis) }] },
            ...(ways.length === 0 ? [] : [{ kind: 'lines', lines: ways, isList: true } as const]),
            { kind: 'drawing', drawing, alt: altOf(drawing) },
          ],
        };
      }),
      { kind: 'lines', lines: cautions.map((text): Line => ({ text, mark: 'caution' })), isList: true },
    ],
  };
}
