/**
 * What an eye tells apart: every part of the build in one group, look-alikes together, and what is said to tell them
 * apart does so.
 */
import { describe, expect, test } from 'vitest';
import { groupsByEye, isLookAlike, listed, partSizes, wordEyeGroup } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';

describe.each(demoModels())('the parts of $id by eye', (model) => {
  const groups = groupsByEye(model);

  test('stand in one group each', () => {
    const used = listed(model).flatMap(({ id, used: count }) => (count > 0 ? [id] : []));
    expect(groups.flatMap(({ parts }) => parts).sort()).toEqual(used.sort());
  });

  test('are together only where one looks like another, and part company only where an eye sees why', () => {
    const groupOf = new Map(groups.flatMap((group) => group.parts.map((id) => [id, group] as const)));
    for (const [id, group] of groupOf) {
      const alike = [...groupOf.keys()].filter((other) => isLookAlike(model.parts[id]!, model.parts[other]!));
      if (group.parts.length > 1) expect(alike.some((other) => group.parts.includes(other))).toBe(true);
      for (const other of alike.filter((one) => groupOf.get(one) !== group)) {
        const [mine, theirs] = [partSizes(model.parts[id]!), partSizes(model.parts[other]!)];
        const isSeen = Object.entries(mine).some(([name, size]) => {
          const its = theirs[name as keyof typeof theirs]?.nominal;
          return its === undefined || Math.max(its, size.nominal) >= 1.5 * Math.min(its, size.nominal);
        });
        expect(isSeen, `${id} ${other}`).toBe(true);
      }
    }
  });

  test('are told apart by the size that is named', () => {
    for (const { parts, size } of groups.filter((group) => group.size !== undefined)) {
      const sizes = parts.map((id) => partSizes(model.parts[id]!)[size!]!.nominal);
      expect(new Set(sizes).size, parts.join()).toBe(parts.length);
    }
    for (const group of groups) {
      const { title, text } = wordEyeGroup(group, model);
      expect(title).toContain(model.parts[group.parts[0]!]!.name);
      expect(text.endsWith('.')).toBe(true);
    }
  });
});
