/**
 * The pivots as a strip of buttons with their verdicts in words and mark; on a phone at the edge where a thumb is.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { toldVerdict, wordVerdict, type PivotAnalysis } from '../../shared/index.ts';
import { useRoving } from '../page/useRoving.ts';
import { VerdictMark } from './marks.tsx';

interface Props {
  readonly pivots: readonly PivotAnalysis[];
  /** None is the whole bike. */
  readonly picked: string | undefined;
  readonly onPick: (id: string | undefined) => void;
}

export function PivotStrip({ pivots, picked, onPick }: Props): ReactNode {
  const strip = useRef<HTMLElement>(null);
  const list = useRoving<HTMLUListElement>('row');

  useEffect(() => {
    const button = strip.current?.querySelector<HTMLElement>('[aria-pressed="true"]');
    const list = button?.closest('ul');
    if (!button || !list) return;
    // Scrolls the strip alone; scrollIntoView would move the page as well.
    list.scrollLeft = button.offsetLeft - (list.clientWidth - button.offsetWidth) / 2;
  }, [picked, pivots]);

  return (
    <nav className="pivots slim on-sheet" aria-label="Pivots" ref={strip}>
      <ul ref={list}>
        <li>
          <button
            type="button"
            className="pivot-button edged tints line gap-3 no-wrap"
            aria-pressed={picked === undefined}
            onClick={() => onPick(undefined)}
          >
            <span className="strong">Whole bike</span>
          </button>
        </li>
        {pivots.map((pivot) => (
          <li key={pivot.id}>
            <button
              type="button"
              className="pivot-button edged tints line gap-3 no-wrap"
              aria-pressed={pivot.id === picked}
              onClick={() => onPick(pivot.id)}
            >
              <VerdictMark verdict={toldVerdict(pivot)} />
              <span className="pivot-words stack">
                <span className="strong">{pivot.name}</span>{' '}
                <span className="pivot-verdict soft small">{wordVerdict(pivot)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </nav>
  );
}
