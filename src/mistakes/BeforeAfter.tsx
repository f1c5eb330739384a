/**
 * The same picture before and after: as written, or as a hand has it. A tap stays; a press that is held shows the build
 * as written until it is let go.
 */
import { useRef, type ReactNode } from 'react';
import { act, useApp } from '../page/store.ts';

/** A press longer than this is held, ms. */
const HOLD_ms = 350;

export function BeforeAfter(): ReactNode {
  const asWritten = useApp((state) => state.asWritten);
  const pressed_ms = useRef<number | undefined>(undefined);
  return (
    <div className="segments before-after tinted" role="group" aria-label="The picture shows">
      <button
        type="button"
        className="segment medium no-wrap"
        title="Hold to look, tap to stay"
        aria-pressed={asWritten}
        onPointerDown={(event) => {
          pressed_ms.current = event.timeStamp;
          event.currentTarget.setPointerCapture(event.pointerId);
          act.showAsWritten(true);
        }}
        onPointerUp={(event) => {
          if (event.timeStamp - (pressed_ms.current ?? event.timeStamp) > HOLD_ms) act.showAsWritten(false);
        }}
        onPointerCancel={() => act.showAsWritten(false)}
        onContextMenu={(event) => event.preventDefault()}
        // A keyboard presses without a pointer.
        onClick={(event) => event.detail === 0 && act.showAsWritten(true)}
      >
        As written
      </button>
      <button
        type="button"
        className="segment medium no-wrap"
        aria-pressed={!asWritten}
        onClick={() => act.showAsWritten(false)}
      >
        As you have it
      </button>
    </div>
  );
}
