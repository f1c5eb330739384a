/** Variants: what a variant names is changed, everything else is the base model's, and the base stays as it was. */
import { describe, expect, test } from 'vitest';
import { analyse, applyVariant, readData, wordProblem, type LinkageModel, type Variant } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';

function variantOf(stacks: object, parts?: object): { model: LinkageModel; variant: Variant } {
  const variant = {
    id: 'early',
    name: 'Early frame',
    why: 'the first year had another axle',
    stacks,
    ...(parts ? { parts } : {}),
  };
  const reading = readData({ ...referenceData(), variants: [variant] });
  if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('\n'));
  return { model: reading.model, variant: reading.model.variants![0]! };
}

describe('applyVariant', () => {
  test('changes the keys of a stack that the variant names, and no others', () => {
    const { model, variant } = variantOf({ main: { from: 'drive', torque_Nm: 15 } });
    const [before, after] = [model, applyVariant(model, variant)].map((each) => each.pivots[0]!.stacks[0]!);
    expect(after).toEqual({ ...before, from: 'drive', torque_Nm: 15 });
  });

  test('replaces a part whole and leaves the others', () => {
    const nut = {
      kind: 'nut',
      name: 'Slim nut',
      material: 'steel',
      outside_mm: 24,
      length_mm: 16,
      thread: { size_mm: 15, pitch_mm: 1, length_mm: 16 },
    };
    const { model, variant } = variantOf({}, { nut, spare: { ...nut, name: 'Spare' } });
    const { parts } = applyVariant(model, variant);
    expect(parts['nut']).toEqual({ ...nut, thread: { ...nut.thread, hand: 'right' } });
    expect(parts['nut']).not.toHaveProperty('land_mm');
    expect(parts['spare']).toMatchObject({ name: 'Spare' });
    expect({ ...parts, nut: 0, spare: 0 }).toEqual({ ...model.parts, nut: 0, spare: 0 });
  });

  test('bores a member anew where the variant names the bore whole, and no other', () => {
    const base = referenceModel();
    const [id, member] = Object.entries(base.members).find(([, { kind }]) => kind === 'frame')!;
    const [name, bore] = Object.entries(member.bores)[0]!;
    const bored = { ...bore, boss_mm: bore.boss_mm + 4 };
    const reading = readData({
      ...referenceData(),
      variants: [{ id: 'v', name: 'V', why: 'w', stacks: {}, bores: { [id]: { [name]: bored } } }],
    });
    if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('\n'));
    const { members } = applyVariant(reading.model, reading.model.variants![0]!);
    expect(members).toEqual({ ...base.members, [id]: { ...member, bores: { ...member.bores, [name]: bored } } });
    expect(reading.model.members).toEqual(base.members);
  });

  test('leaves the base as it was', () => {
    const { model, variant } = variantOf({
      main: {
        from: 'drive',
        row: referenceData().pivots[0]!.stacks[0]!.row.filter((entry) => entry['part'] !== 'spacer'),
      },
    });
    const before = JSON.stringify(model);
    applyVariant(model, variant);
    expect(JSON.stringify(model)).toBe(before);
  });

  test('passes over a stack it does not know, and over what every object inherits', () => {
    const model = referenceModel();
    const odd = {
      ...model,
      pivots: model.pivots.map((pivot) => ({
        ...pivot,
        stacks: pivot.stacks.map((stack) => ({ ...stack, id: 'constructor' })),
      })),
    };
    expect(applyVariant(odd, { id: 'v', name: 'V', why: 'w', stacks: { elsewhere: { from: 'drive' } } })).toEqual(odd);
    const [id, { bores }] = Object.entries(odd.members)[0]!;
    const bored = { [id]: { constructor: Object.values(bores)[0]! }, elsewhere: bores };
    expect(applyVariant(odd, { id: 'v', name: 'V', why: 'w', stacks: {}, bores: bored })).toEqual(odd);
  });

  test('takes a key that is there without a value as not named', () => {
    const model = referenceModel();
    expect(applyVariant(model, { id: 'v', name: 'V', why: 'w', stacks: { main: { from: undefined } } }).pivots).toEqual(
      model.pivots,
    );
  });
});

describe('analysing a variant', () => {
  test('is analysing the model it makes', () => {
    const { model, variant } = variantOf({ main: { from: 'drive' } });
    const analysis = analyse(model, { variant: 'early' });
    expect(analysis.variant).toBe('early');
    expect(analysis.model).toEqual(applyVariant(model, variant));
    expect(analysis.pivots[0]!.stacks[0]).toMatchObject({ from: 'drive', tightening: { stand: 'drive' } });
    expect(analyse(model).pivots[0]!.stacks[0]).toMatchObject({ from: 'non-drive' });
  });

  test('every variant of the demo models changes something', () => {
    const variants = demoModels().flatMap((model) => (model.variants ?? []).map((variant) => ({ model, variant })));
    expect(variants.length).toBeGreaterThan(0);
    for (const { model, variant } of variants)
      expect(JSON.stringify(applyVariant(model, variant)), `${model.id} ${variant.id}`).not.toBe(JSON.stringify(model));
  });
});
