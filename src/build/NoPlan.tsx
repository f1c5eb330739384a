/**
 * The word that stands where a list of steps will be, while the worker works the order out or when it cannot.
 */
import type { ReactNode } from 'react';
import { useApp } from '../page/store.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';

export function NoPlan(): ReactNode {
  const planned = useApp((state) => state.planned);
  if (planned.is === 'done') return null;
  return planned.is === 'running' ? (
    <p role="status">Working out the order…</p>
  ) : (
    <FailedWork what="The order" message={planned.message} />
  );
}
