/**
 * Clearance through the travel: the smallest gap in the side plane between parts that pass one another at the same z.
 *
 * Parts are hulls of two discs (`outline.ts`), the wheel, chainring and spindle discs. The gap of two hulls is the
 * least of |A(s) − B(t)| − rA(s) − rB(t) over both axes, a convex function: it lies on an edge of the square, where it
 * has a closed form, or the axes cross. So it is exact, and below 0 where the parts overlap. Every pose of a run is
 * looked at; between two poses nothing moves further than the run's own spacing. Along the axle of a pivot the fit
 * check judges, not this: two members that both surround the axle of a pivot they share are left out. mm.
 */
import { wheelBody, type Linkage } from './linkage.ts';
import { outlinesOf, type Disc, type Outline } from './outline.ts';
import { GROUND, motionOf, type Motion, type Place } from './planar.ts';
import type { Run } from './poses.ts';

/** Gap of two hulls and where on their axes it is met. */
export interface HullGap {
  /** Below 0 where they overlap. */
  readonly gap_mm: number;
  /** Share of the way from `a` to `b` on the first and on the second hull. */
  readonly s: number;
  readonly t: number;
}

type Hull = Pick<Outline, 'a' | 'b'>;

/** The exact gap of two hulls of two discs each, mm; < 0 by how deep they overlap. Radii ≥ 0. Constant time. */
export function hullGap(one: Hull, other: Hull): HullGap {
  let best = discGap(one.a, other, 0);
  const fromB = discGap(one.b, other, 1);
  if (fromB.gap_mm < best.gap_mm) best = fromB;
  for (const [t, disc] of [
    [0, other.a],
    [1, other.b],
  ] as const) {
    const { gap_mm, t: s } = discGap(disc, one, t);
    if (gap_mm < best.gap_mm) best = { gap_mm, s, t };
  }
  return crossing(one, other, best);
}

/** Gap of a disc and a hull. */
function discGap(disc: Disc, hull: Hull, s: number): HullGap {
  const [dx, dy] = [hull.b.x_mm - hull.a.x_mm, hull.b.y_mm - hull.a.y_mm];
  const length = Math.hypot(dx, dy);
  const [px, py] = [disc.x_mm - hull.a.x_mm, disc.y_mm - hull.a.y_mm];
  let t = 0;
  if (length > 0) {
    const along = (px * dx + py * dy) / length;
    const aside = Math.abs(px * dy - py * dx) / length;
    // The nearest point of a hull that widens lies where the slope of the distance equals the slope of the radius.
    const slope = (hull.b.radius_mm - hull.a.radius_mm) / length;
    const reach =
      Math.abs(slope) >= 1 ? Math.sign(slope) * Infinity : along + (slope * aside) / Math.sqrt(1 - slope * slope);
    t = Math.min(1, Math.max(0, reach / length));
  }
  const distance = Math.hypot(px - t * dx, py - t * dy);
  return { gap_mm: distance - disc.radius_mm - radiusAt(hull, t), s, t };
}

function radiusAt(hull: Hull, t: number): number {
  return hull.a.radius_mm + (hull.b.radius_mm - hull.a.radius_mm) * t;
}

/** Where the axes cross the hulls overlap, however thin they are. */
function crossing(one: Hull, other: Hull, best: HullGap): HullGap {
  const [ax, ay] = [one.b.x_mm - one.a.x_mm, one.b.y_mm - one.a.y_mm];
  const [bx, by] = [other.b.x_mm - other.a.x_mm, other.b.y_mm - other.a.y_mm];
  const cross = ax * by - ay * bx;
  if (cross === 0) return best;
  const [wx, wy] = [other.a.x_mm - one.a.x_mm, other.a.y_mm - one.a.y_mm];
  const s = (wx * by - wy * bx) / cross;
  const t = (wx * ay - wy * ax) / cross;
  if (s < 0 || s > 1 || t < 0 || t > 1) return best;
  const gap_mm = -radiusAt(one, s) - radiusAt(other, t);
  return gap_mm < best.gap_mm ? { gap_mm, s, t } : best;
}

/** Two parts that pass one another, and the least gap between them on the way. */
export interface Passing {
  /** Member, or obstacle (`isObstacle`), with the boss or web concerned. */
  readonly one: PassingPart;
  readonly other: PassingPart;
  readonly gap_mm: number;
  /** Stroke, mm (or turn: rad from `clearances`, deg in a report), at which it is met, and where. */
  readonly at: number;
  readonly place: Place;
  /** The first pose at which they touch, where they do. */
  readonly touchesFrom?: number;
  /** True where the two do not move against one another: the gap is the same all the way. */
  readonly isFixed: boolean;
}

/** A side of a passing. */
export interface PassingPart {
  readonly id: string;
  readonly what: string;
  readonly isObstacle: boolean;
}

interface Piece extends Outline {
  readonly body: number;
  readonly isObstacle: boolean;
  readonly middle: Place;
  readonly reach_mm: number;
}

/** Parts whose reaches along z share less than this pass one another, mm. */
const SHARED_mm = 0.05;

/**
 * The least gap of every two parts that pass one another in a run, mm (< 0 where they meet), tightest first. Empty
 * without poses. About 6 ms a pose.
 */
export function clearances(run: Run): Passing[] {
  const { pieces, groups } = passingPairs(run.linkage);
  const placed: Moved[] = pieces.map((piece) => movePiece(piece, undefined));
  const found = groups.map(({ isFixed }): Met => ({ gap_mm: Infinity, at: 0, place: { x_mm: 0, y_mm: 0 }, isFixed }));
  for (const [k, pose] of run.poses.entries()) {
    const motions = run.linkage.bodies.map((_, body) => motionOf(run.system, pose.q, body));
    pieces.forEach((piece, at) => (placed[at] = movePiece(piece, motions[piece.body])));
    groups.forEach((group, at) => {
      if (group.isFixed && k > 0) return;
      const least = found[at]!;
      for (const [one, other] of group.pairs) {
        const [a, b] = [placed[one]!, placed[other]!];
        const apart = Math.hypot(a.middle.x_mm - b.middle.x_mm, a.middle.y_mm - b.middle.y_mm);
        if (apart - pieces[one]!.reach_mm - pieces[other]!.reach_mm >= least.gap_mm) continue;
        const gap = hullGap(a, b);
        if (gap.gap_mm >= least.gap_mm) continue;
        Object.assign(least, {
          gap_mm: gap.gap_mm,
          at: pose.drive,
          place: between(a, b, gap),
          one: pieces[one],
          other: pieces[other],
        });
        if (gap.gap_mm <= 0 && least.touchesFrom === undefined) least.touchesFrom = pose.drive;
      }
    });
  }
  return found
    .flatMap(({ one, other, ...rest }) => (one && other ? [{ one: partOf(one), other: partOf(other), ...rest }] : []))
    .sort((a, b) => a.gap_mm - b.gap_mm);
}

/** The least gap of a group so far. */
interface Met {
  gap_mm: number;
  at: number;
  place: Place;
  touchesFrom?: number;
  one?: Piece;
  other?: Piece;
  readonly isFixed: boolean;
}

function partOf(piece: Piece): PassingPart {
  return { id: piece.member, what: piece.what, isObstacle: piece.isObstacle };
}

/** Every two pieces of the same two parts that can meet, as indices. */
interface Group {
  readonly pairs: (readonly [number, number])[];
  readonly isFixed: boolean;
}

/** All pieces, members' before obstacles, and those of them that share z and can meet. */
function passingPairs(linkage: Linkage): { pieces: Piece[]; groups: Group[] } {
  const pieces = [...memberPieces(linkage), ...obstaclePieces(linkage)];
  const groups = new Map<string, Group>();
  pieces.forEach((one, k) =>
    pieces.forEach((other, at) => {
      if (at <= k || (one.isObstacle && other.isObstacle)) return;
      const isFixed = one.body === other.body;
      // The tyre may rub on the arm that carries it; the frame may not rub on itself.
      if (isFixed && !(other.isObstacle && other.body !== GROUND)) return;
      const shared = Math.min(one.zTo_mm, other.zTo_mm) - Math.max(one.zFrom_mm, other.zFrom_mm);
      if (shared < SHARED_mm || surroundSame(linkage, one, other)) return;
      const key = `${one.member} ${other.member} ${other.isObstacle}`;
      const group = groups.get(key) ?? { pairs: [], isFixed };
      group.pairs.push([k, at]);
      groups.set(key, group);
    }),
  );
  return { pieces, groups: [...groups.values()] };
}

function memberPieces(linkage: Linkage): Piece[] {
  return [...linkage.bodyOf].flatMap(([member, body]) =>
    outlinesOf(linkage.model, member).map((outline) => pieceOf(outline, body, false)),
  );
}

function obstaclePieces(linkage: Linkage): Piece[] {
  return (linkage.model.obstacles ?? []).map((obstacle) => {
    const disc = { x_mm: obstacle.x_mm, y_mm: obstacle.y_mm, radius_mm: obstacle.radius_mm };
    const body = obstacle.kind === 'wheel' ? wheelBody(linkage) : GROUND;
    return pieceOf(
      {
        member: obstacle.id,
        what: obstacle.kind,
        a: disc,
        b: disc,
        zFrom_mm: obstacle.z_from_mm,
        zTo_mm: obstacle.z_to_mm,
        volume_mm3: 0,
      },
      body,
      true,
    );
  });
}

function pieceOf(outline: Outline, body: number, isObstacle: boolean): Piece {
  const { a, b } = outline;
  return {
    ...outline,
    body,
    isObstacle,
    middle: { x_mm: (a.x_mm + b.x_mm) / 2, y_mm: (a.y_mm + b.y_mm) / 2 },
    reach_mm: Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) / 2 + Math.max(a.radius_mm, b.radius_mm),
  };
}

/** Both members surround the axle of a pivot that their bodies share: what is between them lies along that axle. */
function surroundSame(linkage: Linkage, one: Piece, other: Piece): boolean {
  if (one.isObstacle || other.isObstacle) return false;
  return linkage.pivots.some(({ place, bodies }) => {
    if (!bodies.includes(one.body) || !bodies.includes(other.body)) return false;
    const point = { ...place, radius_mm: 0 };
    return [one, other].every((piece) => discGap(point, piece, 0).gap_mm <= 0);
  });
}

interface Moved extends Hull {
  readonly middle: Place;
}

function movePiece(piece: Piece, motion: Motion | undefined): Moved {
  if (!motion) return piece;
  const [cos, sin] = [Math.cos(motion.angle_rad), Math.sin(motion.angle_rad)];
  const place = ({ x_mm, y_mm }: Place): Place => ({
    x_mm: motion.x_mm + cos * x_mm - sin * y_mm,
    y_mm: motion.y_mm + sin * x_mm + cos * y_mm,
  });
  const a = { ...place(piece.a), radius_mm: piece.a.radius_mm };
  return {
    a,
    b: piece.b === piece.a ? a : { ...place(piece.b), radius_mm: piece.b.radius_mm },
    middle: place(piece.middle),
  };
}

/** The middle of the gap, or of the overlap. */
function between(one: Hull, other: Hull, { s, t }: HullGap): Place {
  const at = (hull: Hull, u: number): Disc => ({
    x_mm: hull.a.x_mm + (hull.b.x_mm - hull.a.x_mm) * u,
    y_mm: hull.a.y_mm + (hull.b.y_mm - hull.a.y_mm) * u,
    radius_mm: radiusAt(hull, u),
  });
  const [p, q] = [at(one, s), at(other, t)];
  const distance = Math.hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm);
  const share = distance > 0 ? (p.radius_mm + (distance - p.radius_mm - q.radius_mm) / 2) / distance : 0;
  return { x_mm: p.x_mm + (q.x_mm - p.x_mm) * share, y_mm: p.y_mm + (q.y_mm - p.y_mm) * share };
}
