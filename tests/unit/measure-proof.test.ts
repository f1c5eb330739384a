/**
 * Sums that find the reading that does not fit, and the list that ends at what can be trusted.
 */
import { describe, expect, test } from 'vitest';
import {
  draftOf,
  MANNERS,
  misfitsOf,
  proofKey,
  proofOf,
  questionsOf,
  setSize,
  sizesOf,
  wordDraftQuestion,
  wordProofStep,
  type Draft,
  type Proof,
} from '../../shared/index.ts';
import { everySize } from '../setup/measuring.ts';

const manner = () => MANNERS.find(({ key }) => key === 'axle-and-nut')!.make();

/** The shell and what stands in it, compared: nothing is left between tube and rings. */
const inShell: NonNullable<Draft['compared']>[number] = {
  id: 'shell',
  with: 'straight-edge',
  terms: [
    { size: 'parts.tube.length_mm', times: -1 },
    { size: 'members.frame.bores.shell.width_mm', times: 1 },
    { size: 'members.frame.bores.shell.seats[0].depth_mm', times: -1 },
    { size: 'members.frame.bores.shell.seats[1].depth_mm', times: -1 },
  ],
  value_mm: 0,
  accuracy_mm: 0.02,
};

describe('a sum', () => {
  const draft = { ...everySize(draftOf(manner(), 'guess'), 0.02), compared: [inShell] };

  test('of readings that agree asks nothing', () => {
    expect(misfitsOf(draft)).toEqual([]);
    expect(questionsOf(draft)).toEqual([]);
  });

  test('finds the one reading that does not fit, and what it should have been', () => {
    // Read once more, the tube shows that it was the shell that was read a millimetre too wide.
    const twice = setSize(draft, 'parts.tube.length_mm', [
      { value: 20, accuracy: 0.02, from: 'measured' },
      { value: 20.01, accuracy: 0.02, from: 'measured' },
    ]);
    const wrong = setSize(twice, 'members.frame.bores.shell.width_mm', { value: 33, accuracy: 0.1, from: 'measured' });
    const [first, ...more] = misfitsOf(wrong);
    expect(more).toEqual([]);
    expect(first).toMatchObject({ path: 'members.frame.bores.shell.width_mm', read: 33 });
    expect(first!.expected).toBeCloseTo(32, 1);
    const question = questionsOf(wrong).find(({ code }) => code === 'sum-differs')!;
    expect(wordDraftQuestion(question, 'Shell: width')).toMatch(/33\.000 mm/);
  });

  test('over a size that is none is a question', () => {
    const odd = { ...draft, compared: [{ ...inShell, terms: [{ size: 'parts.no.length_mm', times: 1 }] }] };
    expect(questionsOf(odd).map(({ code }) => code)).toEqual(['no-such-size']);
  });
});

describe('the list', () => {
  const close = everySize(draftOf(manner(), 'guess'), 0.003);
  // Every list is two judgings and more: what is asked of one draft is asked once.
  let made: Proof | undefined;
  const first = (): Proof => (made ??= proofOf(close));
  const isDone = ({ steps }: Proof): Record<string, boolean> =>
    Object.fromEntries(steps.map((step) => [step.code, step.isDone]));

  test('ends at trusted once all of it is done', () => {
    expect(isDone(first())).toEqual({ settled: true, agrees: true, mistakes: false, 'second-reading': false });
    const { open } = first().steps.find(({ code }) => code === 'second-reading')!;
    expect(open).toHaveLength(3);
    const second = open.reduce((draft, path) => {
      const { value } = sizesOf(draft).find((size) => size.path === path)!.entry as { value: number };
      return setSize(draft, path, [
        { value, accuracy: 0.003, from: 'measured', by: 'one' },
        { value, accuracy: 0.003, from: 'measured', by: 'other' },
      ]);
    }, close);
    const run = { ...second, mistakes_run: proofKey(second) };
    expect(proofOf(run).isTrusted).toBe(true);
    // A size that changes afterwards makes the run of the mistakes an old one.
    const changed = setSize(run, 'parts.nut.length_mm', { value: 10.5, accuracy: 0.003, from: 'measured' });
    expect(isDone(proofOf(changed))).toMatchObject({ mistakes: false });
  });

  test('says each line in words', () => {
    for (const step of first().steps) expect(wordProofStep(step)).toMatch(/^[A-Z].*\.$/);
  });
});
