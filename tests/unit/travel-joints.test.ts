/**
 * Several joints on one axle: each two that turn against one another have their own angle and their own force, in the
 * core, in words, on the command line, on the page and on the strip of poses. Values worked by hand from the figures of
 * `fixtures/shared-bolt.ts` by the equilibrium of a pin and of a lever (statics, common practice).
 */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { analyse, travel, wordDrag, wordRanking, wordSafeties, type LinkageModel } from '../../shared/index.ts';
import { fall, pivotDrags } from '../../shared/travel/fall.ts';
import { linkageOf } from '../../shared/travel/linkage.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { travelCommand } from '../../src/commands/travel.ts';
import { drawPoses } from '../../src/drawings/poses.ts';
import { svg } from '../../src/drawings/svg.ts';
import { momentOf, travelledOf } from '../../src/travel/travel.ts';
import { FULL_deg, idleRocker, shockAt, sharedBolt } from '../fixtures/shared-bolt.ts';
import { sketchModel } from '../setup/linkages.ts';

afterEach(() => vi.restoreAllMocks());

/** What the command prints. */
function printed(model: LinkageModel, options: Record<string, string | boolean> = {}): string {
  let out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  travelCommand.run(model, options, []);
  vi.restoreAllMocks();
  return out;
}

const model = sharedBolt();
const analysis = analyse(model);
const result = travel(model, { poses: 3, analysis });
const [first, , last] = result.travel.poses;
const entry = (joint: string) => result.travel.pivots.find((work) => work.joint === joint)!;

describe('rocker, link and shock on one bolt', () => {
  test('have one entry for each that turns on it, against the rocker that the bolt is clamped in', () => {
    const own = result.travel.pivots.filter(({ pivot }) => pivot === 'shared');
    expect(own.map(({ joint, members }) => [joint, members])).toEqual([
      ['shared:shaft', ['rocker', 'shaft']],
      ['shared:link', ['rocker', 'link']],
    ]);
    expect(result.travel.pivots).toHaveLength(6);
    expect(
      result.travel.pivots.filter(({ pivot }) => pivot !== 'shared').every(({ joint, pivot }) => joint === pivot),
    ).toBe(true);
    expect(own.map(({ bearings, base_mm }) => [bearings, base_mm])).toEqual([
      [2, 11],
      [2, 11],
    ]);
  });

  test('turn as the parallelogram and the shock’s line say', () => {
    // The link stays upright while the rocker turns; the shock leans from 3 : 4 to where the triangle brings it.
    const lean = (turn_deg: number): number => {
      const { x, y } = shockAt((turn_deg * Math.PI) / 180);
      return (Math.atan2(y, x) * 180) / Math.PI;
    };
    expect(first!.turns_deg).toEqual(Object.fromEntries(Object.keys(first!.turns_deg).map((joint) => [joint, 0])));
    expect(last!.turns_deg['shared:link']).toBeCloseTo(-FULL_deg, 9);
    expect(last!.turns_deg['shared:shaft']).toBeCloseTo(lean(FULL_deg) - lean(0) - FULL_deg, 9);
    expect(last!.turns_deg['shock-frame']).toBeCloseTo(lean(FULL_deg) - lean(0), 9);
    expect(lean(0)).toBeCloseTo(53.1301, 4);
    expect(entry('shared:link').turn_deg).toBeCloseTo(20, 9);
    expect(entry('shared:shaft').turn_deg).toBeCloseTo(31.351, 3);
  });

  test('carry what levers and the balance of the bolt say', () => {
    // 1000 N up at 300 mm on the swingarm, the link at 100 mm: 3000 N, at every turn since both arms shorten alike.
    // The bolt: link up, shock along its line (4/5 of it upright at first), rocker along its own line.
    expect(first!.forces_N!['shared:link']).toBeCloseTo(3000, 8);
    expect(first!.forces_N!['shared:shaft']).toBeCloseTo(3750, 8);
    expect(first!.forces_N!['rocker-frame']).toBeCloseTo(2250, 8);
    expect(first!.forces_N!['main']).toBeCloseTo(2000, 8);
    const [c, s] = [Math.cos((FULL_deg * Math.PI) / 180), Math.sin((FULL_deg * Math.PI) / 180)];
    const { x, y } = shockAt((FULL_deg * Math.PI) / 180);
    // R·c = P·x and 3000 + R·s = P·y.
    const shock_N = 3000 / (y - (x * s) / c);
    expect(last!.forces_N!['shared:link']).toBeCloseTo(3000, 7);
    expect(last!.forces_N!['shared:shaft']).toBeCloseTo(shock_N, 6);
    expect(last!.forces_N!['rocker-frame']).toBeCloseTo((shock_N * x) / c, 6);
    expect(last!.shock_N).toBeCloseTo(shock_N, 6);
    expect(entry('shared:link').most_N).toBeCloseTo(3000, 7);
    expect(entry('shared:shaft').most_N).toBeCloseTo(shock_N, 6);
  });

  test('press on their own bearings', () => {
    const own = (joint: string): number =>
      result.travel.bearings
        .filter((bearing) => bearing.joint === joint)
        .reduce((sum, { radial_N, share }) => sum + Math.sign(share) * radial_N, 0);
    expect(own('shared:link')).toBeCloseTo(3000, 6);
    expect(own('shared:shaft')).toBeCloseTo(entry('shared:shaft').most_N, 6);
    const found = result.travel.findings.filter(({ pivots }) => pivots[0] === 'shared');
    expect(found.map(({ code, members }) => [code, members])).toEqual([
      ['bearing-overloaded', ['rocker', 'link']],
      ['bearing-overloaded', ['rocker', 'shaft']],
    ]);
  });

  test('are told apart in words, in the table, in CSV and JSON', () => {
    expect(wordRanking(result.travel, model)[0]).toMatch(
      /^1\. Shared bolt \(rocker and shock shaft\) turns 31°, carries up to 7\.6 kN/,
    );
    const text = printed(model, { poses: '3' });
    expect(text).toMatch(/\n {2}stroke +rise +rocker-frame +shared:link +shared:shaft +link-arm +main +shock-frame\n/);
    expect(text).toMatch(/Shared bolt \(rocker and link\) turns 20°, carries up to 3 kN/);
    expect(text).toMatch(/LOOK Bearing overloaded\. Shared bolt \(rocker and link\): its most loaded/);
    const [head, start] = printed(model, { poses: '3', csv: true })
      .split('\n')
      .map((line) => line.split(','));
    const cell = (name: string): string => start![head!.indexOf(name)]!;
    expect([cell('shared:link_N'), cell('shared:shaft_N'), cell('shared:shaft_turn_deg')]).toEqual([
      '3000',
      '3750',
      '0',
    ]);
    const json = JSON.parse(printed(model, { poses: '3', json: true })) as { poses: { turns_deg: object }[] };
    expect(Object.keys(json.poses[0]!.turns_deg)).toEqual(expect.arrayContaining(['shared:link', 'shared:shaft']));
  });

  test('are told apart on the picture and on the strip', () => {
    const travelled = travelledOf({ ...result, drags: pivotDrags(analysis) })!;
    const { picture } = momentOf(travelled, { share: 1, isOut: false });
    expect(picture.pivotWords['shared']).toBe('link 20°, shock shaft 31°');
    expect(picture.pivotWords['main']).toBe('20°');
    const labels = [...svg(drawPoses(result)!).matchAll(/data-pivot="shared"[^>]*>([^<]*)</g)].map(
      ([, label]) => label,
    );
    expect(labels).toEqual(expect.arrayContaining(['link 20°', 'shock shaft 31°']));
  });

  test('drag each by its own seals, and the shock’s is not felt when it is out', () => {
    const drags = pivotDrags(analysis);
    const own = drags.filter(({ pivot }) => pivot === 'shared');
    expect(own.map(({ joint }) => joint)).toEqual(['shared:link', 'shared:shaft']);
    expect(own[0]!.drag_Nm).toBeCloseTo(own[1]!.drag_Nm, 12);
    expect(wordDrag(own[0]!, model)).toMatch(/^Shared bolt \(rocker and link\): about .* its seals alone$/);
    const run = result.run!;
    const stuck = (joint: string) => fall(run, [{ joint, pivot: 'shared', drag_Nm: 1000 }]);
    expect(stuck('shared:shaft').isFree).toBe(true);
    expect(stuck('shared:link')).toMatchObject({ isFree: false, held: { joint: 'shared:link', pivot: 'shared' } });
  });
});

describe('the body that an axle is clamped in', () => {
  const at = (members: Parameters<typeof sketchModel>[0]['members']) =>
    linkageOf(
      resolveModel(sketchModel({ pivots: { a: [0, 0], b: [50, 0], c: [0, 50], d: [50, 50] }, members })),
    ).pivots[0]!.joints.map(({ id, members: pair }) => [id, ...pair]);

  test('without bearings is the outermost one; of equals the frame', () => {
    expect(at({ frame: { kind: 'frame', at: ['a', 'b'] }, one: { at: ['a', 'c'] }, two: { at: ['a', 'd'] } })).toEqual([
      ['a:one', 'frame', 'one'],
      ['a:two', 'frame', 'two'],
    ]);
    expect(
      at({
        frame: { kind: 'frame', at: ['a', 'b'] },
        one: { at: ['a', 'c'], z_mm: [-20, 20] },
        two: { at: ['a', 'd'] },
      }),
    ).toEqual([
      ['a:frame', 'frame', 'one'],
      ['a:two', 'one', 'two'],
    ]);
  });

  test('two bodies are one joint under the pivot’s own id', () => {
    expect(at({ frame: { kind: 'frame', at: ['a', 'b'] }, one: { at: ['a', 'c'] } })).toEqual([['a', 'frame', 'one']]);
  });
});

describe('a pin that carries nothing', () => {
  const idle = idleRocker();
  const { travel: run } = travel(idle, { poses: 5 });

  test('has no static safety, and words that say so', () => {
    const carries = (joint: string): number => run.pivots.find((work) => work.joint === joint)!.most_N;
    for (const joint of ['rocker-frame', 'shared', 'link-arm']) {
      expect(carries(joint)).toBeLessThan(1e-6);
      for (const bearing of run.bearings.filter((candidate) => candidate.joint === joint))
        expect(bearing).not.toHaveProperty('safety');
    }
    expect(carries('shock-arm')).toBeGreaterThan(1000);
    const safeties = wordSafeties(run, idle);
    expect(safeties.slice(-3)).toEqual([
      'Rocker to frame: carries nothing',
      'Shared bolt: carries nothing',
      'Link to swingarm: carries nothing',
    ]);
    expect(safeties.slice(0, -3).every((line) => /: \d\.\d\d \(/.test(line))).toBe(true);
    expect(wordRanking(run, idle).filter((line) => /carries nothing\./.test(line))).toHaveLength(3);
    expect(run.findings.flatMap(({ pivots }) => pivots)).not.toContain('rocker-frame');
  });

  test('is no number in JSON and text', () => {
    const text = printed(idle, { poses: '3' });
    expect(text).not.toMatch(/Infinity|NaN|∞|null|\d{6}/);
    const json = JSON.parse(printed(idle, { poses: '3', json: true })) as { bearings: { safety?: number | null }[] };
    expect(json.bearings.every(({ safety }) => safety === undefined || (safety !== null && safety < 100))).toBe(true);
  });

  test('without a load says nothing of loads', () => {
    const none = travel(idle, { poses: 3, load_N: 0 }).travel;
    expect(wordSafeties(none, idle)).toEqual([]);
    expect(wordRanking(none, idle).join(' ')).not.toMatch(/carr/);
  });
});
