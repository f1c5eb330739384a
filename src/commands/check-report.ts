/**
 * The fixed form of `check --json`: verdicts, what every face bears on, and the findings in words.
 *
 * `z_mm` is the part's non-drive end when tight. Faces list every touch beside the worst one, which `bears` names.
 */
import { wordFinding, type Analysis, type FaceReading, type Finding } from '../../shared/index.ts';

/** The report of an analysis, ready for `JSON.stringify`. Row ids are those of the model file. */
export function checkReport(analysis: Analysis) {
  return {
    model: analysis.model.id,
    ...(analysis.variant === undefined ? {} : { variant: analysis.variant }),
    verdict: analysis.verdict,
    pivots: analysis.pivots.map((pivot) => ({
      id: pivot.id,
      verdict: pivot.verdict,
      stacks: pivot.stacks.map((stack) => ({
        id: stack.id,
        from: stack.from,
        clamp_N: round(stack.clamp_N),
        parts: stack.items
          .filter((item) => item.part !== undefined)
          .map((item) => ({
            id: item.rowId,
            part: item.part!,
            z_mm: round(item.from_mm),
            ...(item.smallFace === undefined ? {} : { smallFace: item.smallFace }),
            faces: { nonDrive: faceReport(item.nonDrive), drive: faceReport(item.drive) },
          })),
      })),
      findings: pivot.findings.map((finding) => findingReport(finding, analysis)),
    })),
    findings: analysis.findings.map((finding) => findingReport(finding, analysis)),
  };
}

function faceReport(face: FaceReading) {
  return {
    bears: face.bears,
    force_N: round(face.force_N),
    touches: face.touches.map((touch) => ({
      with: rowId(touch.with),
      bears: touch.bears,
      force_N: round(touch.force_N),
      gap_mm: round(touch.gap_mm),
    })),
  };
}

function findingReport(finding: Finding, analysis: Analysis) {
  const { title, text } = wordFinding(finding, analysis);
  return {
    code: finding.code,
    severity: finding.severity,
    ...(finding.stack === undefined ? {} : { stack: finding.stack }),
    parts: finding.parts.map(rowId),
    text: `${title}. ${text}`,
    numbers: finding.numbers,
    ...(finding.limit ? { limit: finding.limit } : {}),
    ...(finding.rests ? { rests: finding.rests } : {}),
  };
}

/** `stackId/rowId` → the row id, as the file has it. */
function rowId(id: string): string {
  return id.slice(id.indexOf('/') + 1);
}

/** To a thousandth: enough for N and mm, and the same on every machine. */
function round(value: number): number {
  const rounded = Math.round(value * 1000) / 1000;
  return Object.is(rounded, -0) ? 0 : rounded;
}
