/**
 * Whose word goes before ours.
 */
import type { ReactNode } from 'react';
import { CAUTIONS } from '../../shared/index.ts';

export function Deference(): ReactNode {
  return <p className="deference soft small">{CAUTIONS.defer}</p>;
}
