/**
 * The two sheets of this subject, for whatever is open: the bike's torque list, and the tolerances of the picked pivot.
 */
import type { ReactNode } from 'react';
import { pivotOf, shownOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { ToleranceSheet } from '../tolerance/ToleranceSheet.tsx';
import { TorqueListSheet } from '../torque/TorqueListSheet.tsx';

interface Props {
  readonly which: 'torque-list' | 'tolerance';
  readonly onClose: () => void;
}

export default function TorqueSheets({ which, onClose }: Props): ReactNode {
  const analysis = useApp(shownOf);
  const pivot = useApp(pivotOf);
  if (!analysis) return null;
  if (which === 'torque-list') return <TorqueListSheet analysis={analysis} onClose={onClose} />;
  return pivot ? <ToleranceSheet key={pivot.id} pivot={pivot} analysis={analysis} onClose={onClose} /> : null;
}
