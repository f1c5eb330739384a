/**
 * The part in the hand in a step of a build: the one it places, or the one it turns.
 */
import { FITS, otherSide, type PivotAnalysis, type PlanStep, type Side } from '../../shared/index.ts';
import type { InHand } from '../scene/hold.ts';
import type { RunStep } from './orderRun.ts';

const TURNS: ReadonlySet<PlanStep['kind']> = new Set(['hold-turn', 'half-torque', 'torque']);

/** The part; nothing in a step that neither places nor turns one, nor where things come apart. */
export function inHandOf({ step, strip }: RunStep, pivot: PivotAnalysis): InHand | undefined {
  const [id] = step.items;
  const places = FITS.has(step.kind);
  if (strip || id === undefined || (!places && !TURNS.has(step.kind))) return undefined;
  const stack = pivot.stacks.find((candidate) => candidate.id === step.stackId);
  const item = stack?.items.find((candidate) => candidate.id === id);
  if (!stack || !item) return undefined;
  return {
    id,
    seat_mm: step.places[id]?.offset_mm ?? 0,
    from: places ? sideOf(step.side, item.role, stack.from) : undefined,
  };
}

/** An axle comes from its own side and what it is screwed into from the other, wherever one stands. */
function sideOf(stand: Side, role: string, from: Side): Side {
  return role === 'axle' ? from : role === 'receiver' ? otherSide(from) : stand;
}
