/**
 * One pivot on one sheet of paper: verdict, which way round, torque, section, what to look at, and the cautions. Reads
 * in black and white: every meaning of a colour stands in words or in a shape beside it.
 */
import { useMemo, type ReactNode } from 'react';
import {
  capital,
  CAUTIONS,
  nameOf,
  toldVerdict,
  wordFinding,
  wordOtherUnits,
  wordPair,
  wordTreatment,
  wordTurn,
  wordVerdict,
  wordWay,
  type Analysis,
  type PivotAnalysis,
  type StackAnalysis,
} from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { madePdf, SaveButton } from '../widgets/SaveButton.tsx';
import { Dialog } from '../widgets/Dialog.tsx';
import { FacingGlyph, SeverityMark, SidePlate, TurnMark, VerdictMark } from '../widgets/marks.tsx';

interface Props {
  readonly pivot: PivotAnalysis;
  readonly analysis: Analysis;
}

/** The section is as wide as the paper between its margins, at the type of a screen. */
const PAPER_px = 700;
/** All sections of a pivot together have to stand on one sheet with their words, px of the same. */
const TALLEST_px = 440;
/** More would need a second sheet. */
const MOST_FINDINGS = 3;

export default function PivotPaper({ pivot, analysis, onClose }: Props & { readonly onClose: () => void }): ReactNode {
  const { model } = analysis;
  const variant = model.variants?.find(({ id }) => id === analysis.variant);
  const pressing = pivot.findings.filter(({ severity }) => severity !== 'note');
  const spacers = pivot.stacks.flatMap(({ items }) => items.filter(({ role }) => role === 'spacer'));
  return (
    <Dialog title="One pivot on paper" isWide onClose={onClose}>
      <div className="pivot-paper prints on-paper stack gap-3">
        <div className="no-print choices flow gap-3">
          <button type="button" className="button button-main medium no-wrap" onClick={() => window.print()}>
            Print
          </button>
          <SaveButton
            make={() =>
              madePdf(`${model.id}-${pivot.id}`, async () =>
                (await import('../sheet/files.ts')).pivotPages(pivot, analysis),
              )
            }
          >
            Save as PDF
          </SaveButton>
        </div>
        <header className="pivot-paper-head line wrap apart-ends gap-3">
          <p>
            <span className="small as-block">
              {model.name}
              {variant ? `, ${variant.name}` : ''}
            </span>
            <strong className="huge">{pivot.name}</strong>
          </p>
          <p className="line gap-3 large bold">
            <VerdictMark verdict={toldVerdict(pivot)} /> {wordVerdict(pivot)}
          </p>
        </header>
        {pressing.length > 0 && (
          <ul className="stack gap-1">
            {pressing.slice(0, MOST_FINDINGS).map((finding, k) => {
              const { title, text } = wordFinding(finding, analysis);
              return (
                <li key={`${finding.code} ${k}`} className="flex gap-3">
                  <SeverityMark severity={finding.severity} />
                  <span>
                    <strong>{title}.</strong> {text}
                  </span>
                </li>
              );
            })}
            {pressing.length > MOST_FINDINGS && <li>… and {pressing.length - MOST_FINDINGS} more, on the screen.</li>}
          </ul>
        )}
        {spacers.length > 0 && (
          <ul className="pivot-paper-ways">
            {spacers.map((item) => (
              <li key={item.id} className="line gap-3">
                <FacingGlyph toward={item.smallFace ?? 'same'} />
                <span>
                  <strong>{nameOf(item.id, analysis)}</strong>: {wordWay(item)}
                </span>
              </li>
            ))}
          </ul>
        )}
        {pivot.stacks.map((stack) => (
          <Axle key={stack.id} stack={stack} pivot={pivot} analysis={analysis} />
        ))}
        <ul className="pivot-paper-cautions small">
          {[CAUTIONS.air, CAUTIONS.body, CAUTIONS.torque, CAUTIONS.after, CAUTIONS.defer].map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </div>
    </Dialog>
  );
}

function Axle({ stack, pivot, analysis }: Props & { readonly stack: StackAnalysis }): ReactNode {
  const { tightening } = stack;
  const pair = wordPair(stack.id, analysis);
  const html = useMemo(() => {
    const {
      shown: _,
      style: __,
      ...drawing
    } = drawSection(stack, analysis, {
      theme: 'print',
      width_px: PAPER_px,
      height_px: TALLEST_px / pivot.stacks.length,
    });
    return { __html: svg(drawing) };
  }, [stack, pivot, analysis]);
  return (
    <section className="pivot-paper-axle stack gap-1">
      <p className="line wrap gap-3">
        <strong className="huge numbers">{tightening.torque_Nm} N·m</strong>
        <span className="numbers">{wordOtherUnits(tightening.torque_Nm)}</span>
        <SidePlate side={tightening.stand} /> <TurnMark turn={tightening.turn} />
        {pivot.stacks.length > 1 && <strong>{stack.name}</strong>}
      </p>
      <p>
        {wordTurn(tightening)} {capital(wordTreatment(stack.id, analysis))}.{pair === undefined ? '' : ` ${pair}`}
      </p>
      <div className="pivot-paper-section" dangerouslySetInnerHTML={html} />
    </section>
  );
}
