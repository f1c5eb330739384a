/**
 * The torque cards of a pivot, worked out once the card itself has been drawn and kept while its analysis is open.
 */
import { useEffect, useState } from 'react';
import { torqueCards, type Analysis, type TorqueCard } from '../../shared/index.ts';

const known = new WeakMap<Analysis, Map<string, readonly TorqueCard[]>>();

function cardsOf(analysis: Analysis, pivotId: string): readonly TorqueCard[] {
  const cards = known.get(analysis) ?? new Map<string, readonly TorqueCard[]>();
  known.set(analysis, cards);
  const found = cards.get(pivotId) ?? torqueCards(analysis, pivotId);
  cards.set(pivotId, found);
  return found;
}

/** The card of a stack; undefined until it has been worked out. */
export function useTorqueCard(analysis: Analysis, pivotId: string, stackId: string): TorqueCard | undefined {
  const [, setReady] = useState(0);
  const cards = known.get(analysis)?.get(pivotId);
  useEffect(() => {
    if (cards) return undefined;
    const later = setTimeout(() => {
      cardsOf(analysis, pivotId);
      setReady((count) => count + 1);
    }, 0);
    return () => clearTimeout(later);
  }, [analysis, pivotId, cards]);
  return cards?.find((card) => card.stackId === stackId);
}
