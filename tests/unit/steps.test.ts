/**
 * The steps a hand does: nothing is forgotten, nothing goes through anything, everything ends where the tight joint
 * holds it. Strip-down is the same list backwards, so whatever must hold between two steps is held both ways.
 */
import { describe, expect, test } from 'vitest';
import { analyse, applyVariant, type Analysis, type StackAnalysis, type Step } from '../../shared/index.ts';
import { demoModels, flippedModel, withStacks } from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';

const models = [
  referenceModel(),
  ...demoModels(),
  ...demoModels().map(flippedModel),
  ...demoModels().flatMap((model) => (model.variants ?? []).map((variant) => applyVariant(model, variant))),
];
const analyses = models.map((model) => analyse(model));
const stacks = analyses.flatMap((analysis, k) =>
  analysis.pivots.flatMap((pivot) =>
    pivot.stacks.map((stack) => [`${k} ${analysis.model.id} ${stack.id}`, stack, analysis] as const),
  ),
);

const kinds = (stack: StackAnalysis): Step['kind'][] => stack.steps.map(({ kind }) => kind);
const itemOf = (stack: StackAnalysis, id: string) => stack.items.find((item) => item.id === id)!;
const isReceiverMember = (stack: StackAnalysis): boolean => itemOf(stack, `${stack.id}/receiver`).role === 'boss';
/** + for an axle that goes in toward the drive side. */
const way = (stack: StackAnalysis): 1 | -1 => (stack.from === 'non-drive' ? 1 : -1);
/** How far along the way in a step leaves the axle's tip, mm of z times the way. */
const tipAfter = (stack: StackAnalysis, step: Step): number => {
  const axle = itemOf(stack, `${stack.id}/axle`);
  return way(stack) * ((way(stack) > 0 ? axle.to_mm : axle.from_mm) + step.places[axle.id]!.offset_mm);
};

describe.each(stacks)('steps of %s', (_, stack, analysis) => {
  const last = stack.steps.at(-1)!;

  test('end with everything on the bike and in its tight place', () => {
    expect(Object.keys(last.places).sort()).toEqual(stack.items.map(({ id }) => id).sort());
    for (const [id, place] of Object.entries(last.places))
      expect({ id, ...place, offset_mm: Math.abs(place.offset_mm) }).toEqual({ id, on: true, offset_mm: 0 });
  });

  test('know the place of every item after each', () => {
    for (const step of stack.steps) {
      expect(Object.keys(step.places).sort()).toEqual(Object.keys(last.places).sort());
      expect(step.items.every((id) => id in step.places)).toBe(true);
      expect([step.stackId, step.pivotId]).toEqual([stack.id, stack.pivotId]);
    }
    expect(new Set(stack.steps.map(({ id }) => id)).size).toBe(stack.steps.length);
  });

  test('go one way: the axle deeper and deeper, and nothing that is on comes off again', () => {
    stack.steps.slice(1).forEach((step, k) => {
      const before = stack.steps[k]!;
      expect(step.depth_mm).toBeGreaterThanOrEqual(before.depth_mm - 1e-9);
      for (const [id, place] of Object.entries(before.places)) if (place.on) expect(step.places[id]!.on, id).toBe(true);
    });
    expect(stack.steps[0]!.depth_mm).toBe(0);
  });

  test('begin by preparing and end with torque and the free check, the thread being started by hand before', () => {
    const order = kinds(stack);
    expect(order[0]).toBe('prepare');
    expect(order.slice(-3)).toEqual(['start-receiver', 'torque', 'free-check']);
    expect(order.filter((kind) => kind === 'torque').length).toBe(1);
    if (order.includes('threadlock')) expect(order.indexOf('threadlock')).toBeLessThan(order.indexOf('start-receiver'));
    expect(order.includes('threadlock')).toBe(
      analysis.model.pivots.flatMap((pivot) => pivot.stacks).find(({ id }) => id === stack.id)!.thread_treatment ===
        'threadlocked',
    );
    expect(order.includes('axle-home')).toBe(!isReceiverMember(stack));
  });

  test('set every loose ring once, before the axle’s tip reaches it', () => {
    const rings = stack.items.filter(({ role }) => role === 'ring');
    const set = stack.steps.filter(({ kind }) => kind === 'set-ring').flatMap(({ items }) => items);
    const shut = stack.steps.filter(({ kind }) => kind === 'offer-member').flatMap(({ items }) => items);
    const atStart = Object.entries(stack.steps[0]!.places)
      .filter(([, place]) => place.on)
      .map(([id]) => id);
    for (const { id } of rings)
      expect([...set, ...shut, ...atStart].filter((known) => known === id).length, id).toBe(1);
    for (const step of stack.steps) {
      if (step.kind !== 'set-ring' || step.heldBy === 'axle') continue;
      const ring = itemOf(stack, step.items[0]!);
      const near = way(stack) * (way(stack) > 0 ? ring.from_mm : ring.to_mm);
      expect(tipAfter(stack, step), ring.id).toBeLessThanOrEqual(near + 1e-9);
    }
  });

  test('leave only the axle, what it carries and the receiver away from their places, each on its own side', () => {
    for (const step of stack.steps) {
      for (const [id, place] of Object.entries(step.places)) {
        if (!place.on || Math.abs(place.offset_mm) < 1e-9) continue;
        const item = itemOf(stack, id);
        expect(item.role === 'axle' || item.role === 'receiver' || item.role === 'ring', id).toBe(true);
        const outward = item.role === 'receiver' ? way(stack) : -way(stack);
        expect(Math.sign(place.offset_mm), id).toBe(outward);
        if (item.role === 'ring') expect(place.offset_mm).toBe(step.places[`${stack.id}/axle`]!.offset_mm);
      }
    }
  });

  test('take the wrench to the side the torque card names', () => {
    const torque = stack.steps.find(({ kind }) => kind === 'torque')!;
    expect(torque.side).toBe(stack.tightening.stand);
    const turned = stack.tightening.turned === 'receiver' ? 'receiver' : 'axle';
    expect(torque.items).toEqual([`${stack.id}/${turned}`]);
  });

  test('start the thread two turns, the rest is still to run', () => {
    const start = stack.steps.find(({ kind }) => kind === 'start-receiver')!;
    const moving = isReceiverMember(stack) ? `${stack.id}/axle` : `${stack.id}/receiver`;
    const thread = itemOf(stack, `${stack.id}/axle`).thread!;
    expect(start.items).toEqual([moving]);
    expect(Math.abs(start.places[moving]!.offset_mm)).toBeCloseTo(
      Math.max(0, stack.tightening.engagement_mm - 2 * thread.pitch_mm),
      9,
    );
  });
});

describe('steps of a whole bike', () => {
  test.each(analyses.map((analysis, k) => [`${k} ${analysis.model.id}`, analysis] as const))(
    '%s: every member is offered up once, the frame never',
    (_, { model, pivots, order }: Analysis) => {
      const byStack = new Map(pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, stack] as const)));
      expect([...byStack.keys()].sort()).toEqual([...order].sort());
      const offered = order.flatMap((id) => {
        const stack = byStack.get(id)!;
        return stack.steps
          .filter(({ kind }) => kind === 'offer-member')
          .map(({ items }) => itemOf(stack, items.find((item) => itemOf(stack, item).member !== undefined)!).member!);
      });
      expect(new Set(offered).size).toBe(offered.length);
      const inRows = new Set(
        pivots.flatMap((pivot) => pivot.stacks.flatMap((stack) => stack.items.flatMap((item) => item.member ?? []))),
      );
      for (const member of inRows)
        expect(offered.includes(member), member).toBe(model.members[member]!.kind !== 'frame');
    },
  );

  test('grease holds a greased ring, a fingertip the other', () => {
    const model = referenceModel();
    const dry = withStacks(model, (stack) => ({
      ...stack,
      row: stack.row.map(({ greased: _greased, ...entry }) => entry),
    }));
    const held = (analysis: Analysis): unknown[] =>
      analysis.pivots[0]!.stacks[0]!.steps.filter(({ kind }) => kind === 'set-ring').map(({ heldBy, greased }) => [
        heldBy,
        greased,
      ]);
    expect(held(analyse(model))).toEqual([
      ['grease', true],
      ['grease', true],
    ]);
    expect(held(analyse(dry))).toEqual([
      ['fingertip', false],
      ['fingertip', false],
    ]);
  });
});
