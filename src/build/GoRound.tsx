/**
 * The way round the bike, where a hand has to work from the other side.
 */
import type { ReactNode } from 'react';
import { sideWord, type Side } from '../../shared/index.ts';
import { focusRegion } from '../page/focus.ts';
import { useApp } from '../page/store.ts';

/** One tap to the side a hand has to work from, when one stands on the other. */
export function GoRound({ side }: { readonly side: Side }): ReactNode {
  const stand = useApp((state) => state.stand);
  const act = useApp((state) => state.act);
  if (stand === side) return null;
  return (
    <button
      type="button"
      className="button button-small small medium no-wrap"
      onClick={(event) => {
        focusRegion(event.currentTarget);
        act.lookFrom(side);
      }}
    >
      Go round to the {sideWord(side)}
    </button>
  );
}
