/**
 * The clamp force in the section: a band through the parts of the clamp column, as wide as the force is large.
 *
 * Between two links of the column the band belongs to one part, enters it where the faces press on one another and
 * leaves it where the next ones do; it moves with its part, so that a pulled column shows what each part carries. Where
 * a link is broken the band ends torn, short of the face. What counts as broken, and the force that the full width
 * stands for, are the row's own. Local frame of the section: x is the radius, z the axis, +y looks at the viewer. N,
 * mm.
 */
import type { ColumnLink, FaceReading, PlacedItem, StackAnalysis } from '../../shared/index.ts';
import { columnReference, isBroken } from '../drawings/column.ts';
import { isUncut } from '../drawings/hatch.ts';
import { emptySurface, type Surface } from './surface.ts';

/** One end of a part's band. */
interface BandEnd {
  readonly r_mm: number;
  readonly z_mm: number;
  readonly width_mm: number;
  readonly isTorn: boolean;
}

/** The band of one part, from its non-drive to its drive end. */
export interface ClampBand {
  readonly from: BandEnd;
  readonly to: BandEnd;
}

/** Width of the band at the largest force, and the least at which it is still seen; mm. */
const WIDEST_mm = 1.7;
const NARROWEST_mm = 0.3;
/** How far a torn end stays away from the face, and how deep it is torn; mm. */
const SHORT_mm = 0.7;
const TEAR_mm = 0.55;
/** How far the band reaches into the part at an end of the column, mm. */
const JAW_mm = 5;

/** The bands of a stack's parts that are cut open, by scene id. */
export function clampBands(stack: StackAnalysis): ReadonlyMap<string, ClampBand> {
  const reference_N = columnReference(stack);
  const bands = new Map<string, ClampBand>();
  for (const item of stack.items) {
    if (!item.inColumn || isUncut(item)) continue;
    const before = stack.column.find((link) => link.to === item.id);
    const after = stack.column.find((link) => link.from === item.id);
    if (!before && !after) continue;
    const home = middleRadius(item);
    const first = before && endOf(before, item.nonDrive, item.from_mm, home, reference_N);
    const last = after && endOf(after, item.drive, item.to_mm, home, reference_N);
    // At an end of the column the force goes over into a thread: the band reaches a jaw's depth into the part.
    const from: BandEnd = first ?? { ...last!, z_mm: Math.max(item.from_mm, last!.z_mm - JAW_mm), isTorn: false };
    const to: BandEnd = last ?? { ...first!, z_mm: Math.min(item.to_mm, first!.z_mm + JAW_mm), isTorn: false };
    // Torn ends need room between them; whole ones cross the thinnest spacer.
    const least_mm = from.isTorn || to.isTorn ? 2 * SHORT_mm : 0;
    if (to.z_mm - from.z_mm > least_mm) bands.set(item.id, { from, to });
  }
  return bands;
}

function endOf(link: ColumnLink, face: FaceReading, edge_mm: number, home_mm: number, reference_N: number): BandEnd {
  const neighbour = face.touches.filter(
    (touch) => (touch.with === link.from || touch.with === link.to) && touch.force_N > 0,
  );
  const spans = neighbour.flatMap((touch) =>
    touch.bands_mm.map(([a, b]) => ({ middle: (a + b) / 2, weight: Math.abs(b * b - a * a) + 1e-6 })),
  );
  const weight = spans.reduce((sum, span) => sum + span.weight, 0);
  return {
    r_mm: weight > 0 ? spans.reduce((sum, span) => sum + span.middle * span.weight, 0) / weight : home_mm,
    z_mm: !isBroken(link, reference_N) ? link.z_mm : edge_mm,
    width_mm: Math.max(NARROWEST_mm, (link.force_N / reference_N) * WIDEST_mm),
    isTorn: isBroken(link, reference_N),
  };
}

/** Of the wall that carries a part's load: a bearing's inner ring, else its first solid. */
function middleRadius(item: PlacedItem): number {
  const solid = item.solids.find(({ role }) => role === 'inner-ring') ?? item.solids[0];
  const radii = solid?.polygon.map(([r]) => r) ?? [0];
  return (Math.min(...radii) + Math.max(...radii)) / 2;
}

/** Outline of a band on the positive side of the axis, anticlockwise in (r, z); `grow_mm` wider all round. */
export function bandOutline({ from, to }: ClampBand, grow_mm: number): [r: number, z: number][] {
  const low = end(from, 1, grow_mm);
  const high = end(to, -1, grow_mm).reverse();
  return [...low, ...high];
}

/** Points of one end from the inner to the outer edge; a torn end is a zigzag short of the face. */
function end({ r_mm, z_mm, width_mm, isTorn }: BandEnd, inward: 1 | -1, grow_mm: number): [number, number][] {
  const half = width_mm / 2 + grow_mm;
  if (!isTorn)
    return [
      [r_mm - half, z_mm],
      [r_mm + half, z_mm],
    ];
  const z = z_mm + inward * (SHORT_mm - grow_mm);
  return [0, 1, 2, 3, 4].map((k) => [r_mm - half + (k * half) / 2, z + (k % 2 === 0 ? 0 : inward * TEAR_mm)]);
}

/** A band and its mirror image as strips in the plane y = `lift_mm`, facing +y. */
export function bandSurface(band: ClampBand, grow_mm: number, lift_mm: number): Surface {
  const surface = emptySurface();
  const outline = bandOutline(band, grow_mm);
  const count = outline.length;
  // A fan round the middle: the outline is star-shaped about it.
  const middle: [number, number] = [(band.from.r_mm + band.to.r_mm) / 2, (band.from.z_mm + band.to.z_mm) / 2];
  for (const side of [1, -1]) {
    const base = surface.positions.length / 3;
    for (const [r, z] of [middle, ...outline]) {
      surface.positions.push(side * r, lift_mm, z);
      surface.normals.push(0, 1, 0);
      surface.uvs.push(z, side * r);
    }
    for (let k = 0; k < count; k += 1) {
      const [a, b] = [base + 1 + k, base + 1 + ((k + 1) % count)];
      // Anticlockwise in (r, z) looks to −y.
      if (side > 0) surface.index.push(base, b, a);
      else surface.index.push(base, a, b);
    }
  }
  return surface;
}
