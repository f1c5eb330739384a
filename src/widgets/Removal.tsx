/**
 * Asks once more before something goes: what is removed is gone.
 */
import type { ReactNode } from 'react';

interface Props {
  /** What goes: `Remove Skarn 140`. */
  readonly label: string;
  readonly says: string;
  readonly onRemove: () => void;
  readonly onKeep: () => void;
}

export function Removal({ label, says, onRemove, onKeep }: Props): ReactNode {
  return (
    <div className="callout callout-warn stack gap-3" role="group" aria-label={label}>
      <p>{says}</p>
      <div className="flow gap-3">
        <button type="button" className="button medium no-wrap" onClick={onRemove}>
          Remove for good
        </button>
        <button type="button" className="button medium no-wrap" onClick={onKeep}>
          Keep
        </button>
      </div>
    </div>
  );
}
