/**
 * Drafts judged and asked about: a verdict holds in every completion that its bands allow, what decides it is named, a
 * comparison is asked for where the calliper is too coarse, and what is asked for settles it, truly.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  askOf,
  benchesOf,
  completionsOf,
  draftOf,
  MANNERS,
  MEASURE_LIMITS,
  setSize,
  sizesOf,
  verdictsOf,
  wordNextHow,
  wordNextMeasure,
  wordNextWhy,
  type Draft,
  type LinkageModel,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { answered, everySize, measuring } from '../setup/measuring.ts';
import { cases } from '../setup/series.ts';

const rig = (): LinkageModel => structuredClone(demoModels().find(({ id }) => id === 'class-rig')!);
const manner = (key: string): LinkageModel => MANNERS.find((own) => own.key === key)!.make();

const CLOSE_mm = 0.004;

describe('a verdict', () => {
  test('is that of the model where everything is known', () => {
    for (const model of [rig(), manner('two-bolts')])
      expect(verdictsOf(draftOf(model))).toEqual(
        analyse(model).pivots.map(({ id }) => expect.objectContaining({ pivot: id, verdict: 'sound', depends_on: [] })),
      );
  });

  test('stands where everything was read closely, and no completion contradicts it', () => {
    const draft = everySize(draftOf(rig(), 'guess'), CLOSE_mm);
    expect(verdictsOf(draft)[0]).toMatchObject({ verdict: 'sound', depends_on: [], lacks: [] });
    const [bench] = benchesOf(draft);
    const all = completionsOf(bench!, 5);
    for (let k = 0; k < cases(20); k++) {
      const values = all.next().value!;
      expect(values.size).toBeGreaterThan(20);
      expect(bench!.outcome(values).stops).toEqual([]);
    }
  });

  test('depends, with the calliper alone, on the fits it cannot tell', () => {
    const draft = everySize(draftOf(rig(), 'guess'), MEASURE_LIMITS.calliper_mm.value);
    const [own] = verdictsOf(draft);
    expect(own!.verdict).toBe('unsure');
    expect(own!.depends_on.map(({ path }) => path).sort()).toEqual([
      'members.post.bores.shell.seats[0].diameter_mm',
      'members.post.bores.shell.seats[1].diameter_mm',
      'parts.rig-axle.shank[0].diameter_mm',
    ]);
  });

  test('is certain where one stop is there whatever else is not known', () => {
    let draft = draftOf(rig(), 'guess');
    draft = everySize(draft, CLOSE_mm);
    // A tube two millimetres short lets the bearings be pressed together, however wide the nut is outside.
    draft = setSize(draft, 'parts.rig-tube.length_mm', { value: 20, accuracy: 0.05, from: 'measured' });
    draft = setSize(draft, 'parts.rig-nut.outside_mm', null);
    const [own] = verdictsOf(draft);
    expect(own).toMatchObject({ verdict: 'faulty', depends_on: [] });
    expect(own!.stops).toContain('inner-ring-loose');
  });

  test('is not certain where a size it rests on was never read', () => {
    let draft = everySize(draftOf(rig(), 'guess'), CLOSE_mm);
    draft = setSize(draft, 'parts.rig-tube.length_mm', { value: 20, from: 'guess' });
    const [own] = verdictsOf(draft);
    expect(own!.verdict).toBe('unsure');
    expect(own!.depends_on.map(({ path }) => path)).toContain('parts.rig-tube.length_mm');
  });

  test('says what contradicts what where nothing can be judged', () => {
    const draft = setSize(draftOf(rig(), 'guess'), 'parts.rig-plain.bore_mm', { value: 30, from: 'measured' });
    const closed = setSize(draft, 'parts.rig-plain.outside_mm', { value: 26, from: 'measured' });
    const [own] = verdictsOf(closed);
    expect(own!.verdict).toBe('unsure');
    expect(own!.lacks.map(({ path }) => path)).toContain('parts.rig-plain.outside_mm');
  });

  test('is the same whatever order the model names its parts in', () => {
    const draft = everySize(draftOf(rig(), 'guess'), 0.02);
    const parts = Object.fromEntries(Object.entries(draft.model.parts).reverse());
    const turned: Draft = { ...draft, model: { ...draft.model, parts } as Draft['model'] };
    const of = (own: Draft) => verdictsOf(own).map(({ verdict, depends_on }) => [verdict, depends_on.length > 0]);
    expect(of(turned)).toEqual(of(draft));
  });
});

describe('what to measure next', () => {
  test('settles truly by comparisons what the calliper leaves open', () => {
    const truth = manner('axle-and-nut');
    const start = everySize(draftOf(truth, 'guess'), MEASURE_LIMITS.calliper_mm.value);
    const { asked, verdicts } = answered(start, measuring(truth, 3));
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(analyse(truth).pivots.map(({ verdict }) => verdict));
    const compared = asked.filter(({ compare }) => compare !== undefined);
    expect(compared.map(({ compare }) => compare!.with)).toContain('gauge');
    expect(compared.map(({ compare }) => compare!.with)).toContain('straight-edge');
    expect(compared.length).toBe(asked.length);
    expect(asked.length).toBeLessThan(12);
  });

  test('is told in words, with how and why', () => {
    const draft = draftOf(manner('axle-and-nut'), 'guess');
    const sizes = sizesOf(draft);
    const { next } = askOf(draft);
    expect(next.length).toBeGreaterThan(5);
    for (const own of next) {
      expect(own.gain_bits).toBeGreaterThan(0);
      for (const words of [wordNextMeasure(own, sizes), wordNextHow(own, sizes), wordNextWhy(own, sizes, 'the pivot')])
        expect(words).not.toMatch(/_|undefined|NaN/);
    }
    expect(next.map(({ isAgain }) => isAgain)).not.toContain(true);
    const rates = next.map(({ gainPerMinute_bits }) => gainPerMinute_bits);
    expect([...rates].sort((a, b) => b - a)).toEqual(rates);
  });

  test('is nothing where all is settled', () => {
    expect(askOf(draftOf(rig())).next).toEqual([]);
  });
});
