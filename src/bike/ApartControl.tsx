/**
 * How far the picked pivot is apart, which side of it comes, and the cut; and the way out of the steps, which say
 * themselves where the parts stand.
 */
import type { ReactNode } from 'react';
import { create } from 'zustand';
import type { ApartOf } from '../../shared/index.ts';
import { act, useApp } from '../page/store.ts';
import { ViewIcon } from '../picture/ViewIcon.tsx';

/** The slider; nothing without a pivot. */
export function ApartControl(): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  const apart = useApp((state) => state.apart);
  if (!hasPivot) return null;
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
      <ApartSide />
    </div>
  );
}

/** The way out of the steps of a pivot. */
export function LeaveSteps(): ReactNode {
  const isStepping = useApp((state) => state.pivotId !== undefined && state.step !== undefined);
  if (!isStepping) return null;
  return (
    <button
      type="button"
      className="button leave medium no-wrap"
      title="Leave the steps"
      onClick={() => act.stepTo(undefined)}
    >
      <ViewIcon name="apart" />
      <span className="view-long">Leave the steps</span>
    </button>
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

/**
 * What a hand has set on the picture alone: which side comes apart. It is no place of the work and stands in no
 * address.
 */
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
