/**
 * How far the picked pivot is apart, or the way out of the steps while they say where the parts stand; and the cut.
 *
 * On the stage's foot where a hand reaches it; on an upright phone in a row of its own at the lower edge, under the thumb.
 */
import type { ReactNode } from 'react';
import { act, useApp } from '../app/store.ts';
import { ApartSide } from './ApartSide.tsx';
import { ViewIcon } from './ViewIcon.tsx';

/** The slider, or the button that leaves the steps; nothing without a pivot. */
export function ApartControl(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  const apart = useApp((state) => state.apart);
  const isStepping = useApp((state) => state.step !== undefined);
  const hasStage = useApp((state) => state.webgl === 'ok');
  if (!hasPivot) return null;
  if (isStepping) {
    return (
      <button type="button" className="button leave" onClick={() => act.stepTo(undefined)}>
        Leave the steps
      </button>
    );
  }
  return (
    <div className="apart">
      <label className="apart-slide">
        <span className="apart-word">Apart</span>
        <input
          type="range"
          className="range"
          min={0}
          max={1}
          step={0.01}
          value={apart}
          aria-valuetext={apart === 0 ? 'tight' : apart === 1 ? 'fully apart' : `${Math.round(apart * 100)} %`}
          onChange={(event) => act.setApart(event.target.valueAsNumber)}
        />
      </label>
      {hasStage && <ApartSide />}
    </div>
  );
}

/** Cut open or whole; nothing without a pivot, nor without a stage: the bench row is a section as it is. */
export function CutButton(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined && state.webgl === 'ok');
  const cut = useApp((state) => state.cut);
  if (!hasPivot) return null;
  return (
    <button type="button" className="button" aria-pressed={cut} onClick={() => act.setCut(!cut)}>
      <ViewIcon name="cut" />
      <span className="view-long">Cut open</span>
    </button>
  );
}

/** The row of an upright phone; nothing where there is no pivot, or the travel is shown. */
export function HandRow(): ReactNode {
  const isShown = useApp((state) => state.pivotId !== undefined && state.travel === undefined);
  if (!isShown) return null;
  return (
    <div className="hand-row" role="group" aria-label="Apart and cut">
      <ApartControl />
      <CutButton />
    </div>
  );
}
