/**
 * The section about the axis: which way its face looks, and where the handle that rolls it stands.
 */
import { useCallback, useState } from 'react';
import type { Vector3 } from 'three';
import type { PivotAnalysis } from '../../shared/index.ts';
import type { Stand } from './fit.ts';
import type { Materials } from './materials.ts';
import { itemsOf, radiusOf, accessOf, type ItemPlace, type Place } from './placement.ts';
import { rollCut, type CutTurn } from './turn.ts';

/** How far from face-on the cut may be seen before it turns to face the viewer again. */
const FACING_LIMIT = Math.cos((72 * Math.PI) / 180);

/** Distance of the handle beyond the last part and over the widest one, mm. */
const HANDLE_mm = { beyond: 9, over: 7 } as const;

/** Where the handle of the cut stands: at the drive end of the row, over the widest part. */
export function handlePlace(
  pivot: PivotAnalysis,
  places: Readonly<Record<string, ItemPlace>>,
): { at: Place; away_mm: number } {
  const widest = Math.max(6, ...itemsOf(pivot).map(radiusOf));
  return {
    at: [pivot.x_mm, pivot.y_mm, accessOf(pivot, places)[1] + HANDLE_mm.beyond],
    away_mm: widest + HANDLE_mm.over,
  };
}

/** The section about the axis: its open side faces the viewer unless a hand has rolled it. */
export function useCut(
  stand: Stand,
  materials: Materials,
  pivot: { readonly x_mm: number; readonly y_mm: number } | undefined,
  turn_rad: number,
): [CutTurn, (look: Vector3) => void] {
  const wanted = Math.atan2(stand.direction[1], stand.direction[0]);
  const [turned, setTurned] = useState<{ from: number; facing: number } | undefined>(undefined);
  const facing = turned && turned.from === wanted ? turned.facing : wanted;
  const cut = rollCut(facing, stand.direction, turn_rad);
  const x = pivot?.x_mm ?? 0;
  const y = pivot?.y_mm ?? 0;
  const [cos, sin] = [Math.cos(cut.facing_rad), Math.sin(cut.facing_rad)];
  // Materials hold the plane itself: moving it is enough.
  materials.plane.normal.set(-cos, -sin, 0);
  materials.plane.constant = cos * x + sin * y;
  const faceCut = useCallback(
    (look: Vector3) => {
      const across = Math.hypot(look.x, look.y);
      if (across < 0.25) return;
      const cosine = (look.x * Math.cos(facing) + look.y * Math.sin(facing)) / across;
      if (cosine < FACING_LIMIT) setTurned({ from: wanted, facing: Math.atan2(look.y, look.x) });
    },
    [facing, wanted],
  );
  return [cut, faceCut];
}
