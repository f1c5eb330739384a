/**
 * Outlines read off profiles for the drawing: outer and inner envelopes, faces, and where a surface stands at a radius.
 *
 * Input are the closed (r, z) polygons of the analysis, mm. An envelope is a list of stretches along z in which one
 * edge is the outermost (or innermost); edges of one part do not cross inside a stretch, because stretches end at
 * corners.
 */
import type { PlacedItem, Polygon, Side } from '../../shared/index.ts';

/** A straight stretch of an envelope: from (z0, r0) to (z1, r1), mm. */
export interface Stretch {
  readonly z0: number;
  readonly r0: number;
  readonly z1: number;
  readonly r1: number;
}

const NEAR_mm = 1e-6;

/** Outer or inner envelope of polygons, in order of z; stretches without material are left out. */
export function envelope(polygons: readonly Polygon[], which: 'outer' | 'inner'): readonly Stretch[] {
  const places = [...new Set(polygons.flatMap((polygon) => polygon.map(([, z]) => Math.round(z / NEAR_mm) * NEAR_mm)))];
  places.sort((a, b) => a - b);
  const sign = which === 'outer' ? 1 : -1;
  const stretches: Stretch[] = [];
  for (let k = 0; k + 1 < places.length; k += 1) {
    const [z0, z1] = [places[k]!, places[k + 1]!];
    const middle = (z0 + z1) / 2;
    let found: Stretch | undefined;
    for (const polygon of polygons) {
      polygon.forEach(([ra, za], j) => {
        const [rb, zb] = polygon[(j + 1) % polygon.length]!;
        if (Math.abs(zb - za) < NEAR_mm || (za - middle) * (zb - middle) > 0) return;
        const at = (z: number) => ra + ((rb - ra) * (z - za)) / (zb - za);
        const candidate = { z0, r0: at(z0), z1, r1: at(z1) };
        const isFurther = !found || sign * (candidate.r0 + candidate.r1 - found.r0 - found.r1) > 0;
        if (isFurther) found = candidate;
      });
    }
    if (found) stretches.push(found);
  }
  return stretches;
}

/** Polygons of an item that belong to its own body or ring, seals left out. */
export function ownPolygons(item: PlacedItem): readonly Polygon[] {
  return item.solids.filter((solid) => solid.role !== 'seal').map((solid) => solid.polygon);
}

/** Largest radius of an item, mm. */
export function radiusOf(item: PlacedItem): number {
  return Math.max(0, ...item.solids.flatMap((solid) => solid.polygon.map(([r]) => r)));
}

/** Ends of an item's solids along z, mm, or of some of them; its stated ends where it has none. */
export function endsOf(item: PlacedItem, solids = item.solids): readonly [from_mm: number, to_mm: number] {
  const places = solids.flatMap((solid) => solid.polygon.map(([, z]) => z));
  return places.length === 0 ? [item.from_mm, item.to_mm] : [Math.min(...places), Math.max(...places)];
}

/** Outer envelope of an item. */
export function outlineOf(item: PlacedItem): readonly Stretch[] {
  return envelope(ownPolygons(item), 'outer');
}

/** Outer radius at a place along z, 0 where an outline has no material, mm. */
export function outerRadiusAt(outline: readonly Stretch[], z_mm: number): number {
  const stretch = outline.find(({ z0, z1 }) => z_mm >= z0 && z_mm <= z1);
  if (!stretch) return 0;
  const { z0, r0, z1, r1 } = stretch;
  return r0 + ((r1 - r0) * (z_mm - z0)) / (z1 - z0);
}

/** Where the surface that looks to `side` stands at radius `r_mm`; undefined where there is no material. */
export function surfaceAt(polygons: readonly Polygon[], r_mm: number, side: Side): number | undefined {
  const hits: number[] = [];
  for (const polygon of polygons) {
    polygon.forEach(([ra, za], j) => {
      const [rb, zb] = polygon[(j + 1) % polygon.length]!;
      if (Math.abs(rb - ra) < NEAR_mm || (ra - r_mm) * (rb - r_mm) > 0) return;
      hits.push(za + ((zb - za) * (r_mm - ra)) / (rb - ra));
    });
  }
  if (hits.length === 0) return undefined;
  return side === 'drive' ? Math.max(...hits) : Math.min(...hits);
}

/** Place and radii of the flat end face that looks to `side`, mm; undefined where the end is an edge. */
export function endFace(
  item: PlacedItem,
  side: Side,
): { readonly z_mm: number; readonly radii_mm: readonly [number, number] } | undefined {
  const corners = ownPolygons(item).flat();
  if (corners.length === 0) return undefined;
  const places = corners.map(([, z]) => z);
  const z_mm = side === 'drive' ? Math.max(...places) : Math.min(...places);
  const radii = corners.filter(([, z]) => Math.abs(z - z_mm) < 1e-3).map(([r]) => r);
  const radii_mm: readonly [number, number] = [Math.min(...radii), Math.max(...radii)];
  return radii_mm[1] - radii_mm[0] > NEAR_mm ? { z_mm, radii_mm } : undefined;
}
