/**
 * Contact against a solid kernel: two profiles turned into solids with the same facets and slid together until
 * `manifold-3d` (3.5.4) finds no gap. Both solids have their corners at the same angles, so that every cut between two
 * corners shrinks both by the same share and the travel along the axis is that of the round parts: no facet error
 * is allowed for, only the halving's last step. Then the first placing of a joint, against the same slow sliding.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import type { ManifoldToplevel } from 'manifold-3d';
import { gap, partProfile, shiftPolygon, type Part, type Polygon } from '../../shared/index.ts';
import { makeJoint, type JointItem, type JointStack } from '../../shared/joint/joint.ts';
import { demoModels } from '../bench/models.ts';
import { solidKernel, travelToTouch } from '../bench/oracles.ts';
import { randomProfile, travelBySampling } from '../bench/profiles.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { random } from '../setup/random.ts';
import { cases, seeds } from '../setup/series.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const FACETS = 12;
const WITHIN_mm = 1e-4;
const FAR_mm = 30;

describe('gap, against a solid kernel', () => {
  let kernel: ManifoldToplevel;
  beforeAll(async () => {
    kernel = await solidKernel();
  });

  test('random pairs, 24 seeds', () => {
    let touched = 0;
    for (const seed of seeds(24)) {
      const draw = random(seed + 5000);
      const [a, b] = [randomProfile(draw), randomProfile(draw)];
      const exact = gap(a, b);
      const travel = travelToTouch(kernel, a, b, FAR_mm, FACETS, WITHIN_mm);
      expect(travel === undefined, `seed ${seed}`).toBe(exact === undefined);
      if (!exact || travel === undefined) continue;
      touched++;
      expect(Math.abs(exact.gap_mm - travel), `seed ${seed}`).toBeLessThan(2 * WITHIN_mm);
    }
    expect(touched).toBeGreaterThan(0.6 * cases(24));
  });

  const bearing = partProfile({ kind: 'bearing', name: 'bearing', designation: '61902-2RS' });
  const cone: Part = {
    kind: 'tapered-spacer',
    name: 'cone',
    small_mm: 17.5,
    large_mm: 25,
    bore_mm: 15.1,
    length_mm: 6,
    material: 'aluminium-7075',
  };
  const pairs: readonly (readonly [string, Polygon, Polygon])[] = bearing.solids.map(
    (solid, k) => [`${solid.role} ${k}`, solid.polygon, partProfile(cone).solids[0]!.polygon] as const,
  );
  test.each(pairs)('a bearing’s %s meets a cone’s small face as the solids do', (_, ring, spacer) => {
    const travel = travelToTouch(kernel, ring, spacer, FAR_mm, FACETS, WITHIN_mm);
    const exact = gap(ring, spacer);
    expect(travel === undefined).toBe(exact === undefined);
    if (exact && travel !== undefined) expect(Math.abs(exact.gap_mm - travel)).toBeLessThan(2 * WITHIN_mm);
  });
});

/** Everything of an item but its seals, where it stands before tightening. */
function standing(item: JointItem): Polygon[] {
  return item.local
    .filter(({ solid }) => solid.role !== 'seal')
    .map(({ solid }) => shiftPolygon(solid.polygon, item.z0));
}

/** Free travel between two groups by sampling, the first on the non-drive side. */
function freeBetween(left: readonly JointItem[], right: readonly JointItem[]): number {
  const found = left.flatMap((a) =>
    right.flatMap((b) => standing(a).flatMap((p) => standing(b).flatMap((q) => travelBySampling(p, q, 4001) ?? []))),
  );
  return Math.min(Infinity, ...found);
}

function runsOf({ items: all }: JointStack): { run: JointItem[]; before: JointItem[]; after: JointItem[] }[] {
  // What lies in a groove, only seals or turns on a bush is laid beside the row, not into it.
  const lined = new Set(all.flatMap(({ role, boss }) => (role === 'lining' ? [boss] : [])));
  const isAside = ({ clips, sealedToward, boss }: JointItem): boolean =>
    clips !== undefined || sealedToward !== undefined || (boss !== undefined && lined.has(boss));
  const items = all.filter((item) => !isAside(item));
  const isLoose = (item: JointItem | undefined): boolean => item?.role === 'spacer';
  return items.flatMap((item, k) => {
    if (!isLoose(item) || isLoose(items[k - 1])) return [];
    let end = k;
    while (isLoose(items[end])) end++;
    return [{ run: items.slice(k, end), before: items.slice(0, k), after: items.slice(end) }];
  });
}

describe('where a hand would place the parts, against sliding them', () => {
  const models = [
    referenceModel(),
    referenceModel(['spacer-nd']),
    referenceModel(['sleeve', 'spacer-d']),
    ...demoModels(),
  ];
  const stacks = models.flatMap((model) =>
    model.pivots.flatMap((pivot) =>
      makeJoint(resolveModel(model), pivot.id).stacks.map((own) => [`${model.id} ${own.stack.id}`, own] as const),
    ),
  );

  test.each(stacks)('%s: head and nut stand against the row', (_, own) => {
    const row = own.items.filter((item) => item !== own.axle && item !== own.receiver);
    const ends = [own.axle, ...(own.receiver.role === 'receiver' ? [own.receiver] : [])];
    for (const end of ends) {
      const free = own.items.indexOf(end) === 0 ? freeBetween([end], row) : freeBetween(row, [end]);
      expect(Math.abs(free), end.id).toBeLessThan(1e-6);
    }
  });

  test.each(stacks)('%s: every run of rings touches itself and lies midway in its slack', (_, own) => {
    for (const { run, before, after } of runsOf(own)) {
      run.slice(1).forEach((ring, k) => expect(Math.abs(freeBetween([run[k]!], [ring])), ring.id).toBeLessThan(1e-6));
      const fixed = (items: readonly JointItem[]): JointItem[] =>
        items.filter((item) => item.role === 'boss' || item.role === 'bearing');
      const [left, right] = [freeBetween(fixed(before), run), freeBetween(run, fixed(after))];
      const known = own.slack.find(({ items }) => items.includes(run[0]!));
      if (fixed(before).length === 0) expect(Math.abs(right), run[0]!.id).toBeLessThan(1e-6);
      else if (fixed(after).length === 0) expect(Math.abs(left), run[0]!.id).toBeLessThan(1e-6);
      else {
        expect(Math.abs(left - right), run[0]!.id).toBeLessThan(1e-6);
        expect(Math.abs(left + right - known!.free_mm), run[0]!.id).toBeLessThan(1e-6);
      }
    }
  });
});
