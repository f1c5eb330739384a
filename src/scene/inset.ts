/**
 * What the magnified inset shows: the upper half of a section round one part in the tight joint, with the bands
 * where its faces touch.
 *
 * The window reaches a little beyond the part on all sides. Place across is z, place upward the radius; everything in
 * mm, as plain shapes that the component scales. A pure function of pivot and item.
 */
import { ballRows } from '../../shared/index.ts';
import type { Balls, PivotAnalysis, PlacedItem, Polygon, Solid } from '../../shared/index.ts';
import { hatchStyles, isUncut, type HatchStyle } from '../drawings/hatch.ts';
import { endFace } from '../drawings/outline.ts';
import { faceBands, type FaceBand } from './marks.ts';
import { radiusOf } from './placement.ts';

/** A rectangle of the section, mm. */
interface InsetWindow {
  readonly z0_mm: number;
  readonly z1_mm: number;
  readonly r0_mm: number;
  readonly r1_mm: number;
}

/** One cut face in the window. */
export interface InsetSolid {
  readonly polygon: Polygon;
  readonly role: Solid['role'];
  readonly isOwn: boolean;
  /** A ring of a bearing that the part bears on. */
  readonly isTouched: boolean;
  /** Direction of its hatching; undefined where it is left uncut. */
  readonly rise: HatchStyle['rise'] | undefined;
}

/** Everything in the window. */
interface InsetView {
  readonly window: InsetWindow;
  readonly solids: readonly InsetSolid[];
  readonly balls: readonly Balls[];
  readonly bands: readonly FaceBand[];
}

/** How far beyond the part the window reaches, mm; less where there is little room, and round what only takes a seat. */
const BEYOND_mm = { usual: 2.2, small: 0.8 } as const;
/** Round a part in the hand no further than this share of its longer side: a thin washer would drown in the rest. */
const BEYOND_SHARE = 0.09;

/** True for the parts whose faces are worth a closer look when they are picked; a part in the hand is always shown. */
export function hasInset(item: PlacedItem): boolean {
  return item.role === 'spacer' || item.role === 'bearing';
}

/** The view of an item of a pivot. */
export function insetView(pivot: PivotAnalysis, item: PlacedItem, isSmall = false, isHeld = false): InsetView {
  const touched = [...item.nonDrive.touches, ...item.drive.touches];
  const radii = item.solids.flatMap(({ polygon }) => polygon.map(([r]) => r));
  const longer_mm = Math.max(item.to_mm - item.from_mm, Math.max(...radii) - Math.min(...radii));
  const usual_mm = BEYOND_mm[isSmall || item.role === 'bearing' ? 'small' : 'usual'];
  const beyond_mm = isHeld ? Math.min(usual_mm, BEYOND_SHARE * longer_mm) : usual_mm;
  const window: InsetWindow = {
    z0_mm: item.from_mm - beyond_mm,
    z1_mm: item.to_mm + beyond_mm,
    r0_mm: Math.max(0, Math.min(...radii) - beyond_mm),
    r1_mm: Math.max(...radii) + beyond_mm,
  };
  const stack = pivot.stacks.find(({ items }) => items.some(({ id }) => id === item.id));
  const near = (stack?.items ?? [item]).filter(
    (other) => other.from_mm < window.z1_mm && other.to_mm > window.z0_mm && radiusOf(other) > window.r0_mm,
  );
  const styles = hatchStyles(stack?.items ?? [item]);
  return {
    window,
    solids: near.flatMap((other) =>
      other.solids.map(({ polygon, role }): InsetSolid => {
        const rise =
          isUncut(other) || role === 'seal' ? undefined : role === 'outer-ring' ? -1 : styles.get(other.id)?.rise;
        const isTouched =
          role.endsWith('-ring') && touched.some((touch) => touch.with === other.id && touch.bears === role);
        return { polygon, role, isOwn: other.id === item.id, isTouched, rise };
      }),
    ),
    balls: near.flatMap(({ balls }) => (balls ? ballRows(balls) : [])),
    bands: item.solids.flatMap(({ polygon, role }) => {
      // A bearing's rings each carry their own touches; its faces as a whole are told by its neighbours' bands.
      if (item.role === 'bearing' && role !== 'inner-ring') return [];
      const own = (face: PlacedItem['drive']): PlacedItem['drive'] =>
        item.role === 'bearing' ? { ...face, touches: face.touches.filter((touch) => touch.own === role) } : face;
      return [...faceBands(polygon, own(item.nonDrive), -1), ...faceBands(polygon, own(item.drive), 1)];
    }),
  };
}

/**
 * The two end faces of a spacer, or of a nut with two ways, from the non-drive to the drive side: what they are called,
 * and across what, mm.
 */
export function insetFaces(item: PlacedItem): readonly { readonly name: string; readonly across_mm: number }[] {
  if (item.role !== 'spacer' && !(item.role === 'receiver' && item.smallFace !== undefined)) return [];
  return (['non-drive', 'drive'] as const).map((side) => ({
    name: item.smallFace === undefined ? 'Face' : item.smallFace === side ? 'Small face' : 'Large face',
    across_mm: 2 * (endFace(item, side)?.radii_mm[1] ?? 0),
  }));
}
