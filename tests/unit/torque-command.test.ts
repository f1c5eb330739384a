/**
 * The command `torque` and its words: the list, the card, the JSON form, refusals, and that no sentence has a hole in
 * it.
 */
import { afterEach, describe, expect, it, test, vi } from 'vitest';
import {
  analyse,
  torqueStack,
  checkTolerances,
  setUpTorque,
  torqueCards,
  torqueList,
  torqueWindow,
  wordChain,
  wordDimension,
  wordDimensionLimits,
  wordLimit,
  wordSampling,
  wordShims,
  wordTorque,
  wordWindow,
  wordWindowStrip,
  wordWrench,
  type LinkageModel,
  type ToleranceReport,
} from '../../shared/index.ts';
import { Refusal, type Options } from '../../src/commands/command.ts';
import { torqueCommand, type TorqueReport } from '../../src/commands/torque.ts';
import { demoModels, withRow, withStacks } from '../bench/models.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const MODELS = demoModels();
const skarn = MODELS.find(({ id }) => id === 'skarn-140')!;
const fjordside = MODELS.find(({ id }) => id === 'fjordside-150')!;
const rig = MODELS.find(({ id }) => id === 'class-rig')!;

function run(model: LinkageModel, options: Options = {}): { code: number; out: string } {
  const said: string[] = [];
  vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    said.push(String(chunk));
    return true;
  });
  const code = torqueCommand.run(model, options, []);
  vi.restoreAllMocks();
  return { code, out: said.join('') };
}
const torqueOf = (model: LinkageModel, stackId: string): number =>
  model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)!.torque_Nm;
const json = (model: LinkageModel, options: Options = {}): TorqueReport =>
  JSON.parse(run(model, { ...options, json: true }).out) as TorqueReport;
const HOLE = /undefined|NaN|Infinity|\[object|null/;

afterEach(() => vi.restoreAllMocks());

describe('the list', () => {
  test.each(MODELS)('$id: one entry a stack in build order, with tool, side and turn', (model) => {
    const { code, out } = run(model);
    expect(code).toBe(0);
    expect(out).not.toMatch(HOLE);
    const order = torqueList(plannedOnce(analysed(model))).map(({ stackId }) => stackId);
    const places = order.map((id) => out.indexOf(`(${id})`));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
    expect(out.match(/Stand on the/g)).toHaveLength(order.length);
    expect(out).toContain('qualified mechanic');
    const pairs = model.pivots.flatMap(({ stacks }) => (stacks.length === 2 ? stacks : []));
    expect(out.match(/One of a pair: seat both, then half the torque on both, then/g) ?? []).toHaveLength(pairs.length);
  });

  it('says the one against habit loudly, in three units', () => {
    const { out } = run(fjordside);
    expect(out).toContain('!! Against habit: from the drive side this one tightens anticlockwise.');
    expect(out.match(/!! /g)).toHaveLength(1);
    const torque_Nm = torqueOf(fjordside, 'rocker-frame');
    const [ftlb, inlb] = (['ft·lb', 'in·lb'] as const).map((unit) => wordTorque(torque_Nm, unit));
    expect(out).toContain(`${wordTorque(torque_Nm)}  (${ftlb}, ${inlb})`);
  });
});

describe('one pivot', () => {
  it('shows window, short form, wrench and the torque for a clamp', () => {
    const { code, out } = run(skarn, {
      pivot: 'rocker-frame',
      clamp_N: '4000',
      'wrench-length_mm': '300',
      'adapter-length_mm': '40',
      wrenches_Nm: '2-10,5-25',
    });
    expect(code).toBe(0);
    expect(out).not.toMatch(HOLE);
    for (const words of [
      'The setting is',
      'nut factor',
      'rings may turn below',
      'something may give above',
      'Works loose by slipping',
      'Inner rings creep',
      'Clamp fades as it settles',
      'Head shears off',
      'Axle yields',
      'Thread strips',
      // The adapter lengthens the wrench's 300 mm by its 40.
      `Set ${wordTorque((torqueOf(skarn, 'rocker-frame') * 300) / 340)}`,
      'For 4 kN on the weakest inner ring',
    ])
      expect(out).toContain(words);
  });

  it('samples sets and says what a measured tube needs', () => {
    const { out } = run(skarn, { pivot: 'main', sets: '300', class: 'm', measured_mm: 'tube=34.4' });
    expect(out).not.toMatch(HOLE);
    for (const words of [
      'Of 300 sets',
      'No standard shim washer (15 × 21) may go in',
      'it would lie on the seal',
      'one turned to 35 mm',
      'ISO 2768-1',
      'ISO 492',
    ])
      expect(out).toContain(words);
  });

  it('--json has list and cards, and the tolerances asked for', () => {
    const report = json(skarn, { pivot: 'rear', sets: '200', seed: '4' });
    const stacks = skarn.pivots.flatMap((pivot) => pivot.stacks);
    expect(report.list).toHaveLength(stacks.length);
    expect(report.cards.map(({ stackId }) => stackId)).toEqual(['rear-left', 'rear-right']);
    expect(report.tolerance!.sampling).toMatchObject({ sets: 200, seed: 4 });
    expect(json(skarn).cards).toHaveLength(stacks.length);
    expect(json(skarn, { pivot: 'rear', clamp_N: '3000' }).cards[0]!.forClamp!.torque_Nm).toBeGreaterThan(4);
    expect(json(fjordside, { variant: 'second-series' }).variant).toBe('second-series');
  });

  it('gives exit code 1 for a wrong build and for a torque beyond its window', () => {
    const wrong = withRow(rig, 'rig-axle', (row) =>
      row.map((entry) => (entry.id === 'taper-left' ? { ...entry, turned: entry.turned !== true } : entry)),
    );
    expect(run(wrong).code).toBe(1);
    const weak = withStacks(rig, (stack) => ({ ...stack, torque_Nm: 1 }));
    expect(run(weak).code).toBe(1);
    expect(run(weak, { pivot: 'rig-pivot' }).out).toContain('Too little. 1 N·m cannot hold the inner rings');
  });

  it('converts units', () => {
    expect(run(rig, { convert: '97 in-lb' }).out).toBe('11 N·m, 8.1 ft·lb, 97 in·lb\n');
    expect(run(rig, { convert: '10Nm' }).out).toContain('7.4 ft·lb');
  });
});

describe('refusals', () => {
  test.each<[Options, RegExp]>([
    [{ pivot: 'nowhere' }, /--pivot: met nowhere, allowed: rig-pivot/],
    [{ variant: 'nowhere' }, /variant/],
    [{ pivot: 'rig-pivot', clamp_N: '-3' }, /--clamp_N: met -3, allowed: a force above 0/],
    [{ clamp_N: '3000' }, /--clamp_N: met without --pivot/],
    [{ pivot: 'rig-pivot', sets: '0' }, /--sets: met 0/],
    [{ pivot: 'rig-pivot', sets: 'many' }, /--sets: met many/],
    [{ sets: '10' }, /without --pivot/],
    [{ pivot: 'rig-pivot', seed: '1.5' }, /--seed: met 1.5/],
    [{ pivot: 'rig-pivot', draw: 'flat' }, /--draw: met flat, allowed: bell, even/],
    [{ pivot: 'rig-pivot', class: 'z' }, /--class: met z, allowed: f, m, c/],
    [{ pivot: 'rig-pivot', measured_mm: 'tube' }, /--measured_mm: met tube/],
    [{ pivot: 'rig-pivot', measured_mm: 'taper-left=0' }, /--measured_mm: met taper-left=0/],
    [{ pivot: 'rig-pivot', measured_mm: 'taper-left=60' }, /within 3 mm of the nominal 5 mm/],
    [{ pivot: 'rig-pivot', measured_mm: 'sleeve=30' }, /measured dimension is sleeve, allowed: .*taper-left:length/],
    [{ wrenches_Nm: '25-5' }, /--wrenches_Nm: met 25-5/],
    [{ wrenches_Nm: '5' }, /--wrenches_Nm: met 5/],
    [{ 'wrench-length_mm': '300' }, /both lengths together/],
    [{ 'adapter-angle_deg': '30' }, /without its lengths/],
    [{ 'adapter-angle_deg': '999' }, /--adapter-angle_deg: met 999, allowed: an angle from -180 to 180/],
    [{ convert: '5 N·m', pivot: 'rig-pivot' }, /--convert and --pivot: met both, allowed: one of them/],
    [{ 'wrench-length_mm': '0', 'adapter-length_mm': '10' }, /--wrench-length_mm: met 0/],
    [
      { 'wrench-length_mm': '50', 'adapter-length_mm': '60', 'adapter-angle_deg': '180' },
      /bolt stays ahead of the grip/,
    ],
    [{ convert: '-3 Nm' }, /--convert: met -3 Nm, allowed: a number of at least 0/],
    [{ convert: '3 kg' }, /--convert: met 3 kg/],
    [{ convert: '' }, /--convert/],
  ])('%j', (options, words) => {
    expect(() => run(rig, options)).toThrow(Refusal);
    expect(() => run(rig, options)).toThrow(words);
  });
});

describe('words', () => {
  it('every verdict and every limit of every demo stack is a whole sentence', () => {
    const titles = new Set<string>();
    for (const model of MODELS) {
      for (const torque of [0.3, 1, 3, 30]) {
        const changed = withStacks(model, (stack) => ({ ...stack, torque_Nm: stack.torque_Nm * torque }));
        const analysis = analyse(changed);
        for (const pivot of changed.pivots) {
          for (const card of torqueCards(analysis, pivot.id)) {
            const { title, text } = wordWindow(card.window);
            titles.add(title);
            const limits = [...(card.window.least ? [card.window.least] : []), ...card.window.most].map((limit) =>
              wordLimit(limit, analysis),
            );
            for (const said of [
              title,
              text,
              wordWindowStrip(card.window),
              wordWrench(card.wrench).text,
              ...limits.flatMap((limit) => [limit.title, limit.text]),
            ])
              expect(said).not.toMatch(HOLE);
          }
        }
      }
    }
    expect(titles.size).toBeGreaterThanOrEqual(4);
  });

  it('a column that cannot hold says so instead of naming a torque', () => {
    const bench = torqueStack(setUpTorque(resolveModel(rig), 'rig-pivot'), 'rig-axle');
    const { least: _least, from_Nm: _from, ...rest } = torqueWindow(bench);
    expect(wordWindow({ ...rest, enough: 'no', verdict: 'too-little' }).text).toContain('No torque within reach');
    expect(wordWindowStrip({ ...rest, enough: 'no', verdict: 'too-little' })).not.toMatch(HOLE);
  });

  it('every dimension, chain, sampling and shim of the demo pivots is a whole sentence', () => {
    for (const model of MODELS) {
      const analysis = analyse(model);
      for (const { id } of model.pivots) {
        const run = checkTolerances(model, { pivotId: id, sets: 60, generalClass: 'c' });
        let step = run.next();
        while (step.done !== true) step = run.next();
        const report: ToleranceReport = step.value;
        const said = [
          ...report.dimensions.flatMap((dimension) => [
            wordDimension(dimension, analysis),
            wordDimensionLimits(dimension),
          ]),
          ...report.chains.flatMap((chain) => Object.values(wordChain(chain, analysis))),
          ...Object.values(wordSampling(report.sampling, report.dimensions, analysis)),
        ];
        for (const words of said) expect(words).not.toMatch(HOLE);
      }
    }
  });

  it('torques keep the digits a scale can be read to', () => {
    expect([wordTorque(12.54), wordTorque(11), wordTorque(11, 'ft·lb'), wordTorque(11, 'in·lb')]).toEqual([
      '12.5 N·m',
      '11 N·m',
      '8.1 ft·lb',
      '97 in·lb',
    ]);
  });

  it('shim words name the places, those shut for one reason said together', () => {
    const run = checkTolerances(skarn, { pivotId: 'rocker-frame', sets: 50, measured_mm: { 'cone-left': 5.28 } });
    let step = run.next();
    while (step.done !== true) step = run.next();
    const { title, text } = wordShims(step.value.shims[0]!, analyse(skarn));
    // 6.5 less 5.28 leaves 1.22 mm: two shims.
    expect(title).toBe('Shim of 0.6 mm and 0.6 mm');
    expect(text).toContain(
      'Lay in a shim washer 15 × 21, 0.6 mm and 0.6 mm, between tapered spacer, 6.5 mm and frame boss.',
    );
    expect(text.match(/lie on the seal/g)).toHaveLength(1);
  });
});
