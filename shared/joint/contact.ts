/**
 * Contact of two solids of revolution on one axis: how far apart they stand, and where they would touch.
 *
 * For A on the non-drive side of B, hiA(r) is the furthest-drive-side z of A's material at radius r and loB(r) the
 * furthest-non-drive-side z of B's. The gap is the least of loB(r) − hiA(r) over the radii both have; both are
 * piecewise linear in r, so the least is met at a breakpoint and the result is exact. Radii shared in one point only
 * do not count: parts that touch along a cylinder slide past one another. A negative gap is an overlap. All mm.
 */
import type { Polygon } from '../types.ts';

/** z of one side of a polygon over a span of radii, linear in between. */
export interface Span {
  readonly r0: number;
  readonly r1: number;
  readonly z0: number;
  readonly z1: number;
}

/** Free distance, and the radii at which it is met; `bands` of zero width are edges. */
export interface Gap {
  readonly gap_mm: number;
  readonly bands_mm: readonly (readonly [number, number])[];
}

/** Width of radii below which a band counts as an edge, mm. */
export const EDGE_BAND_mm = 0.02;
const SAME_mm = 1e-7;

/** Upper (toward drive) or lower envelope of a polygon as spans of rising radius. */
export function envelope(polygon: Polygon, toward: 'drive' | 'non-drive'): readonly Span[] {
  const sign = toward === 'drive' ? 1 : -1;
  const radii = [...new Set(polygon.map(([r]) => r))].sort((a, b) => a - b);
  const spans: Span[] = [];
  for (let k = 0; k + 1 < radii.length; k++) {
    const [r0, r1] = [radii[k]!, radii[k + 1]!];
    if (r1 - r0 < SAME_mm) continue;
    const span = outermost(polygon, r0, r1, sign);
    if (span) spans.push(span);
  }
  return spans;
}

/** The outermost edge of a simple polygon between two neighbouring corner radii: edges cannot cross in between. */
function outermost(polygon: Polygon, r0: number, r1: number, sign: number): Span | undefined {
  const middle = (r0 + r1) / 2;
  let best: Span | undefined;
  let bestZ = -Infinity;
  for (let k = 0; k < polygon.length; k++) {
    const [ra, za] = polygon[k]!;
    const [rb, zb] = polygon[(k + 1) % polygon.length]!;
    const [low, high] = ra < rb ? [ra, rb] : [rb, ra];
    if (high - low < SAME_mm || low > middle || high < middle) continue;
    const slope = (zb - za) / (rb - ra);
    const zMiddle = sign * (za + slope * (middle - ra));
    if (zMiddle > bestZ) {
      bestZ = zMiddle;
      best = { r0, r1, z0: za + slope * (r0 - ra), z1: za + slope * (r1 - ra) };
    }
  }
  return best;
}

/**
 * Gap between two envelopes: `upper` of the part on the non-drive side, `lower` of the other; undefined when they share
 * no radius.
 */
export function gapBetween(upper: readonly Span[], lower: readonly Span[]): Gap | undefined {
  let least = Infinity;
  let i = 0;
  let j = 0;
  const pieces: { r0: number; r1: number; d0: number; d1: number }[] = [];
  while (i < upper.length && j < lower.length) {
    const a = upper[i]!;
    const b = lower[j]!;
    const r0 = Math.max(a.r0, b.r0);
    const r1 = Math.min(a.r1, b.r1);
    if (r1 - r0 > SAME_mm) {
      const piece = { r0, r1, d0: zAt(b, r0) - zAt(a, r0), d1: zAt(b, r1) - zAt(a, r1) };
      pieces.push(piece);
      least = Math.min(least, piece.d0, piece.d1);
    }
    if (a.r1 < b.r1) i++;
    else j++;
  }
  if (pieces.length === 0) return undefined;
  return { gap_mm: least, bands_mm: bandsAt(pieces, least) };
}

function zAt(span: Span, r: number): number {
  const width = span.r1 - span.r0;
  return width < SAME_mm ? span.z0 : span.z0 + ((span.z1 - span.z0) * (r - span.r0)) / width;
}

/** z of an envelope at a radius, mm; the nearest span where none covers it. */
export function zOn(spans: readonly Span[], r: number): number {
  const off = ({ r0, r1 }: Span): number => Math.max(r0 - r, r - r1, 0);
  return zAt(
    spans.reduce((best, span) => (off(span) < off(best) ? span : best)),
    r,
  );
}

function bandsAt(
  pieces: readonly { r0: number; r1: number; d0: number; d1: number }[],
  least: number,
): [number, number][] {
  const bands: [number, number][] = [];
  for (const { r0, r1, d0, d1 } of pieces) {
    const low = d0 - least < SAME_mm;
    const high = d1 - least < SAME_mm;
    if (!low && !high) continue;
    const band: [number, number] = low && high ? [r0, r1] : low ? [r0, r0] : [r1, r1];
    const last = bands.at(-1);
    if (last && band[0] - last[1] < SAME_mm) last[1] = Math.max(last[1], band[1]);
    else bands.push(band);
  }
  const wide = bands.filter(([a, b]) => b - a > EDGE_BAND_mm);
  return wide.length > 0 ? wide : bands;
}

/**
 * Gap between two polygons along z, `a` on the non-drive side of `b`, mm: < 0 where they overlap. Corners [r, z], r ≥
 * 0. The envelope of each costs most; then O(n + m) in its spans. Undefined when they share no radius, so that neither
 * can stop the other.
 */
export function gap(a: Polygon, b: Polygon): Gap | undefined {
  return gapBetween(envelope(a, 'drive'), envelope(b, 'non-drive'));
}

/** Width to which an edge flattens before it carries, mm: our own rule, no source. */
const EDGE_WIDTH_mm = 0.05;

/**
 * Area of contact bands that carries, mm², ≥ 0: an edge, and any face narrower than one flattens to, counts as so wide
 * a band. Each band is [inner, outer] radius in mm and none may overlap another. O(bands).
 */
export function pressedArea_mm2(bands: readonly (readonly [number, number])[]): number {
  return bands.reduce((sum, [r0, r1]) => sum + Math.PI * (r0 + r1) * Math.max(r1 - r0, EDGE_WIDTH_mm), 0);
}
