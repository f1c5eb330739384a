/**
 * From the dimensions of a part to its solids of revolution: one row a kind, used alike for mesh, section and contact.
 *
 * Local frame: z = 0 at the part's datum. Rings and bearings: the non-drive face at 0, the drive face at `length_mm`.
 * Axles, bolts, screws and sleeves: the bearing face under the head (or its land) at 0, the head at z < 0, the shank
 * at z > 0, as put in from the non-drive side. Nuts: their bearing face at 0, the body at z > 0, as at the drive end.
 * An external thread is drawn at its nominal size and so is an internal one: the two meet without overlapping, and the
 * limits of the thread itself are kept by `joint/thread.ts`. Sockets, flats and balls never enter a contact.
 */
import { resolveBearing } from '../model/resolve.ts';
import type { Part, PartKind, PartOf } from '../model/schema.ts';
import type { Balls, Corner, Polygon, Solid } from '../types.ts';
import { ringPolygon } from './polygon.ts';

/** Solids of a part in its local frame, with the z of its two ends. */
export interface PartProfile {
  readonly solids: readonly Solid[];
  readonly balls?: Omit<Balls, 'z_mm'> & { readonly z_mm: number };
  readonly from_mm: number;
  readonly to_mm: number;
  /** False when turning the part round gives the same solids. */
  readonly hasTwoWays: boolean;
}

/** Broken edge of a turned ring where the file gives none, mm: common practice, no source. */
const EDGE_mm = 0.2;
/** How far a seal's face stands below the ring faces, mm: an estimate of ours, since no catalogue gives it. */
export const SEAL_RECESS_mm = 0.1;

type Rule<K extends PartKind> = (part: PartOf<K>) => PartProfile;

const ring: Rule<'spacer'> & Rule<'washer'> = (part) => {
  const edge = part.chamfer_mm ?? Math.min(EDGE_mm, part.length_mm / 5);
  return {
    solids: [
      {
        role: 'body',
        material: part.material,
        polygon: ringPolygon(part.bore_mm / 2, part.outside_mm / 2, 0, part.length_mm, { inner: edge, outer: edge }),
      },
    ],
    from_mm: 0,
    to_mm: part.length_mm,
    hasTwoWays: false,
  };
};

const taperedSpacer: Rule<'tapered-spacer'> = (part) => {
  const edge = Math.min(part.chamfer_mm ?? EDGE_mm, (part.small_mm - part.bore_mm) / 6, part.length_mm / 6);
  const [bore, small, large] = [part.bore_mm / 2, part.small_mm / 2, part.large_mm / 2];
  const length = part.length_mm;
  // A land may take the whole length: the other end keeps its broken edge all the same.
  const largeStart = Math.max(edge, length - Math.max(part.large_land_mm ?? 0, edge));
  const smallEnd = Math.min(Math.max(part.small_land_mm ?? 0, edge), largeStart);
  const polygon: Corner[] = [
    [bore, edge],
    [bore + edge, 0],
    [small - edge, 0],
    [small, edge],
  ];
  if (smallEnd > edge) polygon.push([small, smallEnd]);
  polygon.push([large, largeStart]);
  if (largeStart < length - edge) polygon.push([large, length - edge]);
  polygon.push([large - edge, length], [bore + edge, length], [bore, length - edge]);
  return {
    solids: [{ role: 'body', material: part.material, polygon: withoutRepeats(polygon) }],
    from_mm: 0,
    to_mm: length,
    hasTwoWays: true,
  };
};

const endCap: Rule<'end-cap'> = (part) => {
  const [bore, land, outside] = [part.bore_mm / 2, part.land_mm / 2, part.outside_mm / 2];
  const edge = Math.min(EDGE_mm, (land - bore) / 6, part.land_height_mm / 3);
  const polygon: Polygon = [
    [bore, edge],
    [bore + edge, 0],
    [land - edge, 0],
    [land, edge],
    [land, part.land_height_mm],
    [outside, part.land_height_mm],
    [outside, part.length_mm],
    [bore, part.length_mm],
  ];
  return {
    solids: [{ role: 'land', material: part.material, polygon }],
    from_mm: 0,
    to_mm: part.length_mm,
    hasTwoWays: true,
  };
};

const bearing: Rule<'bearing'> = (part) => {
  const size = resolveBearing(part);
  const [bore, outside] = [size.bore_mm / 2, size.outside_mm / 2];
  const [inner, outer] = [size.innerShoulder_mm / 2, size.outerShoulder_mm / 2];
  const width = size.width_mm;
  // Each ring is chamfered at its fitting edge and square at its shoulder, where the face zones are measured.
  const chamfer = Math.min(size.chamfer_mm, (inner - bore) / 3, (outside - outer) / 3, width / 6);
  const innerRing: Polygon = [
    [bore, chamfer],
    [bore + chamfer, 0],
    [inner, 0],
    [inner, width],
    [bore + chamfer, width],
    [bore, width - chamfer],
  ];
  const outerRing: Polygon = [
    [outer, 0],
    [outside - chamfer, 0],
    [outside, chamfer],
    [outside, width - chamfer],
    [outside - chamfer, width],
    [outer, width],
  ];
  const seal = Math.min(0.7, width / 8);
  const sealAt = (z: number) => ringPolygon(inner, outer, z, z + seal);
  const gap = outer - inner;
  const ball = Math.min(gap * 1.25, width * 0.62);
  const circle = inner + outer;
  return {
    solids: [
      { role: 'inner-ring', material: 'bearing-steel', polygon: withoutRepeats(innerRing) },
      { role: 'outer-ring', material: 'bearing-steel', polygon: withoutRepeats(outerRing) },
      { role: 'seal', material: 'nitrile-rubber', polygon: sealAt(SEAL_RECESS_mm) },
      { role: 'seal', material: 'nitrile-rubber', polygon: sealAt(width - SEAL_RECESS_mm - seal) },
    ],
    balls: {
      count: Math.max(7, Math.floor((Math.PI * circle) / (ball * 1.6))),
      diameter_mm: ball,
      circle_mm: circle,
      z_mm: width / 2,
    },
    from_mm: 0,
    to_mm: width,
    hasTwoWays: false,
  };
};

type Shanked = PartOf<'axle'> | PartOf<'bolt'> | PartOf<'screw'> | PartOf<'sleeve'>;

const shanked = (part: Shanked): PartProfile => {
  const head = part.head.diameter_mm / 2;
  const landHeight = part.head.land_height_mm ?? 0;
  const back = -(part.head.height_mm + landHeight);
  const length = shankLength_mm(part);
  const outline: Corner[] = [];
  const bevel = Math.min(0.4, part.head.height_mm / 4);
  outline.push([head - bevel, back], [head, back + bevel], [head, -landHeight]);
  if (part.head.land_mm !== undefined) outline.push([part.head.land_mm / 2, -landHeight], [part.head.land_mm / 2, 0]);
  let z = 0;
  for (const cylinder of part.shank) {
    outline.push([cylinder.diameter_mm / 2, z], [cylinder.diameter_mm / 2, z + cylinder.length_mm]);
    z += cylinder.length_mm;
  }
  const last = part.shank.at(-1)!;
  const tip = last.diameter_mm / 2;
  const bore = (part.bore_mm ?? 0) / 2;
  const wall = tip - (part.kind === 'sleeve' ? part.thread.size_mm / 2 : bore);
  const nose = Math.min(
    part.kind === 'sleeve' ? 0.2 : part.thread.pitch_mm / 2,
    1,
    tip / 4,
    wall / 2,
    last.length_mm / 2,
  );
  outline[outline.length - 1] = [tip, length - nose];
  outline.push([tip - nose, length]);
  if (part.kind === 'sleeve') {
    // The thread opens at the tip; behind it the hole goes on at its own bore, or ends.
    const threadStart = length - part.thread.length_mm;
    outline.push([part.thread.size_mm / 2, length], [part.thread.size_mm / 2, threadStart]);
    outline.push([bore, threadStart]);
    if (bore > 0) outline.push([bore, back]);
    else outline.push([0, back]);
  } else {
    outline.push([bore, length], [bore, back]);
  }
  return {
    solids: [{ role: 'land', material: part.material, polygon: withoutRepeats(outline) }],
    from_mm: back,
    to_mm: length,
    hasTwoWays: true,
  };
};

const nut: Rule<'nut'> = (part) => {
  const hole = part.thread.size_mm / 2;
  const land = (part.land_mm ?? part.outside_mm) / 2;
  // A land as long as the nut leaves no flange.
  const isAllLand = part.land_mm !== undefined && (part.land_height_mm ?? 0) > part.length_mm - 1e-9;
  const outside = isAllLand ? land : part.outside_mm / 2;
  const height = part.land_mm === undefined || isAllLand ? 0 : (part.land_height_mm ?? 0);
  const edge = Math.min(0.4, (outside - hole) / 4, (part.length_mm - height) / 4);
  const corners: Corner[] = [
    [hole, 0],
    [land, 0],
  ];
  if (height > 0) corners.push([land, height], [outside, height]);
  corners.push([outside, part.length_mm - edge], [outside - edge, part.length_mm]);
  if (part.closed === true)
    corners.push([0, part.length_mm], [0, part.thread.length_mm], [hole, part.thread.length_mm]);
  else corners.push([hole, part.length_mm]);
  return {
    solids: [{ role: 'land', material: part.material, polygon: withoutRepeats(corners) }],
    from_mm: 0,
    to_mm: part.length_mm,
    hasTwoWays: true,
  };
};

/** Each kind's rule; a new kind is one row here and one in the schema. */
const RULES: { readonly [K in PartKind]: Rule<K> } = {
  spacer: ring,
  washer: ring,
  'tapered-spacer': taperedSpacer,
  'end-cap': endCap,
  bearing,
  axle: shanked,
  bolt: shanked,
  screw: shanked,
  sleeve: shanked,
  nut,
};

/** The solids of a part in its local frame, mm. */
export function partProfile(part: Part): PartProfile {
  return (RULES[part.kind] as Rule<PartKind>)(part as never);
}

/** Length of a shank from under the head to the tip, mm. */
export function shankLength_mm(part: Shanked): number {
  return part.shank.reduce((sum, cylinder) => sum + cylinder.length_mm, 0);
}

function withoutRepeats(corners: readonly Corner[]): Polygon {
  return corners.filter(([r, z], k) => {
    const [r0, z0] = corners[(k + corners.length - 1) % corners.length]!;
    return Math.abs(r - r0) > 1e-9 || Math.abs(z - z0) > 1e-9;
  });
}
