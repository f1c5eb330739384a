/**
 * The words: plain, whole sentences that name their parts and their numbers, for every finding there is a fixture of,
 * every face, part, torque and step of those joints and of the demo models. No word promises that a bike may be ridden.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  CAUTIONS,
  figure,
  nameOf,
  wordBears,
  wordFace,
  wordFacing,
  wordFinding,
  wordForce,
  wordMeasure,
  wordPlanStep,
  wordStripStep,
  planOf,
  stripOf,
  wordTool,
  wordTreatment,
  wordTurn,
  wordVerdict,
  type Analysis,
  type Finding,
  type FindingCode,
  type Measure,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { assembly, FINDING_ROWS } from '../fixtures/findings/rows.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { analysed } from '../setup/worked.ts';

const ANALYSES: readonly (readonly [string, Analysis])[] = [
  ...FINDING_ROWS.map((row) => [`${row.code}: ${row.name}`, analysed(assembly(row, 'bad'))] as const),
  ...demoModels().flatMap((model) => [
    [model.id, analysed(model)] as const,
    ...(model.variants ?? []).map((variant) => [`${model.id}, ${variant.id}`, analysed(model, variant.id)] as const),
  ]),
];

const PROMISE = new RegExp(['safe', 'to', 'ride'].join('\\s+'), 'i');

/** Codes whose limit only says from when they are noticed, not what a mechanic should reach. */
const ONLY_NOTICED: readonly FindingCode[] = ['side-play', 'part-missing', 'bottoms-before-clamp'];

/** Codes that tell their sizes to the thousandth: a hundredth does not tell one fit from another. */
const FINE: readonly FindingCode[] = ['fit-too-tight', 'fit-too-loose'];

/** Clean text: nothing left unfilled, nothing doubled, no promise. */
function expectClean(text: string): void {
  expect(text).not.toMatch(/undefined|NaN|Infinity|null|\[object|–|\.\.|,,|;;| {2}| [.,;:]|\(\)|\b0 ×|__/);
  expect(text).not.toMatch(PROMISE);
  expect(text.trim()).toBe(text);
  expect(text).not.toBe('');
}

function expectSentence(text: string): void {
  expectClean(text);
  expect(text).toMatch(/^[\p{Lu}\d]/u);
  expect(text).toMatch(/\.$/);
}

const findingsOf = (analysis: Analysis): Finding[] => [
  ...analysis.pivots.flatMap((pivot) => pivot.findings),
  ...analysis.findings,
];
const itemsOf = (analysis: Analysis) =>
  analysis.pivots.flatMap((pivot) => pivot.stacks.flatMap((stack) => stack.items));

describe('a finding in words', () => {
  test.each(ANALYSES)('%s', (_, analysis) => {
    for (const finding of findingsOf(analysis)) {
      const { title, text } = wordFinding(finding, analysis);
      const said = text.toLowerCase();
      expectClean(title);
      expect(title).not.toMatch(/\.$/);
      expectSentence(text);
      // Where more than two give at once, the first two are named and the others counted.
      const isCut = finding.code === 'torque-too-high' && finding.parts.length > 2;
      if (isCut) {
        const more = finding.parts.length - 2;
        expect(said).toContain(more === 1 ? 'one more part' : `${more} more parts`);
      }
      for (const id of isCut ? finding.parts.slice(0, 2) : finding.parts) {
        const item = itemsOf(analysis).find((candidate) => candidate.id === id)!;
        // The bosses of a member that is off its line are one thing to the mechanic: the member.
        const name = finding.code === 'member-off-line' ? item.name : nameOf(id, analysis);
        expect(said, `${finding.code}: ${text}`).toContain(name.toLowerCase());
      }
      if (finding.about?.['name'] !== undefined) expect(said).toContain(finding.about['name'].toLowerCase());
      if (finding.limit && !ONLY_NOTICED.includes(finding.code))
        expect(text, finding.code).toContain(
          FINE.includes(finding.code) ? `${figure(finding.limit.value, 3)} mm` : wordMeasure(finding.limit),
        );
      if (finding.rests) expect(said).toContain('estimate');
      if (finding.severity !== 'stop')
        expect(title).not.toMatch(/^(Rubs|Bears on the outer|Face crushed|Axle overstressed)/);
    }
  });

  test('reads as a mechanic would say it', () => {
    const analysis = analyse(referenceModel(['spacer-nd']));
    expect(
      findingsOf(analysis)
        .filter((finding) => finding.code === 'arm-drawn')
        .map((finding) => wordFinding(finding, analysis)),
    ).toEqual([
      {
        title: 'Arms drawn in',
        text: expect.stringMatching(
          /^Look for a spacer that is missing or too short\. Tightening bends rocker boss \(non-drive\) and rocker boss \(drive\) inward by up to 2\.4\d mm; 0\.5 mm is the most a metal arm should see\. That takes 97\d N of the clamp, and the axle comes up tight all the same\.$/,
        ),
      },
    ]);
  });
});

describe('parts, faces and torque in words', () => {
  test.each(ANALYSES)('%s', (_, analysis) => {
    for (const stack of analysis.pivots.flatMap((pivot) => pivot.stacks)) {
      expectSentence(wordTurn(stack.tightening));
      expectClean(wordTreatment(stack.id, analysis));
      for (const item of stack.items) {
        expectSentence(wordFacing(item, analysis));
        for (const face of [item.nonDrive, item.drive]) expectClean(wordFace(face, analysis));
      }
      // Two things of one stack never share a name.
      const names = stack.items.map((item) => nameOf(item.id, analysis));
      expect(new Set(names).size, names.join(' | ')).toBe(names.length);
    }
    expectClean(wordVerdict(analysis));
  });

  test('a tapered spacer says which way it faces and what that makes it bear on', () => {
    const row = FINDING_ROWS.find((candidate) => candidate.name.startsWith('a tapered spacer'))!;
    const facing = (which: 'bad' | 'good'): string => {
      const analysis = analysed(assembly(row, which));
      return wordFacing(itemsOf(analysis).find((item) => item.rowId === 'taper')!, analysis);
    };
    expect(facing('good')).toBe('Small face to the non-drive side, so that it bears on the inner ring only.');
    expect(facing('bad')).toBe(
      'Small face to the drive side, and so its large face meets the bearing, where only the inner ring may be touched.',
    );
  });
});

describe('a face that touches two things', () => {
  const rowOf = (name: string) => FINDING_ROWS.find((row) => row.name === name)!;
  test('a force is told of the thing that carries it: the seal is touched, the inner ring takes the clamp', () => {
    const analysis = analyse(assembly(rowOf('a spacer 21 mm wide covers the seal'), 'bad'));
    const spacer = analysis.pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === 'spacer-nd')!;
    expect(spacer.nonDrive.force_N).toBeGreaterThan(5000);
    expect(wordFace(spacer.nonDrive, analysis)).toMatch(
      /^touches the seal of Bearing 15×28×7 \(rocker, non-drive\), also inner ring with 9\.3 kN$/,
    );
  });
  test('what is named has its own share, the rest beside it', () => {
    const analysis = analyse(assembly(rowOf('a spacer 27 mm wide stands before both rings of the bearing'), 'bad'));
    for (const { nonDrive, drive } of analysis.pivots[0]!.stacks[0]!.items)
      for (const face of [nonDrive, drive]) {
        const told = [...wordFace(face, analysis).matchAll(/with ([\d.]+) (k?N)/g)];
        const sum = told.reduce((total, [, figure, unit]) => total + Number(figure) * (unit === 'kN' ? 1000 : 1), 0);
        if (face.force_N > 1) expect(Math.abs(sum - face.force_N)).toBeLessThan(60 * told.length);
      }
  });
});

describe('steps in words', () => {
  test.each(ANALYSES)('%s', (_, analysis) => {
    const plan = planOf(analysis);
    const strip = stripOf(plan).steps;
    for (const { title, text, cautions } of [
      ...plan.steps.map((step) => wordPlanStep(step, analysis)),
      ...strip.map((step) => wordStripStep(step, analysis)),
    ]) {
      expectClean(title);
      expectSentence(text);
      cautions.forEach(expectSentence);
    }
    for (const { id } of analysis.pivots) {
      const build = plan.steps.filter(({ pivotId }) => pivotId === id);
      const cautions = (kind: string) =>
        build.filter((step) => step.kind === kind).flatMap((step) => wordPlanStep(step, analysis).cautions);
      expect(cautions('torque')).toContain(CAUTIONS.torque);
      expect(cautions('free-check')).toContain(CAUTIONS.after);
      expect(cautions('prepare')).toContain(CAUTIONS.body);
      const undone = strip.filter(({ kind, step }) => kind === 'undo' && step.kind === 'torque' && step.pivotId === id);
      expect(undone.flatMap((step) => wordStripStep(step, analysis).cautions)).toContain(CAUTIONS.air);
    }
  });

  test('carbon is named where it is handled', () => {
    const analysis = analyse(patched(referenceModel(), { set: { 'members.rocker.material': 'carbon-laminate' } }));
    const { steps } = planOf(analysis);
    for (const kind of ['offer-member', 'torque'])
      expect(wordPlanStep(steps.find((step) => step.kind === kind)!, analysis).cautions).toContain(CAUTIONS.carbon);
  });
});

describe('the cautions', () => {
  test('leave the last word to others and are whole sentences', () => {
    Object.values(CAUTIONS).forEach(expectSentence);
    expect(CAUTIONS.defer).toMatch(/frame maker.*local rules.*qualified mechanic/);
  });
});

describe('numbers in words', () => {
  const CASES: readonly (readonly [Measure, string])[] = [
    [{ value: 0, unit: 'N' }, '0 N'],
    [{ value: -0.2, unit: 'N' }, '0 N'],
    [{ value: 470.4, unit: 'N' }, '470 N'],
    [{ value: 999.6, unit: 'N' }, '1 kN'],
    [{ value: 1000, unit: 'N' }, '1 kN'],
    [{ value: 9399.4, unit: 'N' }, '9.4 kN'],
    [{ value: 14134.5, unit: 'N' }, '14.1 kN'],
    [{ value: 0.1, unit: 'mm' }, '0.1 mm'],
    [{ value: 2.436, unit: 'mm' }, '2.44 mm'],
    [{ value: 30, unit: 'mm' }, '30 mm'],
    [{ value: 12.34, unit: 'mm' }, '12.3 mm'],
    [{ value: -0.001, unit: 'mm' }, '0 mm'],
    [{ value: 421.9, unit: 'MPa' }, '422 MPa'],
    [{ value: 5, unit: 'N·m' }, '5 N·m'],
    [{ value: 7.5, unit: 'N·m' }, '7.5 N·m'],
    [{ value: 20, unit: 'N·m' }, '20 N·m'],
    [{ value: 0.5233, unit: '1' }, '0.52'],
    [{ value: 3, unit: '1' }, '3'],
  ];
  test.each(CASES)('%o is %s', (measure, words) => {
    expect(wordMeasure(measure)).toBe(words);
    if (measure.unit === 'N') expect(wordForce(measure.value)).toBe(words);
  });

  test('tools', () => {
    expect(wordTool({ tool: 'hex-key', size_mm: 6 })).toBe('6 mm hex key');
    expect(wordTool({ tool: 'star-key', size_mm: 30 })).toBe('size 30 star key');
    expect(wordTool(undefined)).toBe('right tool');
  });

  test('what a face bears on has a word each', () => {
    const words = (['inner-ring', 'outer-ring', 'seal', 'arm', 'land', 'ring', 'nothing'] as const).map(wordBears);
    expect(new Set(words).size).toBe(words.length);
    words.forEach(expectClean);
  });
});

describe('which way to turn, in words', () => {
  const tip = {
    'pivots[0].stacks[0].turned': 'tip',
    'pivots[0].stacks[0].drives.tip': { tool: 'hex-key', size_mm: 8 },
  };
  const left = { 'parts.axle.thread.hand': 'left', 'parts.nut.thread.hand': 'left' };
  const CASES = [
    [
      'head, right-hand',
      {},
      'Stand on the non-drive side, turn the axle’s head clockwise with an 8 mm hex key. Hold the nut on the drive side with a 24 mm spanner.',
    ],
    [
      'tip, right-hand',
      tip,
      'Stand on the drive side, turn the axle’s tip anticlockwise with an 8 mm hex key. It looks like undoing: the wrench stands at the far end of the screw.',
    ],
    [
      'head, left-hand',
      left,
      'Stand on the non-drive side, turn the axle’s head anticlockwise with an 8 mm hex key. It looks like undoing: the thread is left-hand.',
    ],
    [
      'tip, left-hand',
      { ...tip, ...left },
      'Stand on the drive side, turn the axle’s tip clockwise with an 8 mm hex key. Hold the nut',
    ],
    [
      'nut, right-hand',
      { 'pivots[0].stacks[0].turned': 'receiver' },
      'Stand on the drive side, turn the nut clockwise with a 24 mm spanner. Hold the axle on the non-drive side with an 8 mm hex key.',
    ],
  ] as const;
  test.each(CASES)('%s', (_, set, words) => {
    const analysis = analyse(patched(referenceModel(), { set }));
    const said = wordTurn(analysis.pivots[0]!.stacks[0]!.tightening);
    expect(said.startsWith(words), said).toBe(true);
  });
});
