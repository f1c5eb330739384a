/**
 * What a corner of the estimates says, asked for no more than whether it stops, is what the whole judging of the pivot
 * says there: on every pivot of every demo and of its variants, on mistakes, and on pivots with other lengths and
 * torques.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyMistake, applyVariant, listMistakes, readData, type LinkageModel } from '../../shared/index.ts';
import { STOP_CODES } from '../../shared/findings/findings.ts';
import { cornersAt, hasStop, isStoppedAt, judge, type Judging } from '../../shared/findings/judge.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { demoModels, pivotAlone, withStacks } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { property, someOf } from '../setup/series.ts';

const MODELS: readonly LinkageModel[] = demoModels().flatMap((model) => [
  model,
  ...(model.variants ?? []).map((variant): LinkageModel => ({ ...applyVariant(model, variant), variants: [] })),
]);
/** Stops that torque gives, beside those of the fit rules. */
const TORQUE_STOPS: readonly string[] = ['torque-too-low', 'torque-too-high'];

/** Corners at which the two ways differ, and how many there were. */
function compare(model: LinkageModel, pivotId: string, judging: Judging = {}): { faults: string[]; corners: number } {
  const resolved = resolveModel(model);
  const judged = judge(resolved, pivotId, judging);
  const stops = judged.findings.flatMap(({ code, severity }) => (severity === 'stop' ? [code] : []));
  const unknown = stops.filter((code) => !STOP_CODES.includes(code) && !TORQUE_STOPS.includes(code));
  const corners = cornersAt(judged);
  const faults = corners.flatMap(({ assumptions }) => {
    const whole = judge(resolveModel(model), pivotId, { ...judging, assumptions });
    return isStoppedAt(judged, assumptions, stops) === hasStop(whole.findings) ? [] : [JSON.stringify(assumptions)];
  });
  return { faults: [...unknown, ...faults].map((what) => `${model.id} ${pivotId}: ${what}`), corners: corners.length };
}

describe('a corner stops as the whole judging there does', () => {
  test('on every pivot as written, with what a torque that was reached adds, and at a preload set by hand', () => {
    let corners = 0;
    const asked = MODELS.flatMap((model) =>
      model.pivots.flatMap(({ id }) =>
        [{}, { reached_Nm: { [id]: 3 } }, { preload_N: 6000 }].map((judging) => ({ model, id, judging })),
      ),
    );
    for (const { model, id, judging } of someOf(asked, 2)) {
      const { faults, corners: here } = compare(model, id, judging);
      expect(faults).toEqual([]);
      corners += here;
    }
    expect(corners).toBeGreaterThan(100);
  });

  test('on mistakes', () => {
    const mistakes = MODELS.flatMap((model) =>
      model.pivots.flatMap(({ id }) => listMistakes(model, id).map((mistake) => ({ model, mistake }))),
    );
    expect(mistakes.length).toBeGreaterThan(500);
    for (const { model, mistake } of someOf(mistakes, 37))
      expect(compare(applyMistake(model, mistake), mistake.pivot).faults).toEqual([]);
  });

  test('on pivots with other lengths and torques: 12 sets', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), (salt) => {
        const draw = random(salt);
        const model = draw.pick(MODELS);
        const { id } = draw.pick(model.pivots);
        const alone = pivotAlone(model, id);
        const parts = Object.fromEntries(
          Object.entries(alone.parts).map(([name, part]) => [
            name,
            'length_mm' in part && part.kind !== 'nut' && draw.between(0, 1) < 0.3
              ? { ...part, length_mm: part.length_mm + draw.between(-0.4, 0.4) }
              : part,
          ]),
        );
        const changed = withStacks({ ...alone, parts }, (stack) => ({
          ...stack,
          torque_Nm: Math.round(stack.torque_Nm * draw.between(0.3, 2.5) * 10) / 10,
        }));
        const reading = readData(JSON.parse(JSON.stringify(changed)));
        if (reading.ok) expect(compare(reading.model, id).faults).toEqual([]);
      }),
      property(7_001, 12),
    );
  });
});
