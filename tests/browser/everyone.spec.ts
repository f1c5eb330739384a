// Nobody is kept out: a window enlarged to 200 %, forced colours, a keyboard with one stop a list, and no barrier that
// axe finds in any place, of whatever weight.
import type axeCore from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { bringAxe, waitReady, type Opening } from './harness.ts';
import { outOfReach, using } from './using.ts';

const MODEL = '#model=skarn-140';
const PIVOT = `${MODEL}&pivot=rocker-frame`;
/** 1280 by 800 at 200 %. */
const enlarged: Opening = { width: 640, height: 400, stillness: true };
/** What can be shown, with its address and what the head says of it. */
const PLACES = [
  ['the bike', MODEL, undefined],
  ['a pivot', PIVOT, 'Skarn 140'],
  ['a part', `${PIVOT}&part=rocker-frame%2Fcone-left`, 'Tapered spacer, 6.5 mm'],
  ['a step', `${PIVOT}&step=4`, 'Step 4 of'],
  ['the travel', `${MODEL}&travel=0.4`, 'Travel'],
  ['the build order', `${MODEL}&place=order&at=40`, 'step 40'],
  ['access', `${MODEL}&place=order&tab=access&access=rocker-frame%2Fbearing-left`, 'Access'],
  ['the tray', `${MODEL}&place=tray`, 'Sorting tray'],
  ['the mat', `${MODEL}&place=mat`, 'Sorting mat'],
] as const;

/** Goes to another address of the same page, as a link in it would. */
async function go(page: Page, hash: string, told: string | undefined): Promise<void> {
  await page.evaluate((to) => {
    window.location.hash = to;
  }, hash);
  const where = page.locator('.where-name');
  await expect
    .poll(async () => ((await where.count()) === 0 ? undefined : where.innerText()), { timeout: 15_000 })
    .toEqual(told === undefined ? undefined : expect.stringContaining(told));
  // A place is loaded when it is first gone to.
  await expect.poll(() => page.locator('.tray-wait').count(), { timeout: 15_000 }).toBe(0);
  await waitReady(page);
}

test('at 200 % nothing lies over a control, and none is cut off', async () => {
  await using({ ...enlarged, path: MODEL }, async (_, page) => {
    for (const [name, hash, told] of PLACES) {
      await go(page, hash, told);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), name).toBe(640);
      expect(await outOfReach(page), name).toEqual([]);
    }
  });
});

test('no barrier that axe knows of, in any place', async () => {
  await using({ ...enlarged, width: 1024, height: 768, webgl: false, path: MODEL }, async (_, page) => {
    for (const [name, hash, told] of PLACES) {
      await go(page, hash, told);
      await bringAxe(page);
      const found = await page.evaluate(async () => {
        const { axe } = window as unknown as { axe: typeof axeCore };
        const { violations } = await axe.run(document, { resultTypes: ['violations'] });
        return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`);
      });
      expect(found, name).toEqual([]);
    }
  });
});

test('forced colours: the arrows to the sides and what is pressed are still seen', async () => {
  await using({ ...enlarged, width: 960, height: 540, path: PIVOT }, async (_, page) => {
    await page.emulateMedia({ forcedColors: 'active' });
    const seen = await page.evaluate(() => {
      const paint = (element: Element, pseudo?: string): string => getComputedStyle(element, pseudo).backgroundColor;
      const ground = paint(document.documentElement);
      const pressed = document.querySelector('.pivot-button[aria-pressed="true"]')!;
      const other = document.querySelector('.pivot-button[aria-pressed="false"]')!;
      return {
        arrows: [...document.querySelectorAll('.scene-side')].map((side) => paint(side, '::before') !== ground),
        isPressedTold: paint(pressed) !== paint(other),
      };
    });
    expect(seen.arrows).toEqual([true, true]);
    expect(seen.isPressedTold).toBe(true);
    await page.emulateMedia({ forcedColors: 'none' });
  });
});

describe('by keyboard', () => {
  const focused = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.textContent ?? '');

  test('the strip of pivots is one stop: arrows go along it, Enter picks, and the stop stays there', async () => {
    await using({ ...enlarged, width: 1024, height: 768, webgl: false, path: MODEL }, async (_, page) => {
      const strip = page.getByRole('navigation', { name: 'Pivots' });
      expect(await strip.locator('button[tabindex="0"]').count()).toBe(1);
      await strip.getByRole('button', { name: 'Whole bike' }).focus();
      await page.keyboard.press('End');
      const last = await focused(page);
      expect(await strip.getByRole('button').last().textContent()).toBe(last);
      await page.keyboard.press('ArrowLeft');
      await page.keyboard.press('Home');
      await page.keyboard.press('ArrowRight');
      const name = await strip.getByRole('button').nth(1).locator('.strong').innerText();
      await page.keyboard.press('Enter');
      await expect.poll(() => page.title()).toContain(name);
      expect(await strip.locator('button[tabindex="0"]').textContent()).toContain(name);
    });
  });

  test('the first stop of the page skips to the words, in every place', async () => {
    await using({ ...enlarged, width: 1024, height: 768, webgl: false, path: PIVOT }, async (_, page) => {
      for (const [hash, told, region] of [
        [PIVOT, 'Skarn 140', 'Side card'],
        [`${MODEL}&place=tray`, 'Sorting tray', 'What lies on the tray'],
      ] as const) {
        await go(page, hash, told);
        // A place that is gone to begins at its own heading, past the head.
        if (hash === PIVOT) await page.keyboard.press('Tab');
        else await page.locator('.skip').focus();
        expect(await focused(page)).toBe('Skip to what is told');
        expect((await page.locator('.skip').boundingBox())!.height).toBeGreaterThanOrEqual(44);
        await page.keyboard.press('Enter');
        await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(region);
      }
    });
  });
});
