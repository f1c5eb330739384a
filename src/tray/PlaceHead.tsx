/**
 * The head of a place: the way back, its name, which has the focus when the place is entered, and its tools.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import type { PlaceName } from '../page/route.ts';
import { act } from '../page/store.ts';

interface Props {
  readonly title: string;
  /** Name of the place one goes back to. */
  readonly back: string;
  readonly to: PlaceName | undefined;
  readonly said: ReactNode;
  readonly isPrinted?: boolean;
  readonly children: ReactNode;
}

export function PlaceHead({ title, back, to, said, isPrinted = true, children }: Props): ReactNode {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  return (
    <div className={isPrinted ? 'tray-head line wrap' : 'tray-head no-print line wrap'}>
      <button type="button" className="button back-button medium no-wrap" onClick={() => act.goToPlace(to)}>
        ‹ {back}
      </button>
      <h2 className="tray-title large" ref={head} tabIndex={-1}>
        {title}
      </h2>
      {said}
      <div className="tray-tools flow gap-3 end">{children}</div>
    </div>
  );
}
