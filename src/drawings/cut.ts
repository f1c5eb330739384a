/**
 * One part of the section drawing: its cut halves with hatching, or its outside where it is not cut.
 *
 * Practice of ISO 128-3: all parts are cut in the plane of the axis, except axles, bolts, screws, nuts and balls, which
 * are drawn from outside; thin parts (seals) are filled solid; what is seen behind the cut is drawn with
 * its edges. Threads after ISO 6410-1, simplified: a second line at the root (outer thread) or at the minor diameter
 * (inner thread; profiles stand at the nominal size), the outer thread's length ended by a line; dashed where hidden.
 * Input mm, output px.
 */
import { ballRows, metricThread } from '../../shared/index.ts';
import type { Polygon, Side } from '../../shared/index.ts';
import { mix } from '../look.ts';
import { facingHue, itemPaint, type Paint } from './colours.ts';
import { isUncut, type HatchStyle } from './hatch.ts';
import { faceBand } from './marks.ts';
import { endFace, envelope, outerRadiusAt, ownPolygons, surfaceAt, type Stretch } from './outline.ts';
import { areas, circle, corners, lines, type Point, type Run, type Shape } from './shapes.ts';
import type { Sheet, ShownItem } from './sheet.ts';

const THIN_px = 0.7;
const OUTLINE_px = 1.15;

/** A part with its place on the sheet: the halves above and below the axis. */
interface Placed extends ShownItem {
  readonly sheet: Sheet;
  readonly paint: Paint;
  readonly hatch: HatchStyle;
  readonly halves: readonly [upper: Half, lower: Half];
}
type Half = (r_mm: number, z_mm: number) => Point;

/** The shapes of one part, without the group around it. */
export function cutPart(shown: ShownItem, sheet: Sheet, axis_px: number, hatch: HatchStyle): readonly Shape[] {
  const half =
    (way: 1 | -1): Half =>
    (r_mm, z_mm) => [sheet.x(z_mm + shown.offset_mm), axis_px - way * r_mm * sheet.scale_px_per_mm];
  const paint = itemPaint(shown.item, sheet.options.theme);
  const part = { ...shown, sheet, paint, hatch, halves: [half(1), half(-1)] as const };
  if (!shown.on) return ghost(part);
  return [...(isUncut(shown.item) ? outside(part) : cut(part)), ...faceBands(part), ...outlineState(part)];
}

function bothHalves(polygon: Polygon, { halves }: Placed): readonly (readonly Point[])[] {
  return halves.map((half) => polygon.map(([r, z]) => half(r, z)));
}

/** Round both halves of an envelope. */
function around(stretches: readonly Stretch[], { halves: [upper, lower] }: Placed): Run {
  const ends = stretches.flatMap(({ z0, r0, z1, r1 }) => corners(r0, z0, r1, z1));
  return [...ends.map(([r, z]) => upper(r, z)), ...ends.map(([r, z]) => lower(r, z)).reverse()];
}

/** Lines across where an envelope has an edge. */
function edges(stretches: readonly Stretch[], { halves: [upper, lower] }: Placed): readonly Run[] {
  const isLevel = ({ r0, r1 }: Stretch) => Math.abs(r1 - r0) < 1e-6;
  const runs: Run[] = [];
  let last = -Infinity;
  stretches.slice(0, -1).forEach((stretch, k) => {
    const next = stretches[k + 1]!;
    const r_mm = Math.max(stretch.r1, next.r0);
    const from = upper(r_mm, next.z0);
    const isStraight = Math.abs(stretch.r1 - next.r0) < 1e-6 && isLevel(stretch) && isLevel(next);
    if (isStraight || from[0] - last < 1.6) return;
    last = from[0];
    runs.push([from, lower(r_mm, next.z0)]);
  });
  return runs;
}

function outside(part: Placed): readonly Shape[] {
  const { outline, paint } = part;
  if (outline.length === 0) return [];
  const body = { class: 'aws-o', fill: paint.fill, stroke: paint.line, pen: OUTLINE_px, join: 'round' } as const;
  return [
    areas([around(outline, part)], body),
    lines(edges(outline, part), { stroke: paint.line, pen: THIN_px }),
    ...threadLines(part),
    ...driveLines(part),
  ];
}

function cut(part: Placed): readonly Shape[] {
  const { colours } = part.sheet;
  const solids = part.item.solids.map(({ role, polygon }) => {
    const paint = role === 'inner-ring' ? colours.innerRing : role === 'outer-ring' ? colours.outerRing : part.paint;
    return { role, polygon, paint, bore: envelope([polygon], 'inner') };
  });
  // What lies farther out is seen first behind the cut, so the bores are laid from the outside in.
  const inward = solids
    .filter(({ role, bore }) => role !== 'seal' && bore.length > 0)
    .sort((a, b) => b.bore[0]!.r0 - a.bore[0]!.r0);
  const behind = inward.flatMap(({ bore, paint }) => [
    areas([around(bore, part)], { fill: paint.behind, stroke: paint.line, pen: THIN_px }),
    lines(edges(bore, part), { stroke: paint.line, pen: THIN_px * 0.8 }),
  ]);
  const front = solids.flatMap(({ role, polygon, paint }): Shape[] => {
    const polygons = bothHalves(polygon, part);
    const face = { class: 'aws-o', stroke: paint.line, join: 'round' } as const;
    if (role === 'seal') return [areas(polygons, { ...face, fill: colours.seal, pen: THIN_px })];
    return [
      areas(polygons, { ...face, fill: paint.fill, pen: OUTLINE_px }),
      { kind: 'hatch', polygons, ...hatching(role, part), stroke: paint.hatch, pen: THIN_px },
    ];
  });
  return [...behind, ...front, ...balls(part), ...threadLines(part)];
}

function hatching(role: string, { item, sheet, halves, hatch }: Placed) {
  const grow = Math.min(1.25, Math.max(0.72, sheet.scale_px_per_mm / 5));
  // The outer ring's lines cross those of the inner ring and of the boss that holds it.
  const { rise, spacing_px } = role === 'outer-ring' ? ({ rise: -1, spacing_px: 4.2 } as const) : hatch;
  return { rise, spacing: spacing_px * grow, origin: halves[0](0, item.from_mm) };
}

function balls({ item, sheet, halves }: Placed): readonly Shape[] {
  if (!item.balls) return [];
  const look = { fill: sheet.colours.ball, stroke: sheet.colours.innerRing.hatch, pen: THIN_px };
  return ballRows(item.balls).flatMap(({ circle_mm, diameter_mm, z_mm }) =>
    halves.map((half) => circle(half(circle_mm / 2, z_mm), (diameter_mm / 2) * sheet.scale_px_per_mm, look)),
  );
}

function threadLines(placed: Placed): readonly Shape[] {
  const { thread, tip_thread: second } = placed.item;
  return [thread, second].flatMap((one) => (one ? threadLine(placed, one) : []));
}

function threadLine(
  { item, outline, halves, paint }: Placed,
  thread: NonNullable<Placed['item']['thread']>,
): readonly Shape[] {
  const { rootDiameter_mm, minorDiameter_mm } = metricThread(thread);
  const radius_mm = (thread.inner ? minorDiameter_mm : rootDiameter_mm) / 2;
  const runs: Run[] = halves.map((half) => [half(radius_mm, thread.from_mm), half(radius_mm, thread.to_mm)]);
  // The end of the useful thread, on the side where the part goes on.
  const rest_mm = { low: thread.from_mm - item.from_mm, high: item.to_mm - thread.to_mm };
  const end_mm = rest_mm.high > Math.max(1, item.tip_thread ? rest_mm.low : 1) ? thread.to_mm : thread.from_mm;
  if (!thread.inner && outerRadiusAt(outline, end_mm) > 0)
    runs.push(halves.map((half) => half(thread.size_mm / 2, end_mm)));
  const dash = thread.inner && isUncut(item) ? [3, 2] : undefined;
  return [lines(runs, { stroke: paint.line, pen: THIN_px, dash })];
}

function driveLines({ item, outline, halves, sheet }: Placed): readonly Shape[] {
  const [upper, lower] = halves;
  const runs = item.drives.flatMap(({ tool, side }): Run[] => {
    const inward = side === 'drive' ? -1 : 1;
    const end_mm = side === 'drive' ? item.to_mm : item.from_mm;
    const length_mm = item.to_mm - item.from_mm;
    if (tool.tool === 'hex-key' || tool.tool === 'star-key') {
      // Across the corners a hexagon measures its size over cos 30°; sockets are about half as deep as wide.
      const r_mm = tool.tool === 'hex-key' ? tool.size_mm / Math.sqrt(3) : tool.size_mm / 8;
      const floor_mm = end_mm + inward * Math.min(r_mm, 0.4 * length_mm);
      return [[upper(r_mm, end_mm), upper(r_mm, floor_mm), lower(r_mm, floor_mm), lower(r_mm, end_mm)]];
    }
    if (tool.tool !== 'spanner') return [];
    // The two edges of a hexagon seen across its corners, at half its radius.
    const flats_mm = Math.min(tool.size_mm / 2, 0.6 * length_mm);
    const around_mm = outerRadiusAt(outline, end_mm + inward * flats_mm * 0.5);
    const r_mm = Math.min(tool.size_mm / Math.sqrt(3), around_mm) / 2;
    return halves.map((half) => [half(r_mm, end_mm), half(r_mm, end_mm + inward * flats_mm)]);
  });
  return [lines(runs, { stroke: sheet.colours.line, pen: THIN_px, dash: [3, 2] })];
}

const SIDES: readonly (readonly [side: Side, inward: 1 | -1])[] = [
  ['non-drive', 1],
  ['drive', -1],
];

function faceBands({ item, halves, sheet }: Placed): readonly Shape[] {
  if (item.role === 'bearing' || item.role === 'boss' || item.member !== undefined) return [];
  const polygons = ownPolygons(item);
  return SIDES.flatMap(([side, inward]) => {
    const { touches } = side === 'drive' ? item.drive : item.nonDrive;
    const free = touches.length === 0 && item.role === 'spacer' ? endFace(item, side) : undefined;
    const bands = touches.flatMap(({ bears, bands_mm }) =>
      bands_mm.map((radii_mm) => {
        const z_mm = surfaceAt(polygons, (radii_mm[0] + radii_mm[1]) / 2, side);
        return { bears, z_mm, radii_mm };
      }),
    );
    return [...bands, ...(free ? [{ bears: 'nothing' as const, ...free }] : [])].flatMap(
      ({ bears, z_mm, radii_mm: [r0, r1] }) =>
        z_mm === undefined
          ? []
          : halves.flatMap((half) => {
              const [x, y1] = half(r0, z_mm);
              return faceBand(bears, x, y1, half(r1, z_mm)[1], inward, sheet.colours);
            }),
    );
  });
}

function shapeOf(part: Placed): readonly Run[] {
  if (isUncut(part.item)) return [around(part.outline, part)];
  return ownPolygons(part.item).flatMap((polygon) => bothHalves(polygon, part));
}

function outlineState(part: Placed): readonly Shape[] {
  const { id, sheet } = part;
  const { colours, options, troubled } = sheet;
  const layers: (readonly [stroke: string, pen: number, dash?: readonly number[]])[] = [];
  if (options.activeIds?.includes(id)) layers.push([colours.active, 2.2]);
  if (troubled.has(id)) layers.push([colours.trouble, 2.6]);
  if (options.litId === id) layers.push([colours.select, 2.2, [5, 2.5]]);
  if (options.selectedId === id) layers.push([colours.select, 3]);
  return layers.map(([stroke, pen, dash]) => areas(shapeOf(part), { stroke, pen, join: 'round', dash }));
}

function ghost(part: Placed): readonly Shape[] {
  const { id, item, sheet } = part;
  const { colours, options } = sheet;
  const hue = facingHue(item);
  const stroke = hue === undefined ? colours.muted : mix(hue, colours.ink, 0.15);
  const pen = options.activeIds?.includes(id) ? 1.8 : 1.1;
  const isMarked = options.selectedId === id || options.litId === id;
  return [areas(shapeOf(part), { class: 'aws-o', stroke, pen, dash: [4, 3] }), ...(isMarked ? outlineState(part) : [])];
}
