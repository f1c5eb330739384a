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
import { borePlace } from '../model/resolve.ts';
import type { LinkageModel, Member, Web } from '../model/schema.ts';
import { bossSolid } from '../profile/member.ts';
import { revolvedVolume_mm3 } from '../profile/polygon.ts';
import { material } from '../standards/materials.ts';
import { GRAVITY_m_s2, SLIP_LIMITS } from './limits.ts';

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

/** Moment of a member's weight about a place in the side plane; undefined for the frame and for shocks. */
export function weightMoment(
  model: LinkageModel,
  memberId: string,
  about: { readonly x_mm: number; readonly y_mm: number },
): WeightMoment | undefined {
  const member = model.members[memberId];
  if (!member || UNWEIGHED.includes(member.kind)) return undefined;
  const bosses = Object.keys(member.bores).flatMap((bore) => boss(model, memberId, bore));
  const webs = (member.webs ?? []).flatMap((one) => web(model, memberId, one));
  if (webs.length === 0) return undefined;
  const ends = [SLIP_LIMITS.hollowShare.value, 1].map((share) =>
    moment_Nm([...bosses, ...webs.map((lump) => ({ ...lump, kg: lump.kg * share }))], about),
  );
  return { low_Nm: Math.min(...ends), high_Nm: Math.max(...ends) };
}

function moment_Nm(lumps: readonly Lump[], about: { readonly x_mm: number; readonly y_mm: number }): number {
  const x = lumps.reduce((sum, lump) => sum + lump.kg * (lump.x_mm - about.x_mm), 0);
  const y = lumps.reduce((sum, lump) => sum + lump.kg * (lump.y_mm - about.y_mm), 0);
  return Math.hypot(x, y) * GRAVITY_m_s2 * M_PER_MM;
}

function density_kg_mm3(member: Member): number {
  return material(member.material).density_kg_m3 * M3_PER_MM3;
}

function boss(model: LinkageModel, memberId: string, boreId: string): Lump[] {
  const member = model.members[memberId]!;
  const place = borePlace(model, memberId, boreId);
  if (!place) return [];
  const { polygon } = bossSolid(member.bores[boreId]!, member.material);
  return [{ kg: revolvedVolume_mm3(polygon) * density_kg_mm3(member), x_mm: place.x_mm, y_mm: place.y_mm }];
}

function web(model: LinkageModel, memberId: string, { from, to, thickness_mm, height_mm }: Web): Lump[] {
  const member = model.members[memberId]!;
  const [a, b] = [endOf(model, memberId, from), endOf(model, memberId, to)];
  if (!a || !b) return [];
  const between = Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
  const isBridge = between < 1;
  // A bridge runs along z: its thickness is its length, and its block is as high as it is long in the plane.
  const wide = height_mm ?? (a.boss_mm + b.boss_mm) / 2;
  const clear = isBridge ? wide : Math.max(0, between - (a.bored_mm + b.bored_mm) / 2);
  return [
    {
      kg: thickness_mm * wide * clear * density_kg_mm3(member),
      x_mm: (a.x_mm + b.x_mm) / 2,
      y_mm: (a.y_mm + b.y_mm) / 2,
    },
  ];
}

/** An end of a web: its place, its width, and how much of the length is a boss already weighed. */
function endOf(
  model: LinkageModel,
  memberId: string,
  name: string,
): { x_mm: number; y_mm: number; boss_mm: number; bored_mm: number } | undefined {
  const member = model.members[memberId]!;
  const point = member.points?.[name];
  if (point) return { x_mm: point.x_mm, y_mm: point.y_mm, boss_mm: point.boss_mm ?? 0, bored_mm: 0 };
  const bore = member.bores[name];
  const place = bore && borePlace(model, memberId, name);
  return place && { x_mm: place.x_mm, y_mm: place.y_mm, boss_mm: bore.boss_mm, bored_mm: bore.boss_mm };
}
