/** What the torque screen draws, as plain numbers: strip, axis, bars, and typed numbers. */
import { describe, expect, it, test } from 'vitest';
import { analyse, torqueCards, type Bin, type TorqueWindow } from '../../shared/index.ts';
import { layAxis, layBars } from '../../src/tolerance/histogram.ts';
import { layStrip } from '../../src/torque/torque.ts';
import { readTyped } from '../../src/words.ts';
import { demoModels } from '../bench/models.ts';

const WINDOWS = demoModels().flatMap((model) => {
  const analysis = analyse(model);
  return model.pivots.flatMap(({ id }) =>
    torqueCards(analysis, id).map(({ stackId, window }) => ({ name: `${model.id} ${stackId}`, window })),
  );
});

describe('the strip', () => {
  test.each(WINDOWS)('$name: zones fill it without a gap, the setting stands between the limits', ({ window }) => {
    const strip = layStrip(window);
    expect(strip.zones[0]!.from).toBe(0);
    expect(strip.zones.at(-1)!.to).toBe(1);
    strip.zones.slice(1).forEach((zone, k) => expect(zone.from).toBeCloseTo(strip.zones[k]!.to, 12));
    const right = strip.zones.find(({ kind }) => kind === 'between')!;
    expect(strip.spec).toBeGreaterThan(right.from);
    expect(strip.spec).toBeLessThan(right.to);
    expect(strip.spec * strip.end_Nm).toBeCloseTo(window.spec_Nm, 9);
    if (window.least!.kind === 'clamp-lost') {
      // An eye on a bush has no ring that could creep: what settling takes is where its zone begins.
      expect(window.keeps).toBeUndefined();
      expect(strip.fades).toBeUndefined();
    } else {
      expect(strip.fades! * strip.end_Nm).toBeCloseTo(window.keeps!.possible_Nm, 9);
      expect(strip.fades).toBeLessThan(strip.spec);
    }
    const { slips } = window;
    if (slips?.isOutOfReach === true) expect(strip.slips).toBeUndefined();
    else expect(strip.slips! * strip.end_Nm).toBeCloseTo(slips!.possible_Nm, 9);
  });

  it('a spec far beyond the window still stands on the strip', () => {
    const far: TorqueWindow = { ...WINDOWS[0]!.window, spec_Nm: 500 };
    const strip = layStrip(far);
    expect(strip.spec).toBeGreaterThan(0.8);
    expect(strip.spec).toBeLessThan(1);
  });

  it('where friction leaves no sure torque one unsure zone takes the place of three', () => {
    const { window } = WINDOWS[0]!;
    const narrow: TorqueWindow = {
      ...window,
      to_Nm: window.from_Nm! - 1,
      most: [{ ...window.most[0]!, sure_Nm: window.from_Nm! - 1 }],
    };
    expect(layStrip(narrow).zones.map(({ kind }) => kind)).toEqual(['too-little', 'unsure-zone', 'too-much']);
  });

  it('where nothing holds there is nothing between', () => {
    const { least: _least, from_Nm: _from, ...rest } = WINDOWS[0]!.window;
    const strip = layStrip({ ...rest, enough: 'no', verdict: 'too-little' });
    expect(strip.from).toBeUndefined();
    expect(strip.zones.some(({ kind }) => kind === 'between')).toBe(false);
  });
});

const bin = (from_mm: number, clamps: number, pinches = 0, plays = 0): Bin => ({
  from_mm,
  to_mm: from_mm + 0.1,
  counts: { clamps, pinches, plays },
});

describe('the histogram', () => {
  it('its axis covers bins, limits and nothing, in round steps', () => {
    const axis = layAxis([bin(0.3, 5), bin(0.4, 5)], [-0.5, 0.62], 600);
    expect(axis.low_mm).toBeLessThan(-0.5);
    expect(axis.high_mm).toBeGreaterThan(0.62);
    expect(axis.at(axis.low_mm)).toBe(0);
    expect(axis.at(axis.high_mm)).toBeCloseTo(600, 9);
    expect(axis.ticks).toContain(0);
    const steps = axis.ticks.slice(1).map((tick, k) => tick - axis.ticks[k]!);
    for (const step of steps) expect(step).toBeCloseTo(0.5, 9);
    expect(
      layAxis([bin(0.3, 5), bin(0.4, 5)], [-0.5, 0.62], 700).ticks[1]! -
        layAxis([bin(0.3, 5), bin(0.4, 5)], [-0.5, 0.62], 700).ticks[0]!,
    ).toBeCloseTo(0.2, 9);
    expect(layAxis([bin(0, 1)], [], 300).ticks.length).toBeGreaterThan(1);
  });

  it('its bars stand on one another, the tallest as high as there is room, the rarest still to be seen', () => {
    const bins = [bin(0, 90, 10), bin(0.1, 400, 1), bin(0.2, 0)];
    const [first, second, third] = layBars(bins, layAxis(bins, [], 300), 150);
    expect(first!.stacks.map(({ class: name, count }) => [name, count])).toEqual([
      ['clamps', 90],
      ['pinches', 10],
    ]);
    expect(first!.stacks[1]!.from_px).toBe(first!.stacks[0]!.height_px);
    expect(second!.stacks[0]!.height_px).toBeCloseTo((400 / 401) * 150, 9);
    expect(second!.stacks[1]!.height_px).toBe(3);
    expect(third!.stacks).toEqual([]);
    expect(second!.x_px).toBeCloseTo(first!.x_px + first!.width_px, 9);
  });
});

it('reads numbers as they are typed', () => {
  expect(['6,98', ' 7.02 ', '', '  ', '−3', '12'].map(readTyped)).toEqual([6.98, 7.02, undefined, undefined, -3, 12]);
  expect(readTyped('about 7')).toBeNaN();
});
