/**
 * Is it the only way? The pruned search against its brute-force twin, on the demo pivots and on pivots made worse, and
 * against hand-counted numbers of ways.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  placements,
  wordPlacements,
  type LinkageModel,
  type Part,
  type Placement,
} from '../../shared/index.ts';
import { demoModels, withRow } from '../bench/models.ts';
import { everyWay, placementsByBruteForce } from '../bench/placements.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { random, type Random } from '../setup/random.ts';
import { cases, seeds } from '../setup/series.ts';

const MODELS = demoModels();
const rig = MODELS.find(({ id }) => id === 'class-rig')!;
const pivots = MODELS.flatMap((model) =>
  model.pivots.map((pivot) => ({ name: `${model.id} ${pivot.id}`, model, pivot: pivot.id })),
);
const keys = (found: readonly Placement[]): string[] =>
  found.map(({ filled, isWritten, verdict }) => JSON.stringify([filled, isWritten, verdict])).sort();

describe('the pruned search agrees with solving every way', () => {
  test.each(pivots)('$name', ({ model, pivot }) => {
    const pruned = placements(model, pivot);
    const brute = placementsByBruteForce(model, pivot);
    expect(keys(pruned.passing)).toEqual(keys(brute.passing));
    expect(pruned.ways).toBe(brute.ways);
    expect(pruned.solved).toBeLessThanOrEqual(pruned.ways);
    expect(pruned.isWhole).toBe(true);
    // A demo model as written is sound, so that it is always among them, and first.
    expect(pruned.passing[0]!.isWritten).toBe(true);
  });

  /** A ring of a demo model bent a little: other length, other faces; the thinnest is a millimetre and keeps a tenth. */
  function bent(part: Part, draw: Random): Part {
    const longer = draw.pick([0, 0, 0.1, -0.1, 0.4, -0.4, 1, -1]);
    if (part.kind === 'spacer')
      return {
        ...part,
        length_mm: Math.max(0.1, part.length_mm + longer),
        outside_mm: draw.chance(0.3) ? part.outside_mm + draw.between(0, 8) : part.outside_mm,
      };
    if (part.kind !== 'tapered-spacer') return part;
    return {
      ...part,
      length_mm: Math.max(0.1, part.length_mm + longer),
      small_mm: draw.chance(0.3) ? part.small_mm + draw.between(0, 4) : part.small_mm,
    };
  }

  test('on pivots with bent rings', () => {
    let passing = 0;
    let struck = 0;
    for (const seed of seeds(6)) {
      const draw = random(seed);
      const { model, pivot } = draw.pick(pivots);
      const parts = Object.fromEntries(
        Object.entries(model.parts).map(([id, part]) => [id, bent(part, draw)] as const),
      );
      const changed: LinkageModel = { ...model, parts };
      const pruned = placements(changed, pivot);
      const brute = placementsByBruteForce(changed, pivot);
      expect(keys(pruned.passing), `seed ${seed}: ${model.id} ${pivot}`).toEqual(keys(brute.passing));
      passing += brute.passing.length;
      struck += pruned.ways - pruned.solved;
    }
    // Neither side of the comparison may be empty.
    expect(passing).toBeGreaterThan(cases(6) / 6);
    expect(struck).toBeGreaterThan(4 * cases(6));
  });
});

describe('how many ways there are', () => {
  test.each([
    ['class-rig', 'rig-pivot', 48, 'two equal tapers, each both ways, a tube and a plain spacer: 4!/2! · 2 · 2'],
    ['skarn-140', 'rocker-frame', 8, 'two different tapers: 2! · 2 · 2'],
    ['skarn-140', 'main', 3, 'two equal washers and a tube: 3'],
    ['holt-120', 'shock-rocker', 1, 'two equal spacers in two stacks: 1'],
    ['skarn-140', 'shock-frame', 12, 'two equal flanged spacers and a tube: 3 · 2 · 2'],
  ])('%s %s: %i (%s)', (id, pivot, ways) => {
    const model = MODELS.find((one) => one.id === id)!;
    expect(placements(model, pivot).ways).toBe(ways);
    const all = everyWay(model, pivot);
    expect(all).toHaveLength(ways);
    expect(new Set(all.map((filled) => JSON.stringify(filled))).size).toBe(ways);
  });
});

describe('more than one way', () => {
  /** The reference joint with spacers of two materials: either may go to either side. */
  function twoMetals(): LinkageModel {
    const model = referenceModel();
    const spacer = model.parts['spacer'] as Extract<Part, { kind: 'spacer' }>;
    const parts: LinkageModel['parts'] = {
      ...model.parts,
      spacer: { ...spacer, count: 1 },
      steel: { ...spacer, name: 'Steel spacer, 5 mm', material: 'steel', count: 1 },
    };
    return withRow({ ...model, parts }, 'main', (row) =>
      row.map((entry) => (entry.id === 'spacer-d' ? { ...entry, part: 'steel' } : entry)),
    );
  }

  test('is said, and the written one comes first', () => {
    const model = twoMetals();
    const found = placements(model, 'main');
    expect(found.passing.map(({ isWritten, verdict }) => [isWritten, verdict])).toEqual([
      [true, 'unsure'],
      [false, 'unsure'],
    ]);
    const words = wordPlacements(found, analyse(model));
    expect(words.title).toBe('Another way passes as well');
    expect(words.text).toContain('either is right');
    expect(words.others).toHaveLength(1);
    expect(words.others[0]).toContain('Steel spacer, 5 mm in the place of spacer, 5 mm');
    expect(words.others[0]).toContain('(look again)');
  });

  test('parts that differ in name only are one', () => {
    const model = twoMetals();
    const spacer = model.parts['spacer'] as Extract<Part, { kind: 'spacer' }>;
    const alike: LinkageModel = {
      ...model,
      parts: { ...model.parts, steel: { ...spacer, name: 'The same under another name' } },
    };
    expect(placements(alike, 'main').passing).toHaveLength(1);
    expect(placements(alike, 'main').ways).toBe(3);
  });

  test('a build that does not pass as written is not called right', () => {
    const wrong = withRow(rig, 'rig-axle', (row) =>
      row.map((entry) => (entry.id === 'taper-left' ? { ...entry, turned: false } : entry)),
    );
    const found = placements(wrong, 'rig-pivot');
    expect(found.passing.map(({ isWritten }) => isWritten)).toEqual([false]);
    const words = wordPlacements(found, analyse(wrong));
    expect(words.title).toBe('The written way does not pass');
    expect(words.others).toHaveLength(1);
  });

  test('the only way of the rig is said to be so', () => {
    expect(wordPlacements(placements(rig, 'rig-pivot'), analyse(rig)).title).toBe('It is the only way');
  });

  test('an unknown pivot is refused by name', () => {
    expect(() => placements(rig, 'no-such')).toThrow(/no-such.*rig-pivot/);
  });
});
