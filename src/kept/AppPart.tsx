/**
 * Which Axlewright this is, whether it works without a network, and whether a newer one waits.
 */
import type { ReactNode } from 'react';
import { takeUpdate, useOffline } from '../page/offline.ts';
import { APP_VERSION } from '../page/version.ts';
import { APP_WORDS, TAKE_UPDATE } from '../words.ts';

export function AppPart(): ReactNode {
  const { is } = useOffline();
  return (
    <section className="sheet-part">
      <h3>This Axlewright</h3>
      <p>Version {APP_VERSION}</p>
      <p role="status">{APP_WORDS[is]}</p>
      {is === 'update' && (
        <button type="button" className="button button-main medium no-wrap" onClick={takeUpdate}>
          {TAKE_UPDATE}
        </button>
      )}
    </section>
  );
}
