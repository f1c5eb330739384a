/** The fall of a linkage let go at full travel: the pendulum by quadrature, scale, and what a pinched pivot does. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../shared/analyse.ts';
import { fall, pivotDrags } from '../../shared/travel/fall.ts';
import { runShock } from '../../shared/travel/poses.ts';
import { wordDrag, wordFall } from '../../shared/words/travel.ts';
import { demoModels, withRow } from '../bench/models.ts';
import { layModel, oneArm } from '../setup/linkages.ts';

const models = demoModels();
const skarn = models.find(({ id }) => id === 'skarn-140')!;

describe('without drag', () => {
  // The arm's two bosses are its mass: one at the pivot, one at the shock's eye, 110 mm away.
  const model = oneArm([0, 0], [60, 90], [-110, 0], [-400, 0], 45);

  test('a mass on an arm falls as a pendulum does', () => {
    const run = runShock(model, 241)!;
    const { steps, isFree, rests } = fall(run, []);
    expect(isFree).toBe(true);
    expect(rests).toBe(0);
    // Time from rest at the lifted angle down to level: ∫ dθ / √(2g/R·(sin θ0 − sin θ)), with the root taken out by θ =
    // θ0 − u².
    const eye = (stroke: number): number => {
      const [reach, base, length] = [110, Math.hypot(60, 90), Math.hypot(170, 90) - stroke];
      return Math.acos((reach ** 2 + base ** 2 - length ** 2) / (2 * reach * base));
    };
    const lifted = eye(0) - eye(45);
    const k = (2 * 9.80665 * 1000) / 110;
    const count = 20000;
    let time = 0;
    for (let i = 0; i < count; i++) {
      const u = ((i + 0.5) / count) * Math.sqrt(lifted);
      time += ((2 * u) / Math.sqrt(k * (Math.sin(lifted) - Math.sin(lifted - u * u)))) * (Math.sqrt(lifted) / count);
    }
    expect(Math.abs(steps.at(-1)!.time_s - time) / time).toBeLessThan(2e-3);
  });

  test('a bike four times as large takes twice as long', () => {
    const small = fall(runShock(skarn, 61)!, []).steps.at(-1)!.time_s;
    // Sizes along z stay, so that all masses grow alike.
    const large = fall(runShock(layModel(skarn, { scale: 4 }), 61)!, []).steps.at(-1)!.time_s;
    expect(large / small).toBeCloseTo(2, 6);
  });

  test('what a member is made of does not matter to how fast it falls', () => {
    const carbon = {
      ...skarn,
      members: Object.fromEntries(
        Object.entries(skarn.members).map(([id, member]) => [id, { ...member, material: 'steel' as const }]),
      ),
    };
    const all = {
      ...skarn,
      members: Object.fromEntries(
        Object.entries(skarn.members).map(([id, member]) => [id, { ...member, material: 'aluminium-7075' as const }]),
      ),
    };
    const [one, other] = [carbon, all].map((model) => fall(runShock(model, 31)!, []));
    expect(one!.steps.at(-1)!.time_s).toBeCloseTo(other!.steps.at(-1)!.time_s, 9);
    expect(one!.weight_N).toBeGreaterThan(2 * other!.weight_N);
  });
});

describe('with drag', () => {
  test.each(models.filter((model) => model.shock).map((model) => [model.id, model] as const))(
    '%s, built as written, falls through',
    (_, model) => {
      const drags = pivotDrags(analyse(model));
      expect(drags.every(({ cause }) => cause === undefined)).toBe(true);
      const result = fall(runShock(model, 61)!, drags);
      expect(result.isFree).toBe(true);
      expect(result.steps).toHaveLength(61);
      result.steps.slice(1).forEach(({ time_s, stroke_mm }, k) => {
        expect(time_s).toBeGreaterThan(result.steps[k]!.time_s);
        expect(stroke_mm).toBeLessThan(result.steps[k]!.stroke_mm);
      });
      expect(wordFall(result, drags, model).title).toBe('Falls through');
    },
  );

  test('more drag, slower; too much, and it hangs where it was lifted, at that pivot', () => {
    const run = runShock(skarn, 61)!;
    const dragged = (drag_Nm: number) => fall(run, [{ joint: 'rocker-frame', pivot: 'rocker-frame', drag_Nm }]);
    const free = dragged(0).steps.at(-1)!.time_s;
    const slow = dragged(0.1).steps.at(-1)!.time_s;
    expect(slow).toBeGreaterThan(free * 1.05);
    const hangs = dragged(5);
    expect(hangs).toMatchObject({ isFree: false, rests: 55, held: { pivot: 'rocker-frame' } });
    expect(hangs.held!.drag_N).toBeGreaterThan(hangs.held!.weight_N);
    // Just where weight and drag balance it goes or stays.
    const { weight_N } = hangs.held!;
    const perNm = hangs.held!.drag_N / 5;
    expect(dragged((weight_N / perNm) * 1.0001).rests).toBe(55);
    expect(dragged((weight_N / perNm) * 0.9).rests).toBeLessThan(55);
  });

  test('a cone the wrong way round pinches its pivot, and the linkage hangs there', () => {
    const faulty = withRow(skarn, 'rocker-frame', (row) =>
      row.map((entry) => (entry.id === 'cone-left' ? { ...entry, turned: entry.turned !== true } : entry)),
    );
    const drags = pivotDrags(analyse(faulty));
    const own = drags.find(({ pivot }) => pivot === 'rocker-frame')!;
    expect(own.cause).toBeDefined();
    expect(own.drag_Nm).toBeGreaterThan(1);
    expect(drags.filter(({ cause }) => cause !== undefined)).toHaveLength(1);
    const result = fall(runShock(faulty, 61)!, drags);
    expect(result).toMatchObject({ isFree: false, held: { pivot: 'rocker-frame' } });
    const { title, text } = wordFall(result, drags, faulty);
    expect(title).toBe('Hangs at rocker to frame');
    expect(text).toMatch(/pinched/);
    expect(wordDrag(own, faulty)).toMatch(
      /^Rocker to frame: about \d+\.\d N·m, an arm is pressed by the clamp column$/,
    );
    expect(wordDrag(drags.find(({ pivot }) => pivot === 'main')!, faulty)).toMatch(/its seals alone$/);
  });

  test('a pinched shock eye is not felt: the shock is out', () => {
    const faulty = withRow(skarn, 'shock-frame', (row) => row.filter(({ id }) => id !== 'tube'));
    const drags = pivotDrags(analyse(faulty));
    expect(drags.find(({ pivot }) => pivot === 'shock-frame')!.drag_Nm).toBeGreaterThan(1);
    expect(fall(runShock(faulty, 31)!, drags).isFree).toBe(true);
  });

  test('a spacer left out between two inner rings loads them sideways, and that drags', () => {
    const faulty = withRow(skarn, 'main', (row) => row.filter(({ id }) => id !== 'tube'));
    const own = pivotDrags(analyse(faulty)).find(({ pivot }) => pivot === 'main')!;
    expect(own.cause).toMatchObject({ kind: 'side-load' });
  });
});
