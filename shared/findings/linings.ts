/**
 * How a bush sits in its eye and what runs in it: pressed in enough to stay, its bore as narrow as that leaves it, and
 * the running clearance to the thickest thing of the column that goes through it. Diametral, mm.
 */
import type { JointItem, JointStack } from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import { zRange } from '../profile/polygon.ts';
import { fittedBore_mm } from '../standards/index.ts';
import type { Polygon } from '../types.ts';
import type { FitFault } from './fit-fault.ts';
import { HAIR_mm, mm } from './misfit.ts';

/** What is thicker than the bush's bore by more than this does not go through it: it stands before it. */
const BEFORE_mm = 0.6;

/** What is wrong with a bush and what runs in it. */
export function liningFaults(own: JointStack, bush: JointItem): FitFault[] {
  const { outside_mm, bore_mm } = kindOf(bush.made!).lines!(bush.made!);
  const eye_mm = bush.boss!.bore_mm;
  const pressed_mm = outside_mm - eye_mm;
  const sizes = { outside_mm: mm(outside_mm), eye_mm: mm(eye_mm) };
  const found: FitFault[] = [];
  if (pressed_mm < HAIR_mm)
    found.push({
      code: 'fit-too-loose',
      severity: 'warn',
      items: [bush],
      numbers: { play_mm: mm(-pressed_mm), ...sizes },
      about: { what: 'lining' },
    });
  if (pressed_mm > LIMITS.bushPress_mm.value + HAIR_mm)
    found.push({
      code: 'fit-too-tight',
      severity: 'warn',
      items: [bush],
      numbers: { press_mm: mm(pressed_mm), ...sizes },
      limit: { ...LIMITS.bushPress_mm, unit: 'mm' },
      about: { what: 'lining' },
    });
  const fitted_mm = fittedBore_mm({ outside_mm, bore_mm }, eye_mm);
  const runner = runnerIn(own, bush, fitted_mm);
  if (!runner) return found;
  const play_mm = fitted_mm - runner.across_mm;
  const numbers = { play_mm: mm(play_mm), bore_mm: mm(fitted_mm), axle_mm: mm(runner.across_mm) };
  const items = [bush, runner.item];
  if (play_mm < LIMITS.bushFitLeast_mm.value - HAIR_mm)
    found.push({
      code: 'fit-too-tight',
      severity: play_mm < -HAIR_mm ? 'stop' : 'warn',
      items,
      numbers: { ...numbers, over_mm: mm(Math.max(0, -play_mm)) },
      limit: { ...LIMITS.bushFitLeast_mm, unit: 'mm' },
      about: { what: 'eye' },
    });
  const isStop = play_mm > LIMITS.bushFitMost_mm.value + HAIR_mm;
  const limit = isStop ? LIMITS.bushFitMost_mm : LIMITS.bushFit_mm;
  if (play_mm > limit.value + HAIR_mm)
    found.push({
      code: 'fit-too-loose',
      severity: isStop ? 'stop' : 'warn',
      items,
      numbers,
      limit: { ...limit, unit: 'mm' },
      about: { what: 'eye' },
    });
  return found;
}

/** What of the column turns in a bush: the thickest that reaches into it, the axle only where nothing is on it there. */
function runnerIn(
  { items, axle }: JointStack,
  bush: JointItem,
  bore_mm: number,
): { readonly item: JointItem; readonly across_mm: number } | undefined {
  const [from, to] = zRange(bush.local.map(({ solid }) => solid.polygon)).map((z) => z + bush.z0) as [number, number];
  const inside = items.flatMap((item) => {
    if (!item.inColumn || item.role === 'boss' || item.role === 'receiver') return [];
    const radii = item.local.flatMap(({ solid }) => radiiWithin(solid.polygon, from - item.z0, to - item.z0));
    const across_mm = 2 * Math.max(0, ...radii.filter((r) => 2 * r <= bore_mm + BEFORE_mm));
    return across_mm > 0 ? [{ item, across_mm }] : [];
  });
  const on = inside.filter(({ item }) => item !== axle);
  return (on.length > 0 ? on : inside).sort((a, b) => b.across_mm - a.across_mm)[0];
}

/** Radii of a polygon between two heights: its corners there, and where its edges cross the middle. */
function radiiWithin(polygon: Polygon, from: number, to: number): number[] {
  const middle = (from + to) / 2;
  return polygon.flatMap(([r, z], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    const crosses = z < middle !== z1 < middle;
    return [
      ...(z > from + HAIR_mm && z < to - HAIR_mm ? [r] : []),
      ...(crosses ? [r + ((r1 - r) * (middle - z)) / (z1 - z)] : []),
    ];
  });
}
