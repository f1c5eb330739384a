/**
 * The sorting mat: the whole build in outline at 1:1, to print and lay the parts on.
 */
import { useMemo, type ReactNode } from 'react';
import { CAUTIONS, type Analysis } from '../../shared/index.ts';
import { matRows, SCALE_BAR_mm, scaleBar, type MatRow } from '../drawings/mat.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { PlaceHead } from './PlaceHead.tsx';

const BAR = scaleBar();

export default function MatPlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const rows = useMemo(() => matRows(analysis), [analysis]);
  return (
    <main className="mat-place prints stack fit on-sheet">
      <PlaceHead
        title="Sorting mat"
        said={<p className="tray-count soft">Print at 100 %, without fitting to the page; then measure the bar.</p>}
        isPrinted={false}
      >
        <button type="button" className="button button-main medium no-wrap" onClick={() => window.print()}>
          Print
        </button>
      </PlaceHead>
      <div className="mat-scroll" tabIndex={0} role="region" aria-label="Sorting mat">
        <div className="mat-page on-paper">
          <header className="mat-head stack">
            <p className="mat-name">{analysis.model.name}: sorting mat</p>
            <Drawing drawing={BAR} />
            <p className="mat-words">
              This bar must measure {SCALE_BAR_mm} mm. If it does not, the printer has scaled the page: lay nothing on
              it.
            </p>
          </header>
          {rows.map((row) => (
            <Row key={row.id} row={row} />
          ))}
          <p className="mat-words">{CAUTIONS.defer}</p>
        </div>
      </div>
    </main>
  );
}

function Row({ row }: { readonly row: MatRow }): ReactNode {
  return (
    <section className="mat-row" aria-label={row.title}>
      <h3 className="mat-title">{row.title}</h3>
      <p className="mat-ends flex apart-ends">
        <span>non-drive side</span>
        <span>drive side</span>
      </p>
      <ul className="mat-cells flow">
        {row.cells.map((cell) => (
          <li key={cell.id} className="mat-cell stack">
            <Drawing drawing={cell.drawing} />
            <span className="mat-cell-words stack snug" style={{ width: `${Math.max(cell.drawing.width_mm, 30)}mm` }}>
              <strong>{cell.name}</strong>
              <span>{cell.words}</span>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
