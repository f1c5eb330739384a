/**
 * Where the camera should stand for what the picture is told to show.
 */
import { useMemo } from 'react';
import { useThree } from '@react-three/fiber';
import type { Clear } from './board.ts';
import { fieldOfView_deg, fitStand, isWide, overviewDirection, pivotStand, type Stand } from './fit.ts';
import { heldStand, type InHand } from './hold.ts';
import { cornersOf, type ItemPlace } from './placement.ts';
import type { PictureProps } from './props.ts';

/** Width kept free on each side of the whole linkage for the pivots' names, px. */
const CALLOUT_ROOM_px = 190;

/** Where the camera should stand, and the key whose change is worth a glide. */
export function useStand(
  picture: PictureProps,
  places: Readonly<Record<string, ItemPlace>>,
  clear: Clear,
  hold?: InHand,
  aside_px = 0,
): { stand: Stand; aim: string } {
  const { width, height } = useThree((state) => state.size);
  const { analysis, pivotId, sweep, view } = picture;
  const aspect = width / Math.max(1, height);
  const wide = isWide(aspect);
  const stand = useMemo(() => {
    const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
    if (pivot && hold) return heldStand(pivot, hold, places, view, { width, height, clear }, aside_px);
    if (pivot) return pivotStand(cornersOf(pivot, places), view, { width, height, clear });
    const points = [...analysis.pivots.flatMap((candidate) => cornersOf(candidate, {})), ...(sweep ?? [])];
    const room = Math.min(wide ? 40 : 110, height * (wide ? 0.08 : 0.17));
    const margin = {
      across: wide ? Math.min(0.5, (2 * CALLOUT_ROOM_px) / Math.max(1, width)) : 0.2,
      upward: Math.min(0.75, (clear.top + clear.bottom + 2 * room) / Math.max(1, height)),
    };
    return fitStand(points, overviewDirection(view), fieldOfView_deg(aspect), aspect, margin);
  }, [analysis, pivotId, sweep, view, places, hold, aside_px, aspect, wide, width, height, clear]);
  return {
    stand,
    aim: `${analysis.model.id} ${pivotId ?? ''} ${view} ${wide} ${sweep !== undefined} ${picture.glide ?? 0}`,
  };
}
