// The part in the hand is never hidden: in every step that places or turns a part an id pass finds most of its
// silhouette among everything else, and large enough on a phone.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { analyse, planOf, readModel } from '../../shared/index.ts';
import { inHandOf } from '../../src/build/inHand.ts';
import { buildRun, ofPivot } from '../../src/build/orderRun.ts';
import { someOf, usually } from '../setup/series.ts';
import { seenOf, stepTo } from './scene-ids.ts';
import { settled } from './picture-view.ts';
import { using } from './using.ts';

const MODELS = ['skarn-140', 'holt-120', 'fjordside-150', 'class-rig'] as const;

/** Every step that places or turns a part: its address, and the part. */
const STEPS = MODELS.flatMap((id) => {
  const reading = readModel(readFileSync(`models/${id}.json`, 'utf8'));
  if (!reading.ok) throw new Error(`${id} does not read`);
  const analysis = analyse(reading.model);
  const whole = buildRun(analysis, planOf(analysis).steps, { of: 'plan', way: 'build', follow: 'ours' });
  return analysis.pivots.flatMap((pivot) =>
    ofPivot(whole, pivot.id).steps.flatMap((step, k) => {
      const hand = inHandOf(step, pivot);
      if (!hand) return [];
      const hash = `#model=${id}&pivot=${pivot.id}&step=${k + 1}`;
      const order = `#model=${id}&place=order&at=${whole.steps.indexOf(step) + 1}`;
      const what = `${step.step.kind} ${hand.id}`;
      return [{ hash, order, id: hand.id, what, isPlaced: hand.from !== undefined }];
    }),
  );
});

/** The inset shows what is placed at least this large. */
const INSET_px = 120;

/** Every so-manieth of some two hundred outside the long run. */
const USUAL_STEP = 140;
const USUAL_ORDER_STEP = 150;

test('there are steps to look at', () => {
  expect(STEPS.length).toBeGreaterThan(180);
});

test.each([
  { width: 1024, height: 768, least_px: 0 },
  { width: 390, height: 844, least_px: 48 },
])('the part of a step is seen at $width by $height', async ({ width, height, least_px }) => {
  const steps = someOf(STEPS, USUAL_STEP);
  await using(
    { width, height, stillness: true, isPainted: true, keepsScene: true, path: steps[0]!.hash },
    async (_, page) => {
      await settled(page);
      const hidden: string[] = [];
      for (const { hash, id, what, isPlaced } of steps) {
        await stepTo(page, hash, id);
        const seen = await seenOf(page, id);
        const said = `${hash} ${what}: ${JSON.stringify(seen)}`;
        const isLarge = !isPlaced || (seen?.inset_px ?? 0) >= INSET_px;
        if (!seen || seen.share < 0.6 || seen.across_px < least_px || !seen.isWhole || !isLarge) hidden.push(said);
      }
      expect(hidden).toEqual([]);
    },
  );
});

// There a step is shown moving, and ends on its seat. On a phone half the picture is the inset, which is the near look:
// the part beside it is smaller, and its own name may lie over some of it.
test.each(
  usually(
    [
      { width: 1024, height: 768, least: { share: 0.6, across_px: 0 } },
      { width: 390, height: 844, least: { share: 0.4, across_px: 32 } },
    ],
    1,
  ),
)('the part of a step of the build order is seen at $width by $height', async ({ width, height, least }) => {
  const steps = someOf(STEPS, USUAL_ORDER_STEP);
  await using(
    { width, height, stillness: true, isPainted: true, keepsScene: true, path: steps[0]!.order },
    async (_, page) => {
      const hidden: string[] = [];
      for (const { order, id, what, isPlaced } of steps) {
        const at = order.slice(order.indexOf('&at=') + '&at='.length);
        await page.evaluate((hash) => {
          window.location.hash = hash;
        }, order);
        await page.locator(`.order-stand[data-step="${at}"][data-motion="true"]`).waitFor({ timeout: 60_000 });
        await stepTo(page, order, id);
        const seen = await seenOf(page, id);
        // The tools of a turn have the rest of the picture.
        const isLarge = !isPlaced || ((seen?.inset_px ?? 0) >= INSET_px && (seen?.across_px ?? 0) >= least.across_px);
        if (!seen || seen.share < least.share || !isLarge) hidden.push(`${order} ${what}: ${JSON.stringify(seen)}`);
      }
      expect(hidden).toEqual([]);
    },
  );
});
