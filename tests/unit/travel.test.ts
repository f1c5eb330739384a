/** The travel of a model in one call: demo bikes, findings (one each), other shocks, loads on bearings, ranking. */
import { describe, expect, test } from 'vitest';
import type { LinkageModel, PartOf } from '../../shared/index.ts';
import { analyse } from '../../shared/analyse.ts';
import { bearingPlaces, sidePush_N } from '../../shared/travel/loads.ts';
import { linkageOf } from '../../shared/travel/linkage.ts';
import { travel, TRAVEL_FINDING_CODES, type TravelFindingCode } from '../../shared/travel/travel.ts';
import { wordLowPivots, wordRanking, wordTravelFeel, wordTravelFinding } from '../../shared/words/travel.ts';
import { demoModels, withRow } from '../bench/models.ts';
import { oneArm, sketchModel } from '../setup/linkages.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const models = demoModels();
const modelOf = (id: string): LinkageModel => models.find((model) => model.id === id)!;
const skarn = modelOf('skarn-140');
const shocked = models.filter((model) => model.shock).map((model) => [model.id, model] as const);

describe('demo bikes', () => {
  test.each(shocked)('%s: stands as it says, rubs nowhere, and its forces hold', (_, model) => {
    const { travel: result } = travel(model, { analysis: analyse(model) });
    expect(result.findings.filter(({ severity }) => severity === 'stop')).toEqual([]);
    expect(result.findings.filter(({ code }) => code === 'eye-to-eye-differs' || code === 'travel-differs')).toEqual(
      [],
    );
    expect(result.verdict).toBe('sound');
    expect(result.mobility).toBe(1);
    expect(result.closure_mm).toBeLessThan(1e-9);
    expect(result.forceCheck_N).toBeLessThan(1e-8);
    expect(Math.abs(result.rear!.rise_mm - result.rear!.stated_mm!)).toBeLessThan(0.02 * result.rear!.stated_mm!);
    expect(result.rear!.path_mm).toBeGreaterThan(result.rear!.rise_mm);
    expect(result.shock).toMatchObject({ reached_mm: model.shock!.stroke_mm });
    expect(result.poses).toHaveLength(61);
    expect(result.pivots).toHaveLength(model.pivots.length);
  });

  test('class rig: swings, and carries nothing', () => {
    const { travel: result } = travel(modelOf('class-rig'));
    expect(result.drive).toEqual({ kind: 'turn', member: 'arm' });
    expect(result.pivots[0]).toMatchObject({ pivot: 'rig-pivot', most_N: 0 });
    expect(result.pivots[0]!.turn_deg).toBeCloseTo(60, 9);
    expect(result).not.toHaveProperty('rear');
    expect(result).not.toHaveProperty('forceCheck_N');
    expect(wordTravelFeel(result, modelOf('class-rig'))).toBe('Rig pivot turns 60°.');
    expect(wordLowPivots(result, modelOf('class-rig'))).toBe('');
  });

  test('forces grow in step with the load', () => {
    const [one, three] = [1000, 3000].map((load_N) => travel(skarn, { poses: 5, load_N }).travel);
    three!.pivots.forEach(({ pivot, most_N }) =>
      expect(most_N).toBeCloseTo(3 * one!.pivots.find((work) => work.pivot === pivot)!.most_N, 6),
    );
    three!.bearings.forEach((bearing, k) => expect(bearing.safety!).toBeLessThan(one!.bearings[k]!.safety!));
  });
});

describe('bearings', () => {
  test('shares of one body add up to 1 and turn nothing about the middle plane', () => {
    for (const [, model] of shocked) {
      const places = bearingPlaces(linkageOf(resolveModel(model)));
      for (const pivot of model.pivots) {
        const own = places.filter((place) => place.pivot === pivot.id);
        for (const body of new Set(own.map((place) => place.body))) {
          const shared = own.filter((place) => place.body === body);
          expect(shared.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
          if (shared.length > 1)
            expect(shared.reduce((sum, { share, z_mm }) => sum + share * z_mm, 0)).toBeCloseTo(0, 9);
        }
      }
    }
  });

  test('every bearing of the model has a place', () => {
    for (const [, model] of shocked) {
      const rows = model.pivots.flatMap((pivot) =>
        pivot.stacks.flatMap((stack) =>
          stack.row
            .filter((entry) => entry.part !== undefined && model.parts[entry.part]!.kind === 'bearing')
            .map((entry) => `${stack.id}/${entry.id}`),
        ),
      );
      expect(
        bearingPlaces(linkageOf(resolveModel(model)))
          .map(({ id }) => id)
          .sort(),
      ).toEqual(rows.sort());
    }
  });

  test('a bearing near the middle plane carries more than one far from it', () => {
    // Bores moved 0.75 mm to the drive side: their bearings share by the lever rule.
    const { bores, ...member } = skarn.members['frame']!;
    const { main, ...others } = bores;
    const aside = { ...main!, z_from_mm: main!.z_from_mm + 0.75, z_to_mm: main!.z_to_mm + 0.75 };
    const moved = { ...skarn, members: { ...skarn.members, frame: { ...member, bores: { ...others, main: aside } } } };
    const [left, right] = bearingPlaces(linkageOf(resolveModel(moved))).filter(({ id }) => id.startsWith('main/'));
    expect(left!.share / right!.share).toBeCloseTo(-right!.z_mm / left!.z_mm, 9);
    expect(left!.share).toBeGreaterThan(right!.share);
  });

  test('what tightening leaves along the axle is the difference of an inner ring’s two faces', () => {
    const faulty = analyse(withRow(skarn, 'main', (row) => row.filter(({ id }) => id !== 'tube')));
    const items = faulty.pivots
      .find(({ id }) => id === 'main')!
      .stacks[0]!.items.filter(({ role }) => role === 'bearing');
    const finding = faulty.pivots
      .find(({ id }) => id === 'main')!
      .findings.find(({ code }) => code === 'bearing-side-loaded')!;
    expect(Math.max(...items.map(sidePush_N))).toBeCloseTo(finding.numbers['load_N']!.value, 1);
    const sound = analyse(skarn).pivots.flatMap(({ stacks }) =>
      stacks.flatMap((stack) => stack.items.filter(({ role }) => role === 'bearing')),
    );
    for (const item of sound) expect(sidePush_N(item)).toBeLessThan(200);
  });
});

describe('another shock', () => {
  test('a longer one lifts nothing: the axle stands lower, and the rest is told', () => {
    const { travel: longer } = travel(skarn, { poses: 21, eyeToEye_mm: 215, stroke_mm: 55 });
    expect(longer.shock!.axleShift_mm!.y_mm).toBeLessThan(-5);
    const finding = longer.findings.find(({ code }) => code === 'other-shock')!;
    expect(wordTravelFinding(finding, skarn).text).toMatch(
      /^215 mm × 55 mm instead of 210 mm × 55 mm\. At full length the rear axle stands .* lower/,
    );
    const { travel: shorter } = travel(skarn, { poses: 21, eyeToEye_mm: 207, stroke_mm: 50 });
    expect(shorter.shock!.axleShift_mm!.y_mm).toBeGreaterThan(5);
    expect(longer.findings.map(({ code }) => code)).not.toContain('travel-differs');
  });

  test('one that moves the axle by ten millimetres and more is to look at, with what changes', () => {
    const told = (eyeToEye_mm: number) => {
      const { findings, shock } = travel(skarn, { poses: 5, eyeToEye_mm, stroke_mm: 45 }).travel;
      const finding = findings.find(({ code }) => code === 'other-shock')!;
      return { finding, shift_mm: shock!.axleShift_mm!.y_mm, ...wordTravelFinding(finding, skarn) };
    };
    const [short, long, near] = [told(200), told(216), told(209)];
    expect(short.shift_mm).toBeGreaterThan(10);
    expect(long.shift_mm).toBeLessThan(-10);
    expect(Math.abs(near.shift_mm)).toBeLessThan(10);
    expect([short, long, near].map(({ finding }) => finding.severity)).toEqual(['warn', 'warn', 'note']);
    expect(short.title).toBe('Another shock changes how the bike stands');
    expect(short.text).toMatch(
      /higher than .*So the frame sits lower at the rear: cranks and pedals come nearer the ground/,
    );
    expect(long.text).toMatch(/lower than .*So the frame sits higher at the rear: .*steeper/);
    expect(near.text).not.toMatch(/sits/);
    for (const { text } of [short, long])
      for (const sentence of text.split(/(?<=\.) /)) expect(sentence.split(' ').length).toBeLessThanOrEqual(30);
  });

  test('one with more stroke is stopped by what touches first, and says where', () => {
    const { travel: result } = travel(skarn, { poses: 81, stroke_mm: 80 });
    expect(result.shock!.endedBy).toBe('contact');
    expect(result.shock!.reached_mm).toBeGreaterThan(55);
    expect(result.shock!.reached_mm).toBeLessThan(75);
    const rub = result.findings.find(({ code }) => code === 'parts-rub')!;
    expect(rub.severity).toBe('stop');
    expect(result.verdict).toBe('faulty');
    expect(wordTravelFinding(result.findings.find(({ code }) => code === 'other-shock')!, skarn).text).toMatch(
      /parts touch there/,
    );
  });

  test('one that cannot be fitted is refused with the nearest length', () => {
    const { travel: result } = travel(skarn, { poses: 5, eyeToEye_mm: 400 });
    const finding = result.findings.find(({ code }) => code === 'shock-out-of-reach')!;
    expect(finding.severity).toBe('stop');
    expect(finding.numbers['nearest_mm']!.value).toBeLessThan(400);
    expect(result.poses).toEqual([]);
    expect(result.shock).toMatchObject({ endedBy: 'out-of-reach', reached_mm: 0 });
  });
});

/** An arm whose end swings past a post of the frame with less than a millimetre. */
const passingPost = sketchModel({
  pivots: { main: [0, 0], end: [100, 0] },
  members: {
    frame: {
      kind: 'frame',
      at: ['main'],
      z_mm: [-30, -20],
      points: { post: { x_mm: 85, y_mm: 80, z_mm: 0 }, top: { x_mm: 125, y_mm: 120, z_mm: 0 } },
      webs: [{ from: 'post', to: 'top', thickness_mm: 10, height_mm: 12 }],
    },
    arm: { kind: 'swingarm', at: ['main', 'end'] },
  },
});

/** One model and options for each finding: a code without a row fails the test below. */
const ROWS: Readonly<Record<TravelFindingCode, () => ReturnType<typeof travel>>> = {
  'nothing-moves': () =>
    travel(sketchModel({ pivots: { a: [0, 0], b: [9, 0] }, members: { frame: { kind: 'frame', at: ['a', 'b'] } } })),
  'member-unattached': () =>
    travel(
      sketchModel({
        pivots: { a: [0, 0] },
        members: { frame: { kind: 'frame', at: ['a'] }, arm: { at: ['a'] }, lost: { at: [] } },
      }),
    ),
  'linkage-locked': () =>
    travel(
      sketchModel({
        pivots: { a: [0, 0], b: [60, 50], c: [120, 0] },
        members: { frame: { kind: 'frame', at: ['a', 'c'] }, one: { at: ['a', 'b'] }, other: { at: ['b', 'c'] } },
      }),
    ),
  'member-loose': () =>
    travel(
      sketchModel({
        pivots: { a: [0, 0], b: [80, 0], c: [160, 10] },
        members: { frame: { kind: 'frame', at: ['a'] }, arm: { at: ['a', 'b'] }, tail: { at: ['b', 'c'] } },
      }),
    ),
  'shock-out-of-reach': () => travel(skarn, { poses: 3, eyeToEye_mm: 400 }),
  'dead-centre': () => travel(oneArm([10, 20], [130, 60], [-40, 110], [-400, -5], 160), { poses: 9 }),
  'eye-to-eye-differs': () => travel({ ...skarn, shock: { ...skarn.shock!, eye_to_eye_mm: 211 } }, { poses: 5 }),
  'other-shock': () => travel(skarn, { poses: 5, stroke_mm: 50 }),
  'travel-differs': () => travel({ ...skarn, shock: { ...skarn.shock!, travel_mm: 150 } }, { poses: 21 }),
  'parts-rub': () => travel(skarn, { poses: 41, stroke_mm: 80 }),
  'parts-run-close': () => travel(passingPost, { poses: 181, free: { member: 'arm', from_deg: 0, to_deg: 90 } }),
  'tyre-runs-close': () =>
    travel(
      {
        ...skarn,
        obstacles: skarn.obstacles!.map((obstacle) =>
          obstacle.kind === 'wheel' ? { ...obstacle, radius_mm: obstacle.radius_mm + 2 } : obstacle,
        ),
      },
      { poses: 5 },
    ),
  'bearing-overloaded': () => travel(skarn, { poses: 5, load_N: 4000 }),
  'bush-overloaded': () => {
    const holt = demoModels().find(({ id }) => id === 'holt-120')!;
    const bush = holt.parts['eye-bush']! as PartOf<'eye-bush'>;
    const polymer: LinkageModel = {
      ...holt,
      parts: { ...holt.parts, 'eye-bush': { ...bush, lining: 'polymer' } },
    };
    return travel(polymer, { poses: 3, load_N: 3000 });
  },
  'bearing-side-limit': () => {
    const faulty = withRow(skarn, 'main', (row) => row.filter(({ id }) => id !== 'tube'));
    return travel(faulty, { poses: 3, analysis: analyse(faulty) });
  },
};

describe('findings', () => {
  test.each(TRAVEL_FINDING_CODES)('%s is found, and worded with every number it has a place for', (code) => {
    const { travel: result } = ROWS[code]();
    const finding = result.findings.find((candidate) => candidate.code === code);
    expect(finding, `${code} not among ${result.findings.map((each) => each.code).join(', ')}`).toBeDefined();
    const model = ['other-shock'].includes(code) ? skarn : (ROWS[code]().run?.linkage.model.written ?? skarn);
    const { title, text } = wordTravelFinding(finding!, model);
    expect(title.length).toBeGreaterThan(3);
    expect(text).not.toMatch(/undefined|NaN|Infinity/);
    expect(text).toMatch(/[.?]$/);
    for (const sentence of text.split(/(?<=[.?]) (?=[A-Z\d])/))
      expect(sentence.split(' ').length, sentence).toBeLessThanOrEqual(30);
    // Every finding of the trade's own models shows names, not ids.
    for (const id of Object.keys(skarn.members).filter((member) => member.includes('-')))
      expect(text).not.toContain(id);
  });

  test('loads that a bearing may carry for certain are a note, beyond that a warning', () => {
    const at = (load_N: number) =>
      travel(skarn, { poses: 3, load_N }).travel.findings.filter(({ code }) => code === 'bearing-overloaded');
    expect(at(1000)).toEqual([]);
    expect(at(2000).map(({ severity }) => severity)).toContain('note');
    expect(at(2000).map(({ severity }) => severity)).not.toContain('warn');
    expect(at(6000).map(({ severity }) => severity)).toContain('warn');
  });
});

describe('words', () => {
  const { travel: result } = travel(skarn, { poses: 21 });

  test('the ranking names the hardest worked pivot first and gives reasons', () => {
    const lines = wordRanking(result, skarn);
    expect(lines).toHaveLength(result.pivots.length);
    expect(lines[0]).toMatch(/^1\. .*turns \d+°, carries up to .*\. Most force while turning/);
    expect(result.pivots.map(({ work_Nrad }) => work_Nrad)).toEqual(
      [...result.pivots].map(({ work_Nrad }) => work_Nrad).sort((a, b) => b - a),
    );
    expect(lines.join(' ')).toMatch(/It sits low/);
    expect(lines.join(' ')).toMatch(/hardly turns/);
  });

  test('the low pivots are judged by load and angle, not by habit', () => {
    expect(wordLowPivots(result, skarn)).toMatch(/works hardest; of the low pivots .* does \d+ %/);
  });

  test('no tuning words', () => {
    const all = [...wordRanking(result, skarn), wordLowPivots(result, skarn), wordTravelFeel(result, skarn)].join(' ');
    expect(all).not.toMatch(/leverage|ratio|progressi|anti-/i);
  });
});

test('options that mean nothing are refused', () => {
  expect(() => travel(skarn, { poses: 1 })).toThrow(/travel: poses/);
  expect(() => travel(skarn, { poses: 2.5 })).toThrow(RangeError);
  expect(() => travel(skarn, { free: { member: 'rocker', from_deg: 5, to_deg: 20 } })).toThrow(/drawn pose between/);
  expect(() => travel(skarn, { free: { member: 'frame', from_deg: -5, to_deg: 20 } })).toThrow(/allowed: .*swingarm/);
});
