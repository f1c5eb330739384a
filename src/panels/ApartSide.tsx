/**
 * Which side of a pivot comes apart: both, the drive side alone, the non-drive side alone. One button goes through them.
 */
import type { ReactNode } from 'react';
import type { ApartOf } from '../../shared/index.ts';
import { useStageHand } from './stageHand.ts';

const NEXT: Readonly<Record<ApartOf, ApartOf>> = { both: 'drive', drive: 'non-drive', 'non-drive': 'both' };
const WORDS: Readonly<Record<ApartOf, string>> = {
  both: 'both sides',
  drive: 'drive side only',
  'non-drive': 'non-drive side only',
};

/** The button. */
export function ApartSide(): ReactNode {
  const apartOf = useStageHand((state) => state.apartOf);
  const pull = useStageHand((state) => state.pull);
  const words = `Comes apart: ${WORDS[apartOf]}`;
  return (
    <button
      type="button"
      className="button apart-side"
      aria-label={words}
      title={words}
      onClick={() => pull(NEXT[apartOf])}
    >
      <svg className="apart-side-icon" viewBox="0 0 40 24" aria-hidden="true">
        <path d="M17 5h6v14h-6Z" />
        {apartOf !== 'drive' && <path d="M13 12H3m4-4-4 4 4 4" />}
        {apartOf !== 'non-drive' && <path d="M27 12h10m-4-4 4 4-4 4" />}
        {apartOf === 'drive' && <path className="is-still" d="M10 5h3v14h-3Z" />}
        {apartOf === 'non-drive' && <path className="is-still" d="M27 5h3v14h-3Z" />}
      </svg>
    </button>
  );
}
