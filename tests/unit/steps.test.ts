/**
 * One plan, many views: every list of steps there is (a pivot's, taking apart, the torque list, the sheet, the
 * commands) has the same steps in the same order, ours and the maker's. And the steps themselves: nothing is forgotten,
 * nothing goes through anything, everything ends where the tight joint holds it.
 */
import { afterEach, describe, expect, test, vi } from 'vitest';
import {
  analyse,
  applyVariant,
  ORDER_LIMITS,
  planOf,
  stripOf,
  torqueList,
  type Analysis,
  type Plan,
  type PlanStep,
  type StackAnalysis,
} from '../../shared/index.ts';
import type { Command, Options } from '../../src/commands/command.ts';
import { orderCommand } from '../../src/commands/order.ts';
import { torqueCommand } from '../../src/commands/torque.ts';
import { taskRows } from '../../src/build/orderRun.ts';
import { planCame, runIn } from '../../src/build/planned.ts';
import { demoModels, flippedModel, withStacks } from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { placesAfter } from '../setup/motions.ts';
import { jointWith, spacerOver, walledIn } from '../setup/bikes.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';
import { LONG } from '../setup/series.ts';

const models = [
  referenceModel(),
  ...demoModels(),
  ...demoModels().map(flippedModel),
  ...demoModels().flatMap((model) => (model.variants ?? []).map((variant) => applyVariant(model, variant))),
];
const bikes = [
  jointWith([spacerOver(15, 6.4, -100, -95)]),
  jointWith([spacerOver(15, 3, 60, 65)]),
  jointWith([], walledIn(80, -250)),
];
const analyses = [...models.map((model) => analysed(model)), ...bikes];
const plans = analyses.map((analysis) => plannedOnce(analysis));
const stacks = analyses.flatMap((analysis, k) =>
  analysis.pivots.flatMap((pivot) =>
    pivot.stacks.map((stack) => [`${k} ${analysis.model.id} ${stack.id}`, stack, plans[k]!] as const),
  ),
);

const itemOf = (stack: StackAnalysis, id: string) => stack.items.find((item) => item.id === id)!;
const isReceiverMember = (stack: StackAnalysis): boolean => itemOf(stack, `${stack.id}/receiver`).role === 'boss';
/** + for an axle that goes in toward the drive side. */
const way = (stack: StackAnalysis): 1 | -1 => (stack.from === 'non-drive' ? 1 : -1);
/** How far along the way in a step leaves the axle's tip, mm of z times the way. */
const tipAfter = (stack: StackAnalysis, step: PlanStep): number => {
  const axle = itemOf(stack, `${stack.id}/axle`);
  return way(stack) * ((way(stack) > 0 ? axle.to_mm : axle.from_mm) + step.places[axle.id]!.offset_mm);
};
afterEach(() => vi.restoreAllMocks());

/** What a command prints. */
function printed(command: Command, model: Plan['analysis']['model'], options: Options): string {
  let out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  command.run(model, options, []);
  vi.restoreAllMocks();
  return out;
}

const ids = (steps: readonly { readonly id: string }[]): string[] => steps.map(({ id }) => id);

describe.each(analyses.map((analysis, k) => [`${k} ${analysis.model.id}`, analysis, plans[k]!, k] as const))(
  'the views of %s',
  (_, analysis, ours, nth) => {
    const makers = planOf(analysis, { follow: 'makers' });

    test('the maker’s order is followed where it is given and possible, and is ours where it is not', () => {
      const { makersOrder } = ours;
      expect(makers.follows).toBe(makersOrder?.cost ? 'makers' : 'ours');
      expect(ids(makers.tasks)).toEqual(makersOrder?.cost ? makersOrder.tasks : ids(ours.tasks));
      if (makersOrder?.cost)
        expect(makers.tasks.flatMap(({ kind, stackId }) => (kind === 'fit' ? [stackId] : []))).toEqual(
          makersOrder.stacks,
        );
      expect(ids(makers.tasks).sort()).toEqual(ids(ours.tasks).sort());
    });

    test.each([
      ['ours', ours],
      ['the maker’s', makers],
    ] as const)('%s: all have the same steps in the same order', (_name, plan) => {
      const strip = stripOf(plan);
      const planned = planCame({ plan, strip });
      const build = runIn(planned, undefined, 'build');
      expect(build.steps.map(({ step }) => step)).toEqual(plan.steps);
      // A pivot's are the plan's with the others left out.
      for (const { id } of analysis.pivots) {
        const own = runIn(planned, id, 'build').steps;
        expect(ids(own)).toEqual(ids(plan.steps.filter(({ pivotId }) => pivotId === id)));
        const back = runIn(planned, id, 'strip').steps.flatMap(({ strip: taken }) => taken?.undoes ?? []);
        expect(back).toEqual(
          strip.steps.flatMap(({ undoes, step }) => (undoes !== undefined && step.pivotId === id ? [undoes] : [])),
        );
      }
      const shares = analysis.pivots.reduce((sum, { id }) => sum + runIn(planned, id, 'build').steps.length, 0);
      expect(shares + plan.steps.filter(({ pivotId }) => pivotId === undefined).length).toBe(plan.steps.length);
      // Taking apart goes back through them.
      const undone = strip.steps.flatMap(({ undoes }) => undoes ?? []);
      expect(undone).toEqual(ids([...plan.steps].reverse().filter(({ id }) => undone.includes(id))));
      expect(new Set(undone).size).toBe(undone.length);
      // The torque list pulls tight in their order.
      expect(torqueList(plan).map(({ stackId }) => stackId)).toEqual(
        plan.steps.flatMap(({ kind, stackId }) => (kind === 'torque' ? [stackId] : [])),
      );
      // The sheet's rows are the tasks with their steps.
      const rows = taskRows(build, plan);
      expect(rows.map(({ id }) => id)).toEqual(ids(plan.tasks));
      expect(rows.flatMap(({ from, to }) => ids(build.steps.slice(from - 1, to)))).toEqual(ids(plan.steps));
      expect(plan.tasks.flatMap(({ steps }) => steps)).toEqual(ids(plan.steps));
    });

    // A command line works the whole model out three times.
    test.runIf(LONG !== undefined || nth % 3 === 0)('the commands print them', () => {
      for (const plan of makers.follows === 'makers' ? [ours, makers] : [ours]) {
        const options: Options = { json: true, ...(plan.follows === 'makers' ? { makers: true } : {}) };
        const order = JSON.parse(printed(orderCommand, analysis.model, options)) as Plan;
        expect(ids(order.steps)).toEqual(ids(plan.steps));
        const strip = JSON.parse(printed(orderCommand, analysis.model, { ...options, strip: true })) as Plan;
        expect(ids(strip.steps)).toEqual(ids(stripOf(plan).steps));
        const { list } = JSON.parse(printed(torqueCommand, analysis.model, options)) as {
          list: { stackId: string }[];
        };
        expect(list.map(({ stackId }) => stackId)).toEqual(torqueList(plan).map(({ stackId }) => stackId));
      }
    });

    test('every member but the frame is brought once, and at the end all is on and home', () => {
      const offered = ours.steps.flatMap(({ kind, members }) =>
        kind === 'offer-member' || kind === 'shock' ? members : [],
      );
      expect(new Set(offered).size).toBe(offered.length);
      const inRows = analysis.pivots.flatMap((pivot) =>
        pivot.stacks.flatMap((stack) => stack.items.flatMap((item) => item.member ?? [])),
      );
      for (const member of new Set(inRows))
        expect(offered.includes(member), member).toBe(analysis.model.members[member]!.kind !== 'frame');
      for (const [id, { on, offset_mm }] of placesAfter(ours, ours.steps.length))
        expect({ id, on, offset_mm: Math.abs(offset_mm) }).toEqual({ id, on: true, offset_mm: 0 });
    });
  },
);

describe.each(stacks)('steps of %s', (_, stack, plan) => {
  const own = plan.steps.filter(({ stackId }) => stackId === stack.id);
  const fit = own.filter(({ taskId }) => taskId === `fit:${stack.id}`);

  test('know the place of every item after each', () => {
    for (const step of own) {
      expect(Object.keys(step.places).sort()).toEqual(stack.items.map(({ id }) => id).sort());
      expect(step.items.every((id) => id in step.places)).toBe(true);
      expect(step.pivotId).toBe(stack.pivotId);
    }
    expect(new Set(ids(own)).size).toBe(own.length);
  });

  test('go one way: nothing that is on the bike comes off again', () => {
    const onBike = own.filter(({ atBench }) => !atBench);
    onBike.slice(1).forEach((step, k) => {
      for (const [id, place] of Object.entries(onBike[k]!.places))
        if (place.on) expect(step.places[id]!.on, id).toBe(true);
    });
  });

  test('set every loose spacer once, before the axle’s tip reaches it', () => {
    const set = own.filter(({ kind }) => kind === 'set-spacer' || kind === 'set-circlip');
    for (const { id } of stack.items.filter(({ role }) => role === 'spacer'))
      expect(set.flatMap(({ items }) => items).filter((known) => known === id).length, id).toBe(1);
    for (const step of set) {
      // One laid into a bore at the bench comes with its member.
      if (step.heldBy === 'axle' || step.atBench || !step.places[`${stack.id}/axle`]!.on) continue;
      const ring = itemOf(stack, step.items[0]!);
      const near = way(stack) * (way(stack) > 0 ? ring.from_mm : ring.to_mm);
      expect(tipAfter(stack, step), ring.id).toBeLessThanOrEqual(near + 1e-9);
    }
  });

  test('leave only the axle, what it carries and the receiver away from their places, each on its own side', () => {
    for (const step of own) {
      for (const [id, place] of Object.entries(step.places)) {
        if (!place.on || Math.abs(place.offset_mm) < 1e-9) continue;
        const item = itemOf(stack, id);
        expect(item.role === 'axle' || item.role === 'receiver' || item.role === 'spacer', id).toBe(true);
        const outward = item.role === 'receiver' ? way(stack) : -way(stack);
        expect(Math.sign(place.offset_mm), id).toBe(outward);
        if (item.role === 'spacer') expect(place.offset_mm).toBe(step.places[`${stack.id}/axle`]!.offset_mm);
      }
    }
  });

  test('take the wrench to the side the torque card names', () => {
    const torque = own.find(({ kind }) => kind === 'torque')!;
    expect(torque.side).toBe(stack.tightening.stand);
    const turned = stack.tightening.turned === 'receiver' ? 'receiver' : 'axle';
    expect(torque.items).toEqual([`${stack.id}/${turned}`]);
  });

  test('start the thread two turns by hand, the rest is still to run', () => {
    expect(ORDER_LIMITS.startedTurns.value).toBe(2);
    const start = fit.at(-1)!;
    const moving = isReceiverMember(stack) ? `${stack.id}/axle` : `${stack.id}/receiver`;
    const thread = itemOf(stack, `${stack.id}/axle`).thread!;
    expect([start.kind, start.items]).toEqual(['start-receiver', [moving]]);
    expect(Math.abs(start.places[moving]!.offset_mm)).toBeCloseTo(
      Math.max(0, stack.tightening.engagement_mm - 2 * thread.pitch_mm),
      9,
    );
  });

  test('stop the axle one millimetre short of what it is about to enter', () => {
    for (const [k, step] of fit.entries()) {
      const next = fit[k + 1];
      if (step.kind !== 'push-axle' || next === undefined || next.atBench) continue;
      const entered = (next.kind === 'set-spacer' || next.kind === 'start-receiver' ? next.items : []).flatMap((id) => {
        const item = itemOf(stack, id);
        return item.role === 'spacer' ? [way(stack) * (way(stack) > 0 ? item.from_mm : item.to_mm)] : [];
      });
      // Depths are read to the tenth.
      for (const near of entered) expect(Math.abs(near - tipAfter(stack, step) - 1), step.id).toBeLessThan(0.05 + 1e-9);
    }
  });
});

test('grease holds a greased spacer, a fingertip the other', () => {
  const model = referenceModel();
  const dry = withStacks(model, (stack) => ({
    ...stack,
    row: stack.row.map(({ greased: _greased, ...entry }) => entry),
  }));
  const held = (analysis: Analysis): unknown[] =>
    planOf(analysis).steps.flatMap(({ kind, taskId, heldBy, greased }) =>
      kind === 'set-spacer' && taskId.startsWith('fit') ? [[heldBy, greased]] : [],
    );
  expect(held(analyse(model))).toEqual([
    ['grease', true],
    ['grease', true],
  ]);
  expect(held(analyse(dry))).toEqual([
    ['fingertip', false],
    ['fingertip', false],
  ]);
});
