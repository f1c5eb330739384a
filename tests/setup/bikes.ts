/**
 * Small bikes for the tests of the build order: the reference joint with something standing where an axle, a nut, a
 * tool or a handle wants to be, each by an amount worked out by hand. mm.
 */
import { analyse, readData, type Analysis, type LinkageModel, type Obstacle } from '../../shared/index.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

/** The reference joint with obstacles, and whatever else is changed in its data before it is read. */
export function jointWith(
  obstacles: readonly Obstacle[],
  change: (data: ReturnType<typeof referenceData>) => void = () => undefined,
): Analysis {
  const data = { ...referenceData(), obstacles };
  change(data);
  const reading = readData(data);
  if (!reading.ok) throw new Error(`bikes: ${JSON.stringify(reading.problems)}`);
  return analyse(reading.model);
}

/**
 * A chainring whose edge reaches `cover_mm` into a circle of `radius_mm` about the joint's axis, between two places
 * along z.
 */
export function spacerOver(radius_mm: number, cover_mm: number, z_from_mm: number, z_to_mm: number): Obstacle {
  return {
    id: 'ring',
    kind: 'chainring',
    name: 'Chainring',
    x_mm: 60,
    y_mm: 0,
    radius_mm: 60 - radius_mm + cover_mm,
    z_from_mm,
    z_to_mm,
  };
}

/** Walls of the frame all round an axle, `away_mm` from it, at one place along z. */
export function walledIn(away_mm: number, z_mm: number): (data: ReturnType<typeof referenceData>) => void {
  const corner = (x_mm: number, y_mm: number) => ({ x_mm, y_mm, z_mm, boss_mm: 10 });
  const far = away_mm;
  return (data) => {
    Object.assign(data.members['frame'] as object, {
      points: { a: corner(far, far), b: corner(-far, far), c: corner(-far, -far), d: corner(far, -far) },
      webs: [
        ['a', 'b'],
        ['b', 'c'],
        ['c', 'd'],
        ['d', 'a'],
      ].map(([from, to]) => ({ from, to, thickness_mm: 400, height_mm: 10, z_mm })),
    });
  };
}

/** A model with another maker’s order. */
export function makersOrder(model: LinkageModel, order: readonly string[]): LinkageModel {
  return { ...model, order: [...order] };
}
