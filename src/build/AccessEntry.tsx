/**
 * The way from a part to what has to come off to get at it.
 */
import type { ReactNode } from 'react';
import { useApp } from '../page/store.ts';

/**
 * `id` is the scene id of the part. A mistake that is looked at has no build order: the build as written is reached.
 */
export function AccessEntry({ id }: { readonly id: string }): ReactNode {
  const act = useApp((state) => state.act);
  return (
    <button
      type="button"
      className="go-button warms press line gap-4 strong"
      onClick={() => {
        act.setOrder({ ...useApp.getState().order, tab: 'access', of: 'access', at: 0, access: id });
        act.goToPlace('order');
      }}
    >
      What comes off to get at it
    </button>
  );
}
