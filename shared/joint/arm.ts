/**
 * How stiffly a boss is held against sideways pushes by the rest of its member.
 *
 * Given by the model, or estimated as a cantilever: k = 3·E·I/L³ with I = h·t³/12, h the height and t the thickness of
 * the web that carries the boss, L the distance to the web's other end (textbook beam formula). Several webs add up.
 * Frames and shocks are rigid unless the model says otherwise: they are short and thick where they carry a pivot.
 * N/mm, along z.
 */
import type { ResolvedBore, ResolvedWeb } from '../model/resolve.ts';
import type { Member } from '../model/schema.ts';
import { material } from '../standards/materials.ts';
import { LIMITS, type Limit } from '../limits.ts';

export interface Arm {
  readonly stiffness_N_per_mm: number;
  readonly isRigid: boolean;
  readonly isEstimated: boolean;
}

const RIGID_KINDS: readonly Member['kind'][] = ['frame', 'shock-body', 'shock-shaft'];
/** Stiffness where a boss has neither a figure nor a web, N/mm: an estimate of ours, a short aluminium arm. */
const UNKNOWN_ARM_N_per_mm = 1000;
const LEAST_LENGTH_mm = 10;

/** The arm that carries a boss. */
export function armOf(bore: ResolvedBore): Arm {
  if (bore.arm_stiffness_N_per_mm !== undefined) {
    return { stiffness_N_per_mm: bore.arm_stiffness_N_per_mm, isRigid: false, isEstimated: false };
  }
  if (bore.rigid ?? RIGID_KINDS.includes(bore.member.kind))
    return { stiffness_N_per_mm: Infinity, isRigid: true, isEstimated: false };
  const sum = bore.webs.reduce((total, web) => total + cantilever(bore, web), 0);
  return { stiffness_N_per_mm: sum > 0 ? sum : UNKNOWN_ARM_N_per_mm, isRigid: false, isEstimated: true };
}

function cantilever(bore: ResolvedBore, web: ResolvedWeb): number {
  const here = bore.place;
  const there = web.ends[web.from === bore.boreId ? 1 : 0];
  const length = Math.hypot(here.x_mm - there.x_mm, here.y_mm - there.y_mm);
  // A bridge that runs along z joins two arms; it does not carry the boss against z.
  if (length < LEAST_LENGTH_mm) return 0;
  const height = web.height_mm ?? Math.min(bore.boss_mm, there.boss_mm ?? Infinity);
  const inertia = (height * web.thickness_mm ** 3) / 12;
  return (3 * material(bore.member.material).E_MPa * inertia) / length ** 3;
}

/** How far the arm of a boss may be bent sideways: carbon takes less. */
export function armLimit({ member }: ResolvedBore): Limit {
  return material(member.material).family === 'carbon' ? LIMITS.armDrawnCarbon_mm : LIMITS.armDrawn_mm;
}
