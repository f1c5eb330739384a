/**
 * Solids of revolution as data: corners, polygons in (r, z), and what a solid is for.
 *
 * A polygon is closed, without its first point repeated; radii from the axle's axis and places along it, mm.
 */
import type { MaterialKey } from '../standards/materials.ts';

/** A corner of a profile: radius from the axle's axis, place along it; mm. */
export type Corner = readonly [r_mm: number, z_mm: number];
export type Polygon = readonly Corner[];

/** What a solid is for, seen from its neighbours. */
export type SolidRole = 'body' | 'land' | 'inner-ring' | 'outer-ring' | 'seal';

/** One closed solid of revolution about the axle's axis. */
export interface Solid {
  readonly role: SolidRole;
  readonly material: MaterialKey;
  readonly polygon: Polygon;
}

/** The balls of a bearing, for the picture only: `count` spheres on a circle, or on two `apart_mm`; all mm. */
export interface Balls {
  readonly count: number;
  readonly diameter_mm: number;
  readonly circle_mm: number;
  readonly z_mm: number;
  /** Between the planes of its two rows, whose middle is `z_mm`; left out for one row. */
  readonly apart_mm?: number;
}

/** The rows of a bearing's balls, each with its own `z_mm`. */
export function ballRows({ apart_mm, ...row }: Balls): readonly Balls[] {
  if (apart_mm === undefined) return [row];
  return [-apart_mm / 2, apart_mm / 2].map((off_mm) => ({ ...row, z_mm: row.z_mm + off_mm }));
}

/** Solids of a part in its local frame, with the z of its two ends. */
export interface PartProfile {
  readonly solids: readonly Solid[];
  readonly balls?: Balls;
  readonly from_mm: number;
  readonly to_mm: number;
  /** False when turning the part round gives the same solids. */
  readonly hasTwoWays: boolean;
}
