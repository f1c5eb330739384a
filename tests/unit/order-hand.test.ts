/**
 * What a hand can do and must not: every step of every demo build and of generated bikes, walked one by one.
 *
 * Threadlocker goes where its thread is still open; heat stays away from shock and carbon; a free check has its ends
 * told; what is laid out is what is set after it; no mark stands on a clamped face or where both ways are right; what
 * must be held is held, building and taking apart; bolts of one axis go up together; and the words say so, in sentences
 * that a mechanic can read out.
 */
import { describe, expect, test } from 'vitest';
import {
  accessOf,
  applyVariant,
  stepsInOrder,
  stripOf,
  wordBecause,
  wordPlanStep,
  wordStripStep,
  type Analysis,
  type LinkageModel,
  type Plan,
  type PlanStep,
  type StackAnalysis,
} from '../../shared/index.ts';
import { worksOf } from '../../shared/order/possible.ts';
import { demoModels, flippedModel } from '../bench/models.ts';
import { rowOfBikes } from '../bench/order.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { jointWith, spacerOver } from '../setup/bikes.ts';
import { random } from '../setup/random.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const LOCKED = { 'pivots[0].stacks[0].thread_treatment': 'threadlocked' };

const models: readonly LinkageModel[] = [
  ...demoModels(),
  ...demoModels().map(flippedModel),
  ...demoModels().flatMap((model) => (model.variants ?? []).map((variant) => applyVariant(model, variant))),
  patched(referenceModel(), { set: { ...LOCKED, 'members.rocker.material': 'carbon-laminate' } }),
  patched(referenceModel(), { set: LOCKED }),
  rowOfBikes(demoModels()[0]!, 2),
];
const analyses: readonly Analysis[] = [
  ...models.map((model) => analysed(model)),
  jointWith([spacerOver(15, 6.4, -100, -95)]),
];
const builds = analyses.map((analysis, k) => ({
  name: `${k} ${analysis.model.id}`,
  analysis,
  plan: plannedOnce(analysis),
}));

const stackOf = ({ analysis }: Plan, id: string): StackAnalysis =>
  analysis.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id)!;
const itemOf = (plan: Plan, id: string) => stackOf(plan, id.split('/')[0]!).items.find((item) => item.id === id)!;
const unitOf = ({ analysis: { model } }: Plan, member: string): string =>
  model.shock && member === model.shock.shaft ? model.shock.body : member;

/** Faults of a row of steps against the rule of the open thread: what is locked, and what stands before it by then. */
function shutThreads(plan: Plan, steps: readonly PlanStep[]): string[] {
  return steps.flatMap((step, k) => {
    if (step.kind !== 'threadlock') return [];
    const item = itemOf(plan, step.items[0]!);
    const stack = stackOf(plan, step.stackId!);
    const before = steps[k - 1]?.on ?? [];
    if (item.role === 'boss') {
      const holder = unitOf(plan, item.member!);
      const others = stack.items.flatMap(({ member }) =>
        member === undefined || unitOf(plan, member) === holder ? [] : [unitOf(plan, member)],
      );
      // In the hand nothing is before it.
      return before.includes(holder) && others.some((unit) => before.includes(unit)) ? [`${step.id}: shut`] : [];
    }
    if (item.role === 'receiver') return step.places[item.id]!.on ? [`${step.id}: on already`] : [];
    // The axle's own thread stands free at the far end, or the axle is in the hand.
    const place = step.places[item.id]!;
    if (step.atBench) return [];
    return place.on && place.offset_mm === 0 && !step.places[`${stack.id}/receiver`]!.on ? [] : [`${step.id}: inside`];
  });
}

/** Bolts that are felt together, against the rule: all seated, all half tight, all tight, felt. */
function pairFaults(steps: readonly PlanStep[], check: PlanStep): string[] {
  const places = (kind: PlanStep['kind']): number[] =>
    check.together!.map((id) => steps.findIndex((step) => step.kind === kind && step.stackId === id));
  const [seated, half, tight] = [places('hold-turn'), places('half-torque'), places('torque')];
  return [
    ...(Math.min(...seated) < 0 || Math.max(...seated) > Math.min(...half) ? ['half tight before all are seated'] : []),
    ...(Math.max(...half) > Math.min(...tight) ? ['tight before all are half tight'] : []),
    ...(Math.max(...tight) > steps.indexOf(check) ? ['felt before all are tight'] : []),
  ];
}

describe.each(builds)('$name', ({ analysis, plan }) => {
  const strip = stripOf(plan);
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  const written = new Map(analysis.model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, stack])));
  const at = (kind: PlanStep['kind'], stackId: string): number =>
    plan.steps.findIndex((step) => step.kind === kind && step.stackId === stackId);

  test('threadlocker goes on once, where a hand still gets, before the thread is started', () => {
    expect(shutThreads(plan, plan.steps)).toEqual([]);
    for (const { id } of stacks) {
      const locks = plan.steps.filter(({ kind, stackId }) => kind === 'threadlock' && stackId === id);
      expect(locks, id).toHaveLength(written.get(id)!.thread_treatment === 'threadlocked' ? 1 : 0);
      if (locks.length > 0) expect(plan.steps.indexOf(locks[0]!)).toBeLessThan(at('start-receiver', id));
    }
  });

  test('a thread that came through grease is wiped again, right before', () => {
    plan.steps.forEach((step, k) => {
      if (step.kind !== 'threadlock' || step.atBench || itemOf(plan, step.items[0]!).role !== 'axle') return;
      const { row, greased = [] } = written.get(step.stackId!)!;
      if (greased.length === 0 && row.every((entry) => entry.greased !== true)) return;
      expect(plan.steps[k - 1], step.id).toMatchObject({ kind: 'wipe-thread', items: step.items });
    });
  });

  test('a locked thread is washed when it is cleaned, and has its time to set at the end', () => {
    for (const { id } of stacks) {
      const said = wordPlanStep(plan.steps[at('clean-thread', id)]!, analysis).text;
      expect(/wash both threads/.test(said), id).toBe(written.get(id)!.thread_treatment === 'threadlocked');
    }
    const isLocked = [...written.values()].some((stack) => stack.thread_treatment === 'threadlocked');
    expect(plan.steps.at(-1)!.kind).toBe(isLocked ? 'cure' : 'hand-over');
    if (isLocked)
      expect([...plan.steps.at(-1)!.together!].sort()).toEqual(
        [...written].flatMap(([id, stack]) => (stack.thread_treatment === 'threadlocked' ? [id] : [])).sort(),
      );
  });

  test('no heat where the shock is held or carbon is, and no word of it there', () => {
    for (const one of strip.steps) {
      const { title, text, cautions } = wordStripStep(one, analysis);
      const said = [title, text, ...cautions].join(' ');
      if (one.kind !== 'warm-threadlocker') {
        expect(said, one.id).not.toMatch(/\bheat|\bwarm|hot air/i);
        continue;
      }
      const members = stackOf(plan, one.step.stackId!).items.flatMap(({ member }) => member ?? []);
      const { shock } = analysis.model;
      expect(
        members.some((id) => id === shock?.body || id === shock?.shaft),
        one.id,
      ).toBe(false);
      expect(
        members.map((id) => analysis.model.members[id]!.material),
        one.id,
      ).not.toContain('carbon-laminate');
    }
  });

  test('a free check tells its ends and keeps the weight in the hand', () => {
    for (const step of plan.steps.filter(({ kind }) => kind === 'free-check')) {
      expect(
        (step.swings ?? []).map(({ unit }) => unit),
        step.id,
      ).toEqual(step.units);
      if (step.units.length === 0) continue;
      for (const { turn_deg, far_mm } of step.swings!) {
        expect(Math.abs(turn_deg)).toBeGreaterThan(0);
        expect(Math.abs(turn_deg)).toBeLessThan(120);
        expect(far_mm).toBeGreaterThan(0);
      }
      const { text } = wordPlanStep(step, analysis);
      expect(text, step.id).toMatch(/\d+°.* \d+ mm/);
      expect(text, step.id).toMatch(/[Hh]old (the|its) weight|Lift .* by hand/);
      expect(text, step.id).not.toMatch(/let .* (fall|drop) through/);
    }
  });

  test('what is laid out is what is set after it, by number and by name', () => {
    for (const { id } of stacks) {
      const fit = plan.steps.filter(({ taskId }) => taskId === `fit:${id}`);
      const prepare = fit.find(({ kind }) => kind === 'prepare')!;
      const handled = new Set(
        fit
          .filter(({ kind }) => ['set-spacer', 'push-axle', 'axle-home', 'start-receiver'].includes(kind))
          .flatMap(({ items }) => items),
      );
      // The axle of a ring that travels in under its head comes with that ring.
      handled.add(`${id}/axle`);
      expect([...prepare.laidOut!].sort(), id).toEqual([...handled].sort());
      expect(wordPlanStep(prepare, analysis).title).toContain(
        handled.size === 1 ? 'one part' : `${handled.size} parts`,
      );
    }
  });

  test('marks stand on the rim of what has two ways and shows its rim, on no clamped face', () => {
    const marked = strip.steps.filter(({ kind }) => kind === 'mark-facing');
    for (const one of marked) {
      const ring = itemOf(plan, one.step.items[0]!);
      expect(ring.smallFace, one.id).toBeDefined();
      const inBore = stackOf(plan, ring.stackId).items.some(
        (boss) => boss.role === 'boss' && Math.min(boss.to_mm, ring.to_mm) - Math.max(boss.from_mm, ring.from_mm) > 0.5,
      );
      expect(inBore, one.id).toBe(false);
      const { text } = wordStripStep(one, analysis);
      expect(text).toMatch(/on its rim/);
      expect(text).not.toMatch(/paint on the face/i);
    }
    for (const one of strip.steps.filter(({ kind }) => kind === 'undo' || kind === 'keep-together'))
      expect(wordStripStep(one, analysis).text, one.id).not.toMatch(/paint/i);
  });

  test('what must be held is held, by tool and by word, tightening and undoing', () => {
    for (const { id, tightening } of stacks) {
      const undo = strip.steps.find(
        ({ kind, step }) => kind === 'undo' && step.kind === 'torque' && step.stackId === id,
      )!;
      const steps = plan.steps.filter(
        ({ kind, stackId }) => stackId === id && ['hold-turn', 'half-torque', 'torque'].includes(kind),
      );
      for (const step of [...steps, undo.step])
        expect(
          step.tools.some((tool) => tool.kind === 'drive' && tool.role === 'holds'),
          step.id,
        ).toBe(tightening.held?.tool !== undefined);
      if (!tightening.held) continue;
      for (const said of [...steps.map((step) => wordPlanStep(step, analysis)), wordStripStep(undo, analysis)])
        expect(said.text, id).toMatch(/Hold the (axle|bolt|screw|sleeve|nut)/);
    }
  });

  test('bolts of one axis are all seated, then all half tight, then all tight, and felt once', () => {
    for (const step of plan.steps.filter(({ kind, together }) => kind === 'free-check' && together !== undefined)) {
      expect(pairFaults(plan.steps, step), step.id).toEqual([]);
      for (const id of step.together!)
        expect(plan.steps[at('half-torque', id)]!.torque_Nm).toBe(stackOf(plan, id).tightening.torque_Nm / 2);
    }
    // Nothing is turned with a tool before what its task waits for has been started by hand.
    for (const { before, after } of plan.edges) {
      if (!before.startsWith('fit:') || !after.startsWith('tighten:')) continue;
      const [first, then] = [before.slice(4), after.slice(8)];
      expect(at('start-receiver', first), `${before} ${after}`).toBeLessThan(at('hold-turn', then));
    }
  });

  test('before anything is opened all is written down, and at hand-over it is asked for', () => {
    const isWhole = analysis.model.shock !== undefined || analysis.model.wheel !== undefined;
    expect(strip.steps[0]!.kind).toBe(isWhole ? 'note-settings' : 'support');
    const settings = plan.steps.findIndex(({ kind }) => kind === 'settings');
    expect(settings >= 0).toBe(isWhole);
    if (isWhole) expect(settings).toBeLessThan(plan.steps.findIndex(({ kind }) => kind === 'hand-over'));
    for (const kind of ['brake', 'derailleur', 'cables', 'chain', 'dropper-post'] as const) {
      const there = plan.steps.filter((step) => step.kind === kind);
      const back = strip.steps.filter((step) => step.kind === 'undo' && step.step.kind === kind);
      expect([there.length, back.length], kind).toEqual(isBike(analysis) ? [1, 1] : [0, 0]);
      for (const one of back) expect(wordStripStep(one, analysis).text).toMatch(/(Already|already).*Go on\.$/);
    }
  });

  test('a bearing comes out by a width that goes, onto what it can bear on, with its fate told', () => {
    const out = strip.steps.filter(({ kind, step }) => kind === 'undo' && step.kind === 'press-bearing');
    expect(out).toHaveLength(
      stacks.flatMap(({ items }) => items.filter(({ role, seat }) => role === 'bearing' && seat)).length,
    );
    for (const one of out) {
      const { text } = wordStripStep(one, analysis);
      expect(text, one.id).toMatch(/comes out to the (non-)?drive side/);
      expect(text, one.id).toMatch(
        /punch [\d.]+ to [\d.]+ mm across|A tube [\d.]+ to [\d.]+ mm|puller for a [\d.]+ mm bore/,
      );
      expect(text, one.id).toMatch(/scrap|may go back in/);
      expect(text, one.id).toMatch(/Stand the boss on a ring [\d.]+ mm wide inside/);
    }
  });

  test('sentences are short, and hold no word of ours that is none of the trade', () => {
    const said = [
      ...plan.steps.map((step) => wordPlanStep(step, analysis)),
      ...strip.steps.map((step) => wordStripStep(step, analysis)),
    ].flatMap(({ title, text, cautions }) => [title, text, ...cautions]);
    for (const { because } of plan.steps) said.push(...because.map((one) => wordBecause(one, analysis)));
    const long = [...new Set(said)]
      .flatMap((text) => text.split(/(?<=[.?!]) /))
      .filter((sentence) => sentence.split(' ').length > 30);
    expect(long).toEqual([]);
    for (const text of new Set(said))
      expect(text).not.toMatch(/doubt|legal|pinned|room of the|\bdepth of\b|feeler|\bunit\b|\bstack\b|undefined|NaN/i);
  });
});

function isBike({ model }: Analysis): boolean {
  return model.wheel !== undefined || (model.obstacles ?? []).some(({ kind }) => kind === 'wheel');
}

describe('the rules hold in other orders, too', () => {
  const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
  const rows = SEEDS.flatMap((seed) =>
    builds.slice(0, 4).map(({ plan }) => ({ seed, plan, steps: stepsInOrder(plan, shuffled(plan, random(seed))) })),
  );

  test.each(rows)('of $plan.analysis.model.id, order number $seed', ({ plan, steps }) => {
    expect(shutThreads(plan, steps)).toEqual([]);
    const isPair = ({ kind, together }: PlanStep): boolean => kind === 'free-check' && together !== undefined;
    expect(steps.filter(isPair).length).toBe(plan.steps.filter(isPair).length);
    for (const check of steps.filter(isPair)) expect(pairFaults(steps, check)).toEqual([]);
    for (const { before, after } of plan.edges) {
      if (!before.startsWith('fit:') || !after.startsWith('tighten:')) continue;
      const started = steps.findIndex(({ kind, stackId }) => kind === 'start-receiver' && stackId === before.slice(4));
      const turned = steps.findIndex(({ kind, stackId }) => kind === 'hold-turn' && stackId === after.slice(8));
      expect(started, `${before} ${after}`).toBeLessThan(turned);
    }
  });

  test('among them are pairs that something new comes between, which go up each at its own time', () => {
    const apart = rows.flatMap(({ steps }) =>
      steps.filter(
        ({ kind, together }) =>
          kind === 'free-check' &&
          together !== undefined &&
          new Set(together.map((id) => steps.find((step) => step.kind === 'torque' && step.stackId === id)!.taskId))
            .size > 1,
      ),
    );
    expect(apart.length).toBeGreaterThan(0);
  });

  test.each(builds.slice(0, 4))(
    'part-built: with one axle of $name out, its thread is locked where a hand gets',
    ({ analysis, plan }) => {
      for (const { id } of analysis.pivots.flatMap(({ stacks }) => stacks)) {
        const { back, strip } = accessOf(plan, `${id}/axle`);
        expect(shutThreads(plan, back), id).toEqual([]);
        expect(strip[0]!.kind, id).toMatch(/note-settings|support/);
        const locks = back.filter(({ kind, stackId }) => kind === 'threadlock' && stackId === id);
        expect(locks.length, id).toBe(
          analysis.model.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id)!.thread_treatment ===
            'threadlocked'
            ? 1
            : 0,
        );
      }
    },
  );

  /** Tasks in a possible order: of those that can come next, one at random. */
  function shuffled(plan: Plan, draw: () => number): string[] {
    const { tasks, graph, mayGo } = worksOf(plan.analysis);
    const done = new Set<number>();
    while (done.size < tasks.length) {
      const open = tasks.flatMap((_, node) =>
        !done.has(node) &&
        tasks.every((__, before) => done.has(before) || !graph.next[before]!.includes(node)) &&
        mayGo(node, (other) => done.has(other))
          ? [node]
          : [],
      );
      // Some ways lead into an end: begin afresh from where the draws stand.
      if (open.length === 0) done.clear();
      else done.add(open[Math.floor(draw() * open.length)]!);
    }
    return [...done].map((node) => tasks[node]!.id);
  }
});

describe('the tests see what they are for', () => {
  const plan = builds.find(({ analysis }) => analysis.model.id === 'holt-120')!.plan;

  test('a thread filled after its hole is shut is found', () => {
    const lock = plan.steps.findIndex(({ kind, stackId }) => kind === 'threadlock' && stackId === 'main');
    const late = [...plan.steps.slice(0, lock), ...plan.steps.slice(lock + 1)];
    const offer = late.findIndex(({ kind, stackId }) => kind === 'offer-member' && stackId === 'main');
    late.splice(offer + 1, 0, plan.steps[lock]!);
    expect(shutThreads(plan, late)).toHaveLength(1);
  });

  test('there are pairs, wiped threads, filled threads and tubes among the demos', () => {
    const steps = builds.slice(0, 4).flatMap(({ plan: one }) => one.steps);
    expect(steps.filter(({ kind, together }) => kind === 'free-check' && together).length).toBeGreaterThan(2);
    expect(steps.some(({ kind }) => kind === 'wipe-thread')).toBe(true);
    expect(steps.some(({ kind, atBench }) => kind === 'threadlock' && atBench)).toBe(true);
    expect(steps.some(({ kind, atBench }) => kind === 'threadlock' && !atBench)).toBe(true);
  });
});
