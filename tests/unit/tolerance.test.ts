/**
 * Tolerances of the demo joints: chains add up to what the model says, the quick build agrees with a rebuilt model, the
 * classes are the fit check's own, and sampled chains spread as root-sum-square says.
 */
import { describe, expect, it, test } from 'vitest';
import { judge } from '../../shared/findings/judge.ts';
import { makeJoint } from '../../shared/joint/joint.ts';
import { breaksOf } from '../../shared/joint/reading.ts';
import { solveJoint } from '../../shared/joint/solve.ts';
import type { LinkageModel } from '../../shared/model/schema.ts';
import { BUILD_REASONS, setUpSets, type SetTrial } from '../../shared/tolerance/sets.ts';
import { chainsOf } from '../../shared/tolerance/chain.ts';
import { dimensionsOf, type ToleranceOptions } from '../../shared/tolerance/dimensions.ts';
import { travel_mm } from '../../shared/tolerance/effect.ts';
import { randomStream } from '../../shared/numbers/random.ts';
import { rebuildModel } from '../setup/rebuild.ts';
import { checkTolerances, listDimensions } from '../../shared/tolerance/report.ts';
import { sampleSets, wilson, type SamplingOptions } from '../../shared/tolerance/sampling.ts';
import { adviseShims } from '../../shared/tolerance/shims.ts';
import { spanLimits } from '../../shared/tolerance/span-limits.ts';
import { stackUp } from '../../shared/tolerance/stack-up.ts';
import { demoModels, flippedModel, movedModel } from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { seeds } from '../setup/series.ts';

const MODELS = demoModels();
const PIVOTS = MODELS.flatMap((model) =>
  model.pivots.map((pivot) => ({ name: `${model.id} ${pivot.id}`, model, pivot })),
);
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;
const rig = MODELS.find(({ id }) => id === 'class-rig')!;

function trialOf(model: LinkageModel, pivotId: string, options: ToleranceOptions = {}): SetTrial {
  return setUpSets(makeJoint(resolveModel(model), pivotId), options);
}

/** A sampling run to its end. */
function sampleAll(trial: SetTrial, options: SamplingOptions = {}) {
  const run = sampleSets(trial, options);
  for (;;) {
    const step = run.next();
    if (step.done === true) return step.value;
  }
}

/** Every dimension anywhere between its limits. */
function drawn({ dimensions }: SetTrial, seed: number): Float64Array {
  const stream = randomStream(seed);
  return Float64Array.from(
    dimensions.list,
    ({ lower_mm, upper_mm }) => lower_mm + (upper_mm - lower_mm) * stream.even(),
  );
}

describe('chains from the model', () => {
  test.each(PIVOTS)('$name: the signed nominal dimensions are the gap itself', ({ model, pivot }) => {
    const joint = makeJoint(resolveModel(model), pivot.id);
    const chains = chainsOf(joint, dimensionsOf(joint));
    expect(chains.length).toBeGreaterThan(0);
    for (const chain of chains) {
      expect(stackUp(chain.terms).nominal_mm).toBeCloseTo(chain.gap_mm, 9);
      expect(chain.sum.nominal_mm).toBeCloseTo(chain.gap_mm, 9);
      for (const { coefficient } of chain.terms) expect(Math.abs(coefficient)).toBeCloseTo(1, 12);
    }
  });

  it('hand-worked: the rocker of skarn-140, 55 between its shoulders, 6.5 + 39.5 + 9 between its bearings', () => {
    const span = trialOf(skarn, 'rocker-frame').chains.find(({ kind }) => kind === 'span')!;
    expect(span.terms.map(({ coefficient, nominal_mm }) => coefficient * nominal_mm)).toEqual([55, -6.5, -39.5, -9]);
    // ISO 2768-1 f: ±0.15 for 55 and 39.5, ±0.1 for 6.5 and 9. Root of the sum of squares 0.065.
    expect(span.sum.worstHigh_mm).toBeCloseTo(0.5, 12);
    expect(span.sum.rss_mm).toBeCloseTo(Math.sqrt(0.065), 12);
    expect(span.isOneBoss).toBe(false);
  });

  it('hand-worked: the column of skarn-140’s swingarm, two bearings of 7 +0/−0.12 in it', () => {
    const span = trialOf(skarn, 'main').chains.find(({ kind, member }) => kind === 'span' && member === 'swingarm')!;
    expect(span.gap_mm).toBeCloseTo(53 - 2 - 7 - 35 - 7 - 2, 12);
    expect(span.sum.mean_mm).toBeCloseTo(0.12, 12);
    // 0.15 + 0.05 + 0.06 + 0.15 + 0.06 + 0.05 about the mean: a tube over 30 mm has ±0.15.
    expect(span.sum.worstLow_mm).toBeCloseTo(0.12 - 0.52, 12);
  });

  it('the frame’s shell: tube against the shoulders on both sides, in one boss', () => {
    const spans = trialOf(skarn, 'main').chains.filter(({ kind }) => kind === 'span');
    expect(spans.find(({ member }) => member === 'frame')).toMatchObject({ isOneBoss: true, gap_mm: 0 });
  });
});

describe('the quick build against the same build made from a changed model', () => {
  // One stiffness for every contact: a rebuilt part's own changes with its length, which the quick way leaves aside.
  const STIFF = { contactStiffness_N_per_mm: 3e5 };
  test.each(PIVOTS)(
    '$name: forces, chains and reasons (class c, series of seeds)',
    ({ model: base, pivot: { id } }) => {
      for (const model of [base, flippedModel(base)]) {
        const pivot = model.pivots.find((candidate) => candidate.id === id)!;
        const joint = makeJoint(resolveModel(model), pivot.id, STIFF);
        const quick = setUpSets(joint, { generalClass: 'c' });
        const own = setUpSets(makeJoint(resolveModel(model), pivot.id), { generalClass: 'c' });
        for (const seed of seeds(2)) {
          const deviation = drawn(quick, seed);
          const rebuilt = rebuildModel(joint, quick.dimensions, deviation);
          const same = rebuilt.pivots.find((candidate) => candidate.id === id)!;
          const slowJoint = makeJoint(resolveModel(rebuilt), same.id, STIFF);
          const slow = solveJoint(slowJoint).spec;
          const fast = quick.solve(deviation);
          const off = (a: Float64Array, b: Float64Array): number =>
            a.reduce((most, value, k) => Math.max(most, Math.abs(value - b[k]!)), 0);
          expect(slow.contact_N).toHaveLength(fast.contact_N.length);
          expect(off(fast.contact_N, slow.contact_N)).toBeLessThan(0.1);
          expect(off(fast.spring_N, slow.spring_N)).toBeLessThan(0.1);
          const chains = chainsOf(slowJoint, dimensionsOf(slowJoint));
          quick.chains.forEach((chain, k) =>
            expect(chain.gap_mm + travel_mm(chain.effect, deviation)).toBeCloseTo(chains[k]!.gap_mm, 9),
          );
          const judged = judge(resolveModel(rebuilt), same.id);
          const codes = new Set<string>(
            judged.findings.filter(({ severity }) => severity === 'stop').map(({ code }) => code),
          );
          const build = own.build(deviation);
          expect([...build.reasons].sort()).toEqual([...BUILD_REASONS].filter((code) => codes.has(code)).sort());
          // With its own stiffness each build is within a hundredth of the preload.
          const clamp_N = Math.min(...judged.evidence.clamp_N.values());
          const preload = Math.max(...[...quick.solved.pull_N.values()]);
          expect(Math.abs(build.clamp_N - clamp_N)).toBeLessThan(0.01 * preload + 1);
        }
      }
    },
  );

  it('meets every kind of trouble it can name at least twice, so that the agreement says something', () => {
    const met = new Map<string, number>();
    for (const { model, pivot } of PIVOTS) {
      const trial = setUpSets(makeJoint(resolveModel(model), pivot.id), { generalClass: 'c' });
      for (let seed = 1; seed <= 40; seed++)
        for (const reason of trial.build(drawn(trial, seed)).reasons) met.set(reason, (met.get(reason) ?? 0) + 1);
    }
    for (const reason of ['inner-ring-loose', 'side-play', 'arm-drawn', 'member-off-line', 'bearing-side-loaded'])
      expect(met.get(reason) ?? 0, reason).toBeGreaterThan(1);
  });

  it('the written lengths clamp at every demo pivot', () => {
    for (const { model, pivot, name } of PIVOTS) {
      const trial = setUpSets(makeJoint(resolveModel(model), pivot.id));
      expect(trial.build(new Float64Array(trial.dimensions.list.length)), name).toMatchObject({
        class: 'clamps',
        reasons: [],
      });
    }
  });
});

describe('where a column stays open', () => {
  // Spacer, bearing, sleeve, bearing, spacer between two arms: a gap may stand between each two neighbours.
  const [own] = makeJoint(resolveModel(referenceModel()), 'main').stacks;
  const names = own!.items.filter(({ inColumn }) => inColumn).map(({ rowId }) => rowId);
  const withGaps = (gaps: Readonly<Record<string, number>>) =>
    breaksOf(
      own!,
      names.slice(1).map((to, k) => ({ from: names[k]!, to, force_N: 0, gap_mm: gaps[`${names[k]} ${to}`] ?? 0 })),
    );

  it('the gaps on the two sides of a loose sleeve are one: 0.015 + 0.015 is as open as 0.03 + 0', () => {
    for (const left of [0, 0.001, 0.015, 0.03]) {
      const found = withGaps({ 'frame-bearing-nd sleeve': left, 'sleeve frame-bearing-d': 0.03 - left });
      expect(found).toHaveLength(1);
      expect(found[0]!.play_mm).toBeCloseTo(0.03, 12);
    }
    expect(withGaps({ 'frame-bearing-nd sleeve': 0.009, 'sleeve frame-bearing-d': 0.009 })).toEqual([]);
  });

  it('those on the two sides of a bearing are two, since its balls hold it', () => {
    const at = (gap: number) => withGaps({ 'spacer-nd frame-bearing-nd': gap, 'frame-bearing-nd sleeve': gap });
    expect(at(0.015)).toEqual([]);
    expect(at(0.025).map(({ play_mm }) => play_mm)).toEqual([0.025, 0.025]);
  });
});

describe('sampled sets', () => {
  test.each([
    { pivot: 'rocker-frame', seed: 1 },
    { pivot: 'main', seed: 2 },
    { pivot: 'shock-frame', seed: 3 },
  ])('chains spread as root-sum-square says: $pivot, seed $seed', ({ pivot, seed }) => {
    const trial = trialOf(skarn, pivot);
    const sets = 3000;
    const sampling = sampleAll(trial, { sets, seed });
    trial.chains.forEach((chain, k) => {
      const { gap_mm } = sampling.chains[k]!;
      expect(Math.abs(gap_mm.mean - chain.sum.mean_mm)).toBeLessThan((4 * chain.sum.sigma_mm) / Math.sqrt(sets));
      expect(Math.abs(gap_mm.sigma / chain.sum.sigma_mm - 1)).toBeLessThan(4 / Math.sqrt(2 * sets));
      expect(
        sampling.chains[k]!.bins.reduce((sum, { counts }) => sum + counts.clamps + counts.pinches + counts.plays, 0),
      ).toBe(sets);
    });
    expect(sampling.counts.clamps + sampling.counts.pinches + sampling.counts.plays).toBe(sets);
  });

  it('`even` never leaves the limits and spreads wider', () => {
    const trial = trialOf(skarn, 'rocker-frame');
    const [even, bell] = (['even', 'bell'] as const).map((draw) => sampleAll(trial, { sets: 2000, draw }));
    trial.chains.forEach((chain, k) => {
      const gap = even!.chains[k]!.gap_mm;
      expect(gap.least).toBeGreaterThanOrEqual(chain.sum.worstLow_mm);
      expect(gap.most).toBeLessThanOrEqual(chain.sum.worstHigh_mm);
      // Uniform has √3 times the standard deviation of a bell whose limits are three of them.
      expect(gap.sigma / bell!.chains[k]!.gap_mm.sigma).toBeCloseTo(Math.sqrt(3), 0);
    });
  });

  it('the same seed gives the same sets, another seed others', () => {
    const trial = trialOf(skarn, 'main', { generalClass: 'm' });
    const [first, again, other] = [5, 5, 6].map((seed) => sampleAll(trial, { sets: 600, seed, chunk: 7 }));
    expect(again).toEqual(first);
    expect(other!.sideLoad_N.mean).not.toBe(first!.sideLoad_N.mean);
    expect(sampleAll(trial, { sets: 600, seed: 5, chunk: 600 })).toEqual(first);
  });

  it('sees the bike from the other side and moved along its axis alike', () => {
    const pivot = 'main';
    const options = { generalClass: 'm' } as const;
    const counts = [skarn, flippedModel(skarn), movedModel(skarn, 12.5)].map(
      (model) => sampleAll(trialOf(model, pivot, options), { sets: 4000 }).counts,
    );
    // Dimensions come in another order from the other side, so that single sets differ: shares agree within their
    // error.
    const share = counts.map(({ clamps }) => wilson(clamps, 4000));
    expect(share[1]!.share).toBeGreaterThan(share[0]!.low - 0.01);
    expect(share[1]!.share).toBeLessThan(share[0]!.high + 0.01);
    expect(counts[2]).toEqual(counts[0]);
  });

  it('blames the dimensions that decide: tube and shoulders of the shell', () => {
    const { blame } = sampleAll(trialOf(skarn, 'main', { generalClass: 'm' }), { sets: 4000 });
    expect(new Set(blame.slice(0, 2).map(({ dimension }) => dimension))).toEqual(
      new Set(['main/tube:length', 'frame/main:between-seats']),
    );
    expect(blame[0]!.share + blame[1]!.share).toBeGreaterThan(0.9);
  });

  it('reports after every chunk, and may be left there', () => {
    const run = sampleSets(trialOf(skarn, 'rocker-frame'), { sets: 100, chunk: 30 });
    const seen: number[] = [];
    for (let step = run.next(); step.done !== true; step = run.next()) {
      expect(step.value.total).toBe(100);
      expect(step.value.counts.clamps + step.value.counts.pinches + step.value.counts.plays).toBe(step.value.done);
      seen.push(step.value.done);
    }
    expect(seen).toEqual([30, 60, 90]);
    const left = sampleSets(trialOf(skarn, 'rocker-frame'), { sets: 100, chunk: 30 });
    left.next();
    expect(left.return({} as never).done).toBe(true);
    expect(left.next().done).toBe(true);
  });

  it('Wilson’s interval: none of 100 means at most 3.7 %, half of 100 is 40 to 60 % (first principles, hand-worked)', () => {
    expect(wilson(0, 100)).toMatchObject({ share: 0, low: 0 });
    expect(wilson(0, 100).high).toBeCloseTo(0.03699, 4);
    expect(wilson(50, 100).low).toBeCloseTo(0.4038, 4);
    expect(wilson(50, 100).high).toBeCloseTo(0.5962, 4);
  });

  it('refuses in words', () => {
    const trial = trialOf(skarn, 'rocker-frame');
    expect(() => sampleAll(trial, { sets: 0 })).toThrow(/sets is 0/);
    expect(() => sampleAll(trial, { sets: 1.5 })).toThrow(/sets is 1.5, allowed: a whole number/);
    expect(() => sampleAll(trial, { seed: NaN })).toThrow(/seed is NaN/);
    expect(() => sampleAll(trial, { draw: 'flat' as never })).toThrow(/draw is flat, allowed: bell, even/);
    expect(() =>
      trialOf(skarn, 'rocker-frame', { given_mm: { 'rocker-frame/cone-left:length': { lower_mm: 1, upper_mm: 0 } } }),
    ).toThrow(/the lower one first/);
    expect(() => trialOf(skarn, 'rocker-frame', { calliper_mm: -1 })).toThrow(/calliper_mm is -1/);
    expect(() => trialOf(skarn, 'rocker-frame', { measured_mm: { nothing: 3 } })).toThrow(
      /measured dimension is nothing, allowed: .*rocker-frame\/cone-left:length/,
    );
  });
});

describe('tolerances the model gives', () => {
  it('stand before the class, for a ring, a seat and a span', () => {
    const data = structuredClone(skarn);
    data.parts['rocker-cone-short'] = {
      ...data.parts['rocker-cone-short']!,
      length_tol_mm: 0.02,
    } as (typeof data.parts)[string];
    const rocker = data.members['rocker']!;
    rocker.span_tol_mm = 0.08;
    rocker.bores['frame-left']!.seats![0]!.depth_tol_mm = 0.03;
    const given = listDimensions(data, 'rocker-frame').filter(({ basis }) => basis === 'given');
    const limits = Object.fromEntries(
      given.map(({ id, lower_mm, upper_mm }) => [id.replace(/^.*[/:](?=[^/:]*:)/, ''), [lower_mm, upper_mm]]),
    );
    expect(given.every(({ source }) => /from the model file/.test(source))).toBe(true);
    expect(limits['cone-left:length']).toEqual([-0.02, 0.02]);
    expect(Object.entries(limits).find(([id]) => id.endsWith(':span'))?.[1]).toEqual([-0.08, 0.08]);
    expect(Object.entries(limits).find(([id]) => id.includes('depth-'))?.[1]).toEqual([-0.03, 0.03]);
    expect(listDimensions(skarn, 'rocker-frame').some(({ basis }) => basis === 'given')).toBe(false);
  });
});

describe('limits of a span', () => {
  it('beyond them the build no longer clamps, within them it does', () => {
    for (const pivot of ['main', 'rocker-frame', 'shock-frame']) {
      const trial = trialOf(skarn, pivot);
      for (const chain of trial.chains.filter(({ kind }) => kind === 'span')) {
        const limits = spanLimits(trial, chain)!;
        const term = chain.terms.find(
          ({ dimension }) => dimension.kind === 'span' || dimension.kind === 'between-seats',
        )!;
        const at = (gap: number): string => {
          const deviation = new Float64Array(trial.dimensions.list.length);
          deviation[trial.dimensions.list.indexOf(term.dimension)] = gap - chain.gap_mm;
          return trial.build(deviation).class;
        };
        for (const edge of [limits.low_mm!, limits.high_mm!]) {
          expect(at(edge)).toBe('clamps');
          expect(at(edge + Math.sign(edge) * 0.01)).not.toBe('clamps');
        }
      }
    }
  });
});

describe('measured lengths and shims', () => {
  const SPAN = 'rocker-frame:bearing-left~bearing-right';
  it('a measured length takes the nominal’s place, with the calliper’s accuracy', () => {
    const dimension = listDimensions(skarn, 'rocker-frame', { measured_mm: { 'cone-left': 6.1 } }).find(
      ({ basis }) => basis === 'measured',
    )!;
    expect(dimension.id).toBe('rocker-frame/cone-left:length');
    expect([dimension.nominal_mm + dimension.lower_mm, dimension.nominal_mm + dimension.upper_mm]).toEqual(
      [6.08, 6.12].map((value) => expect.closeTo(value, 12)),
    );
  });

  it('a short column takes a shim where it bears on spacer and boss, never beside a bearing', () => {
    const trial = trialOf(skarn, 'rocker-frame', { measured_mm: { 'rocker-frame/cone-left:length': 5.28 } });
    const advice = adviseShims(trial, SPAN);
    expect(advice).toMatchObject({ what: 'shim', ring: { bore_mm: 15, outside_mm: 21 }, becomes: 'clamps' });
    expect(advice.gap_mm).toBeCloseTo(1.22, 9);
    expect(advice.thicknesses_mm).toEqual([0.6, 0.6]);
    // 6002: the inner ring's face ends at 18.3 mm across; the shim is 21 wide and its seal begins there.
    for (const place of advice.places) {
      const beside = place.between.some((id) => id.includes('bearing'));
      expect(place.refusal).toBe(beside ? 'on-seal' : undefined);
      if (beside) expect(place.widest_mm).toBeCloseTo(18.3, 9);
    }
  });

  it('where every place is beside a bearing no shim is advised, but the right spacer is', () => {
    const trial = trialOf(rig, 'rig-pivot', { measured_mm: { 'rig-axle/tube:length': 21.4 } });
    const advice = adviseShims(trial, 'rig-axle:bearing-left~bearing-right');
    expect(advice.what).toBe('spacer');
    expect(advice.now).toBe('pinches');
    expect(advice.places.every(({ refusal }) => refusal === 'on-seal')).toBe(true);
    expect(advice.spacers).toMatchObject([{ replaces: 'rig-axle/tube', length_mm: 22, becomes: 'clamps' }]);
    // The outer span is short by the same tube: a shim there would leave the bearings pressed together.
    expect(adviseShims(trial, 'rig-axle:arm-left~arm-right').what).toBe('spacer');
  });

  it('a column that is too long takes a shorter spacer: no shim shortens it', () => {
    const trial = trialOf(skarn, 'rocker-frame', { measured_mm: { 'rocker-frame/cone-left:length': 7.1 } });
    const advice = adviseShims(trial, SPAN);
    expect(advice.what).toBe('spacer');
    expect(advice.thicknesses_mm).toBeUndefined();
    expect(advice.spacers.map(({ replaces, length_mm }) => [replaces, length_mm])).toEqual([
      ['rocker-frame/cone-left', 6.5],
      ['rocker-frame/cone-right', 8.4],
    ]);
  });

  it('a part of the list that has the length comes before one to be turned', () => {
    const listed: LinkageModel = {
      ...skarn,
      parts: {
        ...skarn.parts,
        'cone-thin': {
          ...skarn.parts['rocker-cone-long']!,
          name: 'Thin cone',
          length_mm: 8.4,
        } as LinkageModel['parts'][string],
      },
    };
    const trial = trialOf(listed, 'rocker-frame', { measured_mm: { 'rocker-frame/cone-left:length': 7.1 } });
    expect(
      adviseShims(trial, SPAN).spacers.find(({ replaces }) => replaces === 'rocker-frame/cone-right'),
    ).toMatchObject({ part: 'cone-thin', length_mm: 8.4 });
  });

  it('a span that fits is left alone, and only spans are mended', () => {
    const trial = trialOf(skarn, 'rocker-frame', { measured_mm: { 'rocker-frame/cone-left:length': 6.52 } });
    expect(adviseShims(trial, SPAN).what).toBe('none');
    expect(() => adviseShims(trial, 'rocker-frame:room')).toThrow(
      /span is rocker-frame:room, allowed: rocker-frame:bearing-left~bearing-right/,
    );
  });

  it('the measured model says what the build said: a tube 0.6 mm short side-loads the shell’s bearings', () => {
    const joint = makeJoint(resolveModel(skarn), 'main');
    const dimensions = dimensionsOf(joint);
    const model = rebuildModel(
      joint,
      dimensions,
      dimensions.list.map(({ id }) => (id === 'main/tube:length' ? 34.4 - 35 : 0)),
    );
    const codes = judge(resolveModel(model), 'main')
      .findings.filter(({ severity }) => severity === 'stop')
      .map(({ code }) => code);
    expect(codes).toContain('bearing-side-loaded');
    expect(
      judge(resolveModel(skarn), skarn.pivots[0]!.id).findings.filter(({ severity }) => severity === 'stop'),
    ).toEqual([]);
  });

  it('refuses a length that cannot be that part’s', () => {
    expect(() => listDimensions(skarn, 'main', { measured_mm: { tube: 3 } })).toThrow(
      /within 3 mm of the nominal 35 mm/,
    );
    expect(() => listDimensions(skarn, 'nowhere')).toThrow(/pivot is nowhere, allowed: main/);
  });

  it('the report is plain data', () => {
    const run = checkTolerances(skarn, { pivotId: 'main', sets: 200, measured_mm: { tube: 34.9 } });
    let step = run.next();
    while (step.done !== true) step = run.next();
    const report = step.value;
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
    expect(report.shims.map(({ chainId }) => chainId)).toEqual([
      'main:arm-left~arm-right',
      'main:bearing-left~bearing-right',
    ]);
    for (const chain of report.chains) expect(chain.terms.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });
});
