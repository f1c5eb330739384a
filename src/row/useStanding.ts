/**
 * Where the parts stand in a section that takes the picture's place: as far apart, and in a step where, as the picture
 * would have them when it is looked at square to the axle.
 */
import { useMemo } from 'react';
import type { StackAnalysis } from '../../shared/index.ts';
import { usePictureHand } from '../bike/ApartControl.tsx';
import { usePicture } from '../bike/usePicture.ts';
import { inHandOf } from '../build/inHand.ts';
import { layoutFor } from '../scene/apart.ts';
import { withHeld } from '../scene/hold.ts';
import { placeItems } from '../scene/placement.ts';
import { pivotOf, seenIn, stepOf } from '../page/state.ts';
import { useLent } from '../picture/lent.ts';
import { useApp } from '../page/store.ts';

/** Width over height of the picture that the gaps are laid out for: they hang on its width alone. */
const ASPECT = 2.4;

/** Offsets of all items of a pivot, mm, and where the part in the hand goes. */
interface Standing {
  readonly offsets_mm: Readonly<Record<string, number>>;
  readonly seat: { readonly id: string; readonly offset_mm: number } | undefined;
}

/** Where the parts of the stack's pivot stand; nothing where the section stands still. */
export function useStanding({ pivotId }: StackAnalysis, width_px: number, moves: boolean): Standing | undefined {
  const lent = useLent((state) => state.picture);
  const own = useApp((state) => pivotOf(seenIn(state)));
  const found = lent ? lent.analysis.pivots.find(({ id }) => id === pivotId) : own;
  const pivot = moves && found?.id === pivotId ? found : undefined;
  const picture = usePicture();
  const { places, apart } = lent ?? picture;
  const ownStep = useApp(stepOf);
  const step = lent ? undefined : ownStep;
  const apartOf = usePictureHand((state) => state.apartOf);
  const layout = useMemo(() => {
    const frame = { width: width_px, height: width_px / ASPECT, clear: { top: 0, bottom: 0 } };
    return pivot && width_px > 0 ? layoutFor(pivot, 'above', frame, apartOf) : undefined;
  }, [pivot, width_px, apartOf]);
  return useMemo(() => {
    if (!pivot || !layout) return undefined;
    const hand = step && places && inHandOf(step, pivot);
    const placed = withHeld(pivot, hand, placeItems(pivot, layout, apart, places));
    return {
      offsets_mm: Object.fromEntries(Object.entries(placed).map(([id, { offset_mm }]) => [id, offset_mm])),
      seat: hand?.from && { id: hand.id, offset_mm: hand.seat_mm },
    };
  }, [pivot, layout, apart, places, step]);
}
