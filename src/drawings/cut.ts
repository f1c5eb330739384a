/**
 * One part of the section drawing: its cut halves with hatching, or its outside where it is not cut.
 *
 * Practice of ISO 128-3: all parts are cut in the plane of the axis, except axles, bolts, screws, nuts and balls, which
 * are drawn from outside; thin parts (seals) are filled solid; what is seen behind the cut is drawn with
 * its edges. Threads after ISO 6410-1, simplified: a second line at the root (outer thread) or at the minor diameter
 * (inner thread; profiles stand at the nominal size), the outer thread's length ended by a line; dashed where hidden. Input mm, output SVG text in px.
 */
import { metricThread } from '../../shared/index.ts';
import type { FaceReading, PlacedItem, Side } from '../../shared/index.ts';
import type { Frame, ShownItem } from './frame.ts';
import { facingHue, itemPaint, mix, type Paint, type Palette, type SectionTheme } from './colours.ts';
import { hatchPath, type Hatch } from './hatch.ts';
import { faceBand } from './marks.ts';
import { endFace, envelope, ownPolygons, outerRadiusAt, surfaceAt, type Stretch } from './outline.ts';
import { pathThrough, px, tag } from './svg.ts';

type Point = readonly [x: number, y: number];

/** Direction and spacing of a part's hatching, before scale. */
export interface HatchStyle {
  readonly rise: 1 | -1;
  readonly spacing_px: number;
}

/** What a part looks like beyond its shape. */
export interface PartLook {
  readonly colours: Palette;
  readonly theme: SectionTheme;
  readonly hatch: HatchStyle;
  readonly isTroubled: boolean;
  readonly isSelected: boolean;
  readonly isLit: boolean;
  readonly isActive: boolean;
}

// A sleeve is cut all the same: what matters of a two-piece axle, its screw and how deep it sits, is inside.
const UNCUT = new Set(['axle', 'bolt', 'screw', 'nut']);

/** True for parts that ISO 128-3 leaves uncut when the cut runs along them. */
export function isUncut(item: PlacedItem): boolean {
  return item.member === undefined && UNCUT.has(item.kind);
}

/** Hatching for every item in row order, so that neighbours differ in direction or spacing. */
export function hatchStyles(items: readonly PlacedItem[]): ReadonlyMap<string, HatchStyle> {
  const styles = new Map<string, HatchStyle>();
  let bosses = 0;
  let afterRing = false;
  for (const item of items) {
    if (item.role === 'boss' || item.member !== undefined) {
      styles.set(item.id, { rise: 1, spacing_px: bosses % 2 === 0 ? 7.5 : 9.5 });
      bosses += 1;
      afterRing = false;
    } else if (item.role === 'bearing') {
      styles.set(item.id, { rise: 1, spacing_px: 3.6 });
      afterRing = false;
    } else {
      styles.set(item.id, afterRing ? { rise: 1, spacing_px: 5.4 } : { rise: -1, spacing_px: 4.6 });
      afterRing = !afterRing && item.role === 'ring';
    }
  }
  return styles;
}

/** SVG text of one part, without the group around it. */
export function drawPart(shown: ShownItem, frame: Frame, axis_px: number, look: PartLook): string {
  const { item } = shown;
  const at =
    (half: 1 | -1) =>
    (r_mm: number, z_mm: number): Point => [
      frame.x(z_mm + shown.offset_mm),
      axis_px - half * r_mm * frame.scale_px_per_mm,
    ];
  const place: Place = { upper: at(1), lower: at(-1), scale: frame.scale_px_per_mm };
  const paint = itemPaint(item, look.theme);
  if (!shown.on) return ghost(item, place, look);
  const body = isUncut(item) ? outside(item, place, paint, look) : cut(item, place, paint, look);
  return body + faceBands(item, place, look) + outlineState(item, place, look);
}

interface Place {
  readonly upper: (r_mm: number, z_mm: number) => Point;
  readonly lower: (r_mm: number, z_mm: number) => Point;
  readonly scale: number;
}

const THIN_px = 0.7;
const OUTLINE_px = 1.15;

function halves(polygon: readonly (readonly [number, number])[], place: Place): readonly (readonly Point[])[] {
  return [polygon.map(([r, z]) => place.upper(r, z)), polygon.map(([r, z]) => place.lower(r, z))];
}

function bothSides(stretches: readonly Stretch[], place: Place): string {
  const line = stretches.flatMap(
    ({ z0, r0, z1, r1 }) =>
      [
        [r0, z0],
        [r1, z1],
      ] as const,
  );
  const top = line.map(([r, z]) => place.upper(r, z));
  const bottom = line.map(([r, z]) => place.lower(r, z)).reverse();
  return pathThrough([...top, ...bottom]);
}

function edgeLines(stretches: readonly Stretch[], place: Place): string {
  let path = '';
  let last = -Infinity;
  stretches.forEach((stretch, k) => {
    const next = stretches[k + 1];
    if (!next) return;
    const isStraight =
      Math.abs(stretch.r1 - next.r0) < 1e-6 &&
      Math.abs(stretch.r1 - stretch.r0) < 1e-6 &&
      Math.abs(next.r1 - next.r0) < 1e-6;
    const [x, top] = place.upper(Math.max(stretch.r1, next.r0), next.z0);
    if (isStraight || x - last < 1.6) return;
    last = x;
    const [, bottom] = place.lower(Math.max(stretch.r1, next.r0), next.z0);
    path += `M${px(x)} ${px(top)}V${px(bottom)}`;
  });
  return path;
}

function outside(item: PlacedItem, place: Place, paint: Paint, look: PartLook): string {
  const stretches = envelope(ownPolygons(item), 'outer');
  if (stretches.length === 0) return '';
  const shape = tag('path', {
    class: 'aws-o',
    d: bothSides(stretches, place),
    fill: paint.fill,
    stroke: paint.line,
    'stroke-width': OUTLINE_px,
    'stroke-linejoin': 'round',
  });
  const edges = edgeLines(stretches, place);
  const lines =
    edges === '' ? '' : tag('path', { d: edges, stroke: paint.line, 'stroke-width': THIN_px, fill: 'none' });
  return shape + lines + threadLines(item, place, paint) + driveLines(item, place, look);
}

function cut(item: PlacedItem, place: Place, paint: Paint, look: PartLook): string {
  const solids = item.solids.map((solid) => {
    const ownPaint =
      solid.role === 'inner-ring'
        ? look.colours.innerRing
        : solid.role === 'outer-ring'
          ? look.colours.outerRing
          : paint;
    return { solid, ownPaint, inner: envelope([solid.polygon], 'inner') };
  });
  // What lies farther out is seen first behind the cut, so the bores are laid from the outside in.
  const inward = [...solids].sort((a, b) => (b.inner[0]?.r0 ?? 0) - (a.inner[0]?.r0 ?? 0));
  let behind = '';
  for (const { solid, ownPaint, inner } of inward) {
    if (inner.length === 0 || solid.role === 'seal') continue;
    behind += tag('path', {
      d: bothSides(inner, place),
      fill: ownPaint.behind,
      stroke: ownPaint.line,
      'stroke-width': THIN_px,
    });
    const edges = edgeLines(inner, place);
    if (edges !== '')
      behind += tag('path', { d: edges, stroke: ownPaint.line, 'stroke-width': THIN_px * 0.8, fill: 'none' });
  }
  let front = '';
  for (const { solid, ownPaint } of solids) {
    const shapes = halves(solid.polygon, place);
    const isSeal = solid.role === 'seal';
    front += tag('path', {
      class: 'aws-o',
      d: shapes.map((shape) => pathThrough(shape)).join(''),
      fill: isSeal ? look.colours.seal : ownPaint.fill,
      stroke: ownPaint.line,
      'stroke-width': isSeal ? THIN_px : OUTLINE_px,
      'stroke-linejoin': 'round',
    });
    if (isSeal) continue;
    const hatch = hatchOf(solid.role, place, look.hatch, item);
    const lines = shapes.map((shape) => hatchPath(shape, hatch)).join('');
    if (lines !== '') front += tag('path', { d: lines, stroke: ownPaint.hatch, 'stroke-width': THIN_px, fill: 'none' });
  }
  return behind + front + ballCircles(item, place, look) + threadLines(item, place, paint);
}

function hatchOf(role: string, place: Place, style: HatchStyle, item: PlacedItem): Hatch {
  const grow = Math.min(1.25, Math.max(0.72, place.scale / 5));
  const origin = place.upper(0, item.from_mm);
  // The outer ring's lines cross those of the inner ring and of the boss that holds it.
  if (role === 'outer-ring') return { rise: -1, spacing_px: 4.2 * grow, origin };
  return { rise: style.rise, spacing_px: style.spacing_px * grow, origin };
}

function ballCircles(item: PlacedItem, place: Place, look: PartLook): string {
  const { balls } = item;
  if (!balls) return '';
  const r = (balls.diameter_mm / 2) * place.scale;
  return [place.upper, place.lower]
    .map((half) => {
      const [cx, cy] = half(balls.circle_mm / 2, balls.z_mm);
      return tag('circle', {
        cx,
        cy,
        r,
        fill: look.colours.ball,
        stroke: look.colours.innerRing.hatch,
        'stroke-width': THIN_px,
      });
    })
    .join('');
}

function threadLines(item: PlacedItem, place: Place, paint: Paint): string {
  const { thread } = item;
  if (!thread) return '';
  const { rootDiameter_mm, minorDiameter_mm } = metricThread(thread);
  const radius_mm = (thread.inner ? minorDiameter_mm : rootDiameter_mm) / 2;
  const isHidden = thread.inner && isUncut(item);
  let path = '';
  for (const half of [place.upper, place.lower]) {
    const [x0, y] = half(radius_mm, thread.from_mm);
    const [x1] = half(radius_mm, thread.to_mm);
    path += `M${px(x0)} ${px(y)}H${px(x1)}`;
  }
  // The end of the useful thread, on the side where the part goes on.
  if (!thread.inner) {
    const end_mm = thread.to_mm < item.to_mm - 1 ? thread.to_mm : thread.from_mm;
    if (outerRadiusAt(item, end_mm) > 0) {
      const [x, top] = place.upper(thread.size_mm / 2, end_mm);
      const [, bottom] = place.lower(thread.size_mm / 2, end_mm);
      path += `M${px(x)} ${px(top)}V${px(bottom)}`;
    }
  }
  return tag('path', {
    d: path,
    fill: 'none',
    stroke: paint.line,
    'stroke-width': THIN_px,
    'stroke-dasharray': isHidden ? '3 2' : undefined,
  });
}

function driveLines(item: PlacedItem, place: Place, look: PartLook): string {
  let path = '';
  for (const { tool, side } of item.drives) {
    const inward = side === 'drive' ? -1 : 1;
    const end_mm = side === 'drive' ? item.to_mm : item.from_mm;
    if (tool.tool === 'hex-key' || tool.tool === 'star-key') {
      // Across the corners a hexagon measures its size over cos 30°; sockets are about half as deep as wide.
      const r_mm = tool.tool === 'hex-key' ? tool.size_mm / Math.sqrt(3) : tool.size_mm / 8;
      const depth_mm = end_mm + inward * Math.min(r_mm, 0.4 * (item.to_mm - item.from_mm));
      path += pathThrough(
        [
          place.upper(r_mm, end_mm),
          place.upper(r_mm, depth_mm),
          place.lower(r_mm, depth_mm),
          place.lower(r_mm, end_mm),
        ],
        false,
      );
    } else if (tool.tool === 'spanner') {
      // The two edges of a hexagon seen across its corners, at half its radius.
      const flats_mm = Math.min(tool.size_mm / 2, 0.6 * (item.to_mm - item.from_mm));
      const r_mm = Math.min(tool.size_mm / Math.sqrt(3), outerRadiusAt(item, end_mm + inward * flats_mm * 0.5)) / 2;
      for (const half of [place.upper, place.lower])
        path += pathThrough([half(r_mm, end_mm), half(r_mm, end_mm + inward * flats_mm)], false);
    }
  }
  if (path === '') return '';
  return tag('path', {
    d: path,
    fill: 'none',
    stroke: look.colours.line,
    'stroke-width': THIN_px,
    'stroke-dasharray': '3 2',
  });
}

const SIDES: readonly { readonly side: Side; readonly inward: 1 | -1 }[] = [
  { side: 'non-drive', inward: 1 },
  { side: 'drive', inward: -1 },
];

function faceBands(item: PlacedItem, place: Place, look: PartLook): string {
  if (item.role === 'bearing' || item.role === 'boss' || item.member !== undefined) return '';
  const { ink, ground } = look.colours;
  const polygons = ownPolygons(item);
  let bands = '';
  for (const { side, inward } of SIDES) {
    const reading: FaceReading = side === 'drive' ? item.drive : item.nonDrive;
    for (const touch of reading.touches) {
      for (const [r0, r1] of touch.bands_mm) {
        const z_mm = surfaceAt(polygons, (r0 + r1) / 2, side);
        if (z_mm === undefined) continue;
        for (const half of [place.upper, place.lower]) {
          const [x, y1] = half(r0, z_mm);
          const [, y2] = half(r1, z_mm);
          bands += faceBand(touch.bears, x, y1, y2, inward, ink, ground);
        }
      }
    }
    const face = reading.touches.length === 0 && item.role === 'ring' ? endFace(item, side) : undefined;
    if (!face) continue;
    for (const half of [place.upper, place.lower]) {
      const [x, y1] = half(face.radii_mm[0], face.z_mm);
      const [, y2] = half(face.radii_mm[1], face.z_mm);
      bands += faceBand('nothing', x, y1, y2, inward, ink, ground);
    }
  }
  return bands;
}

function outerShape(item: PlacedItem, place: Place): string {
  return bothSides(
    envelope(
      item.solids.map((solid) => solid.polygon),
      'outer',
    ),
    place,
  );
}

function outlineState(item: PlacedItem, place: Place, look: PartLook): string {
  const { colours } = look;
  const layers: (readonly [colour: string, width: number, dash?: string])[] = [];
  if (look.isActive) layers.push([colours.active, 2.2]);
  if (look.isTroubled) layers.push([colours.trouble, 2.6]);
  if (look.isLit) layers.push([colours.select, 2.2, '5 2.5']);
  if (look.isSelected) layers.push([colours.select, 3]);
  if (layers.length === 0) return '';
  const d = isUncut(item)
    ? outerShape(item, place)
    : ownPolygons(item)
        .flatMap((polygon) => halves(polygon, place).map((shape) => pathThrough(shape)))
        .join('');
  return layers
    .map(([colour, width, dash]) =>
      tag('path', {
        d,
        fill: 'none',
        stroke: colour,
        'stroke-width': width,
        'stroke-linejoin': 'round',
        'stroke-dasharray': dash,
      }),
    )
    .join('');
}

function ghost(item: PlacedItem, place: Place, look: PartLook): string {
  const { colours } = look;
  const hue = facingHue(item);
  const stroke = hue === undefined ? colours.muted : mix(hue, colours.ink, 0.15);
  const outline = (d: string, width: number) =>
    tag('path', { class: 'aws-o', d, fill: 'none', stroke, 'stroke-width': width, 'stroke-dasharray': '4 3' });
  const shapes = isUncut(item)
    ? outerShape(item, place)
    : item.solids
        .filter((solid) => solid.role !== 'seal')
        .flatMap((solid) => halves(solid.polygon, place).map((shape) => pathThrough(shape)))
        .join('');
  return (
    outline(shapes, look.isActive ? 1.8 : 1.1) + (look.isSelected || look.isLit ? outlineState(item, place, look) : '')
  );
}
