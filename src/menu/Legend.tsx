/**
 * What the colours and marks mean, on picture and row alike.
 */
import type { ReactNode } from 'react';
import { BandGlyph, FacingGlyph, SeverityMark, SidePlate, VerdictMark, type Band } from '../widgets/marks.tsx';

const BAND_WORDS: Readonly<Record<Band, string>> = {
  'inner-ring': 'Bears on the inner ring',
  'outer-ring': 'Touches the outer ring',
  seal: 'Rubs on the seal',
  arm: 'Bears on an arm or a boss',
  ring: 'Bears on another spacer or a land',
  nothing: 'Bears on nothing',
};

export function Legend(): ReactNode {
  return (
    <div className="legend">
      <section className="sheet-part">
        <h3>Which way a spacer is turned</h3>
        <ul className="legend-list stack gap-3">
          <li>
            <FacingGlyph toward="non-drive" /> Small face to the non-drive side
          </li>
          <li>
            <FacingGlyph toward="drive" /> Small face to the drive side
          </li>
          <li>
            <FacingGlyph toward="same" /> Both faces the same
          </li>
        </ul>
      </section>
      <section className="sheet-part">
        <h3>What a face bears on</h3>
        <ul className="legend-list stack gap-3">
          {(Object.keys(BAND_WORDS) as Band[]).map((band) => (
            <li key={band}>
              <BandGlyph band={band} /> {BAND_WORDS[band]}
            </li>
          ))}
          <li>
            <span className="contact-glyph rigid" aria-hidden="true" /> Lit ring in a tight pivot: faces that carry
            force
          </li>
        </ul>
      </section>
      <section className="sheet-part">
        <h3>Verdicts and findings</h3>
        <ul className="legend-list stack gap-3">
          <li>
            <VerdictMark verdict="sound" /> Fits: nothing to stop for, nothing to look at again
          </li>
          <li>
            <VerdictMark verdict="faulty" /> Does not fit, or a finding that says STOP
          </li>
          <li>
            <VerdictMark verdict="unsure" /> Look again: a finding says LOOK, or an estimate could turn the verdict
          </li>
          <li>
            <SeverityMark severity="warn" /> A finding to look into
          </li>
          <li>
            <SeverityMark severity="note" /> A finding to know of
          </li>
        </ul>
      </section>
      <section className="sheet-part">
        <h3>Sides</h3>
        <ul className="legend-list stack gap-3">
          <li>
            <SidePlate side="non-drive" /> Non-drive side, the rider’s left; left on the row
          </li>
          <li>
            <SidePlate side="drive" /> Drive side, the rider’s right; right on the row
          </li>
        </ul>
      </section>
    </div>
  );
}
