/**
 * The torque window, against hand-worked columns, against the fit check it stands beside, and as a property of
 * friction.
 */
import { describe, expect, it, test } from 'vitest';
import { analyse, type LinkageModel } from '../../shared/index.ts';
import { LIMITS } from '../../shared/limits.ts';
import { torqueStack, clampAt, meetAt, setUpTorque, torqueAt, type TorqueStack } from '../../shared/torque/setup.ts';
import { creep } from '../../shared/torque/creep.ts';
import { torqueForClamp } from '../../shared/torque/reverse.ts';
import { sectionsOf } from '../../shared/torque/sections.ts';
import { torqueCards } from '../../shared/torque/card.ts';
import { planOf } from '../../shared/order/plan.ts';
import { torqueList } from '../../shared/order/plan.ts';
import { torqueWindow, WINDOW_LIMITS, type TorqueWindow } from '../../shared/torque/window.ts';
import { findBearing } from '../../shared/standards/bearings.ts';
import { adviseWrench, judgeWrench } from '../../shared/torque/wrench.ts';
import { demoModels, flippedModel, withRow, withStacks } from '../bench/models.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const MODELS = demoModels();
const model = (id: string): LinkageModel => MODELS.find((candidate) => candidate.id === id)!;
const skarn = model('skarn-140');
const holt = model('holt-120');
const fjordside = model('fjordside-150');
const STACKS = MODELS.flatMap((one) =>
  one.pivots.flatMap((pivot) => pivot.stacks.map((stack) => ({ name: `${one.id} ${stack.id}`, one, stack: stack.id }))),
);

/** What turns on a bush has no inner ring that could creep. */
const hasBearing = ({ pivots, parts }: LinkageModel, stack: string): boolean =>
  pivots.some(({ stacks }) =>
    stacks.some(({ id, row }) => id === stack && row.some(({ part }) => parts[part ?? '']?.kind === 'bearing')),
  );

function benchOf(one: LinkageModel, stackId: string): TorqueStack {
  const pivot = one.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stackId))!;
  return torqueStack(setUpTorque(resolveModel(one), pivot.id), stackId);
}
const withStack = (
  one: LinkageModel,
  id: string,
  change: Partial<LinkageModel['pivots'][number]['stacks'][number]>,
): LinkageModel => withStacks(one, (stack) => (stack.id === id ? { ...stack, ...change } : stack));
const preloadOf = (window: TorqueWindow, kind: (typeof WINDOW_LIMITS)[number]): number =>
  window.most.find((limit) => limit.kind === kind)!.preload_N;

describe('every demo stack', () => {
  test.each(STACKS)('$name: ends in order, each band the right way round, the spec within', ({ one, stack }) => {
    const window = torqueWindow(benchOf(one, stack));
    expect(window.verdict).toBe('right');
    expect(window.least!.kind).toBe(hasBearing(one, stack) ? 'rings-creep' : 'clamp-lost');
    expect(window.least!.possible_Nm).toBeGreaterThan(0);
    expect(window.least!.possible_Nm).toBeLessThan(window.least!.sure_Nm);
    for (const limit of window.most) expect(limit.sure_Nm).toBeLessThan(limit.possible_Nm);
    expect(window.most.map(({ preload_N }) => preload_N)).toEqual(
      [...window.most.map(({ preload_N }) => preload_N)].sort((a, b) => a - b),
    );
    expect(window.from_Nm!).toBeLessThan(window.spec_Nm);
    expect(window.to_Nm).toBeGreaterThan(window.spec_Nm);
    for (const kind of ['axle-yield', 'axle-proof', 'thread-strips', 'face-pressed', 'wall-pressed'] as const)
      expect(preloadOf(window, kind)).toBeGreaterThan(0);
  });

  test.each(STACKS.filter(({ one, stack }) => hasBearing(one, stack)))(
    '$name: at its own limit the lower end just holds',
    ({ one, stack }) => {
      const bench = benchOf(one, stack);
      const { preload_N } = torqueWindow(bench).least!;
      expect(creep(bench.own, meetAt(bench, preload_N)).margin).toBeGreaterThanOrEqual(1);
      expect(creep(bench.own, meetAt(bench, 0.99 * preload_N)).margin).toBeLessThan(1);
    },
  );

  test.each(STACKS)('$name: the same from the other side', ({ one, stack }) => {
    const [here, there] = [torqueWindow(benchOf(one, stack)), torqueWindow(benchOf(flippedModel(one), stack))];
    expect(there.from_Nm).toBeCloseTo(here.from_Nm!, 2);
    expect(there.to_Nm).toBeCloseTo(here.to_Nm, 2);
  });
});

describe('the lower end, hand-worked', () => {
  // 6002: C0 2850 N, so half of it at 0.15 and 11.75 mm is 2.512 N·m of drag. Greased faces hold with 0.08; the tapered
  // spacer's small face bears from 7.8 to 8.9 mm, whose rubbing radius is 2/3·(8.9³ − 7.8³)/(8.9² − 7.8²) = 8.3621 mm.
  const drag_Nmm = 0.15 * 1425 * 11.75;
  const radius_mm = ((2 / 3) * (8.9 ** 3 - 7.8 ** 3)) / (8.9 ** 2 - 7.8 ** 2);

  it('two rings on one free axle slide together: only the two inner faces hold them', () => {
    const bench = benchOf(skarn, 'rocker-frame');
    const worst = creep(bench.own, meetAt(bench, 5000));
    expect(worst.items.map(({ rowId }) => rowId).sort()).toEqual(['axle', 'bearing-left', 'bearing-right', 'receiver']);
    expect(worst.drag_Nm).toBeCloseTo((2 * drag_Nmm) / 1000, 9);
    expect(torqueWindow(bench).least!.at.value).toBeCloseTo(drag_Nmm / (0.08 * radius_mm), -1);
  });

  it('one ring on an axle that a member’s thread holds: both its faces hold it', () => {
    const bench = benchOf(holt, 'shock-rocker-left');
    const worst = creep(bench.own, meetAt(bench, 5000));
    expect(worst.items.map(({ rowId }) => rowId)).toContain('bearing-left');
    expect(worst.items.map(({ rowId }) => rowId)).not.toContain('axle');
    expect(worst.drag_Nm).toBeGreaterThan(0);
    // Twice the faces of the pair above a ring, so that it holds with half the force where bearing and face are alike.
    const { staticRating_N: small } = findBearing('6001')!;
    const { staticRating_N: large } = findBearing('6002')!;
    const ratio = torqueWindow(bench).least!.preload_N / torqueWindow(benchOf(skarn, 'rocker-frame')).least!.preload_N;
    // Drag goes with rating and middle circle, hold with the rubbing radius: 6001 on 6.3 to 7.1 mm, 6002 on 7.8 to 8.9
    // mm.
    expect(ratio).toBeCloseTo(
      0.5 * ((small * 20) / (large * 23.5)) * (radius_mm / (((2 / 3) * (7.1 ** 3 - 6.3 ** 3)) / (7.1 ** 2 - 6.3 ** 2))),
      1,
    );
  });

  it('dry faces hold more than greased ones', () => {
    const dry = withStack(
      withRow(skarn, 'rocker-frame', (row) => row.map(({ greased: _greased, ...entry }) => entry)),
      'rocker-frame',
      { greased: [] },
    );
    expect(torqueWindow(benchOf(dry, 'rocker-frame')).least!.preload_N).toBeLessThan(
      0.7 * torqueWindow(benchOf(skarn, 'rocker-frame')).least!.preload_N,
    );
  });

  it('a column that never closes has no lower end, and every torque is too little', () => {
    const open = withRow(holt, 'shock-rocker-left', (row) => row.filter(({ id }) => id !== 'spacer-left'));
    const window = torqueWindow(benchOf(open, 'shock-rocker-left'));
    if (window.least)
      expect(window.least.preload_N).toBeGreaterThan(torqueWindow(benchOf(holt, 'shock-rocker-left')).least!.preload_N);
    else expect([window.enough, window.verdict, window.from_Nm]).toEqual(['no', 'too-little', undefined]);
  });
});

describe('the upper ends', () => {
  test.each(STACKS)(
    '$name: the weakest section agrees with the torque card’s stress, which knows no socket',
    ({ one, stack }) => {
      const bench = benchOf(one, stack);
      const plain = sectionsOf(bench).filter(({ kind }) => !kind.endsWith('socket'));
      const stress = Math.max(...plain.map((section) => section.vonMises_MPa_per_N)) * bench.tightening.preload_N.high;
      // Turned at the tip the shank twists by what its head rubs, which the card does not tell apart.
      if (bench.tightening.turned === 'tip')
        expect(Math.abs(stress / bench.tightening.axleStress_MPa - 1)).toBeLessThan(0.1);
      else expect(stress).toBeCloseTo(bench.tightening.axleStress_MPa, 6);
    },
  );

  it('hand-worked: turned at the tip, the tip takes the whole torque without pull, the thread under the nut what the head rubs', () => {
    const bench = benchOf(fjordside, 'rocker-frame');
    const sections = sectionsOf(bench);
    // M14 × 1: pitch diameter 13.3505, minor 12.7731; hex 6 across its corners 6.9282; land 18.2 on a bearing's face
    // from 15.6 on.
    const [d, bore, hex] = [(13.3505 + 12.7731) / 2, 5, 12 / Math.sqrt(3)];
    const modulus = (corner: number): number => (Math.PI / 12) * (d ** 3 - corner ** 3);
    const faceLever = (0.08 * (18.2 + 15.6)) / 4;
    const threadLever = 1 / (2 * Math.PI) + (0.14 * 13.3505) / Math.sqrt(3);
    const thread = sections.find(({ kind }) => kind === 'thread')!;
    const area = (Math.PI / 4) * (d * d - bore * bore);
    expect(thread.vonMises_MPa_per_N).toBeCloseTo(Math.hypot(1 / area, (Math.sqrt(3) * faceLever) / modulus(bore)), 6);
    const tip = sections.find(({ share }) => share === 0)!;
    expect(tip.tension_MPa_per_N).toBe(0);
    expect(tip.vonMises_MPa_per_N).toBeCloseTo((Math.sqrt(3) * (faceLever + threadLever)) / modulus(hex), 6);
  });

  it('yield is 0.9 of the yield by VDI 2230: at its preload pull and twist come to just that', () => {
    const bench = benchOf(skarn, 'main');
    const window = torqueWindow(bench);
    const yieldLimit = window.most.find(({ kind }) => kind === 'axle-yield')!;
    const section = sectionsOf(bench).find(({ kind }) => kind === yieldLimit.section)!;
    expect(yieldLimit.preload_N * section.vonMises_MPa_per_N).toBeCloseTo(
      LIMITS.axleShare.value * section.yield_MPa,
      6,
    );
  });

  it('a waist carved deep enough becomes the weakest section', () => {
    const part = skarn.parts['main-axle'] as Extract<LinkageModel['parts'][string], { kind: 'axle' }>;
    const [shank, tip] = part.shank as [(typeof part.shank)[number], (typeof part.shank)[number]];
    const third = { ...shank, length_mm: shank.length_mm / 3 };
    const carved = (diameter_mm: number): LinkageModel => ({
      ...skarn,
      parts: { ...skarn.parts, 'main-axle': { ...part, shank: [third, { ...third, diameter_mm }, third, tip] } },
    });
    const window = torqueWindow(benchOf(carved(8.5), 'main'));
    expect(window.most.find(({ kind }) => kind === 'axle-yield')).toMatchObject({
      section: 'waist',
      parts: ['main/axle'],
    });
    expect(preloadOf(window, 'axle-yield')).toBeLessThan(
      0.5 * preloadOf(torqueWindow(benchOf(skarn, 'main')), 'axle-yield'),
    );
  });

  it('a wide socket in the head of a soft sleeve is the weakest section, and is called an estimate', () => {
    const sleeve = fjordside.parts['main-sleeve'] as Extract<LinkageModel['parts'][string], { kind: 'sleeve' }>;
    const soft: LinkageModel = {
      ...fjordside,
      parts: { ...fjordside.parts, 'main-sleeve': { ...sleeve, material: 'aluminium-6061' } },
    };
    const wide = withStack(soft, 'main', {
      drives: { head: { tool: 'hex-key', size_mm: 12 }, receiver: { tool: 'hex-key', size_mm: 6 } },
    });
    const limit = torqueWindow(benchOf(wide, 'main')).most.find(({ kind }) => kind === 'axle-yield')!;
    expect(limit).toMatchObject({ section: 'head-socket', isEstimate: true });
  });

  test.each(STACKS)(
    '$name: carbon has a row of its own, called an estimate; metal pivots have none',
    ({ one, stack }) => {
      const bench = benchOf(one, stack);
      const clamped = meetAt(bench, 1000)
        .filter(({ force_N }) => force_N > 0)
        .flatMap(({ a, b }) => [a, b]);
      const hasCarbon = clamped.some(({ solid }) => solid.material === 'carbon-laminate');
      const row = torqueWindow(bench).most.find(({ kind }) => kind === 'carbon-pressed');
      if (hasCarbon) expect(row).toMatchObject({ isEstimate: true, at: { value: 100, unit: 'MPa' } });
      else expect(row).toBeUndefined();
    },
  );

  it('at its limit the worst face carries what its material takes', () => {
    const bench = benchOf(model('holt-120'), 'main');
    const limit = torqueWindow(bench).most.find(({ kind }) => kind === 'face-pressed')!;
    const pressures = meetAt(bench, limit.preload_N)
      .filter(({ a, b, force_N }) => force_N > 0 && [a.item.id, b.item.id].every((id) => limit.parts.includes(id)))
      .map(({ pressure_MPa }) => pressure_MPa);
    expect(Math.max(...pressures)).toBeCloseTo(limit.at.value, 1);
  });

  it('a shorter thread strips sooner, in proportion to what bears', () => {
    const nut = skarn.parts['main-nut'] as Extract<LinkageModel['parts'][string], { kind: 'nut' }>;
    const short = {
      ...skarn,
      parts: { ...skarn.parts, 'main-nut': { ...nut, thread: { ...nut.thread, length_mm: 6.9 } } },
    };
    const [whole, half] = [skarn, short].map(
      (one) => torqueWindow(benchOf(one, 'main')).most.find(({ kind }) => kind === 'thread-strips')!,
    );
    expect(half!.preload_N / whole!.preload_N).toBeCloseTo((half!.at.value - 0.8) / (whole!.at.value - 0.8), 6);
  });
});

describe('where the spec stands', () => {
  const SET = 15.5;
  const at = (torque_Nm: number): TorqueWindow =>
    torqueWindow(benchOf(withStack(skarn, 'rocker-frame', { torque_Nm }), 'rocker-frame'));
  it('goes through all five verdicts as the torque rises, and the ends stay where they are', () => {
    const { least, most } = at(SET);
    const [low, sure, top, over] = [least!.possible_Nm, least!.sure_Nm, most[0]!.sure_Nm, most[0]!.possible_Nm];
    // The permitted error of a small wrench is wider (ISO 6789), so that the ends move by a few hundredths below 10
    // N·m.
    expect(
      [0.8 * low, (low + sure) / 2, (sure + top) / 2, (top + over) / 2, 1.2 * over].map((torque) => at(torque).verdict),
    ).toEqual(['too-little', 'perhaps-too-little', 'right', 'perhaps-too-much', 'too-much']);
    expect(at(SET + 3).to_Nm).toBeCloseTo(at(SET).to_Nm, 2);
    expect(at(SET + 3).from_Nm!).toBeCloseTo(at(SET).from_Nm!, 2);
  });

  it('grease on the thread makes more preload of the same torque, so the whole window slides down', () => {
    const greased = torqueWindow(
      benchOf(withStack(skarn, 'rocker-frame', { thread_treatment: 'greased' }), 'rocker-frame'),
    );
    expect(greased.to_Nm).toBeLessThan(at(SET).to_Nm);
    expect(greased.from_Nm!).toBeLessThan(at(SET).from_Nm!);
  });
});

describe('the torque for a wanted clamp', () => {
  test.each(STACKS)('$name: leads back to the clamp it was asked for', ({ one, stack }) => {
    const bench = benchOf(one, stack);
    const wanted = 0.8 * clampAt(bench, bench.tightening.preload_N.spec);
    const found = torqueForClamp(bench, wanted)!;
    expect(clampAt(bench, found.preload_N) / wanted).toBeCloseTo(1, 3);
    expect(torqueAt(bench, found.preload_N, 'spec')).toBeCloseTo(found.torque_Nm, 9);
    expect(found.least_Nm).toBeLessThan(found.torque_Nm);
    expect(found.torque_Nm).toBeLessThan(found.sure_Nm);
    expect(found.passes).toBeUndefined();
  });

  it('says which limit a greedy clamp may pass, and refuses nothing and less', () => {
    const bench = benchOf(skarn, 'rocker-frame');
    const [first] = torqueWindow(bench).most;
    // What is sure of the clamp and what is sure to keep to the limit lie the whole friction band apart.
    const { low, high } = bench.tightening.preload_N;
    expect(torqueForClamp(bench, 0.95 * first!.preload_N * (low / high))!.passes).toBeUndefined();
    expect(torqueForClamp(bench, 1.05 * first!.preload_N * (low / high))!.passes!.kind).toBe(first!.kind);
    expect(() => torqueForClamp(bench, 0)).toThrow(/clamp_N is 0, allowed: a finite number above 0/);
    expect(() => torqueForClamp(bench, -5)).toThrow(/clamp_N is -5/);
  });
});

describe('which wrench', () => {
  it('the lowest fifth of a range is a poor choice, its ends are its ends (common practice, ISO 6789 from a fifth of full scale)', () => {
    expect(judgeWrench(9, [5, 25]).fit).toBe('good');
    expect(judgeWrench(8.9, [5, 25]).fit).toBe('lowest-fifth');
    expect(judgeWrench(4.9, [5, 25]).fit).toBe('below-range');
    expect(judgeWrench(25.1, [5, 25]).fit).toBe('above-range');
    expect(judgeWrench(6, [1, 10]).fit).toBe('good');
    expect(judgeWrench(30, [10, 200]).fit).toBe('lowest-fifth');
  });

  it('of two that reach, the one not in its lowest fifth; of two good ones, the finer; of none, none', () => {
    expect(adviseWrench({ torque_Nm: 22 }).best).toMatchObject({ from_Nm: 5, to_Nm: 25 });
    expect(
      adviseWrench({
        torque_Nm: 8,
        ranges_Nm: [
          [2, 10],
          [5, 25],
        ],
      }).best,
    ).toMatchObject({ to_Nm: 10, scatter: 0.06 });
    expect(
      adviseWrench({
        torque_Nm: 12,
        ranges_Nm: [
          [10, 60],
          [2, 14],
        ],
      }).best,
    ).toMatchObject({ to_Nm: 14 });
    expect(adviseWrench({ torque_Nm: 12, ranges_Nm: [[20, 100]] }).best).toBeUndefined();
  });

  it('an adapter’s setting decides, at any angle', () => {
    const setting = (angle_deg: number): number =>
      adviseWrench({ torque_Nm: 13, adapter: { length_mm: 300, adapter_mm: 40, angle_deg } }).setting['N·m'];
    expect(setting(0)).toBeCloseTo((13 * 300) / 340, 9);
    expect(setting(60)).toBeCloseTo((13 * 300) / 320, 9);
    expect(setting(90)).toBeCloseTo(13, 9);
    expect(setting(180)).toBeCloseTo((13 * 300) / 260, 9);
    expect(
      adviseWrench({ torque_Nm: 11, ranges_Nm: [[2, 10]], adapter: { length_mm: 200, adapter_mm: 60, angle_deg: 0 } })
        .best!.fit,
    ).toBe('good');
  });

  it('refuses what cannot be', () => {
    expect(() => adviseWrench({ torque_Nm: -1 })).toThrow(/torque_Nm is -1/);
    expect(() => adviseWrench({ torque_Nm: 5, ranges_Nm: [[10, 5]] })).toThrow(
      /to_Nm is 5, allowed: a finite number above 10/,
    );
    expect(() => adviseWrench({ torque_Nm: 5, adapter: { length_mm: 0, adapter_mm: 5, angle_deg: 0 } })).toThrow(
      /length_mm is 0/,
    );
    expect(() => adviseWrench({ torque_Nm: 5, adapter: { length_mm: 40, adapter_mm: 50, angle_deg: 180 } })).toThrow(
      /bolt stays ahead of the grip/,
    );
    expect(() => torqueStack(setUpTorque(resolveModel(skarn), skarn.pivots[0]!.id), 'nowhere')).toThrow(
      /stack: met nowhere, allowed: main/,
    );
  });
});

describe('cards and list', () => {
  it('a card a stack, plain data, the against-habit one said so', () => {
    const analysis = analyse(skarn);
    const cards = skarn.pivots.flatMap(({ id }) => torqueCards(analysis, id));
    expect(cards.map(({ stackId }) => stackId)).toEqual(
      skarn.pivots.flatMap(({ stacks }) => stacks.map(({ id }) => id)),
    );
    expect(JSON.parse(JSON.stringify(cards))).toEqual(cards);
    expect(cards.filter(({ isAgainstHabit }) => isAgainstHabit).map(({ stackId }) => stackId)).toEqual([]);
    const turned = torqueCards(analyse(fjordside), 'rocker-frame').concat(torqueCards(analyse(fjordside), 'main'));
    expect(turned.filter(({ isAgainstHabit }) => isAgainstHabit).map(({ stackId }) => stackId)).toEqual([
      'rocker-frame',
    ]);
    expect(cards[0]!.torque['ft·lb']).toBeCloseTo(skarn.pivots[0]!.stacks[0]!.torque_Nm / 1.3558179483314, 9);
    expect(() => torqueCards(analysis, 'nowhere')).toThrow(/pivot is nowhere, allowed: main/);
  });

  test.each(MODELS)('$id: the list has every stack once, in build order', (one) => {
    const plan = planOf(analyse(one));
    const rows = torqueList(plan);
    expect(rows.map(({ stackId }) => stackId)).toEqual(
      plan.tasks.flatMap(({ kind, stackId }) => (kind === 'tighten' ? [stackId] : [])),
    );
    expect(rows.map(({ place }) => place)).toEqual(rows.map((_, k) => k + 1));
  });
});
