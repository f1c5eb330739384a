/**
 * Members in the side plane: every boss a disc, every web the hull of two discs, each with its reach along z.
 *
 * A web without a height spans the outer tangents of its two bosses; one with a height is as tall all along. A web
 * whose ends stand at different z bends over in an S (the picture's smooth step) and is cut into pieces of which each
 * has its own z. A bridge, whose ends stand over one another, is a disc that reaches from boss to boss. mm, as drawn.
 */
import type { ResolvedMember, ResolvedModel, ResolvedWeb, WebEnd } from '../model/resolve.ts';
import type { Place } from './planar.ts';

/** A disc in the side plane. */
export interface Disc extends Place {
  readonly radius_mm: number;
}

/** The hull of two discs (the same twice for a round one) with its reach along z. */
export interface Outline {
  readonly member: string;
  /** Its bore, or both ends of its web with a space between. */
  readonly what: string;
  readonly a: Disc;
  readonly b: Disc;
  readonly zFrom_mm: number;
  readonly zTo_mm: number;
  /** Volume of material between the two discs, bores taken out, taken as solid; mm³. */
  readonly volume_mm3: number;
}

const PIECES = 8;
/** A web that bends over by less than this is not cut, mm. */
const STRAIGHT_mm = 1;
/** Ends nearer than this stand over one another, mm. */
const OVER_mm = 0.5;

/**
 * All outlines of one member in the side plane, mm, as it is drawn; none for an id the model lacks. O(bores + webs).
 */
export function outlinesOf(model: ResolvedModel, memberId: string): Outline[] {
  const member = Object.hasOwn(model.members, memberId) ? model.members[memberId] : undefined;
  if (!member) return [];
  const bosses = Object.values(member.bores).map((bore): Outline => {
    const disc = { ...bore.place, radius_mm: bore.boss_mm / 2 };
    return {
      member: memberId,
      what: bore.boreId,
      a: disc,
      b: disc,
      zFrom_mm: bore.z_from_mm,
      zTo_mm: bore.z_to_mm,
      volume_mm3: discVolume(disc.radius_mm, bore.bore_mm / 2, bore.z_to_mm - bore.z_from_mm),
    };
  });
  return [...bosses, ...member.webs.flatMap((web) => webOutlines(memberId, member, web))];
}

/** Half the height of a web's end that has none of its own: of its boss, or of the tallest web at a bare point. */
function radius_mm({ webs }: ResolvedMember, name: string, { isBore, boss_mm = 0 }: WebEnd): number {
  if (isBore) return boss_mm / 2;
  const tallest = Math.max(
    0,
    ...webs.filter((web) => web.from === name || web.to === name).map((web) => web.height_mm ?? 0),
  );
  return (tallest > 0 ? tallest : boss_mm) / 2;
}

function webOutlines(memberId: string, member: ResolvedMember, web: ResolvedWeb): Outline[] {
  const a = { ...web.ends[0], radius_mm: radius_mm(member, web.from, web.ends[0]) };
  const b = { ...web.ends[1], radius_mm: radius_mm(member, web.to, web.ends[1]) };
  const what = `${web.from} ${web.to}`;
  if (Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) < OVER_mm) {
    const disc = {
      x_mm: a.x_mm,
      y_mm: a.y_mm,
      radius_mm: web.height_mm === undefined ? Math.min(a.radius_mm, b.radius_mm) : web.height_mm / 2,
    };
    return [
      {
        member: memberId,
        what,
        a: disc,
        b: disc,
        zFrom_mm: Math.min(a.z_mm, b.z_mm),
        zTo_mm: Math.max(a.z_mm, b.z_mm),
        volume_mm3: discVolume(disc.radius_mm, 0, Math.abs(b.z_mm - a.z_mm)),
      },
    ];
  }
  const radiusOf = (end: typeof a): number =>
    web.height_mm === undefined
      ? end.radius_mm
      : end.isBore
        ? Math.min(web.height_mm / 2, end.radius_mm)
        : web.height_mm / 2;
  const zAt = (u: number): number => web.z_mm ?? a.z_mm + (b.z_mm - a.z_mm) * u * u * (3 - 2 * u);
  const pieces = Math.abs(zAt(1) - zAt(0)) < STRAIGHT_mm ? 1 : PIECES;
  const [ra, rb] = [radiusOf(a), radiusOf(b)];
  const discAt = (u: number): Disc => ({
    x_mm: a.x_mm + (b.x_mm - a.x_mm) * u,
    y_mm: a.y_mm + (b.y_mm - a.y_mm) * u,
    radius_mm: ra + (rb - ra) * u,
  });
  return Array.from({ length: pieces }, (_, k): Outline => {
    const [z0, z1] = [zAt(k / pieces), zAt((k + 1) / pieces)];
    const half = web.thickness_mm / 2;
    const [from, to] = [discAt(k / pieces), discAt((k + 1) / pieces)];
    const volume_mm3 =
      Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm) * (from.radius_mm + to.radius_mm) * web.thickness_mm;
    return {
      member: memberId,
      what,
      a: from,
      b: to,
      zFrom_mm: Math.min(z0, z1) - half,
      zTo_mm: Math.max(z0, z1) + half,
      volume_mm3,
    };
  });
}

function discVolume(radius_mm: number, hole_mm: number, length_mm: number): number {
  return Math.PI * (radius_mm ** 2 - hole_mm ** 2) * length_mm;
}
