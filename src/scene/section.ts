/**
 * The section of a part as one painted surface: its profiles as closed hatched faces in the cutting plane, a bearing's
 * balls whole, and the cage that holds them.
 *
 * Local frame: x is the radius, z the axis, +y looks at the viewer; the caller turns it about the axis. Hatching
 * follows ISO 128-3 as the row does, and with the row's own choice of direction and spacing: all cut faces of one part
 * alike, neighbours different, axles, bolts, screws, nuts and balls uncut, seals filled solid. mm.
 */
import { ballRows } from '../../shared/index.ts';
import type { Balls, PlacedItem, Polygon, Solid } from '../../shared/index.ts';
import { hatchStyles, isUncut, type HatchStyle } from '../drawings/hatch.ts';
import { bandSurface, type ClampBand } from './band.ts';
import { dressItem } from './dress.ts';
import { triangulate } from './geometry.ts';
import { Painted, type Coat } from './painted.ts';
import { CLAMP, MARK, mix, SURFACE, TROUBLE, WHITE } from '../look.ts';
import { solidLook } from './palette.ts';
import { emptySurface, revolve, type Surface } from './surface.ts';

export { isUncut, type HatchStyle } from '../drawings/hatch.ts';

/** Size of the row's hatching on the part itself: px of the drawing to mm. */
const SPACING_mm_per_px = 0.26;
/** Height of the clamp band over the cut face, and the ink round it; mm. */
const BAND_LIFT_mm = 0.05;
const BAND_RIM_mm = 0.16;
const OUTER_RING: HatchStyle = { rise: -1, spacing_px: 4.2 };

/** The hatching of one solid: a bearing's outer ring is a part of its own. */
export function solidHatch(solid: Pick<Solid, 'role'>, style: HatchStyle): HatchStyle | undefined {
  if (solid.role === 'seal') return undefined;
  return solid.role === 'outer-ring' ? OUTER_RING : style;
}

/** The hatching of every item of a pivot, stack by stack in row order. */
export function pivotHatches(
  stacks: readonly { readonly items: readonly PlacedItem[] }[],
): ReadonlyMap<string, HatchStyle> {
  return new Map(stacks.flatMap(({ items }) => [...hatchStyles(items)]));
}

/**
 * Paints the section of an item with the clamp force it carries; nothing for a part that is left uncut. Index end
 * `touched`: the cut faces.
 */
export function paintSection(item: PlacedItem, style: HatchStyle, memberMaterial?: string, band?: ClampBand): Painted {
  const into = new Painted();
  if (isUncut(item)) return into;
  for (const { solid, cut } of dressItem(item)) {
    const look = solidLook(item, solid, memberMaterial);
    into.add(capSurface(cut), capCoat(look.colour, solidHatch(solid, style)));
  }
  into.mark('touched');
  if (band) {
    const isBroken = band.from.isTorn || band.to.isTorn;
    into.add(bandSurface(band, BAND_RIM_mm, BAND_LIFT_mm), { kind: 'flat', colour: MARK.ink });
    into.add(bandSurface(band, 0, 2 * BAND_LIFT_mm), {
      kind: 'flat',
      colour: isBroken ? TROUBLE : CLAMP,
    });
  }
  for (const row of item.balls ? ballRows(item.balls) : []) {
    paintBalls(into, row);
    into.add(cageSurface(row), { kind: 'lit', look: SURFACE.cage });
  }
  return into;
}

/** Sections are a little lighter than surfaces, as fresh metal is; rubber stays dark and is not hatched. */
function capCoat(colour: string, hatch: HatchStyle | undefined): Coat {
  if (!hatch) return { kind: 'flat', colour: mix(colour, WHITE, 0.08) };
  return {
    kind: 'flat',
    colour: mix(colour, WHITE, 0.34),
    pattern: hatch.rise > 0 ? 'rising' : 'falling',
    size_mm: hatch.spacing_px * SPACING_mm_per_px,
    ink: 'darker',
  };
}

/** The profile and the mirror image of it, filled, in the plane y = 0, facing +y. */
export function capSurface(polygon: Polygon): Surface {
  const surface = emptySurface();
  for (const side of [1, -1]) {
    for (const [r, z] of polygon) {
      surface.positions.push(side * r, 0, z);
      surface.normals.push(0, 1, 0);
      surface.uvs.push(z, side * r);
    }
  }
  const n = polygon.length;
  for (const [a, b, c] of triangulate(polygon)) {
    // Anticlockwise in (r, z) looks to −y; its mirror image to +y.
    surface.index.push(a, c, b, n + a, n + b, n + c);
  }
  return surface;
}

/** The rim of a section: the profile and its mirror image, as pairs of points in the plane y = 0. */
export function capLines(item: PlacedItem): number[] {
  if (isUncut(item)) return [];
  return dressItem(item).flatMap(({ cut }) =>
    [1, -1].flatMap((side) =>
      cut.flatMap((a, k) => {
        const b = cut[(k + 1) % cut.length]!;
        return [side * a[0], 0, a[1], side * b[0], 0, b[1]];
      }),
    ),
  );
}

const BALL_STEPS = 12;

function paintBalls(into: Painted, balls: Balls): void {
  const r = balls.diameter_mm / 2;
  const half = Array.from({ length: BALL_STEPS + 1 }, (_, k): [number, number] => {
    const t = -Math.PI / 2 + (Math.PI * k) / BALL_STEPS;
    return [k === 0 || k === BALL_STEPS ? 0 : r * Math.cos(t), r * Math.sin(t)];
  });
  const ball = revolve(half, 2 * BALL_STEPS);
  for (const [x, y] of ballPlaces(balls)) into.add(ball, { kind: 'lit', look: SURFACE.ball }, [x, y, balls.z_mm]);
}

const CAGE_STEPS = 96;
const CAGE_ACROSS = 6;

/**
 * A ribbon cage: two pressed halves that run round the balls' circle, bulging over every ball; the half behind the cut.
 * Its height over the balls' plane is that of a sphere a little larger than the ball. Proportions from memory.
 */
function cageSurface(balls: Balls): Surface {
  const surface = emptySurface();
  const places = ballPlaces(balls);
  const circle = balls.circle_mm / 2;
  const grip = balls.diameter_mm / 2 + 0.12;
  const wide = balls.diameter_mm * 0.24;
  for (const sign of [1, -1]) {
    const base = surface.positions.length / 3;
    for (let j = 0; j <= CAGE_STEPS; j += 1) {
      const t = Math.PI + (Math.PI * j) / CAGE_STEPS;
      for (let i = 0; i <= CAGE_ACROSS; i += 1) {
        const r = circle - wide + (2 * wide * i) / CAGE_ACROSS;
        const [x, y] = [r * Math.cos(t), r * Math.sin(t)];
        const nearest = Math.min(...places.map(([px, py]) => Math.hypot(x - px, y - py)));
        const bulge = Math.sqrt(Math.max(0, grip * grip - nearest * nearest));
        surface.positions.push(x, Math.min(0, y), balls.z_mm + sign * Math.max(0.25, bulge));
        surface.normals.push(0, 0, sign);
        surface.uvs.push(x, y);
      }
    }
    const row = CAGE_ACROSS + 1;
    for (let j = 0; j < CAGE_STEPS; j += 1) {
      for (let i = 0; i < CAGE_ACROSS; i += 1) {
        const a = base + j * row + i;
        // Both faces: a ribbon is seen from within as well.
        surface.index.push(
          a,
          a + 1,
          a + row,
          a + 1,
          a + row + 1,
          a + row,
          a,
          a + row,
          a + 1,
          a + 1,
          a + row,
          a + row + 1,
        );
      }
    }
  }
  return surface;
}

/**
 * Centres of the balls of a cut bearing that are drawn whole, mm: those in the cutting plane, one on each side, and
 * those behind it. Local frame of the section: x is the radius, +y looks at the viewer.
 */
export function ballPlaces(balls: Balls): readonly (readonly [x: number, y: number])[] {
  const radius = balls.circle_mm / 2;
  // An even count puts a ball at both ends of the plane.
  const count = balls.count % 2 === 0 ? balls.count : balls.count - 1;
  return Array.from({ length: count }, (_, k) => {
    const t = (2 * Math.PI * k) / count;
    return [radius * Math.cos(t), radius * Math.sin(t)] as const;
  }).filter(([, y]) => y < 1e-6);
}
