// The picture as a person sees it: stored pictures of every view, what a frame costs, rest, a lost context, no WebGL, large
// words, the thumb's edge, and a walk by keyboard alone.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axe, letPass, waitReady, type Opening } from './harness.ts';
import { eyeFor, MOST_UNLIKE, shrink, storedPicture, takePictureHand, unlike, unlikeStored } from './pictures.ts';
import { eachLook, frameCost, settled, viewAddress, WINDOWS, type FrameCost } from './picture-view.ts';
import { using } from './using.ts';
import { eraseMarks, recolourSpacer } from './wrong-spacer.ts';

const desk: Opening = { width: 960, height: 640, stillness: true };
const phone: Opening = { width: 390, height: 844, stillness: true, touch: true };
const PIVOT = 'Rocker to frame';

const slider = (page: Page) => page.getByRole('slider', { name: 'Apart' });
const stepWords = (page: Page) => page.getByRole('region', { name: 'Step' });

/** What follows a tap may take a while on a slow renderer. */
const soon = <T>(look: () => T) => expect.poll(look, { timeout: 15_000 });

/** Limits of issue and design: what a frame may cost a cheap tablet. */
const MOST = { calls: 120, triangles: 400_000 } as const;

describe.each(WINDOWS)('pictures at $width by $height', ({ width, height }) => {
  test('every view in both themes is as stored, costs what it may, and would not pass with a spacer wrong', async () => {
    await using({ width, height, stillness: true, path: viewAddress('bike') }, async (_, page) => {
      const eye = await eyeFor(page);
      const wrong: string[] = [];
      const dear: (FrameCost & { name: string })[] = [];
      await eachLook(page, async ({ view, name }) => {
        const cost = await frameCost(page);
        if (cost.calls > MOST.calls || cost.triangles > MOST.triangles) dear.push({ name, ...cost });
        // Another renderer sorts the faint parts of a step in another order.
        if (eye === 'soft' && view === 'step') return;
        const raw = await takePictureHand(page);
        const found = unlikeStored(name, shrink(raw, width), eye);
        if (found > MOST_UNLIKE) wrong.push(`${name}: ${found} unlike pixels in one window`);
        if (view !== 'apart') return;
        const stored = storedPicture(name);
        const recoloured = recolourSpacer(raw);
        expect(recoloured.pixels, `${name}: the spacer is in the picture`).toBeGreaterThan(20);
        expect(
          unlike(stored, shrink(recoloured.picture, width), eye),
          `${name}: the spacer in the other colour`,
        ).toBeGreaterThan(MOST_UNLIKE);
        // On a phone or a tablet a mark is a pixel or two of what is stored; there colour, place and name of the spacer are held.
        if (eye === 'soft' || width < 1900) return;
        const erased = eraseMarks(raw);
        expect(erased.pixels, `${name}: the spacer has marks`).toBeGreaterThan(5);
        expect(
          unlike(stored, shrink(erased.picture, width), eye),
          `${name}: the spacer without its marks`,
        ).toBeGreaterThan(MOST_UNLIKE);
      });
      expect(wrong).toEqual([]);
      expect(dear).toEqual([]);
      await page.getByRole('button', { name: 'Legend' }).click();
      expect(
        await page.getByRole('dialog', { name: 'Colours and marks' }).isVisible(),
        'the legend, one tap away',
      ).toBe(true);
    });
  });
});

describe('a ring put in the wrong way round', () => {
  test('makes another picture of the picture', async () => {
    const file = fileURLToPath(new URL('../../models/skarn-140.json', import.meta.url));
    const model = JSON.parse(readFileSync(file, 'utf8')) as {
      pivots: { id: string; stacks: { row: { part?: string; turned?: boolean }[] }[] }[];
      parts: Record<string, { kind: string }>;
    };
    const row = model.pivots.find(({ id }) => id === 'rocker-frame')!.stacks[0]!.row;
    const ring = row.find(({ part }) => part !== undefined && model.parts[part]!.kind === 'tapered-spacer')!;
    ring.turned = ring.turned !== true;
    await using({ width: 1024, height: 768, stillness: true }, async (_, page) => {
      await page.getByLabel('Model file').setInputFiles({
        name: 'turned.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(model)),
      });
      await soon(() => page.url()).toContain('file=');
      await waitReady(page);
      await page.getByRole('navigation', { name: 'Pivots' }).getByRole('button', { name: PIVOT }).click();
      await settled(page);
      expect(
        unlike(storedPicture('apart-1024-light'), shrink(await takePictureHand(page), 1024), await eyeFor(page)),
      ).toBeGreaterThan(MOST_UNLIKE);
    });
  });
});

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
    await using({ ...desk, path: `${viewAddress('cut')}&view=non-drive` }, async (app, page) => {
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
  test.each([desk, phone])(
    'the row comes apart, steps go on and the legend is one tap away at $width px',
    async (opening) => {
      await using({ ...opening, webgl: false, path: viewAddress('apart') }, async (_, page) => {
        expect(await page.locator('canvas').count()).toBe(0);
        const drawing = page.locator('.drawing');
        const apart = await drawing.innerHTML();
        await slider(page).fill('0');
        await soon(() => drawing.innerHTML()).not.toBe(apart);
        await page.getByRole('button', { name: 'Next', exact: true }).click();
        await soon(() => page.locator('.hand-bar').innerText()).toContain('Step 1 of');
        await page.getByRole('button', { name: 'Legend' }).click();
        expect(await page.getByRole('dialog', { name: 'Colours and marks' }).isVisible()).toBe(true);
        await page.keyboard.press('Escape');
        await page.getByRole('button', { name: 'Leave the steps' }).click();
        expect(await axe(page)).toEqual([]);
      });
    },
  );
});

/** What of the page cannot be seen or pressed: cut off at the window's edge, smaller than a thumb, or under something else. */
async function outOfReach(page: Page): Promise<string[]> {
  return page.locator('button:visible, select:visible, input:visible').evaluateAll((all) =>
    all
      // What scrolls along its strip, the hidden file picker and the names on the picture have rules of their own.
      .filter(
        (element) =>
          element.closest('.scene, .pivots, .parts, .card, .panel-scroll, .sheet-body') === null &&
          element.getBoundingClientRect().width > 2,
      )
      .flatMap((element) => {
        const box = element.getBoundingClientRect();
        const name = `${element.getAttribute('aria-label') ?? element.textContent} (${element.className})`;
        const least = Math.min(box.width, box.height);
        if (least < 43.5) return [`${name} is ${least.toFixed(0)} px`];
        if (
          box.left < -0.5 ||
          box.right > window.innerWidth + 0.5 ||
          box.top < -0.5 ||
          box.bottom > window.innerHeight + 0.5
        )
          return [`${name} is cut off`];
        const top = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
        return top !== null && (element.contains(top) || top.contains(element))
          ? []
          : [`${name} is under ${top?.className ?? 'nothing'}`];
      }),
  );
}

/** Words that do not fit their box, of those that are not meant to scroll. */
async function cutWords(page: Page): Promise<string[]> {
  return page
    .locator(
      'button:visible, .tab:visible, .stand-line:visible, .step-count:visible, h2:visible, p:visible, dd:visible',
    )
    .evaluateAll((all) =>
      all
        .filter(
          (element) =>
            element.closest('.away, .scene, .pivots, .parts, .drawing') === null &&
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
  await page.getByLabel('Big words, for a projector').setChecked(words === 'big');
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
      await page.getByRole('button', { name: 'Back to the bike' }).click();
      await check('the whole bike');
    });
  });

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
      await soon(() => page.locator('.hand-bar').innerText()).toContain('Step 2 of');
      await tabTo(/^button \s*Back to the bike/);
      await page.keyboard.press('Enter');
      await soon(() => page.title()).not.toContain(PIVOT);
      expect(page.url()).not.toContain('step=');
      await settled(page);
    });
  });
});
