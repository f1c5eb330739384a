/**
 * The one call: what it gives is plain, finite, the same every time and balanced, its verdicts follow from its
 * findings, and the demo models, which are its show-pieces, are sound and show every fastening of the trade.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  kindOf,
  analyse,
  readData,
  type Analysis,
  type Finding,
  type LinkageModel,
  type Part,
  type Stack,
  type Verdict,
} from '../../shared/index.ts';
import { demoModels, pivotAlone } from '../bench/models.ts';
import { assembly, FINDING_ROWS } from '../fixtures/findings/rows.ts';
import { changedModel } from '../fixtures/problems/mutations.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { cases, property } from '../setup/series.ts';

const findingsOf = (analysis: Analysis): Finding[] => [
  ...analysis.pivots.flatMap((pivot) => pivot.findings),
  ...analysis.findings,
];

/**
 * Plain data through and through: texts, flags, finite numbers, lists and objects of such. Throws with the way to what
 * is not.
 */
function expectPlain(value: unknown, path = 'analysis'): void {
  if (typeof value === 'string' || typeof value === 'boolean' || (typeof value === 'number' && Number.isFinite(value)))
    return;
  const prototype: unknown = typeof value === 'object' && value !== null ? Object.getPrototypeOf(value) : undefined;
  if (prototype !== Array.prototype && prototype !== Object.prototype) throw new Error(`${path} is ${String(value)}`);
  for (const [key, child] of Object.entries(value as object)) expectPlain(child, `${path}.${key}`);
}

/**
 * A pivot is faulty with a stop and sound without; unsure only where an estimate decides. The bike is as bad as its
 * worst pivot.
 */
function expectVerdicts(analysis: Analysis): void {
  for (const { verdict, findings } of analysis.pivots) {
    const hasStop = findings.some((finding) => finding.severity === 'stop');
    const isDecided = !findings.some(
      (finding) => finding.code === 'estimate-used' && finding.about?.['decides'] === 'yes',
    );
    expect(verdict).toBe(isDecided ? (hasStop ? 'faulty' : 'sound') : 'unsure');
  }
  const worstFirst: readonly Verdict[] = ['faulty', 'unsure', 'sound'];
  expect(analysis.verdict).toBe(
    worstFirst.find((verdict) => analysis.pivots.some((pivot) => pivot.verdict === verdict)),
  );
}

describe('what analyse gives', () => {
  const CASES = [
    ...FINDING_ROWS.map((row) => [`${row.code}: ${row.name}`, assembly(row, 'bad')] as const),
    ...demoModels().map((model) => [model.id, model] as const),
  ];

  test('has a key that goes by content: a clone has it too, and one digit or one option makes another', () => {
    for (const model of demoModels()) {
      const { key } = analyse(model);
      expect(analyse(structuredClone(model)).key).toBe(key);
      const { torque_Nm } = model.pivots[0]!.stacks[0]!;
      const other = structuredClone(model) as { pivots: { stacks: { torque_Nm: number }[] }[] };
      other.pivots[0]!.stacks[0]!.torque_Nm = torque_Nm * (1 + Number.EPSILON);
      const others = [
        analyse(other as LinkageModel),
        analyse(model, { preload_N: 1 }),
        ...(model.variants ?? []).map(({ id }) => analyse(model, { variant: id })),
      ].map((analysis) => analysis.key);
      expect(new Set([key, ...others]).size).toBe(others.length + 1);
    }
  });

  test.each(CASES)('is plain, repeatable, balanced and judged by its findings: %s', (_, model) => {
    const before = JSON.stringify(model);
    const analysis = analyse(model);
    expectPlain(analysis);
    expectVerdicts(analysis);
    expect(JSON.stringify(analyse(JSON.parse(before) as LinkageModel))).toBe(JSON.stringify(analysis));
    expect(JSON.stringify(model)).toBe(before);
    for (const pivot of analysis.pivots) {
      const preload = Math.max(...pivot.stacks.map((stack) => stack.tightening.preload_N.high));
      expect(pivot.check.residual_N).toBeLessThan(1e-6 * preload);
      expect(pivot.check.complementarity).toBeLessThan(1e-6 * preload);
      expect(Math.abs(pivot.check.balance_N)).toBeLessThan(1e-6 * preload);
    }
  });

  test('has every pivot and stack of the model, items from side to side', () => {
    for (const model of demoModels()) {
      const analysis = analyse(model);
      expect(analysis.pivots.map((pivot) => pivot.id)).toEqual(model.pivots.map((pivot) => pivot.id));
      for (const [p, pivot] of analysis.pivots.entries()) {
        for (const [s, stack] of pivot.stacks.entries()) {
          const told = model.pivots[p]!.stacks[s]!;
          const row = told.row.map((entry) => `${told.id}/${entry.id}`);
          const [first, last] = told.from === 'non-drive' ? ['axle', 'receiver'] : ['receiver', 'axle'];
          expect(stack.items.map((item) => item.id)).toEqual([`${told.id}/${first}`, ...row, `${told.id}/${last}`]);
        }
      }
    }
  });

  test('an unknown variant is a fault of the caller, said with what is known', () => {
    expect(() => analyse(referenceModel(), { variant: 'late' })).toThrow('analyse: variant: met "late", allowed: none');
    const model = { ...referenceModel(), variants: [{ id: 'early', name: 'Early', why: 'w', stacks: {} }] };
    expect(() => analyse(model, { variant: 'constructor' })).toThrow(/allowed: early$/);
  });

  test('a preload given in place of the torque’s is the one that clamps', () => {
    const { clamp_N } = analyse(referenceModel(), { preload_N: 5000 }).pivots[0]!.stacks[0]!;
    expect(clamp_N).toBeGreaterThan(4990);
    expect(clamp_N).toBeLessThan(5001);
  });

  test('the order of the parts list, of members and of pivots does not matter', () => {
    const backwards = <T>(record: Readonly<Record<string, T>>): Record<string, T> =>
      Object.fromEntries(Object.entries(record).reverse());
    for (const model of demoModels()) {
      const straight = analyse(model);
      const turned = analyse({
        ...model,
        parts: backwards(model.parts),
        members: backwards(model.members),
        pivots: [...model.pivots].reverse(),
      });
      const asText = (pivots: Analysis['pivots']): string[] =>
        pivots.map(({ check: _, ...pivot }) => JSON.stringify(pivot)).sort();
      expect(asText(turned.pivots)).toEqual(asText(straight.pivots));
    }
  });
});

describe('whatever model reads without a problem can be analysed', () => {
  const SEED = 71_003;
  test(`the reference joint with one to three places changed (seed ${SEED})`, () => {
    let analysed = 0;
    const verdicts = new Set<Verdict>();
    fc.assert(
      fc.property(changedModel(), (data) => {
        const reading = readData(data);
        if (!reading.ok) return;
        analysed++;
        const analysis = analyse(reading.model);
        expectPlain(analysis);
        expectVerdicts(analysis);
        verdicts.add(analysis.verdict);
      }),
      property(SEED, 120),
    );
    expect(analysed).toBeGreaterThan(0.1 * cases(120));
    expect(verdicts.has('sound') && verdicts.has('faulty')).toBe(true);
  });
});

/** The fastenings of the trade, as a stack of a model shows them. */
interface Fastened {
  readonly stack: Stack;
  readonly axle: Extract<Part, { kind: 'axle' | 'bolt' | 'screw' | 'sleeve' }>;
  readonly receiver: Part | undefined;
  readonly pivotStacks: readonly Stack[];
}
const isInMember = ({ stack }: Fastened): boolean => stack.receiver.includes('/');
const steps = ({ axle }: Fastened): number[] => axle.shank.map((cylinder) => cylinder.diameter_mm);
/** The threaded end is thinner than the shank on every axle; only what lies before it makes an axle stepped. */
const FASTENINGS: Readonly<Record<string, (fastened: Fastened) => boolean>> = {
  'headed axle with a nut': ({ axle, receiver }) => axle.kind === 'axle' && receiver?.kind === 'nut',
  'headed axle into a threaded lug of the frame': (own) =>
    own.axle.kind === 'axle' && own.stack.receiver.startsWith('frame/'),
  'sleeve and screw': ({ axle, receiver }) => axle.kind === 'sleeve' && receiver?.kind === 'screw',
  'two short bolts into one member, one from each side': (own) => {
    const [member] = own.stack.receiver.split('/');
    const bolts = own.pivotStacks.filter((stack) => stack.receiver.startsWith(`${member}/`));
    return (
      isInMember(own) &&
      own.axle.kind === 'bolt' &&
      bolts.length === 2 &&
      new Set(bolts.map((stack) => stack.from)).size === 2
    );
  },
  'stepped axle': (own) =>
    steps(own).length > 2 && steps(own).every((diameter, k, all) => k === 0 || diameter < all[k - 1]!),
  'drive socket in the threaded tip': ({ stack }) =>
    stack.turned === 'tip' && stack.drives.tip !== undefined && stack.drives.head === undefined,
};

describe('the demo models', () => {
  const MODELS = demoModels();
  const EVERY = MODELS.flatMap((model) => [
    [model.id, model, undefined] as const,
    ...(model.variants ?? []).map((variant) => [`${model.id}, ${variant.id}`, model, variant.id] as const),
  ]);

  test.each(EVERY)('%s is sound at every pivot, with room in its preload band', (_, model, variant) => {
    const analysis = analyse(model, variant === undefined ? {} : { variant });
    for (const pivot of analysis.pivots) {
      expect(pivot.verdict, `${pivot.id}: ${pivot.findings.map((finding) => finding.code).join()}`).toBe('sound');
      for (const stack of pivot.stacks)
        expect(stack.clamp_N, stack.id).toBeGreaterThan(0.6 * stack.tightening.preload_N.spec);
    }
    expect(findingsOf(analysis).filter((finding) => finding.severity === 'stop')).toEqual([]);
  });

  test('carry their file’s name, differ from one another and are as many as the scenario wants', () => {
    expect(MODELS.map((model) => model.id)).toEqual(
      expect.arrayContaining(['class-rig', 'fjordside-150', 'holt-120', 'skarn-140']),
    );
    expect(new Set(MODELS.map((model) => model.name)).size).toBe(MODELS.length);
  });

  test.each(Object.entries(FASTENINGS))('show the fastening: %s', (_, isIt) => {
    const shown = MODELS.flatMap((model) =>
      model.pivots.flatMap((pivot) =>
        pivot.stacks.filter((stack) =>
          isIt({
            stack,
            axle: model.parts[stack.axle] as Fastened['axle'],
            receiver: model.parts[stack.receiver],
            pivotStacks: pivot.stacks,
          }),
        ),
      ),
    );
    expect(shown.length).toBeGreaterThan(0);
  });

  test('show a tapered spacer each way round, an end cap, a variant, and a ring that looks like another', () => {
    const entries = MODELS.flatMap((model) =>
      model.pivots.flatMap((pivot) =>
        pivot.stacks.flatMap((stack) => stack.row.map((entry) => ({ entry, part: model.parts[entry.part ?? ''] }))),
      ),
    );
    const tapered = entries.filter(({ part }) => part?.kind === 'tapered-spacer');
    expect(
      tapered.some(({ entry }) => entry.turned === true) && tapered.some(({ entry }) => entry.turned !== true),
    ).toBe(true);
    expect(MODELS.some((model) => (model.variants ?? []).length > 0)).toBe(true);
    const alike = MODELS.some((model) => {
      const rings = Object.values(model.parts).filter((part) => part.kind === 'spacer');
      return rings.some((a) =>
        rings.some(
          (b) => a !== b && a.bore_mm === b.bore_mm && a.outside_mm === b.outside_mm && a.length_mm !== b.length_mm,
        ),
      );
    });
    expect(alike).toBe(true);
  });

  test('a ring left out anywhere is seen in its own pivot', () => {
    let left = 0;
    for (const model of MODELS) {
      for (const pivot of model.pivots) {
        const alone = pivotAlone(model, pivot.id);
        pivot.stacks.forEach((stack, s) =>
          stack.row.forEach((entry, k) => {
            const kind = model.parts[entry.part ?? '']?.kind;
            if (kind === undefined || kind === 'bearing') return;
            left++;
            const without = analyse(patched(alone, { drop: [`pivots[0].stacks[${s}].row[${k}]`] }));
            // A seal carries nothing and bears on nothing: only the count of the parts list misses it.
            const told = kindOf({ kind }).seals
              ? without.findings.filter(
                  ({ code, about }) => code === 'part-left-over' && about?.['part'] === entry.part,
                )
              : without.pivots[0]!.findings;
            const found = told.filter((finding) => finding.severity !== 'note');
            expect(found.length, `${model.id} ${stack.id} without ${entry.id}`).toBeGreaterThan(0);
          }),
        );
      }
    }
    expect(left).toBeGreaterThan(10);
  });
});
