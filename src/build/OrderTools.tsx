/**
 * What is done with the whole order: build up or strip down, and its sheet, on paper or as a file.
 */
import type { ReactNode } from 'react';
import type { OrderView, Way } from './order.ts';
import type { Plan } from '../../shared/index.ts';
import { madePdf, SaveButton } from '../widgets/SaveButton.tsx';
import { Segments } from '../widgets/Segments.tsx';

const WAYS: readonly (readonly [Way, string])[] = [
  ['build', 'Build up'],
  ['strip', 'Strip down'],
];

interface Props {
  readonly view: OrderView;
  readonly turn: (way: Way) => void;
  readonly canPrint: boolean;
  readonly plan: Plan;
}

export function OrderTools({ view, turn, canPrint, plan }: Props): ReactNode {
  return (
    <div className="plan-tools flow gap-3">
      {view.of !== 'access' && (
        <Segments label="Direction" choices={WAYS} value={view.way} pick={(way) => view.way !== way && turn(way)} />
      )}
      <button
        type="button"
        className="button medium no-wrap"
        aria-disabled={!canPrint}
        onClick={() => canPrint && window.print()}
      >
        Print
      </button>
      {view.way === 'build' && view.of === 'plan' && (
        <SaveButton
          make={() =>
            madePdf(`${plan.analysis.model.id}-job`, async () => (await import('../sheet/files.ts')).jobPages(plan))
          }
        >
          Job sheet as PDF
        </SaveButton>
      )}
    </div>
  );
}
