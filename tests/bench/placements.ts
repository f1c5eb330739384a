/**
 * The brute-force twin of the search for placements: every way of laying a pivot's rings, each one solved.
 */
import { everyPlacement, placementOf, type LinkageModel, type Placement } from '../../shared/index.ts';

/** The placements that pass, found by solving them all. */
export function placementsByBruteForce(
  model: LinkageModel,
  pivotId: string,
): { readonly ways: number; readonly passing: readonly Placement[] } {
  const all = [...everyPlacement(model, pivotId)];
  return { ways: all.length, passing: all.flatMap((filled) => placementOf(model, pivotId, filled) ?? []) };
}
