/**
 * An opened part: how well it fits, what is worn, what else it could be, and every place it goes to, each one a tap
 * from the picture.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import {
  capital,
  placesOf,
  wordAlternative,
  wordPartPlace,
  wordTrayRow,
  wordWorn,
  type Analysis,
  type PartPlace,
  type Tray,
  type TrayRow,
} from '../../shared/index.ts';
import { act, useApp } from '../page/store.ts';
import type { Draft } from './tray.ts';
import { useTray } from './trayStore.ts';

interface Props {
  readonly draft: Draft;
  readonly row: TrayRow;
  readonly tray: Tray;
  readonly analysis: Analysis;
  readonly said: string;
}

export function RowDetail({ draft, row, tray, analysis, said }: Props): ReactNode {
  const { takeInHand, remove } = useTray();
  const show = ({ pivotId, stackId, itemId }: PartPlace): void => {
    // All at once, so that the browser's back button returns to the tray.
    const { view, cut } = useApp.getState();
    act.show({ pivot: pivotId, stack: stackId, direction: 'build', scope: 'pivot', view, cut });
    act.select(itemId);
    act.setTab('card');
  };
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // Opened near the edge it would stay out of sight. The call's promise must not become the effect's clean-up.
    void box.current?.closest('li')?.scrollIntoView({ block: 'nearest' });
  }, []);
  const places = row.placements.flatMap(({ candidate }) => placesOf(analysis, candidate));
  return (
    <div className="board-detail stack gap-3" ref={box}>
      <p className="soft">{said}</p>
      <p>{wordTrayRow(row, tray).text}</p>
      {row.placements.flatMap(({ candidate, worn }) =>
        worn.map((size) => (
          <p
            key={size.name}
            className={size.isBeyond ? 'callout callout-warn callout-trouble strong' : 'callout callout-warn'}
          >
            {capital(wordWorn(size, tray.candidates.get(candidate)?.kind))}
          </p>
        )),
      )}
      {row.alternatives.map((alternative) => (
        <p key={alternative.candidate ?? 'none'} className="board-other">
          {wordAlternative(alternative, row, tray)}
        </p>
      ))}
      {places.length > 0 && (
        <>
          <h4>Where it goes</h4>
          <ul className="stack hair">
            {places.map((place) => (
              <li key={place.itemId}>
                <button type="button" className="go-button warms press line gap-4 strong" onClick={() => show(place)}>
                  <span>{wordPartPlace(place, analysis)}</span>
                  <span className="go-end soft small end">on the picture ›</span>
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      <div className="choices flow gap-3">
        <button type="button" className="button medium no-wrap" onClick={() => takeInHand(draft.key, 'length')}>
          Measure more
        </button>
        <button type="button" className="button medium no-wrap" onClick={() => remove(draft.key)}>
          Take off the tray
        </button>
      </div>
    </div>
  );
}
