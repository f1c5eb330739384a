// The picture as a person sees it: rest, a lost context, no WebGL, large words, the thumb's edge, and a walk by
// keyboard alone. Its stored pictures have a file of their own.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { LONG, usually } from '../setup/series.ts';
import { axe, letPass, waitReady, type Opening } from './harness.ts';
import { shrink, takePictureHand, unlike } from './pictures.ts';
import { frameCost, settled, viewAddress } from './picture-view.ts';
import { outOfReach, using } from './using.ts';

const desk: Opening = { width: 960, height: 640, stillness: true };
const phone: Opening = { width: 390, height: 844, stillness: true, touch: true };
const PIVOT = 'Rocker to frame';

const slider = (page: Page) => page.getByRole('slider', { name: 'Apart' });
const stepWords = (page: Page) => page.getByRole('region', { name: 'Step' });

/** What follows a tap may take a while on a slow renderer. */
const soon = <T>(look: () => T) => expect.poll(look, { timeout: 15_000 });

describe('at rest', () => {
  test('nothing is drawn until something moves; the screen stays awake for steps alone', async () => {
    await using({ ...desk, hasClock: true, path: viewAddress('apart') }, async (_, page) => {
      await settled(page);
      const { frames } = await frameCost(page);
      await letPass(page, 10_000);
      expect((await frameCost(page)).frames).toBe(frames);
      await slider(page).fill('0.5');
      await settled(page);
      expect((await frameCost(page)).frames).toBeGreaterThan(frames);
      // The same page steps: the screen stays awake, and the page says so, or that it may not.
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await soon(() => stepWords(page).innerText()).toMatch(/screen (stays awake|may go dark)/);
      await page.getByRole('button', { name: 'Leave the steps' }).click();
      await page.evaluate(() => {
        Object.defineProperty(navigator, 'wakeLock', {
          value: { request: () => Promise.reject(new DOMException('low battery', 'NotAllowedError')) },
          configurable: true,
        });
      });
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await soon(() => stepWords(page).innerText()).toContain('may go dark');
    });
  });
});

describe('a lost graphics context', () => {
  test('leaves row and steps at work, and comes back in the same place', async () => {
    await using({ ...desk, isPainted: true, path: `${viewAddress('cut')}&view=non-drive` }, async (app, page) => {
      await slider(page).fill('0.6');
      await soon(() => page.url()).toContain('apart=0.6');
      await settled(page);
      // Without the frame round the control that was last used.
      await slider(page).blur();
      const before = shrink(await takePictureHand(page), 960);
      const address = page.url();
      const kept = await page.evaluateHandle(() => {
        const context = document.querySelector<HTMLCanvasElement>('.scene canvas')!.getContext('webgl2')!;
        return context.getExtension('WEBGL_lose_context')!;
      });
      await kept.evaluate((extension) => extension.loseContext());
      await soon(() => page.getByText('The 3D picture has stopped.').isVisible()).toBe(true);
      expect(await page.locator('.drawing svg [data-item]').count()).toBeGreaterThan(5);
      await page.keyboard.press('PageDown');
      await page.keyboard.press('PageDown');
      await soon(() => stepWords(page).innerText()).toContain('Step 2 of');
      await kept.evaluate((extension) => extension.restoreContext());
      await soon(() => page.getByText('The 3D picture has stopped.').count()).toBe(0);
      await settled(page);
      expect(await stepWords(page).innerText()).toContain('Step 2 of');
      expect(page.url()).toContain('step=2');
      await page.getByRole('button', { name: 'Leave the steps' }).click();
      await soon(() => page.url()).toBe(address);
      await settled(page);
      expect(unlike(before, shrink(await takePictureHand(page), 960))).toBe(0);
      // three tells of the loss, and lets go later of what was lost already; neither is a fault of the page.
      app.noise.splice(
        0,
        app.noise.length,
        ...app.noise.filter(
          (line) => !/Context (Lost|Restored)|CONTEXT_LOST_WEBGL|does not belong to this context/.test(line),
        ),
      );
    });
  });
});

describe('without WebGL', () => {
  test.each(usually([desk, phone], 1))(
    'the row comes apart, steps go on and the legend is one tap away at $width px',
    async (opening) => {
      await using({ ...opening, webgl: false, path: viewAddress('apart') }, async (_, page) => {
        expect(await page.locator('canvas').count()).toBe(0);
        const drawing = page.locator('.picture .drawing');
        const apart = await drawing.innerHTML();
        await slider(page).fill('0');
        await soon(() => drawing.innerHTML()).not.toBe(apart);
        await page.getByRole('button', { name: 'Next', exact: true }).click();
        await soon(() => page.locator('.where-name').innerText()).toContain('Step 1 of');
        await page.getByRole('button', { name: 'Legend' }).click();
        expect(await page.getByRole('dialog', { name: 'Colours and marks' }).isVisible()).toBe(true);
        await page.keyboard.press('Escape');
        await page.getByRole('button', { name: 'Leave the steps' }).click();
        expect(await axe(page)).toEqual([]);
      });
    },
  );
});

/** Words that do not fit their box, of those that are not meant to scroll. */
async function cutWords(page: Page): Promise<string[]> {
  return page
    .locator(
      'button:visible, .tab:visible, .stand-line:visible, .where-line:visible, h2:visible, p:visible, dd:visible',
    )
    .evaluateAll((all) =>
      all
        .filter(
          (element) =>
            element.closest('.away, .scene, .pivots, .parts, .row-panel, .drawing') === null &&
            element.getBoundingClientRect().width > 2,
        )
        .filter(
          (element) =>
            element.scrollWidth > element.clientWidth + 1 ||
            element.getBoundingClientRect().right > window.innerWidth + 0.5,
        )
        .map((element) => `${element.className}: ${element.textContent?.slice(0, 40)}`),
    );
}

const setWords = async (page: Page, words: 'big' | 'usual'): Promise<void> => {
  await page.getByRole('button', { name: 'Menu' }).click();
  // It shows what is kept, so that it follows the press by a moment.
  const box = page.getByLabel('Big words, for a projector');
  if ((await box.isChecked()) !== (words === 'big')) await box.click();
  await soon(() => box.isChecked()).toBe(words === 'big');
  await page.getByRole('button', { name: 'Close' }).click();
};

describe('big words', () => {
  test('on a phone: nothing cut off, covered, or scrolled sideways, in any panel', async () => {
    await using({ ...phone, path: viewAddress('apart') }, async (_, page) => {
      await setWords(page, 'big');
      const check = async (where: string): Promise<void> => {
        expect(await page.evaluate(() => document.documentElement.scrollWidth), where).toBe(390);
        expect(await outOfReach(page), where).toEqual([]);
        expect(await cutWords(page), where).toEqual([]);
      };
      for (const tab of ['Findings', 'The row', 'Steps']) {
        await page.getByRole('tab', { name: tab }).click();
        await check(tab);
      }
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await soon(() => stepWords(page).innerText()).toContain('Step 1 of');
      await check('a step');
      for (const sheet of ['Legend', 'Menu']) {
        await page.getByRole('button', { name: sheet }).click();
        expect(await cutWords(page), sheet).toEqual([]);
        await page.getByRole('button', { name: 'Close' }).click();
      }
      // Words this big leave no room for the mark of the bike beside the views.
      await page.getByRole('button', { name: 'Whole bike' }).click();
      await check('the whole bike');
    });
  });

  if (LONG)
    test('on a projector: nothing cut off or covered, and kept for the next time', async () => {
      await using({ width: 1920, height: 1080, stillness: true, path: viewAddress('step') }, async (_, page) => {
        const size = await page
          .locator('.step-title')
          .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
        await setWords(page, 'big');
        await page.reload();
        await waitReady(page);
        if (!(await stepWords(page).isVisible())) await page.getByRole('tab', { name: 'Steps' }).click();
        const grown = await page
          .locator('.step-title')
          .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
        expect(grown / size).toBeCloseTo(1.3, 1);
        expect(await outOfReach(page)).toEqual([]);
        expect(await cutWords(page)).toEqual([]);
      });
    });
});

describe('one thumb', () => {
  test('on an upright phone steps, pivots, apart and cut lie in the lower third', async () => {
    await using({ ...phone, path: viewAddress('apart') }, async (_, page) => {
      const names = [
        page.getByRole('button', { name: 'Next', exact: true }),
        slider(page),
        page.getByRole('button', { name: 'Cut open' }),
        page.getByRole('navigation', { name: 'Pivots' }),
      ];
      for (const control of names) {
        const box = (await control.boundingBox())!;
        expect(box.y, await control.innerText()).toBeGreaterThan(844 * 0.66);
        expect(box.y + box.height).toBeLessThanOrEqual(844);
      }
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      const back = (await page.getByRole('button', { name: 'Back', exact: true }).boundingBox())!;
      expect(back.y).toBeGreaterThan(844 * 0.66);
      expect(await outOfReach(page)).toEqual([]);
    });
  });
});

describe('by keyboard alone', () => {
  test('from pivot to apart to step and back to the bike', async () => {
    await using({ ...desk, path: '#model=skarn-140' }, async (_, page) => {
      const focused = (): Promise<string> =>
        page.evaluate(
          () =>
            `${(document.activeElement as HTMLInputElement | null)?.type ?? ''} ${document.activeElement?.closest('label')?.textContent ?? ''} ${document.activeElement?.textContent ?? ''}`,
        );
      const tabTo = async (word: RegExp): Promise<void> => {
        for (let k = 0; k < 60; k += 1) {
          if (word.test(await focused())) return;
          await page.keyboard.press('Tab');
        }
        throw new Error(`no tab stop says ${word.source}`);
      };
      await tabTo(/^button \s*Rocker to frame/);
      await page.keyboard.press('Enter');
      await soon(() => page.title()).toContain(PIVOT);
      await tabTo(/^range Apart/);
      await page.keyboard.press('Home');
      expect(await slider(page).getAttribute('aria-valuetext')).toBe('tight');
      await page.keyboard.press('ArrowRight');
      expect(await slider(page).inputValue()).toBe('0.01');
      await tabTo(/^button \s*Next/);
      await page.keyboard.press('Enter');
      await page.keyboard.press('Enter');
      await soon(() => page.locator('.where-name').innerText()).toContain('Step 2 of');
      // The views are one stop; the way back to the bike is the last of them.
      await tabTo(/^button \s*Three-quarter/);
      await page.keyboard.press('End');
      expect(await focused()).toMatch(/Back to the bike/);
      await page.keyboard.press('Enter');
      await soon(() => page.title()).not.toContain(PIVOT);
      expect(page.url()).not.toContain('step=');
      await settled(page);
    });
  });
});
