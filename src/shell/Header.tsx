/**
 * The head of the page: name, model, cautions, menu.
 */
import type { ReactNode } from 'react';
import type { Room } from '../page/room.ts';
import { act, useApp } from '../page/store.ts';
import { ModelSelect, OpenButton, VariantSelect } from '../menu/ModelControls.tsx';

export function Header({ room }: { readonly room: Room }): ReactNode {
  const isOpening = useApp((state) => state.isOpening);
  return (
    <header className="head line gap-5 slim">
      <h1 className={room === 'wide' || room === 'flat' ? 'brand large' : 'away clip no-wrap'}>Axlewright</h1>
      <ModelSelect />
      {(room === 'wide' || room === 'flat') && <VariantSelect />}
      {(room === 'wide' || room === 'flat') && <OpenButton />}
      <p className="opening soft" role="status">
        {isOpening ? 'Opening…' : ''}
      </p>
      <span className="flex gap-3 end">
        {room !== 'tall' && (
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
