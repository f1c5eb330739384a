/**
 * Says which keys of the address mean nothing here, so that who follows an old or a mistyped link knows what is
 * missing.
 */
import type { ReactNode } from 'react';
import { act, useApp } from '../page/store.ts';

const MOST_KEYS = 3;
const LONGEST_KEY = 24;

export function AddressLine(): ReactNode {
  const keys = useApp((state) => state.unknownKeys);
  if (keys.length === 0) return null;
  const named = keys.slice(0, MOST_KEYS).map((key) => `“${key.slice(0, LONGEST_KEY)}”`);
  return (
    <div className="address-line flex gap-5 on-sheet apart-ends" role="status">
      <p>
        The address also says {named.join(', ')}
        {keys.length > MOST_KEYS && ` and ${keys.length - MOST_KEYS} more`}, which{' '}
        {keys.length === 1 ? 'means' : 'mean'} nothing here.
      </p>
      <button type="button" className="button button-small small medium no-wrap" onClick={act.forgetUnknown}>
        Close
      </button>
    </div>
  );
}
