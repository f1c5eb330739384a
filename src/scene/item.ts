/**
 * A part as one painted surface: its solids, the marks on them, and the shell that leaves its rim of ink; and the lines
 * drawn on its edges.
 *
 * The index runs in this order, so that one buffer serves every state: what a hand can touch, what is only drawn on it,
 * the shell. Parts of closed pivots are joined into one surface a pivot. mm, the axis is z.
 */
import type { PlacedItem, Polygon } from '../../shared/index.ts';
import { endFace, outerRadius, sharpCorners, socketSurface } from './detail.ts';
import { dressItem, type DressedSolid } from './dress.ts';
import { annulus, arrowMarks, doubleLine, faceBands, PROUD_mm, type BandPattern, type FaceBand } from './marks.ts';
import { Painted, type Coat, type Pattern } from './painted.ts';
import { MARK, TROUBLE } from '../look.ts';
import { facingColour, solidLook } from './palette.ts';
import { revolve, shell } from './surface.ts';

/** Facets of a lathe in the opened pivot, and in the rest of the bike; a knurl takes twice as many. */
export const FACETS = { open: 72, rest: 30 } as const;

/** How a part is painted. */
interface ItemPaint {
  readonly facets: number;
  /** Pairs of items that touch although they must not, as `a b`. */
  readonly rubs: ReadonlySet<string>;
  /** Bands on its end faces: in the opened pivot alone. */
  readonly hasBands: boolean;
}

/**
 * Paints parts into one surface. Index ends: `touched` (what a hand can touch), `marked`, and the whole with its
 * shells.
 */
export function paintItems(
  items: readonly PlacedItem[],
  paint: ItemPaint,
  materialOf: (item: PlacedItem) => string | undefined,
): Painted {
  const into = new Painted();
  for (const item of items)
    for (const solid of dressItem(item)) paintSolid(into, item, solid, paint.facets, materialOf(item));
  into.mark('touched');
  for (const item of items) {
    if (item.role === 'spacer') paintRing(into, item);
    if (paint.hasBands && item.role !== 'boss' && item.role !== 'bearing') paintBands(into, item, paint.rubs);
    if (paint.hasBands && item.smallFace !== undefined) paintFacing(into, item);
  }
  into.mark('marked');
  for (const item of items) {
    for (const { solid, plain, flats } of dressItem(item)) {
      const isBlack = solidLook(item, solid, materialOf(item)).isBlack === true;
      if (solid.role !== 'seal')
        into.add(shell(flats ? plain : solid.polygon, paint.facets, flats), { kind: 'shell', isBlack });
    }
  }
  return into;
}

/** What the picture of an item depends on, as text; equal keys draw alike. */
export function itemKey(item: PlacedItem, memberMaterial: string | undefined): string {
  const { role, kind, smallFace, solids, thread, tip_thread: second, drives, balls } = item;
  const faces = [item.nonDrive, item.drive].map(({ touches }) =>
    touches.map(({ bears, bands_mm }) => [bears, bands_mm]),
  );
  return `${JSON.stringify([role, kind, smallFace, solids, thread, second, drives, balls, faces])} ${memberMaterial ?? ''}`;
}

function paintSolid(
  into: Painted,
  item: PlacedItem,
  dressed: DressedSolid,
  facets: number,
  memberMaterial: string | undefined,
): void {
  const { solid, flats, knurl, linings } = dressed;
  const isFine = facets >= FACETS.open;
  const coat: Coat = { kind: 'lit', look: solidLook(item, solid, memberMaterial) };
  // Thread ridges, knurls and seal lips are too fine to be seen on the whole bike.
  if (isFine) into.add(revolve(dressed.turned, knurl ? 2 * facets : facets, flats, knurl), coat);
  else into.add(revolve(item.role === 'bearing' ? solid.polygon : dressed.plain, facets, flats), coat);
  for (const { socket, plug_mm, end_mm, sign } of linings)
    into.add(socketSurface(socket, plug_mm, sign), coat, [0, 0, end_mm]);
}

/** Arrow marks toward the small face, or the double line, round the outside. */
function paintRing(into: Painted, item: PlacedItem): void {
  const solid = item.solids[0];
  if (!solid) return;
  into.add(item.smallFace === undefined ? doubleLine(solid.polygon) : arrowMarks(solid.polygon, item.smallFace), {
    kind: 'flat',
    colour: MARK.ink,
  });
}

/** Share of an end face that its facing takes, at the rim, and the least of it; mm. */
const FACING_SHARE = 0.3;
const FACING_LEAST_mm = 0.55;

/** The facing once more as a large ring round each end face: it shows where the chevrons do not. */
function paintFacing(into: Painted, item: PlacedItem): void {
  const polygon = item.solids[0]?.polygon;
  if (!polygon) return;
  for (const sign of [-1, 1] as const) {
    const face = endFace(polygon, sign);
    if (!face) continue;
    const wide = Math.max(FACING_LEAST_mm, (face.r1 - face.r0) * FACING_SHARE);
    const put = (r0: number, r1: number, lift: number, colour: string): void => {
      into.add(annulus(r0, r1, face.z_mm + sign * PROUD_mm * lift, sign), { kind: 'flat', colour });
    };
    put(face.r1 - wide - RIM_mm, face.r1, 3, MARK.ink);
    put(face.r1 - wide, face.r1 - RIM_mm / 2, 4, facingColour(item));
  }
}

/** An axle or nut shows only where it bears, not where it is open. */
function paintBands(into: Painted, item: PlacedItem, rubs: ReadonlySet<string>): void {
  for (const solid of item.solids) {
    const bands = [...faceBands(solid.polygon, item.nonDrive, -1), ...faceBands(solid.polygon, item.drive, 1)];
    for (const band of bands) {
      if (item.role === 'spacer' || band.pattern !== 'open')
        paintBand(into, band, rubs.has(`${item.id} ${band.with ?? ''}`));
    }
  }
}

/** Width of the rim round a band, and of the lines of an open or double one, mm. */
const RIM_mm = 0.28;
const BAND_TILE: Readonly<Partial<Record<BandPattern, { readonly pattern: Pattern; readonly size_mm: number }>>> = {
  hatched: { pattern: 'bold', size_mm: 1.4 },
  dotted: { pattern: 'dots', size_mm: 1.5 },
  diagonal: { pattern: 'diagonal', size_mm: 2.6 },
};

function paintBand(into: Painted, band: FaceBand, isAmiss: boolean): void {
  const { pattern, r0_mm, r1_mm, z_mm, sign } = band;
  const ink = isAmiss ? TROUBLE : MARK.ink;
  const rim = Math.min(RIM_mm, (r1_mm - r0_mm) / 5);
  const put = (r0: number, r1: number, lift: number, coat: Coat): void => {
    into.add(annulus(r0, r1, z_mm + sign * PROUD_mm * lift, sign), coat);
  };
  const isLines = pattern === 'open' || pattern === 'double';
  const isPlate = pattern === 'double' || pattern === 'filled';
  if (pattern !== 'open') put(r0_mm, r1_mm, 1, { kind: 'flat', colour: isPlate ? MARK.plate : ink });
  if (isLines) {
    put(r0_mm, r0_mm + rim * 1.6, 2, { kind: 'flat', colour: ink });
    put(r1_mm - rim * 1.6, r1_mm, 2, { kind: 'flat', colour: ink });
    return;
  }
  const tile = BAND_TILE[pattern];
  put(
    r0_mm + rim,
    r1_mm - rim,
    2,
    tile
      ? { kind: 'flat', colour: MARK.plate, ...tile, ink: isAmiss ? 'trouble' : 'ink' }
      : { kind: 'flat', colour: ink },
  );
}

/** Lines on the edges of a part, as pairs of points, mm: circles at sharp corners, the corners of a hexagon. */
export function itemLines(item: PlacedItem, facets: number): number[] {
  return dressItem(item).flatMap(({ solid, flats }) =>
    flats ? hexLines(solid.polygon, flats) : circleLines(solid.polygon, facets),
  );
}

/** A circle at each sharp corner of a profile, as pairs of points, mm. */
export function circleLines(polygon: Polygon, segments: number): number[] {
  const points: number[] = [];
  for (const [r, z] of sharpCorners(polygon)) {
    for (let j = 0; j < segments; j += 1) {
      const t0 = (2 * Math.PI * j) / segments;
      const t1 = (2 * Math.PI * ((j + 1) % segments)) / segments;
      points.push(r * Math.cos(t0), r * Math.sin(t0), z, r * Math.cos(t1), r * Math.sin(t1), z);
    }
  }
  return points;
}

function hexLines(polygon: Polygon, flats: NonNullable<DressedSolid['flats']>): number[] {
  const points: number[] = [];
  for (let k = 0; k < flats.sides; k += 1) {
    // Flats are centred on multiples of the step; the corners lie between.
    const t = (2 * Math.PI * (k + 0.5)) / flats.sides;
    const r = Math.min(
      flats.across_mm / 2 / Math.cos(Math.PI / flats.sides),
      outerRadius(polygon, (flats.from_mm + flats.to_mm) / 2),
    );
    const trim = (flats.to_mm - flats.from_mm) * 0.12;
    points.push(
      r * Math.cos(t),
      r * Math.sin(t),
      flats.from_mm + trim,
      r * Math.cos(t),
      r * Math.sin(t),
      flats.to_mm - trim,
    );
  }
  return points;
}
