/**
 * Members in the side plane: every boss a disc, every web the hull of two discs, each with its reach along z.
 *
 * A web without a height spans the outer tangents of its two bosses; one with a height is as tall all along. A web whose
 * ends stand at different z bends over in an S (the picture's smooth step) and is cut into pieces of which each has its
 * own z. A bridge, whose ends stand over one another, is a disc that reaches from boss to boss. mm, as drawn.
 */
import { borePlace, entryOf } from '../model/resolve.ts';
import type { LinkageModel, Member, Web } from '../model/schema.ts';
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

interface End extends Disc {
  readonly z_mm: number;
  readonly isBore: boolean;
}

const PIECES = 8;
/** A web that bends over by less than this is not cut, mm. */
const STRAIGHT_mm = 1;
/** Ends nearer than this stand over one another, mm. */
const OVER_mm = 0.5;

/** All outlines of one member. Webs whose ends have no place are left out: the file's check reports them. */
export function outlinesOf(model: LinkageModel, memberId: string): Outline[] {
  const member = entryOf(model.members, memberId);
  if (!member) return [];
  const bosses = Object.entries(member.bores).flatMap(([bore, sizes]): Outline[] => {
    const place = borePlace(model, memberId, bore);
    if (!place) return [];
    const disc = { x_mm: place.x_mm, y_mm: place.y_mm, radius_mm: sizes.boss_mm / 2 };
    return [
      {
        member: memberId,
        what: bore,
        a: disc,
        b: disc,
        zFrom_mm: sizes.z_from_mm,
        zTo_mm: sizes.z_to_mm,
        volume_mm3: discVolume(disc.radius_mm, sizes.bore_mm / 2, sizes.z_to_mm - sizes.z_from_mm),
      },
    ];
  });
  return [...bosses, ...(member.webs ?? []).flatMap((web) => webOutlines(model, memberId, member, web))];
}

function webOutlines(model: LinkageModel, memberId: string, member: Member, web: Web): Outline[] {
  const a = endOf(model, memberId, member, web.from);
  const b = endOf(model, memberId, member, web.to);
  if (!a || !b) return [];
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
  const radiusOf = (end: End): number =>
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

function endOf(model: LinkageModel, memberId: string, member: Member, name: string): End | undefined {
  const bore = entryOf(member.bores, name);
  if (bore) {
    const place = borePlace(model, memberId, name);
    return (
      place && {
        x_mm: place.x_mm,
        y_mm: place.y_mm,
        z_mm: (bore.z_from_mm + bore.z_to_mm) / 2,
        radius_mm: bore.boss_mm / 2,
        isBore: true,
      }
    );
  }
  const point = entryOf(member.points, name);
  if (!point) return undefined;
  const tallest = Math.max(
    0,
    ...(member.webs ?? []).filter((web) => web.from === name || web.to === name).map((web) => web.height_mm ?? 0),
  );
  return {
    x_mm: point.x_mm,
    y_mm: point.y_mm,
    z_mm: point.z_mm,
    radius_mm: tallest > 0 ? tallest / 2 : (point.boss_mm ?? 0) / 2,
    isBore: false,
  };
}
