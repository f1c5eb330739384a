// The travel as a person meets it: slider, play, shock out, let go, a mistake that pinches, and what the card says.
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { readModel, travel, wordAngle } from '../../shared/index.ts';
import { usually } from '../setup/series.ts';
import { axe, letPass, type Opening } from './harness.ts';
import { redrawn, settled } from './picture-view.ts';
import { using } from './using.ts';

/** The bike looked at, how far its rear axle rises and what its pivots turn, as the core has it. */
const skarn = (() => {
  const reading = readModel(
    readFileSync(fileURLToPath(new URL('../../models/skarn-140.json', import.meta.url)), 'utf8'),
  );
  if (!reading.ok) throw new Error('travel: skarn-140: met a model with problems, allowed: one without');
  return reading.model;
})();
const { stroke_mm, travel_mm, body } = skarn.shock!;
const { rear, pivots } = travel(skarn).travel;
const rise = rear!.rise_mm.toFixed(1);
const hardest = pivots[0]!;
const turned = `turns ${wordAngle(hardest.turn_deg)}`;
const pivotName = (id: string): string => skarn.pivots.find((pivot) => pivot.id === id)!.name;
/** The pivot at the shock's body: without the shock nothing is there to turn. */
const atBody = skarn.pivots.find(({ stacks }) =>
  stacks.some(({ row }) => row.some((entry) => 'member' in entry && entry.member === body)),
)!;
const desk: Opening = { width: 960, height: 540, stillness: true };
const plain: Opening = { ...desk, webgl: false };

const bar = (page: Page) => page.getByRole('group', { name: 'Travel', exact: true });
const slider = (page: Page) => bar(page).getByRole('slider');
const share = async (page: Page): Promise<number> => Number(await slider(page).inputValue());
const card = (page: Page) => page.getByRole('region', { name: 'Side card' });

test('runs the linkage from the picture, says what turns, and leaves again', async () => {
  await using({ ...desk, path: '#model=skarn-140' }, async (_, page) => {
    await page.getByRole('region', { name: 'Picture' }).getByRole('button', { name: 'Travel' }).click();
    await expect.poll(() => page.url()).toContain('travel=0');
    expect(await card(page).getByRole('heading', { level: 2 }).innerText()).toBe('Travel');
    await expect.poll(() => card(page).innerText()).toContain(`rises ${Number(rise)} mm (stated ${travel_mm} mm)`);
    await slider(page).fill('1');
    const whole = `${stroke_mm.toFixed(1)} mm of ${stroke_mm} mm stroke`;
    await expect.poll(() => bar(page).innerText()).toContain(whole);
    expect(await slider(page).getAttribute('aria-valuetext')).toBe(`${whole}, axle ${rise} mm up`);
    await expect
      .poll(() =>
        page.getByRole('button', { name: `${pivotName(hardest.pivot)} ${wordAngle(hardest.turn_deg)}` }).count(),
      )
      .toBe(1);
    // The address is rewritten once the slider rests, and the picture may keep the page busy until then.
    await expect.poll(() => page.url(), { timeout: 20_000 }).toContain('travel=1');
    expect(await axe(page)).toEqual([]);
    await bar(page).getByRole('button', { name: 'Done' }).click();
    await expect.poll(() => bar(page).count()).toBe(0);
    await expect.poll(() => page.url()).not.toContain('travel=');
    await page.goBack();
    await expect.poll(() => bar(page).count()).toBe(1);
    await page.keyboard.press('Escape');
    await expect.poll(() => bar(page).count()).toBe(0);
  });
});

/** Steps of a channel by which a page's blending of its bar over the picture may round, either way. */
const ROUNDING = 2;

/** Pixels of two shots of one size that differ by more than rounding. */
function unlike(one: Buffer, other: Buffer): number {
  const [a, b] = [PNG.sync.read(one), PNG.sync.read(other)];
  let found = 0;
  for (let k = 0; k < a.data.length; k += 4) {
    if ([0, 1, 2].some((c) => Math.abs(a.data[k + c]! - b.data[k + c]!) > ROUNDING)) found += 1;
  }
  return found;
}

test('the picture moves, and comes back to what it was', async () => {
  await using({ ...desk, isPainted: true, path: '#model=skarn-140&travel=0&view=drive' }, async (_, page) => {
    const at = async (value: string): Promise<Buffer> => {
      await redrawn(page, () => slider(page).fill(value));
      return page.locator('.scene canvas').screenshot();
    };
    await settled(page);
    // Names keep their place while it serves, so that where they stand depends on the way there: the picture is
    // compared. By hand: the page's policy takes no style sheet of a test.
    await page.locator('.scene-labels').evaluate((labels) => {
      (labels as HTMLElement).style.visibility = 'hidden';
    });
    const moved = await at('0.8');
    const still = await at('0');
    expect(unlike(moved, still)).toBeGreaterThan(500);
    for (const [value, before] of usually(
      [
        ['0.8', moved],
        ['0', still],
      ] as const,
      0,
    ))
      expect(unlike(await at(value), before), value).toBe(0);
  });
});

test('moving the linkage sends no geometry to the graphics card', async () => {
  await using({ ...desk, path: '#model=skarn-140&travel=0' }, async (_, page) => {
    await settled(page);
    await redrawn(page, () => slider(page).fill('0.1'));
    await page.evaluate(() => {
      const counts = { uploads: 0, draws: 0 };
      Object.assign(window, { counts });
      const { bufferData, drawElements } = WebGL2RenderingContext.prototype;
      WebGL2RenderingContext.prototype.bufferData = function (this: WebGL2RenderingContext, ...given: unknown[]) {
        counts.uploads += 1;
        return Reflect.apply(bufferData, this, given) as void;
      };
      WebGL2RenderingContext.prototype.drawElements = function (this: WebGL2RenderingContext, ...given: unknown[]) {
        counts.draws += 1;
        return Reflect.apply(drawElements, this, given) as void;
      };
    });
    for (const value of usually(['0.2', '0.35', '0.5', '0.9'], 0, 3)) {
      await redrawn(page, () => slider(page).fill(value));
    }
    const { uploads, draws } = await page.evaluate(
      () => (window as unknown as { counts: { uploads: number; draws: number } }).counts,
    );
    // One whole frame at least: the bike takes some thirty calls.
    expect(draws).toBeGreaterThan(20);
    expect(uploads).toBe(0);
  });
});

test('keys move the slider, plus and minus from anywhere', async () => {
  await using({ ...plain, path: '#model=holt-120&travel=0.5' }, async (_, page) => {
    await slider(page).press('ArrowRight');
    await expect.poll(() => share(page)).toBeCloseTo(0.51, 5);
    await slider(page).press('End');
    await expect.poll(() => share(page)).toBe(1);
    await page.locator('body').press('-');
    await expect.poll(() => share(page)).toBeCloseTo(0.9, 5);
  });
});

test('plays to and fro until it is paused or a hand takes the slider', async () => {
  await using({ ...plain, hasClock: true, path: '#model=holt-120&travel=0.2' }, async (_, page) => {
    await bar(page).getByRole('button', { name: 'Play' }).click();
    await expect.poll(() => share(page), { timeout: 20_000 }).toBeGreaterThan(0.3);
    await bar(page).getByRole('button', { name: 'Pause' }).click();
    const paused = await share(page);
    await letPass(page, 2000);
    expect(await share(page)).toBe(paused);
    await bar(page).getByRole('button', { name: 'Play' }).click();
    await slider(page).fill('0.1');
    await expect.poll(() => bar(page).getByRole('button', { name: 'Play' }).count()).toBe(1);
    await letPass(page, 2000);
    expect(await share(page)).toBeCloseTo(0.1, 5);
  });
});

describe('shock out', () => {
  test('a sound build falls through under its own weight', async () => {
    await using({ ...desk, path: '#model=skarn-140&travel=0' }, async (_, page) => {
      const label = page.getByRole('button', { name: new RegExp(`^${atBody.name} \\d`) });
      await expect.poll(() => label.count()).toBe(1);
      await bar(page).getByRole('button', { name: 'Shock out' }).click();
      await expect.poll(() => page.url()).toContain('shock=out');
      await expect.poll(() => label.count()).toBe(0);
      await slider(page).fill('1');
      await bar(page).getByRole('button', { name: 'Let go' }).click();
      await expect
        .poll(() => bar(page).getByRole('status').innerText(), { timeout: 30_000 })
        .toBe('It falls through under its own weight.');
      expect(await share(page)).toBe(0);
      expect(await card(page).innerText()).toContain('Falls through.');
    });
  });

  test('a mistake that pinches a pivot makes it hang there, and the card says which and why', async () => {
    await using(
      { ...plain, path: '#model=skarn-140&pivot=rocker-frame&mistake=turned:rocker-frame/cone-left' },
      async (_, page) => {
        await card(page).getByRole('button', { name: 'Shock out: see whether it still falls' }).click();
        await bar(page).getByRole('button', { name: 'Let go' }).click();
        await expect
          .poll(() => bar(page).getByRole('status').innerText(), { timeout: 30_000 })
          .toBe('It hangs: a pivot holds it.');
        expect(await share(page)).toBe(1);
        expect(await card(page).innerText()).toMatch(/Hangs at rocker to frame\.[^]*pinched/);
        await page.getByRole('button', { name: 'Put it right' }).first().click();
        await expect.poll(() => card(page).innerText()).toContain('Falls through.');
        await expect.poll(() => bar(page).getByRole('status').innerText()).toBe('');
      },
    );
  });
});

test('the ranking leads to its pivots', async () => {
  await using({ ...plain, path: '#model=skarn-140&travel=0.5' }, async (_, page) => {
    const ranks = card(page).locator('.travel-ranks button');
    expect(await ranks.count()).toBe(skarn.pivots.length);
    expect(await ranks.first().innerText()).toMatch(
      new RegExp(`${pivotName(hardest.pivot)}[^]*${turned}, carries up to`),
    );
    await ranks.first().click();
    await expect.poll(() => page.title()).toContain(pivotName(hardest.pivot));
    expect(await bar(page).count()).toBe(0);
  });
});

test('poses side by side unfold and can be saved', async () => {
  await using({ ...plain, path: '#model=holt-120&travel=0' }, async (_, page) => {
    await card(page).getByText('Poses side by side').click();
    await expect.poll(() => card(page).locator('.travel-strip svg [data-pose]').count()).toBe(5);
    const download = page.waitForEvent('download');
    await card(page).getByRole('button', { name: 'Save the strip for printing' }).click();
    const saved = await download;
    const file = join(mkdtempSync(join(tmpdir(), 'axlewright-')), 'strip.svg');
    await saved.saveAs(file);
    expect(saved.suggestedFilename()).toBe('holt-120-travel.svg');
    expect(readFileSync(file, 'utf8')).toMatch(/^<svg/);
  });
});

test('a rig of one pivot swings without a shock', async () => {
  await using({ ...plain, path: '#model=class-rig&travel=1' }, async (_, page) => {
    expect(await bar(page).innerText()).toContain('30° from as drawn');
    expect(await bar(page).getByRole('button', { name: 'Shock out' }).count()).toBe(0);
  });
});

test('works from the card where there is no picture', async () => {
  await using({ ...plain, path: '#model=skarn-140' }, async (_, page) => {
    await page.getByRole('button', { name: 'Run it through its travel' }).click();
    await slider(page).fill('0.5');
    await expect
      .poll(() => bar(page).innerText())
      .toContain(`${(stroke_mm / 2).toFixed(1)} mm of ${stroke_mm} mm stroke`);
  });
});

const LOOKS = [
  [390, 844, 'dark'],
  [844, 390, 'light'],
  [1024, 768, 'light'],
  [1920, 1080, 'dark'],
] as const;
describe.each(usually(LOOKS, 0, 1))('at %d by %d, %s', (width, height, theme) => {
  test('bar and card stand in nobody’s way, and every control is big enough', async () => {
    await using(
      { ...plain, width, height, theme, touch: width < 500, path: '#model=skarn-140&travel=0.5&shock=out&view=drive' },
      async (_, page) => {
        for (const control of [...(await bar(page).getByRole('button').all()), slider(page)]) {
          const box = (await control.boundingBox())!;
          expect(box.height).toBeGreaterThanOrEqual(44);
          expect(box.x).toBeGreaterThanOrEqual(0);
          expect(box.x + box.width).toBeLessThanOrEqual(width);
        }
        const picture = (await page.getByRole('region', { name: 'Picture' }).boundingBox())!;
        const whole = (await bar(page).boundingBox())!;
        // It stands below the picture and covers none of it.
        expect(whole.y).toBeGreaterThanOrEqual(picture.y + picture.height);
        expect(whole.y + whole.height).toBeLessThanOrEqual(page.viewportSize()!.height);
        expect(await axe(page)).toEqual([]);
      },
    );
  });
});
