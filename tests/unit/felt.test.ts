/**
 * What a hand finds: whether a row goes together, and what the bench tells of one that does, on the reference joint,
 * where each force can be worked out: arms of 400 N/mm, bearings of 20 kN/mm and 0.1 mm of play, C0 2240 N.
 */
import { describe, expect, test } from 'vitest';
import { analyse, readData, type LinkageModel, type PivotAnalysis } from '../../shared/index.ts';
import { judge } from '../../shared/findings/judge.ts';
import { feel } from '../../shared/mistakes/felt.ts';
import { applyMistake, listMistakes } from '../../shared/mistakes/list.ts';
import { beginMistakes, tryMistake } from '../../shared/mistakes/try.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { rollingDrag_Nm } from '../../shared/standards/ring-drag.ts';
import { demoModels } from '../bench/models.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

function reference(set: Readonly<Record<string, unknown>>): LinkageModel {
  const reading = readData(patched(referenceData(), { set }));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.model;
}

/** The reference joint with one of its two 5 mm spacers of another length, at 18 N·m. */
const longer = (length_mm: number): LinkageModel =>
  reference({
    'parts.ring': {
      kind: 'spacer',
      name: 'Long spacer',
      outside_mm: 17.5,
      bore_mm: 15.1,
      length_mm,
      material: 'aluminium-7075',
    },
    'pivots[0].stacks[0].row[2].part': 'ring',
    'parts.spacer.count': 1,
    'pivots[0].stacks[0].torque_Nm': 18,
  });

const sleeveOf = (length_mm: number): LinkageModel => reference({ 'parts.sleeve.length_mm': length_mm });
const codesOf = ({ findings }: PivotAnalysis): string[] => findings.map(({ code, severity }) => `${code} ${severity}`);

/** What the bench tells of a build, were it reached by a mistake. */
function benchOf(model: LinkageModel, open_mm: number): readonly string[] {
  const judged = judge(resolveModel(model), 'main');
  return feel({ judged, assembly: { goes: 'yes' }, drags: [], open_mm, touched: [] }, 0);
}

describe('a row too long for its place', () => {
  test('84 N does go by hand', () => {
    const pivot = analyse(longer(5.528)).pivots[0]!;
    const { push_N, by } = judge(resolveModel(longer(5.528)), 'main').evidence.squeeze;
    // (0.528 − 0.1) / 2 / (1/400 + 1/20000) = 83.9 N.
    expect(Math.abs(push_N - 83.9)).toBeLessThan(1);
    expect(by).toBe('hand');
    expect(codesOf(pivot).filter((code) => code.startsWith('row-too-long'))).toEqual([]);
  });

  test('a hand, a lever, nothing: each takes over where the one before gives up', () => {
    // Each length asks for its force: 5.1 + 2 × force × (1/400 + 1/20000), of which the faces take 0.4 %.
    const byOf = (length_mm: number) => judge(resolveModel(longer(length_mm)), 'main').evidence.squeeze;
    for (const [push_N, by] of [
      [145, 'hand'],
      [155, 'lever'],
      [970, 'lever'],
      [1030, 'nothing'],
    ] as const) {
      const found = byOf(5.1 + 2 * push_N * (1 / 400 + 1 / 20000));
      expect(Math.abs(found.push_N / push_N - 1)).toBeLessThan(0.02);
      expect(found.by).toBe(by);
    }
  });

  test('what does not go together clamps nothing', () => {
    const pivot = analyse(longer(11)).pivots[0]!;
    expect(codesOf(pivot)).toContain('row-too-long stop');
    expect(pivot.verdict).toBe('faulty');
    expect(pivot.stacks[0]!.clamp_N).toBe(0);
    expect(analyse(longer(6)).pivots[0]!.stacks[0]!.clamp_N).toBeGreaterThan(1000);
  });

  test('check says of a mistake built what the mistakes say of it', () => {
    let forced = 0;
    let refused = 0;
    const model = demoModels().find(({ id }) => id === 'fjordside-150')!;
    const work = beginMistakes(model);
    for (const mistake of model.pivots.flatMap(({ id }) => listMistakes(model, id))) {
      if (mistake.kind !== 'swapped') continue;
      const { assembly, pivot } = tryMistake(work, mistake);
      const push = assembly.goes === 'by-force' || (assembly.goes === 'no' && assembly.why === 'no-room');
      if (!push && assembly.goes === 'no') continue;
      const found = judge(resolveModel(applyMistake(model, mistake)), pivot).findings.find(
        ({ code }) => code === 'row-too-long',
      );
      if (!push) {
        expect(found, mistake.id).toBeUndefined();
        continue;
      }
      if (assembly.goes === 'by-force') forced++;
      else refused++;
      const severity = assembly.goes === 'by-force' ? 'warn' : 'stop';
      expect(found, mistake.id).toMatchObject({ severity, numbers: { push_N: { value: assembly.push_N } } });
    }
    expect(forced).toBeGreaterThan(0);
    expect(refused).toBeGreaterThan(0);
  });
});

describe('what the hand finds', () => {
  test('notchy from a static safety of 1, below that only drag', () => {
    // The clamp that goes through the balls of a 61902 dents them from 2 × 2240 N.
    expect(benchOf(sleeveOf(28), 0)).toEqual(['notchy']);
    const half = reference({ 'parts.sleeve.length_mm': 28, 'pivots[0].stacks[0].torque_Nm': 9 });
    expect(analyse(half).pivots[0]!.findings.find(({ code }) => code === 'bearing-side-loaded')).toMatchObject({
      severity: 'stop',
    });
    expect(benchOf(half, 0)).toEqual(['drags']);
    expect(benchOf(reference({}), 0)).toEqual(['free']);
  });

  test('rings held through the balls do not play; rings that nothing holds do', () => {
    expect(benchOf(sleeveOf(28), 0.98)).not.toContain('play');
    expect(benchOf(reference({ 'parts.axle.thread.length_mm': 19 }), 0.99)).toContain('play');
    // The column stays open, but nothing of it is open: no play either.
    expect(benchOf(reference({ 'parts.axle.thread.length_mm': 19 }), 0)).not.toContain('play');
  });

  test('a bearing of 15 mm under 1 kN rolls with 11 N·mm more (from memory)', () => {
    expect(rollingDrag_Nm(15, 1000) * 1000).toBeCloseTo(11.25, 9);
    expect(rollingDrag_Nm(15, 0)).toBe(0);
    expect(() => rollingDrag_Nm(0, 1)).toThrow(RangeError);
  });
});
