/**
 * From where one looks: the buttons of the views, and the way back to the whole bike.
 */
import type { ReactNode } from 'react';
import type { View } from '../page/route.ts';
import { act, useApp } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { ViewIcon } from './ViewIcon.tsx';

const VIEW_WORDS: Readonly<Record<View, string>> = {
  'non-drive': 'Non-drive side',
  'three-quarter': 'Three-quarter',
  above: 'From above',
  drive: 'Drive side',
};
const VIEW_ORDER: readonly View[] = ['non-drive', 'three-quarter', 'above', 'drive'];

export function Views({ onBike = act.backToBike }: { readonly onBike?: () => void }): ReactNode {
  const bar = useRoving<HTMLDivElement>('row');
  const view = useApp((state) => state.view);
  return (
    <div className="views flex hair" role="group" aria-label="Look from" ref={bar}>
      {VIEW_ORDER.map((name) => (
        <button
          key={name}
          type="button"
          className="button view-button medium no-wrap"
          aria-pressed={view === name}
          title={`Look: ${VIEW_WORDS[name].toLowerCase()}`}
          onClick={() => act.lookFrom(name)}
        >
          <ViewIcon name={name} />
          <span className="view-long">{VIEW_WORDS[name]}</span>
        </button>
      ))}
      <button
        type="button"
        className="button view-button bike-button medium no-wrap"
        title="Back to the bike"
        onClick={onBike}
      >
        <ViewIcon name="bike" />
        <span className="view-long">Back to the bike</span>
      </button>
    </div>
  );
}
