/**
 * Faces that bear on one another in a tight pivot, as rings to be lit: where force goes over, and what rubs though it
 * must not. All of it is what the clamp solve computed; mm, the axis is z.
 */
import type { PivotAnalysis } from '../../shared/index.ts';
import { TROUBLE, CLAMP } from '../look.ts';
import { annulus, faceBands } from './marks.ts';
import { Painted } from './painted.ts';
import { emptySurface, type Surface } from './surface.ts';

/** Half the height of a ring's rim, and how far it stands out of the joint; mm. */
const RIM_mm = 0.32;
const OUT_mm = 0.1;
/** A wide face is outlined by two rings of this width: filled, it would hide what stands behind it. */
const LINE_mm = 1.1;
const FACETS = 72;

/** Every contact that carries force, once: on the part that lies to the non-drive side of it. */
export function paintContacts(pivot: PivotAnalysis, rubs: ReadonlySet<string>): Painted {
  const into = new Painted();
  for (const item of pivot.stacks.flatMap(({ items }) => items)) {
    const touches = item.drive.touches.filter(({ force_N }) => force_N > 0);
    if (touches.length === 0) continue;
    for (const { polygon } of item.solids) {
      for (const { r0_mm, r1_mm, z_mm, with: other } of faceBands(polygon, { ...item.drive, touches }, 1)) {
        if (other === undefined) continue;
        const colour = rubs.has(`${item.id} ${other}`) ? TROUBLE : CLAMP;
        const wide = Math.min(LINE_mm, (r1_mm - r0_mm) / 2);
        into.add(annulus(r1_mm - wide, r1_mm, z_mm, 1, FACETS), { kind: 'flat', colour });
        into.add(annulus(r0_mm, r0_mm + wide, z_mm, 1, FACETS), { kind: 'flat', colour });
        into.add(rim(r1_mm + OUT_mm, z_mm), { kind: 'flat', colour });
      }
    }
  }
  return into;
}

/** A narrow cylinder: from the side a flat ring alone would be a hair. */
function rim(r_mm: number, z_mm: number): Surface {
  const surface = emptySurface();
  for (let j = 0; j <= FACETS; j += 1) {
    const t = (2 * Math.PI * j) / FACETS;
    for (const z of [z_mm - RIM_mm, z_mm + RIM_mm]) {
      surface.positions.push(r_mm * Math.cos(t), r_mm * Math.sin(t), z);
      surface.normals.push(Math.cos(t), Math.sin(t), 0);
      surface.uvs.push(0, 0);
    }
  }
  for (let j = 0; j < FACETS; j += 1) surface.index.push(2 * j, 2 * j + 2, 2 * j + 1, 2 * j + 1, 2 * j + 2, 2 * j + 3);
  return surface;
}
