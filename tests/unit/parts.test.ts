/**
 * Every kind's entry, by its sample: what it says of itself holds together, so that a new kind is tested by being
 * there.
 */
import { describe, expect, test } from 'vitest';
import { kindOf, PART_KINDS, partProfile, partSizes, wordKind } from '../../shared/index.ts';
import { calliperPlace, sizesAsked, sizesOfKind } from '../../shared/parts/measuring.ts';
import { partForm } from '../../shared/parts/kinds.ts';
import type { PartSizeName } from '../../shared/parts/sizes.ts';

describe.each(PART_KINDS)('%s', (kind) => {
  const entry = kindOf({ kind });
  const { sample } = entry;
  const { from_mm, to_mm, solids } = partProfile(sample);

  test('has a sample of its own kind that the file format takes and nothing contradicts', () => {
    expect(sample.kind).toBe(kind);
    expect(partForm.parse(sample)).toEqual(sample);
    expect(entry.check(sample)).toEqual([]);
    expect(solids.length).toBeGreaterThan(0);
    expect(to_mm).toBeGreaterThan(from_mm);
    expect(wordKind(kind)).toBe(entry.noun.one);
    expect(entry.noun.many).not.toBe(entry.noun.one);
  });

  test('is told by sizes it has, and asks for each of them once', () => {
    const sizes = partSizes(sample);
    for (const name of entry.told) expect(sizes[name], name).toBeDefined();
    const asked = sizesAsked(kind);
    expect(new Set(asked).size).toBe(asked.length);
    for (const name of asked) expect(sizesOfKind(kind)).toContain(name);
    for (const name of sizesOfKind(kind)) if (sizes[name]) expect(calliperPlace(sample, name), name).toBeDefined();
    expect(entry.fitting_mm(sample)).toBeGreaterThan(0);
  });

  test('gives back each size that is set', () => {
    for (const [name, size] of Object.entries(entry.sizes) as [
      PartSizeName,
      (typeof entry.sizes)['bore_mm'] & object,
    ][]) {
      const before = size.get(sample) ?? size.reads?.(sample)?.[0];
      if (!size.set || before === undefined) continue;
      const changed = size.set(sample, before + 0.01);
      if (changed) expect(size.get(changed) ?? size.reads?.(changed)?.[0], name).toBeCloseTo(before + 0.01, 9);
    }
  });

  test('wears no size that cannot be read, and each up to a limit with its source', () => {
    for (const [name, { wears }] of Object.entries(entry.sizes) as [
      PartSizeName,
      { wears?: { limit: { value: number; source: string } } },
    ][]) {
      if (!wears) continue;
      expect(sizesOfKind(kind)).toContain(name);
      expect(wears.limit.value).toBeGreaterThan(0);
      expect(wears.limit.source).not.toBe('');
    }
  });

  test('has tolerances at faces that are there, each once', () => {
    const planes = entry.planes?.(sample) ?? [];
    expect(new Set(planes.map(({ id }) => id)).size).toBe(planes.length);
    expect(planes.length > 0).toBe(kind !== 'bearing');
    const corners = solids.flatMap(({ polygon }) => polygon.map(([, z]) => z));
    for (const { z_mm, kind: what } of planes)
      if (what !== 'thread-start') expect(corners.some((z) => Math.abs(z - z_mm) < 1e-9)).toBe(true);
  });
});
