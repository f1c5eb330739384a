// The part in the hand by its rule: off its seat on the side it comes from, clear of the ghost of it, what covers it
// opened or faded and nothing else, the camera near enough. The pixels are counted in a browser (in-hand.spec).
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { analyse, planOf, readModel } from '../../shared/index.ts';
import { inHandOf } from '../../src/build/inHand.ts';
import { buildRun, placesAt } from '../../src/build/orderRun.ts';
import { isUncut } from '../../src/drawings/hatch.ts';
import { layoutFor } from '../../src/scene/apart.ts';
import { fieldOfView_deg, type Frame } from '../../src/scene/fit.ts';
import { heldFrom, heldStand, withHeld } from '../../src/scene/hold.ts';
import { itemsOf, placeItems, radiusOf } from '../../src/scene/placement.ts';

const reading = readModel(readFileSync('models/skarn-140.json', 'utf8'));
if (!reading.ok) throw new Error('skarn-140 does not read');
const analysis = analyse(reading.model);
const run = buildRun(analysis, planOf(analysis).steps, { of: 'plan', way: 'build', follow: 'ours' });
const phone: Frame = { width: 390, height: 257, clear: { top: 51, bottom: 51 } };

const all = run.steps.flatMap((step, k) => {
  const pivot = analysis.pivots.find(({ id }) => id === step.step.pivotId);
  const hand = pivot && inHandOf(step, pivot);
  if (!pivot || !hand) return [];
  const layout = layoutFor(pivot, 'three-quarter', phone, 'both');
  const places = withHeld(pivot, hand, placeItems(pivot, layout, 1, placesAt(run, pivot, k + 1)));
  const stand = heldStand(pivot, hand, places, 'three-quarter', phone);
  return [{ step: step.step, pivot, hand, places, stand, held: heldFrom(pivot, hand, places, stand)! }];
});

describe('the part in the hand', () => {
  test('of a placing step stands beside its seat on the side it comes from; of a turning one on it', () => {
    expect(all.length).toBeGreaterThan(40);
    for (const { hand, held, step } of all) {
      if (hand.from === undefined) {
        expect(held.offset_mm, step.id).toBe(hand.seat_mm);
        continue;
      }
      const out_mm = (held.offset_mm - hand.seat_mm) * (hand.from === 'drive' ? 1 : -1);
      // Clear of its ghost by some millimetres, a long tube at both ends, an axle of the whole row.
      const length_mm = held.item.to_mm - held.item.from_mm;
      if (held.item.role === 'axle') expect(out_mm, step.id).toBeGreaterThan(8);
      else expect(out_mm - Math.min(24, length_mm), step.id).toBeCloseTo(8, 9);
    }
  });

  test('of a step that is shown moving stands where the movement has it', () => {
    for (const { pivot, hand } of all) {
      const standing = placeItems(pivot, {}, 0);
      expect(withHeld(pivot, { ...hand, among: {} }, standing)).toBe(standing);
    }
  });

  test('has what covers it cut open, or faded where it is never cut, and never itself nor what is not there', () => {
    const rocker = all.filter(({ pivot }) => pivot.id === 'rocker-frame');
    const cone = rocker.find(({ hand }) => hand.id === 'rocker-frame/cone-right')!;
    // It lies ready within the frame's tube.
    expect([...cone.held.opened, ...cone.held.faded]).toContain('rocker-frame/seat-tube');
    const nut = rocker.find(({ step }) => step.kind === 'start-receiver')!;
    expect([...nut.held.opened, ...nut.held.faded]).toEqual([]);
    for (const { pivot, held, places, step } of all) {
      for (const id of [...held.opened, ...held.faded]) {
        const item = itemsOf(pivot).find((candidate) => candidate.id === id)!;
        expect(id, step.id).not.toBe(held.id);
        expect(places[id]!.isAway, step.id).toBe(false);
        // What is never cut fades; what is cut fades only where its far half still covers the part.
        expect(isUncut(item) && held.opened.has(id), step.id).toBe(false);
        expect(held.opened.has(id) && held.faded.has(id), step.id).toBe(false);
      }
    }
  });

  test('is looked at from near enough to be some 60 px across on a phone', () => {
    const focal_px = phone.height / (2 * Math.tan((fieldOfView_deg(phone.width / phone.height) * Math.PI) / 360));
    for (const { held, stand, step } of all) {
      const size_mm = Math.max(2 * radiusOf(held.item), 0.6 * (held.item.to_mm - held.item.from_mm));
      expect((size_mm * focal_px) / stand.distance_mm, step.id).toBeGreaterThan(50);
    }
  });
});
