/**
 * How far the picked pivot is apart, or the way out of the steps while they say where the parts stand; and the cut.
 *
 * On the picture's foot where a hand reaches it; on an upright phone in a row of its own at the lower edge, under the thumb.
 */
import type { ReactNode } from 'react';
import { create } from 'zustand';
import type { ApartOf } from '../../shared/index.ts';
import { act, useApp } from '../page/store.ts';
import { ViewIcon } from '../picture/ViewIcon.tsx';

/** The slider, or the button that leaves the steps; nothing without a pivot. */
export function ApartControl(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  const apart = useApp((state) => state.apart);
  const isStepping = useApp((state) => state.step !== undefined);
  const hasPicture = useApp((state) => state.webgl === 'ok');
  if (!hasPivot) return null;
  if (isStepping) {
    return (
      <button type="button" className="button leave medium no-wrap" onClick={() => act.stepTo(undefined)}>
        Leave the steps
      </button>
    );
  }
  return (
    <div className="apart line gap-5 strong">
      <label className="apart-slide line gap-5 slim">
        <span className="apart-word">Apart</span>
        <input
          type="range"
          className="range full"
          min={0}
          max={1}
          step={0.01}
          value={apart}
          aria-valuetext={apart === 0 ? 'tight' : apart === 1 ? 'fully apart' : `${Math.round(apart * 100)} %`}
          onChange={(event) => act.setApart(event.target.valueAsNumber)}
        />
      </label>
      {hasPicture && <ApartSide />}
    </div>
  );
}

/** Cut open or whole; nothing without a pivot, nor without a picture: the row is a section as it is. */
export function CutButton(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined && state.webgl === 'ok');
  const cut = useApp((state) => state.cut);
  if (!hasPivot) return null;
  return (
    <button type="button" className="button medium no-wrap" aria-pressed={cut} onClick={() => act.setCut(!cut)}>
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
    <div className="hand-row line gap-5 on-sheet" role="group" aria-label="Apart and cut">
      <ApartControl />
      <CutButton />
    </div>
  );
}

/** What a hand has set on the picture alone: which side comes apart. It is no place of the work and stands in no address. */
interface PictureHand {
  readonly apartOf: ApartOf;
  readonly pull: (apartOf: ApartOf) => void;
}

export const usePictureHand = create<PictureHand>()((set) => ({
  apartOf: 'both',
  pull: (apartOf) => set({ apartOf }),
}));

const NEXT: Readonly<Record<ApartOf, ApartOf>> = { both: 'drive', drive: 'non-drive', 'non-drive': 'both' };
const WORDS: Readonly<Record<ApartOf, string>> = {
  both: 'both sides',
  drive: 'drive side only',
  'non-drive': 'non-drive side only',
};

/** Which side comes apart: both, the drive side alone, the non-drive side alone. One button goes through them. */
function ApartSide(): ReactNode {
  const apartOf = usePictureHand((state) => state.apartOf);
  const pull = usePictureHand((state) => state.pull);
  const words = `Comes apart: ${WORDS[apartOf]}`;
  return (
    <button
      type="button"
      className="button apart-side medium no-wrap rigid"
      aria-label={words}
      title={words}
      onClick={() => pull(NEXT[apartOf])}
    >
      <svg className="apart-side-icon icon" viewBox="0 0 40 24" aria-hidden="true">
        <path d="M17 5h6v14h-6Z" />
        {apartOf !== 'drive' && <path d="M13 12H3m4-4-4 4 4 4" />}
        {apartOf !== 'non-drive' && <path d="M27 12h10m-4-4 4 4-4 4" />}
        {apartOf === 'drive' && <path className="is-still" d="M10 5h3v14h-3Z" />}
        {apartOf === 'non-drive' && <path className="is-still" d="M27 5h3v14h-3Z" />}
      </svg>
    </button>
  );
}
