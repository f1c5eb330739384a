/**
 * How much an arm's own weight turns it about a pivot: the estimate that a rubbing pivot is held against.
 *
 * The model gives no masses. Rule: each boss is its solid of revolution; each web a block of its thickness and height
 * (or the mean of its two bosses) over the length between its ends, solid at the most and hollow at the least; both at
 * the density of the member's material, with their middles where they stand. Bearings, hardware and whatever the model
 * leaves out (a wheel, a brake) weigh nothing here. The moment is weight times the distance of the centre of mass from
 * the pivot in the side plane: what acts when the arm is held level, the most it can be. Shocks have no body in the
 * model and get no figure. kg, mm, N·m; an estimate throughout.
 */
import type { ResolvedBore, ResolvedMember, ResolvedWeb } from '../model/resolve.ts';
import type { Member } from '../model/schema.ts';
import { bossSolid } from '../joint/member.ts';
import { revolvedVolume_mm3 } from '../profile/polygon.ts';
import { material } from '../standards/materials.ts';
import { GRAVITY_m_s2, MISTAKE_LIMITS } from './limits.ts';

/** Ends of an estimated moment about a pivot, arm level; N·m, both ≥ 0. */
export interface WeightMoment {
  readonly low_Nm: number;
  readonly high_Nm: number;
}

const M3_PER_MM3 = 1e-9;
const M_PER_MM = 1e-3;
const UNWEIGHED: readonly Member['kind'][] = ['frame', 'shock-body', 'shock-shaft'];

interface Lump {
  readonly kg: number;
  readonly x_mm: number;
  readonly y_mm: number;
}

/**
 * Most moment that a member's weight can have about a place in the side plane, N·m, for hollow and for full webs.
 * Undefined for the frame, for shocks and where a member has no webs. O(bores + webs).
 */
export function weightMoment(
  member: ResolvedMember,
  about: { readonly x_mm: number; readonly y_mm: number },
): WeightMoment | undefined {
  if (UNWEIGHED.includes(member.kind)) return undefined;
  const density_kg_mm3 = material(member.material).density_kg_m3 * M3_PER_MM3;
  const bosses = Object.values(member.bores).map((bore) => boss(bore, density_kg_mm3));
  const webs = member.webs.map((one) => web(one, density_kg_mm3));
  if (webs.length === 0) return undefined;
  const ends = [MISTAKE_LIMITS.hollowShare.value, 1].map((share) =>
    moment_Nm([...bosses, ...webs.map((lump) => ({ ...lump, kg: lump.kg * share }))], about),
  );
  return { low_Nm: Math.min(...ends), high_Nm: Math.max(...ends) };
}

function moment_Nm(lumps: readonly Lump[], about: { readonly x_mm: number; readonly y_mm: number }): number {
  const x = lumps.reduce((sum, lump) => sum + lump.kg * (lump.x_mm - about.x_mm), 0);
  const y = lumps.reduce((sum, lump) => sum + lump.kg * (lump.y_mm - about.y_mm), 0);
  return Math.hypot(x, y) * GRAVITY_m_s2 * M_PER_MM;
}

function boss(bore: ResolvedBore, density_kg_mm3: number): Lump {
  return { kg: revolvedVolume_mm3(bossSolid(bore, bore.member.material).polygon) * density_kg_mm3, ...bore.place };
}

function web({ ends: [a, b], thickness_mm, height_mm }: ResolvedWeb, density_kg_mm3: number): Lump {
  const between = Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
  const isBridge = between < 1;
  // A bridge runs along z: its thickness is its length, and its block is as high as it is long in the plane.
  const wide = height_mm ?? ((a.boss_mm ?? 0) + (b.boss_mm ?? 0)) / 2;
  // What lies within a bore's boss is weighed already.
  const weighed = [a, b].reduce((sum, end) => sum + (end.isBore ? end.boss_mm! / 2 : 0), 0);
  const clear = isBridge ? wide : Math.max(0, between - weighed);
  return {
    kg: thickness_mm * wide * clear * density_kg_mm3,
    x_mm: (a.x_mm + b.x_mm) / 2,
    y_mm: (a.y_mm + b.y_mm) / 2,
  };
}
