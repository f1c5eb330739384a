/**
 * The head of the page: name, model, cautions, menu.
 */
import type { ReactNode } from 'react';
import type { Room } from '../page/room.ts';
import { act, useApp } from '../page/store.ts';
import { isAway, Where } from './Where.tsx';
import { ModelSelect, OpenButton, VariantSelect } from '../menu/ModelControls.tsx';

/** Past the head and the picture, to the words: the card, the steps, or what another place tells. */
function skip(): void {
  document.querySelector<HTMLElement>('.panel [tabindex="0"], .plan-page, .tray-side, .practice-page')?.focus();
}

export function Header({ room }: { readonly room: Room }): ReactNode {
  const isOpening = useApp((state) => state.isOpening);
  const away = useApp(isAway);
  const isRoomy = room === 'wide' || room === 'flat';
  return (
    <header className="head line gap-5 slim">
      <button type="button" className="skip button button-main medium no-wrap" onClick={skip}>
        Skip to what is told
      </button>
      <h1 className={isRoomy ? 'brand large' : 'away clip no-wrap'}>Axlewright</h1>
      {(isRoomy || !away) && <ModelSelect />}
      {isRoomy && <VariantSelect />}
      {isRoomy && <OpenButton />}
      <Where />
      <p className="opening soft" role="status">
        {isOpening ? 'Opening…' : ''}
      </p>
      <span className="flex gap-3 end">
        <button
          type="button"
          className="button medium no-wrap"
          aria-keyshortcuts="/"
          title="Search (key /)"
          onClick={() => act.openDialog('find')}
        >
          <svg className="find-icon icon" viewBox="0 0 20 20" aria-hidden="true">
            <path d="M9 15A6 6 0 1 0 9 3a6 6 0 0 0 0 12ZM13.4 13.4 17.5 17.5" />
          </svg>
          <span className={room === 'wide' ? undefined : 'away clip no-wrap'}>Search</span>
        </button>
        {room !== 'tall' && (room === 'wide' || !away) && (
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('safety')}>
            Before you start
          </button>
        )}
        <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('menu')}>
          Menu
        </button>
      </span>
    </header>
  );
}
