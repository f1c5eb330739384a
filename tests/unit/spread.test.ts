/**
 * Apart along the axis: even gaps, order kept, nothing overlaps on the way, nothing wanders.
 */
import { describe, expect, test } from 'vitest';
import { analyse, inAxleOrder, spread, SPREAD_GAP_mm, type StackAnalysis } from '../../shared/index.ts';
import { demoModels, flippedModel } from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';

const stacks: readonly (readonly [string, StackAnalysis])[] = [
  referenceModel(),
  referenceModel(['spacer-nd']),
  flippedModel(referenceModel()),
  ...demoModels(),
].flatMap((model, k) =>
  analyse(model).pivots.flatMap((pivot) =>
    pivot.stacks.map((stack) => [`${k} ${model.id} ${stack.id}`, stack] as const),
  ),
);

/** Ends of every item when moved by its offset, in axle order. */
const placed = (stack: StackAnalysis, apart: number, gap_mm?: number): { from: number; to: number }[] => {
  const offsets = spread(stack, apart, gap_mm);
  return inAxleOrder(stack).map((item) => ({
    from: item.from_mm + offsets[item.id]!,
    to: item.to_mm + offsets[item.id]!,
  }));
};

describe.each(stacks)('spread of %s', (_, stack) => {
  test('names every item once', () => {
    expect(Object.keys(spread(stack, 1)).sort()).toEqual(stack.items.map((item) => item.id).sort());
  });
  test('closed, nothing moves', () => {
    for (const offset of Object.values(spread(stack, 0))) expect(Math.abs(offset)).toBe(0);
  });
  test('fully apart, the same gap stands between every two neighbours', () => {
    for (const gap of [SPREAD_GAP_mm, 3, 0]) {
      const line = placed(stack, 1, gap);
      line.slice(1).forEach((item, k) => expect(item.from - line[k]!.to).toBeCloseTo(gap, 9));
    }
  });
  test('half way, every item has gone half its way', () => {
    const [half, whole] = [spread(stack, 0.5), spread(stack, 1)];
    for (const id of Object.keys(whole)) expect(half[id]).toBeCloseTo(whole[id]! / 2, 9);
  });
  test('the row keeps its order at every apart-ness, and the axle stands outside it on its own side', () => {
    const order = inAxleOrder(stack).map((item) => item.id);
    const row = stack.items.filter((item) => item.role !== 'axle').map((item) => item.id);
    expect(order.filter((id) => !id.endsWith('/axle'))).toEqual(row);
    expect(order.indexOf(`${stack.id}/axle`)).toBe(stack.from === 'non-drive' ? 0 : order.length - 1);
    for (const apart of [0.25, 0.5, 0.75, 1]) {
      const offsets = spread(stack, apart);
      const middles = stack.items
        .filter((item) => item.role !== 'axle')
        .map((item) => (item.from_mm + item.to_mm) / 2 + offsets[item.id]!);
      const home = stack.items.filter((item) => item.role !== 'axle').map((item) => (item.from_mm + item.to_mm) / 2);
      middles.slice(1).forEach((middle, k) => {
        // What stood in order when tight stays in order; bosses around their bearings sort themselves on the way.
        if (home[k + 1]! > home[k]!) expect(middle).toBeGreaterThan(middles[k]!);
      });
    }
  });
  test('the row stays centred where it stood', () => {
    const line = placed(stack, 1);
    const without = inAxleOrder(stack)
      .map((item, k) => ({ item, at: line[k]! }))
      .filter(({ item }) => item.role !== 'axle');
    const middle = (without[0]!.at.from + without.at(-1)!.at.to) / 2;
    expect(middle).toBeCloseTo((without[0]!.item.from_mm + without.at(-1)!.item.to_mm) / 2, 9);
  });
});
