/**
 * The manners a pivot is started from: each is a whole pivot that reads, fits and is told in words of the workshop, and
 * differs from the others.
 */
import { describe, expect, test } from 'vitest';
import { analyse, applyMistake, listMistakes, MANNERS, readData, type LinkageModel } from '../../shared/index.ts';
import { wordsOf } from '../setup/sentences.ts';

/** Words to a sentence at the most. */
const LONGEST = 30;

function readAgain(model: LinkageModel): LinkageModel {
  const reading = readData(JSON.parse(JSON.stringify(model)));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.model;
}

describe.each(MANNERS.map((manner) => [manner.key, manner] as const))('%s', (key, { make, name, when }) => {
  const model = make();
  const analysis = analyse(model);

  test('reads as a file, and comes out as it was made', () => {
    expect(readAgain(model)).toEqual(model);
    expect(model.id).toBe(key);
  });

  test('fits, with nothing to be looked into', () => {
    expect(analysis.verdict).toBe('sound');
    const severities = [...analysis.findings, ...analysis.pivots.flatMap(({ findings }) => findings)];
    expect(severities.filter(({ severity }) => severity !== 'note')).toEqual([]);
  });

  test('has a use for each of its parts and bores', () => {
    const stacks = model.pivots.flatMap((pivot) => pivot.stacks);
    const used = stacks.flatMap(({ axle, receiver, row }) => [
      axle,
      receiver,
      ...row.flatMap(({ part, member, bore }) => [part ?? `${member}/${bore}`]),
    ]);
    const bores = Object.entries(model.members).flatMap(([id, { bores: own }]) =>
      Object.keys(own).map((bore) => `${id}/${bore}`),
    );
    expect([...new Set(used)].toSorted()).toEqual([...Object.keys(model.parts), ...bores].toSorted());
  });

  test('depends on its parts: left out or turned round, some part stops it', () => {
    const singles = listMistakes(model, 'pivot').filter(({ kind }) => kind === 'left-out' || kind === 'turned');
    expect(singles.length).toBeGreaterThan(0);
    expect(singles.some((mistake) => analyse(applyMistake(model, mistake)).verdict === 'faulty')).toBe(true);
  });

  test('is made anew each time', () => {
    expect(make()).toEqual(model);
    expect(make().pivots[0]!.stacks[0]!.row).not.toBe(model.pivots[0]!.stacks[0]!.row);
  });

  test('is told in short sentences', () => {
    for (const sentence of when.split(/(?<=\.)\s/)) expect(wordsOf(sentence), sentence).toBeLessThanOrEqual(LONGEST);
    expect(when).toMatch(/\.$/);
    expect(name.length).toBeLessThanOrEqual(40);
  });
});

test('no two manners are alike', () => {
  const forms = MANNERS.map(({ make }) =>
    JSON.stringify(
      make().pivots[0]!.stacks.map(({ axle, receiver, from, row }) => [axle, receiver, from, row.map(({ id }) => id)]),
    ),
  );
  expect(new Set(forms).size).toBe(MANNERS.length);
  expect(new Set(MANNERS.map(({ name }) => name)).size).toBe(MANNERS.length);
});
