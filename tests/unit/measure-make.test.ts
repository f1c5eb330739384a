/**
 * The make of a draft, worked by hand: what is put in, doubled, mirrored, taken out, and what follows it; and a draft as
 * the fields that are kept.
 */
import { describe, expect, test } from 'vitest';
import {
  addBoss,
  addPart,
  addPivot,
  analyse,
  completed,
  draftOf,
  duplicateItem,
  MANNERS,
  mirrorItem,
  PART_KINDS,
  readDraftData,
  removeItem,
  setSize,
  sizesOf,
  stackIn,
  sumOf,
  tellApart,
  usesOf,
  type Draft,
  type DraftModel,
  type MannerKey,
} from '../../shared/index.ts';
import { changedFields, draftFrom, fieldsOf } from '../../src/measure/kept.ts';
import { logOfFields } from '../fixtures/kept-fields.ts';
import { someOf } from '../setup/series.ts';

function draftFor(key: MannerKey): Draft {
  return draftOf(MANNERS.find((manner) => manner.key === key)!.make(), 'guess');
}

const rowOf = (model: DraftModel, stack: string): readonly string[] => stackIn(model, stack)!.row.map(({ id }) => id);
const verdictOf = (model: DraftModel): string => {
  const { model: whole, faults } = completed({ model });
  expect(faults).toEqual([]);
  return analyse(whole).verdict;
};
const valueOf = (model: DraftModel, path: string): number =>
  sizesOf({ model }).find((size) => size.path === path)!.band.middle;

describe('a spacer put in beside an arm', () => {
  const { model } = draftFor('axle-and-nut');
  const made = addPart(model, 'axle', 'spacer', 'spacer-right')!;

  test('stands on the drive side of what was picked, and the row still fits', () => {
    expect(rowOf(made.model, 'axle')).toEqual(
      rowOf(model, 'axle').toSpliced(rowOf(model, 'axle').indexOf('spacer-right') + 1, 0, made.item),
    );
    expect(verdictOf(made.model)).toBe('sound');
  });

  test('makes the guessed axle, and the guessed distance between the arms, longer by its own length', () => {
    const by = valueOf(made.model, 'parts.spacer-2.length_mm');
    for (const path of ['parts.axle.shank[0].length_mm', 'members.arm.bores.right.gap_mm'])
      expect(valueOf(made.model, path) - valueOf(model, path)).toBeCloseTo(by, 6);
  });

  test('leaves a measured axle as long as it was measured', () => {
    const read = setSize({ model }, 'parts.axle.shank[0].length_mm', { value: 70, from: 'measured' });
    const next = addPart(read.model, 'axle', 'spacer', 'spacer-right')!;
    expect(valueOf(next.model, 'parts.axle.shank[0].length_mm')).toBe(70);
  });

  test('is taken out again without a trace', () => {
    expect(removeItem(made.model, 'axle', made.item)).toEqual(model);
  });
});

describe('a bearing', () => {
  const { model } = draftFor('bearings-outside');
  const without = removeItem(model, 'axle', 'bearing-right')!;

  test('goes with its seat', () => {
    expect(without.members['rocker']!.bores['right']!.seats).toBeUndefined();
    expect(without.parts['bearing']!.count).toBe(1);
  });

  test('mirrored, stands in a seat of its own size on the other side, and the pivot fits', () => {
    const made = mirrorItem(without, 'axle', 'bearing-left')!;
    expect(rowOf(made.model, 'axle').indexOf(made.item)).toBe(rowOf(model, 'axle').indexOf('bearing-right'));
    const [left, right] = ['left', 'right'].map((bore) => made.model.members['rocker']!.bores[bore]!.seats![0]!);
    expect([left!.side, right!.side]).toEqual(['non-drive', 'drive']);
    expect(right!.diameter_mm).toEqual(left!.diameter_mm);
    expect(verdictOf(made.model)).toBe('sound');
  });

  test('goes into a boss alone, and into each of its sides once', () => {
    expect(addPart(model, 'axle', 'bearing', 'spacer-left')).toBeUndefined();
    const once = addPart(without, 'axle', 'bearing', 'rocker-right')!;
    const twice = addPart(once.model, 'axle', 'bearing', 'rocker-right')!;
    expect(addPart(twice.model, 'axle', 'bearing', 'rocker-right')).toBeUndefined();
  });
});

test('a tapered spacer mirrored faces the other way', () => {
  const { model } = draftFor('axle-and-nut');
  const without = removeItem(model, 'axle', 'spacer-left')!;
  const made = mirrorItem(without, 'axle', 'spacer-right')!;
  const entry = stackIn(made.model, 'axle')!.row.find(({ id }) => id === made.item)!;
  expect(rowOf(made.model, 'axle').indexOf(made.item)).toBe(1);
  expect(entry.turned).toBe(true);
  expect(verdictOf(made.model)).toBe('sound');
});

test('one part of two can be measured apart', () => {
  const { model } = draftFor('axle-and-nut');
  expect(usesOf(model, 'spacer')).toBe(2);
  const apart = tellApart(model, 'axle', 'spacer-right')!;
  expect([usesOf(apart, 'spacer'), usesOf(apart, 'tapered-spacer-2')].toSorted()).toEqual([1, 1]);
  expect(tellApart(apart, 'axle', 'spacer-right')).toBeUndefined();
});

describe.each(MANNERS.map(({ key }) => key))('%s', (key) => {
  const { model } = draftFor(key);
  const stacks = model.pivots[0]!.stacks;

  test('whatever is done to it can be read again', () => {
    const made = stacks.flatMap(({ id, row }) =>
      row.flatMap(({ id: item }) => [
        removeItem(model, id, item),
        duplicateItem(model, id, item)?.model,
        mirrorItem(model, id, item)?.model,
        addBoss(model, id, { kind: 'link', name: 'Link' }, item)?.model,
        ...PART_KINDS.map((kind) => addPart(model, id, kind, item)?.model),
      ]),
    );
    const found = made.filter((one) => one !== undefined);
    expect(found.length).toBeGreaterThan(10);
    for (const one of someOf(found, 5)) {
      const read = readDraftData({ model: JSON.parse(JSON.stringify(one)) });
      expect(read.ok ? [] : read.problems).toEqual([]);
    }
  });

  test('joins another draft as one more pivot, members by name, and both still fit', () => {
    const both = addPivot(draftFor('two-bolts').model, model);
    expect(both.pivots).toHaveLength(2);
    expect(Object.values(both.members).filter(({ name }) => name === 'Frame')).toHaveLength(1);
    expect(analyse(completed({ model: both }).model).pivots.map(({ verdict }) => verdict)).toEqual(['sound', 'sound']);
  });

  test('comes back from the fields it is kept in', () => {
    const draft = draftFor(key);
    expect(draftFrom(sumOf(logOfFields(fieldsOf(draft))))).toEqual(draft);
  });
});

test('a size that changes is one field; a part that comes is its make and its sizes', () => {
  const draft = draftFor('axle-and-nut');
  const read = setSize(draft, 'parts.axle.shank[0].length_mm', { value: 71, from: 'measured' });
  expect(changedFields(draft, read)).toEqual({ 'size/parts.axle.shank.0.length_mm': { value: 71, from: 'measured' } });
  const more = { model: addPart(draft.model, 'axle', 'washer')!.model };
  const fields = Object.keys(changedFields(draft, more));
  expect(fields).toContain('make');
  expect(fields.every((name) => name === 'make' || name.startsWith('size/'))).toBe(true);
  expect(draftFrom(sumOf(logOfFields({ ...fieldsOf(draft), ...changedFields(draft, more) })))).toEqual(more);
});
