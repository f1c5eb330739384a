/**
 * The build order of a bike: edges from geometry by amounts worked out by hand, the rule beyond the edges, every demo
 * model's plan step by step, makers’ orders, own orders, and variants.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  applyMistake,
  checkOrder,
  compareVariants,
  listMistakes,
  planOf,
  stepsInOrder,
  wordBecause,
  wordBlock,
  wordCost,
  wordCount,
  wordFault,
  wordTask,
  wordMeasure,
  wordMakersOrder,
  wordPlanStep,
  wordPlanTool,
  wordReason,
  wordRecommended,
  wordVariantOrder,
  type Analysis,
  type LinkageModel,
  type Plan,
  type Reason,
} from '../../shared/index.ts';
import { worksOf } from '../../shared/order/possible.ts';
import { demoModels, flippedModel, otherSide } from '../bench/models.ts';
import { rowOfBikes } from '../bench/order.ts';
import { jointWith, makersOrder, spacerOver, walledIn } from '../setup/bikes.ts';
import { placesAfter } from '../setup/motions.ts';
import { random } from '../setup/random.ts';
import { someOf } from '../setup/series.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const MODELS = demoModels();
const model = (id: string) => MODELS.find((candidate) => candidate.id === id)!;
/** Every demo build: models as written and each of their variants. */
const BUILDS = MODELS.flatMap((base) =>
  [undefined, ...(base.variants ?? []).map(({ id }) => id)].map((variant) => {
    const analysis = analysed(base, variant);
    return { name: `${base.id} ${variant ?? ''}`.trim(), analysis, plan: plannedOnce(analysis) };
  }),
);
const build = (name: string): Plan => BUILDS.find((candidate) => candidate.name === name)!.plan;

function reasonsOf(plan: Plan, before: string, after: string): readonly Reason[] {
  return plan.edges.find((edge) => edge.before === before && edge.after === after)?.reasons ?? [];
}
const find = (reasons: readonly Reason[], code: Reason['code']): Reason | undefined =>
  reasons.find((reason) => reason.code === code);

describe('room at the axle, worked out by hand', () => {
  const bare = jointWith([]);
  const item = (analysis: Analysis, id: string) =>
    analysis.pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;
  const [axle, nut] = [item(bare, 'axle'), item(bare, 'receiver')];

  test('a chainring reaches 6.4 mm into the way of the axle’s head, 30 mm across', () => {
    // Head radius 15: the ring's edge stands 8.6 mm from the axis.
    const plan = planOf(jointWith([spacerOver(15, 6.4, axle.from_mm - 60, axle.from_mm - 55)]));
    const reason = find(reasonsOf(plan, 'fit:main', 'chainset'), 'axle-path')!;
    expect(reason.numbers['cover_mm']!.value).toBeCloseTo(6.4, 9);
    expect(wordReason(reason, plan.analysis)).toContain('by 6.4 mm');
    // It goes in over its own length twice: as deep as it reaches, and before that in the open.
    const depth = Math.abs(axle.to_mm - -38);
    expect(reason.numbers['length_mm']!.value).toBeCloseTo(depth + (-38 - axle.from_mm), 1);
    expect(plan.tasks.findIndex(({ id }) => id === 'chainset')).toBeGreaterThan(
      plan.tasks.findIndex(({ id }) => id === 'fit:main'),
    );
    expect(plan.steps.find(({ because }) => because.some(({ reason: told }) => told.code === 'axle-path'))!.kind).toBe(
      'axle-home',
    );
  });

  test('a hair less than nothing covers nothing', () => {
    const plan = planOf(jointWith([spacerOver(15, -0.1, axle.from_mm - 60, axle.from_mm - 55)]));
    expect(find(reasonsOf(plan, 'fit:main', 'chainset'), 'axle-path')).toBeUndefined();
  });

  test('beyond the far end of the axle’s way it stands in none', () => {
    const plan = planOf(jointWith([spacerOver(15, 6.4, axle.from_mm - 300, axle.from_mm - 295)]));
    expect(reasonsOf(plan, 'fit:main', 'chainset')).toEqual([]);
  });

  test('on the other side it covers the nut’s place instead', () => {
    const plan = planOf(jointWith([spacerOver(15, 3, nut.to_mm + 10, nut.to_mm + 15)]));
    const reasons = reasonsOf(plan, 'fit:main', 'chainset');
    expect(find(reasons, 'axle-path')).toBeUndefined();
    expect(find(reasons, 'nut-path')!.numbers['cover_mm']!.value).toBeCloseTo(3, 9);
  });

  test('an 8 mm bit, 18 mm across, wants its cylinder before the head; the reason speaks of tightening', () => {
    const plan = planOf(jointWith([spacerOver(9, 2, axle.from_mm - 30, axle.from_mm - 25)]));
    const reason = find(reasonsOf(plan, 'tighten:main', 'chainset'), 'tool-room')!;
    expect(reason.numbers['cover_mm']!.value).toBeCloseTo(2, 9);
    expect(wordReason(reason, plan.analysis)).toContain('8 mm hex key that turns');
  });

  test('walls all round leave the handle no sweep: no order mends that', () => {
    const shut = planOf(jointWith([], walledIn(80, axle.from_mm - 200)));
    expect(shut.blocks.map(({ task, reason }) => [task, reason.code])).toContainEqual(['tighten:main', 'handle-room']);
    expect(wordBlock(shut.blocks[0]!, shut.analysis)).toContain('No order mends that');
    // The torque wrench is 230 mm to the end of its grip: walls 260 mm off leave it free.
    expect(planOf(jointWith([], walledIn(260, axle.from_mm - 200))).blocks).toEqual([]);
  });
});

describe('what no edge says', () => {
  test('with nothing on the bike that an axle joins there is nothing to hang it on', () => {
    const plan = build('holt-120');
    const ids = plan.tasks.map(({ id }) => id);
    const early = [
      'stand',
      ...ids.filter((id) => id.startsWith('inspect')),
      'fit:rocker-link',
      ...ids.filter((id) => id !== 'stand' && !id.startsWith('inspect') && id !== 'fit:rocker-link'),
    ];
    const fault = checkOrder(plan, early).faults.find(({ task }) => task === 'fit:rocker-link')!;
    expect(fault.reasons.map(({ reason }) => reason.code)).toContain('nothing-to-hang-on');
    expect(fault.blockedBy).toContain('fit:rocker-frame');
  });

  test('a tube that reaches 3 mm into both rocker plates lies there before they meet, and they meet along the axle', () => {
    const { steps } = build('holt-120');
    const at = steps.findIndex(({ kind, items }) => kind === 'set-spacer' && items[0] === 'rocker-link/tube');
    const plates = steps.flatMap(({ kind, units }, k) =>
      kind === 'offer-member' && units.some((unit) => unit.startsWith('rocker-')) ? [k] : [],
    );
    expect(plates).toHaveLength(2);
    expect(at).toBeGreaterThan(plates[0]!);
    expect(at).toBeLessThan(plates[1]!);
    expect(steps[plates[1]!]!.approach?.how).toBe('axle');
  });
});

describe.each(BUILDS)('$name', ({ analysis, plan }) => {
  test('its order is possible, known to be the best, and nothing blocks it', () => {
    expect(plan.stuck).toEqual([]);
    expect(plan.blocks).toEqual([]);
    expect(plan.cycle).toBeUndefined();
    expect(plan.isBest).toBe(true);
    const check = checkOrder(
      plan,
      plan.tasks.map(({ id }) => id),
    );
    expect(check.faults).toEqual([]);
    expect(check.missing).toEqual([]);
    expect(check.cost).toEqual(plan.cost);
    expect(plan.orders.isExact).toBe(true);
  });

  test('it is the same every time', () => {
    const again = planOf(
      analyse(
        MODELS.find(({ id }) => id === analysis.model.id)!,
        analysis.variant === undefined ? {} : { variant: analysis.variant },
      ),
    );
    expect(JSON.stringify({ ...again, analysis: 0 })).toBe(JSON.stringify({ ...plan, analysis: 0 }));
  });

  test('its maker’s order is possible, and costs no less than the recommended one', () => {
    expect(plan.makersOrder!.conflicts).toEqual([]);
    expect(plan.makersOrder!.cycle).toBeUndefined();
    expect(checkOrder(plan, plan.makersOrder!.tasks).faults).toEqual([]);
    const fits = plan.makersOrder!.tasks.flatMap((id) => (id.startsWith('fit:') ? [id.slice(4)] : []));
    expect(fits).toEqual(plan.makersOrder!.stacks);
    expect(plan.makersOrder!.cost!.total).toBeGreaterThanOrEqual(plan.cost.total);
  });

  test('everything is on the bike at the end, tight at its place, and came once', () => {
    for (const [id, place] of placesAfter(plan, plan.steps.length))
      expect(place, id).toEqual({ offset_mm: 0, on: true });
    const comes = plan.steps
      .filter(({ kind }) => kind === 'offer-member' || kind === 'shock')
      .flatMap(({ units }) => units);
    expect(new Set(comes).size).toBe(comes.length);
    const set = plan.steps.filter(({ kind }) => kind === 'set-spacer').flatMap(({ items }) => items);
    const rings = analysis.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ items }) => items.filter(({ role, seat }) => role === 'spacer' && !seat).map(({ id }) => id)),
    );
    expect([...set].sort()).toEqual(rings.sort());
    const pressed = plan.steps.filter(({ kind }) => kind === 'press-bearing').flatMap(({ items }) => items);
    const bearings = analysis.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ items }) => items.filter(({ role }) => role === 'bearing').map(({ id }) => id)),
    );
    expect([...pressed].sort()).toEqual(bearings.sort());
    const snapped = plan.steps.filter(({ kind }) => kind === 'set-circlip').flatMap(({ items }) => items);
    const clips = analysis.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ items }) => items.filter(({ role, seat }) => role === 'spacer' && seat).map(({ id }) => id)),
    );
    expect([...snapped].sort()).toEqual(clips.sort());
  });

  test('nothing that is on goes off again, and what a step shows is what was there with its own change', () => {
    let on: readonly string[] = [];
    const seen = new Map<string, boolean>();
    for (const step of plan.steps) {
      expect(
        on.every((id) => step.on.includes(id)),
        step.id,
      ).toBe(true);
      on = step.on;
      if (step.atBench) continue;
      for (const [id, place] of Object.entries(step.places)) {
        if (seen.get(id) === true) expect(place.on, `${step.id} ${id}`).toBe(true);
        seen.set(id, place.on);
      }
    }
  });

  test('the axle goes in without turning back, a thread is locked before it is started, a torque is checked at once', () => {
    for (const stack of analysis.pivots.flatMap(({ stacks }) => stacks)) {
      const fit = plan.steps.filter(({ taskId }) => taskId === `fit:${stack.id}`);
      const depths = fit.flatMap(({ depth_mm }) => depth_mm ?? []);
      depths.forEach((depth, k) => expect(depth).toBeGreaterThanOrEqual(depths[k - 1] ?? 0));
      const kinds = fit.map(({ kind }) => kind);
      const locked = plan.steps.filter(({ stackId, kind }) => stackId === stack.id && kind === 'threadlock');
      const isLocked =
        analysis.model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stack.id)!.thread_treatment ===
        'threadlocked';
      expect(locked).toHaveLength(isLocked ? 1 : 0);
      expect(kinds.at(-1)).toBe('start-receiver');
      const tight = plan.steps.filter(({ stackId, taskId }) => stackId === stack.id && taskId.startsWith('tighten:'));
      const checks = plan.steps.filter(
        ({ kind, stackId, together }) =>
          kind === 'free-check' && (stackId === stack.id || together?.includes(stack.id) === true),
      );
      expect(checks).toHaveLength(1);
      expect(tight.map(({ kind }) => kind).filter((kind) => kind !== 'free-check')).toEqual(
        checks[0]!.together ? ['hold-turn', 'half-torque', 'torque'] : ['hold-turn', 'torque'],
      );
      const torque = tight.find(({ kind }) => kind === 'torque')!;
      expect(plan.steps.indexOf(checks[0]!)).toBeGreaterThan(plan.steps.indexOf(torque));
      expect(torque.torque_Nm).toBe(stack.tightening.torque_Nm);
      expect(torque.side).toBe(stack.tightening.stand);
      expect(torque.tools.filter((tool) => tool.kind === 'drive' && tool.isTorque)).toHaveLength(1);
    }
  });

  test('an axle never starts before what it goes through is there', () => {
    for (const stack of analysis.pivots.flatMap(({ stacks }) => stacks)) {
      const start = plan.steps.find(({ taskId, kind }) => taskId === `fit:${stack.id}` && kind === 'start-receiver')!;
      for (const [id, place] of Object.entries(start.places)) expect(place.on, id).toBe(true);
    }
  });

  test('each step’s words are whole, and so are the reasons’', () => {
    for (const step of plan.steps) {
      const { title, text } = wordPlanStep(step, analysis);
      const words = [
        title,
        text,
        ...step.because.map((one) => wordBecause(one, analysis)),
        ...step.tools.map((tool) => wordPlanTool(tool, analysis)),
      ];
      for (const sentence of words) {
        expect(sentence.length, step.id).toBeGreaterThan(2);
        expect(sentence, step.id).not.toMatch(/undefined|NaN|Infinity|\[object|the the|\s{2}|“”|\.\.|Axle axle/);
      }
    }
    for (const task of plan.tasks) expect(wordTask(task.id, analysis)).not.toBe(task.id);
    expect(wordRecommended(plan)).toContain(wordCost(plan.cost));
    if (plan.orders.isExact)
      expect(wordCount(plan.orders).replaceAll(' ', '')).toContain(
        plan.orders.orders === '1' ? 'only' : plan.orders.orders,
      );
  });

  test('every direct edge is needed, and the others follow from them', () => {
    const direct = plan.edges.filter(({ isDirect }) => isDirect);
    const after = new Map<string, string[]>();
    for (const edge of direct) after.set(edge.before, [...(after.get(edge.before) ?? []), edge.after]);
    const reaches = (from: string, to: string, but?: string): boolean =>
      (after.get(from) ?? []).some((next) => (next === to ? !(from === but) : reaches(next, to)));
    for (const { before, after: then, isDirect } of plan.edges) {
      if (isDirect)
        expect(
          (after.get(before) ?? []).filter((next) => next !== then).some((next) => reaches(next, then)),
          `${before} ${then}`,
        ).toBe(false);
      else expect(reaches(before, then), `${before} ${then}`).toBe(true);
    }
  });
});

describe('a possible order is never cheaper', () => {
  test.each(BUILDS)('$name: 40 seeded possible orders', ({ plan }) => {
    const works = worksOf(plan.analysis);
    const draw = random(77);
    let whole = 0;
    for (let turn = 0; turn < 400 && whole < 40; turn++) {
      const done = new Set<number>();
      while (done.size < works.tasks.length) {
        const open = works.tasks.flatMap((_, node) =>
          !done.has(node) &&
          works.edges.every(({ before, after }) => works.at.get(after) !== node || done.has(works.at.get(before)!)) &&
          works.mayGo(node, (other) => done.has(other))
            ? [node]
            : [],
        );
        // A possible start may run into an end from which nothing goes on: a ring shut out for good.
        if (open.length === 0) break;
        done.add(draw.pick(open));
      }
      if (done.size < works.tasks.length) continue;
      whole++;
      const check = checkOrder(
        plan,
        [...done].map((node) => works.tasks[node]!.id),
      );
      expect(check.faults).toEqual([]);
      expect(check.cost.total).toBeGreaterThanOrEqual(plan.cost.total);
    }
    expect(whole).toBe(40);
  });
});

describe('seen from the other side', () => {
  test.each(MODELS)(
    '$id turned about its upright axis has the same tasks, edges and numbers, sides swapped',
    (base) => {
      const [one, other] = [planOf(analyse(base)), planOf(analyse(flippedModel(base)))];
      const key = (plan: Plan) =>
        plan.edges
          .map(
            ({ before, after, reasons }) =>
              `${before} ${after} ${reasons
                .map(
                  ({ code, numbers }) =>
                    `${code} ${Object.values(numbers)
                      .map(({ value }) => value.toFixed(3))
                      .join()}`,
                )
                .sort()
                .join(' ')}`,
          )
          .sort();
      expect(key(other)).toEqual(key(one));
      expect(other.cost.total).toBe(one.cost.total);
      expect(other.orders).toEqual(one.orders);
      const sides = (plan: Plan) => new Map(plan.tasks.map(({ id, side }) => [id, side]));
      for (const [id, side] of sides(one))
        expect(sides(other).get(id), id).toBe(side === 'drive' || side === 'non-drive' ? otherSide(side) : side);
    },
  );
});

describe('a maker’s order', () => {
  test('that puts the shock in before the main pivot runs into itself: the cycle is named link by link', () => {
    const base = model('holt-120');
    const first = ['shock-frame', 'main'];
    const analysis = analyse(makersOrder(base, [...first, ...base.order!.filter((id) => !first.includes(id))]));
    const plan = planOf(analysis);
    // The plan itself heeds no pin.
    expect(plan.stuck).toEqual([]);
    const { cycle } = plan.makersOrder!;
    expect(cycle!.map(({ task, isPin }) => `${task}${isPin ? ' (maker)' : ''}`)).toEqual([
      'fit:shock-frame (maker)',
      'fit:main',
      'tighten:main',
    ]);
    const { title, lines } = wordMakersOrder(plan.makersOrder!, plan.analysis);
    expect(title).toContain('cannot be kept');
    expect(lines[0]).toMatch(/shock to frame.*comes before.*main.*the maker gives it so/i);
  });

  test('that hangs the links on nothing is told what they wait for', () => {
    const base = model('holt-120');
    const order = ['rocker-link', ...base.order!.filter((id) => id !== 'rocker-link')];
    const plan = planOf(analyse(makersOrder(base, order)));
    expect(plan.makersOrder!.cycle).toBeUndefined();
    expect(plan.makersOrder!.tasks).toEqual([]);
    const fault = plan.makersOrder!.conflicts.find(({ task }) => task === 'fit:rocker-link')!;
    expect(fault.reasons.map(({ reason }) => reason.code)).toEqual(['nothing-to-hang-on']);
    expect(wordMakersOrder(plan.makersOrder!, plan.analysis).lines.join()).toMatch(
      /nothing that “rocker to link” joins is on the bike/i,
    );
  });

  test('that is missing is not compared', () => {
    const { order: _, ...rest } = model('holt-120');
    expect(planOf(analyse(rest)).makersOrder).toBeUndefined();
  });
});

describe('an order of one’s own', () => {
  const plan = build('fjordside-150');
  const ids = plan.tasks.map(({ id }) => id);
  const moved = (id: string, to: number): string[] => {
    const rest = ids.filter((other) => other !== id);
    return [...rest.slice(0, to), id, ...rest.slice(to)];
  };

  test('the chainset before the main axle is told by how much it covers', () => {
    const order = moved('chainset', ids.indexOf('fit:main'));
    const { faults } = checkOrder(plan, order);
    const fault = faults.find(({ task }) => task === 'chainset')!;
    expect(fault.blockedBy).toEqual(expect.arrayContaining(['fit:main', 'tighten:main']));
    // By hand: the ring's edge beyond that of the axle's screw, whose head is turned on the drive side.
    const { model: own } = plan.analysis;
    const ring = own.obstacles!.find(({ id }) => id === 'chainring')!;
    const pivot = own.pivots.find(({ id }) => id === 'main')!;
    const screw = own.parts[pivot.stacks[0]!.receiver!]!;
    if (screw.kind !== 'screw') throw new Error('test: the main axle has no screw');
    const apart = Math.hypot(ring.x_mm - pivot.x_mm, ring.y_mm - pivot.y_mm);
    const cover = ring.radius_mm + screw.head!.diameter_mm / 2 - apart;
    expect(cover).toBeGreaterThan(1);
    expect(wordFault(fault, plan.analysis).text).toContain(`by ${wordMeasure({ value: cover, unit: 'mm' })}`);
    // Nearest: right after the last of what it waits for.
    expect(fault.nearestPossibleIndex).toBe(order.filter((id) => id !== 'chainset').indexOf('tighten:main') + 1);
  });

  test('unknown, doubled and missing tasks are named', () => {
    const check = checkOrder(plan, ['stand', 'stand', 'nonsense']);
    expect(check.unknown).toEqual(['stand', 'nonsense']);
    expect(check.missing).toHaveLength(ids.length - 1);
  });

  test.each(Array.from({ length: 25 }, (_, k) => k + 1))(
    'seed %i: faults are those an independent check finds, and the nearest possible place is the nearest',
    (seed) => {
      const draw = random(500 + seed);
      const works = worksOf(plan.analysis);
      let order = [...ids];
      for (let times = draw.whole(1, 6); times > 0; times--) {
        const id = draw.pick(order);
        const rest = order.filter((other) => other !== id);
        const to = draw.whole(0, rest.length);
        order = [...rest.slice(0, to), id, ...rest.slice(to)];
      }
      const isFaulty = (list: readonly string[], id: string): boolean => {
        const before = new Set(list.slice(0, list.indexOf(id)));
        return (
          plan.edges.some((edge) => edge.after === id && !before.has(edge.before)) ||
          !works.mayGo(works.at.get(id)!, (node) => before.has(works.tasks[node]!.id))
        );
      };
      const { faults } = checkOrder(plan, order);
      expect(faults.map(({ task }) => task)).toEqual(order.filter((id) => isFaulty(order, id)));
      for (const { task, nearestPossibleIndex, blockedBy } of faults) {
        expect(blockedBy.length, task).toBeGreaterThan(0);
        const rest = order.filter((id) => id !== task);
        const placed = (to: number): string[] => [...rest.slice(0, to), task, ...rest.slice(to)];
        const isPossible = (to: number): boolean =>
          !isFaulty(placed(to), task) &&
          plan.edges.every((edge) => edge.before !== task || placed(to).indexOf(edge.after) > to);
        const possible = Array.from({ length: rest.length + 1 }, (_, to) => to).filter(isPossible);
        if (possible.length > 0) {
          expect(possible).toContain(nearestPossibleIndex);
          const away = (to: number): number => Math.abs(to - order.indexOf(task));
          expect(away(nearestPossibleIndex!)).toBe(Math.min(...possible.map(away)));
        } else if (nearestPossibleIndex !== undefined) expect(isFaulty(placed(nearestPossibleIndex), task)).toBe(false);
      }
    },
  );

  test('that is possible has steps of its own, and they end with everything on', () => {
    const { tasks } = plan.makersOrder!;
    const steps = stepsInOrder(plan, tasks);
    expect([...new Set(steps.map(({ taskId }) => taskId))]).toEqual(tasks);
    for (const [id, place] of placesAfter({ ...plan, steps }, steps.length))
      expect(place, id).toEqual({ offset_mm: 0, on: true });
  });
});

describe('variants', () => {
  test('the axle from the other side: its tasks are done from other sides, and its place in the order moves', () => {
    // The row of the lower shock eye is the same from either side: its axle may go in from the other one.
    const skarn = model('skarn-140');
    const axle = skarn.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === 'shock-frame')!;
    const turned = { from: otherSide(axle.from), notes: ['Axle from the other side; the row does not change.'] };
    const given: LinkageModel = {
      ...skarn,
      variants: [
        {
          id: 'turned',
          name: 'Axle turned round',
          why: 'The head stands on the other side.',
          stacks: { 'shock-frame': turned },
        },
      ],
    };
    const [base, variant] = compareVariants(given);
    expect(base!.variant).toBeUndefined();
    expect(variant!.variant).toBe('turned');
    expect(variant!.changed.map(({ task }) => task)).toEqual(['fit:shock-frame', 'tighten:shock-frame']);
    expect(variant!.changed.every(({ what }) => what.includes('side'))).toBe(true);
    const places = (list: readonly string[]): string[] => list.filter((id) => !variant!.moved.includes(id));
    expect(places(variant!.plan.tasks.map(({ id }) => id))).toEqual(places(base!.plan.tasks.map(({ id }) => id)));
    expect(wordVariantOrder(variant!, base!.plan.analysis).lines.join()).toMatch(
      /lower shock eye to frame: tighten and check: from another side/i,
    );
  });

  test('a larger nut: that axle is tightened with other tools, and the order stays', () => {
    const [base, variant] = compareVariants(model('fjordside-150'));
    expect(variant!.variant).toBe('second-series');
    expect(variant!.changed).toEqual([{ task: 'tighten:seatstay-rocker', what: ['tools'] }]);
    expect(variant!.moved).toEqual([]);
    expect(wordVariantOrder(variant!, base!.plan.analysis).lines.join()).toMatch(
      /seatstay to rocker: tighten and check: with other tools/i,
    );
  });
});

describe('a build with a mistake in it', () => {
  test.each(MODELS)('$id: is planned all the same, and what then has no room is named', (base) => {
    const mistaken = someOf(
      base.pivots.flatMap(({ id }) => listMistakes(base, id)),
      151,
    );
    expect(mistaken.length).toBeGreaterThan(0);
    for (const mistake of mistaken) {
      const analysis = analyse(applyMistake(base, mistake));
      const plan = planOf(analysis);
      expect(plan.steps.length, mistake.id).toBeGreaterThan(0);
      expect(plan.stuck, mistake.id).toEqual([]);
      for (const step of plan.steps)
        expect(Object.values(wordPlanStep(step, analysis)).join(' '), mistake.id).not.toMatch(/undefined|NaN/);
      for (const block of plan.blocks) expect(wordBlock(block, analysis)).toMatch(/covers|reaches|leaves/);
    }
  });

  test('a linkage without a frame is built on its first member', () => {
    const rig = model('class-rig');
    const loose: LinkageModel = {
      ...rig,
      members: { ...rig.members, post: { ...rig.members['post']!, kind: 'link' } },
    };
    const plan = planOf(analyse(loose));
    expect(plan.stuck).toEqual([]);
    expect(plan.steps.filter(({ kind }) => kind === 'offer-member')).toHaveLength(1);
  });
});

describe('a large bike', () => {
  // Twelve bikes' axles in one row: more tasks than are searched whole.
  const base = model('holt-120');
  const plan = planOf(analyse(rowOfBikes(base, 12)));

  test('a count that is not exact says what it lies between', () => {
    expect(wordCount({ isExact: false, atLeast: '12', atMost: '3456' })).toMatch(/At least 12 .*bounds, not a count/);
  });

  test('gets a possible order that is not said to be the best', () => {
    expect(plan.tasks.length).toBeGreaterThan(160);
    expect(plan.isBest).toBe(false);
    expect(plan.stuck).toEqual([]);
    expect(
      checkOrder(
        plan,
        plan.tasks.map(({ id }) => id),
      ).faults,
    ).toEqual([]);
    expect(wordRecommended(plan)).toMatch(/no proof: every order takes at least \d+ changes\./);
    expect(plan.leastChanges).toBeGreaterThan(0);
    expect(plan.leastChanges).toBeLessThanOrEqual(plan.cost.sideChanges + plan.cost.toolChanges);
  });

  test('has the edges of its bikes, each by itself, and their orders merged in every way', () => {
    const alone = planOf(analyse(rowOfBikes(base, 1)));
    if (!alone.orders.isExact) throw new Error('test: the count of one bike is not exact');
    const atBike = alone.tasks.filter(({ kind }) => kind === 'fit' || kind === 'tighten').length;
    const factorial = (n: number): bigint => (n < 2 ? 1n : BigInt(n) * factorial(n - 1));
    const merged = factorial(12 * atBike) / factorial(atBike) ** 12n;
    expect(plan.orders).toEqual({ isExact: true, orders: String(merged * BigInt(alone.orders.orders) ** 12n) });
    const edgesOf = (own: Plan, copy: string) =>
      own.edges
        .filter(({ before, after }) => before.endsWith(copy) && after.endsWith(copy))
        .map(({ before, after }) => `${before} ${after}`.replaceAll(copy, ''))
        .sort();
    for (const copy of ['-0', '-7']) expect(edgesOf(plan, copy)).toEqual(edgesOf(alone, '-0'));
  });
});
