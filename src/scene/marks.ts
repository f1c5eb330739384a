/**
 * Marks on a spacer, as plain arrays: solid arrows toward its small face, the double line of a plain spacer, and the
 * bands on its end faces.
 *
 * All of them lie a hair proud of the surface they mark and follow it, also round a cone. A mark carries the meaning
 * that colour alone must not: an arrow points toward the small face, a band's pattern tells what the face bears on. mm.
 */
import type { Bears, FaceReading, Polygon, Side } from '../../shared/index.ts';
import { endFace, extent, faceAt, outerRadius } from './detail.ts';
import { emptySurface, type Surface } from './surface.ts';

/** How far a mark stands off the surface, mm. */
export const PROUD_mm = 0.07;

/** Slices of half an arrow, and places along each slice. */
const SLICES = 4;
const ALONG = 8;
/** Share of the ring's length that an arrow takes, and of the arrow's that its tail is notched. */
const TALL = 0.86;
const NOTCH = 0.56;
const TALLEST_mm = 9;

/** Solid arrows round the outside of a profile, their points toward `toward`, their tails notched. */
export function arrowMarks(polygon: Polygon, toward: Side): Surface {
  const surface = emptySurface();
  const { from_mm, to_mm, radius_mm } = extent(polygon);
  const tall = Math.min((to_mm - from_mm) * TALL, TALLEST_mm);
  const sign = toward === 'drive' ? 1 : -1;
  const middle = (from_mm + to_mm) / 2;
  // On a steep cone an arrow is longer than it is tall along the axis: its width follows the length that is seen.
  const rise = (outerRadius(polygon, middle + tall / 2) - outerRadius(polygon, middle - tall / 2)) / tall;
  const wide = Math.min(Math.max(3, tall * Math.hypot(1, rise) * 0.8), radius_mm * 0.75);
  const count = Math.max(5, Math.round((2 * Math.PI * radius_mm) / (wide * 1.8)));
  for (let k = 0; k < count; k += 1) {
    const centre = (2 * Math.PI * k) / count;
    for (const half of [-1, 1]) {
      pushStrip(surface, polygon, SLICES, ALONG, (share) => {
        // Both halves are laid in the sense of the angle, so that both look outward.
        const t = half > 0 ? share : 1 - share;
        const tip = middle + sign * tall * (0.5 - t);
        const tail = middle - sign * tall * (0.5 - NOTCH * (1 - t));
        const angle = centre + (half * t * wide) / 2 / radius_mm;
        return sign > 0 ? { angle, z0: tail, z1: tip } : { angle, z0: tip, z1: tail };
      });
    }
  }
  return surface;
}

/** Two thin lines round the middle of a spacer that is the same both ways. */
export function doubleLine(polygon: Polygon, segments = 64): Surface {
  const surface = emptySurface();
  const { from_mm, to_mm } = extent(polygon);
  const middle = (from_mm + to_mm) / 2;
  const wide = Math.min(0.5, (to_mm - from_mm) * 0.1);
  const apart = Math.min(0.9, (to_mm - from_mm) * 0.16);
  for (const sign of [-1, 1]) {
    pushStrip(surface, polygon, segments, 2, (t) => ({
      angle: 2 * Math.PI * t,
      z0: middle + sign * apart - wide / 2,
      z1: middle + sign * apart + wide / 2,
    }));
  }
  return surface;
}

/** A flat annulus facing one way, uv in mm across it. */
export function annulus(r0_mm: number, r1_mm: number, z_mm: number, sign: 1 | -1, segments = 64): Surface {
  const surface = emptySurface();
  for (let j = 0; j <= segments; j += 1) {
    const t = (2 * Math.PI * j) / segments;
    for (const r of [r0_mm, r1_mm]) {
      surface.positions.push(r * Math.cos(t), r * Math.sin(t), z_mm);
      surface.normals.push(0, 0, sign);
      surface.uvs.push(r * Math.cos(t), r * Math.sin(t));
    }
  }
  for (let j = 0; j < segments; j += 1) {
    const a = 2 * j;
    if (sign > 0) surface.index.push(a, a + 1, a + 2, a + 2, a + 1, a + 3);
    else surface.index.push(a, a + 2, a + 1, a + 2, a + 3, a + 1);
  }
  return surface;
}

/** What a band on a face says, in its pattern. */
export type BandPattern = 'filled' | 'hatched' | 'dotted' | 'diagonal' | 'double' | 'open';

/** The pattern for what a face bears on. */
const BAND_PATTERN: Readonly<Record<Bears, BandPattern>> = {
  'inner-ring': 'filled',
  'outer-ring': 'hatched',
  seal: 'dotted',
  arm: 'diagonal',
  land: 'double',
  ring: 'double',
  nothing: 'open',
};

/** One band on an end face, where it lies, and which way it looks; mm. */
export interface FaceBand {
  readonly pattern: BandPattern;
  readonly r0_mm: number;
  readonly r1_mm: number;
  readonly z_mm: number;
  readonly sign: 1 | -1;
  /** Scene id of what it touches; none for an open face. */
  readonly with?: string;
}

/** Narrowest band that can still be seen; an edge contact is drawn this wide. */
const EDGE_mm = 0.5;

/** The bands of one face: one per touch, or the open outline of the whole face. */
export function faceBands(polygon: Polygon, reading: FaceReading, sign: 1 | -1): FaceBand[] {
  const bands = reading.touches.flatMap((touch) =>
    touch.bands_mm.map(([r0, r1]): FaceBand | undefined => {
      const low = Math.min(r0, r1);
      const high = Math.max(r0, r1);
      const z = faceAt(polygon, (low + high) / 2, sign);
      if (z === undefined) return undefined;
      const short = Math.max(0, EDGE_mm - (high - low)) / 2;
      return {
        pattern: BAND_PATTERN[touch.bears],
        r0_mm: Math.max(0, low - short),
        r1_mm: high + short,
        z_mm: z,
        sign,
        with: touch.with,
      };
    }),
  );
  const seen = bands.filter((band) => band !== undefined);
  if (seen.length > 0) return seen;
  const face = endFace(polygon, sign);
  if (!face) return [];
  return [{ pattern: 'open', r0_mm: face.r0, r1_mm: face.r1, z_mm: face.z_mm, sign }];
}

interface Slice {
  readonly angle: number;
  readonly z0: number;
  readonly z1: number;
}

/** A ribbon on the outer surface; wide slices are broken where the profile bends. */
function pushStrip(
  surface: Surface,
  polygon: Polygon,
  steps: number,
  across: number,
  slice: (t: number) => Slice,
): void {
  const base = surface.positions.length / 3;
  for (let j = 0; j <= steps; j += 1) {
    const { angle, z0, z1 } = slice(j / steps);
    for (let i = 0; i <= across; i += 1) {
      const z = z0 + ((z1 - z0) * i) / across;
      const r = outerRadius(polygon, z) + PROUD_mm;
      const e = 0.05;
      const slope = (outerRadius(polygon, z + e) - outerRadius(polygon, z - e)) / (2 * e);
      const steep = Math.abs(slope) > 5 ? 0 : slope;
      const n = Math.hypot(1, steep);
      surface.positions.push(r * Math.cos(angle), r * Math.sin(angle), z);
      surface.normals.push(Math.cos(angle) / n, Math.sin(angle) / n, -steep / n);
      surface.uvs.push(angle * r, z);
    }
  }
  const wide = across + 1;
  for (let j = 0; j < steps; j += 1) {
    for (let i = 0; i < across; i += 1) {
      const a = base + j * wide + i;
      surface.index.push(a, a + wide, a + 1, a + 1, a + wide, a + wide + 1);
    }
  }
}
