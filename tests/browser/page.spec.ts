// One page, one picture: how much of the window the picture and the section have, and what stands on a pivot's first
// screen.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { analyse, readData, wordWay } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { usually } from '../setup/series.ts';
import type { Opening } from './harness.ts';
import { goTo, WINDOWS } from './picture-view.ts';
import { using } from './using.ts';

const PIVOT = '#model=skarn-140&pivot=rocker-frame';
const ORDER = '#model=skarn-140&place=order&at=60';
const ACCESS = '#model=skarn-140&place=order&tab=access&access=rocker-frame%2Fbearing-left&at=8';
const still = { stillness: true } as const;

/** The share of a 10 px grid over the window on which one meets the picture or the section alone. */
function pictureShare(page: Page): Promise<number> {
  return page.evaluate(() => {
    let met = 0;
    let all = 0;
    for (let x = 5; x < innerWidth; x += 10) {
      for (let y = 5; y < innerHeight; y += 10) {
        all += 1;
        const [top] = document.elementsFromPoint(x, y);
        // What the picture itself draws, its labels with it; no control that lies over it. The tray's is what lies on it.
        if (top?.closest('.scene, .drawing, .board')) met += 1;
      }
    }
    return met / all;
  });
}

describe('the picture is the page', () => {
  test('picture and section have most of the window with the sheet open', async () => {
    await using({ ...still, width: 1024, height: 768, path: '#model=skarn-140' }, async (_, page) => {
      const looks = [
        [1024, 768, '#model=skarn-140'],
        [1024, 768, `${PIVOT}&apart=1`],
        [1024, 768, `${PIVOT}&step=3`],
        [1920, 1080, `${PIVOT}&apart=1`],
        [1920, 1080, '#model=skarn-140'],
      ] as const;
      for (const [width, height, hash] of usually(looks, 1, 4)) {
        await page.setViewportSize({ width, height });
        await goTo(page, hash);
        expect(await pictureShare(page), `${hash} at ${width} by ${height}`).toBeGreaterThanOrEqual(0.6);
      }
    });
  });

  test('on an upright phone with the sheet low, half of it at least; the sheet has three heights, by tap and by key', async () => {
    const phone: Opening = { ...still, width: 390, height: 844, touch: true, path: `${PIVOT}&apart=1` };
    await using(phone, async (_, page) => {
      const panel = page.getByRole('tabpanel', { includeHidden: true });
      const height = async (): Promise<number> => (await panel.boundingBox())?.height ?? 0;
      const half = await height();
      await page.getByRole('button', { name: 'Raise the sheet' }).click();
      await expect.poll(height).toBeGreaterThan(half * 1.3);
      await page.getByRole('button', { name: 'Lower the sheet' }).click();
      await expect.poll(height).toBe(0);
      expect(await pictureShare(page)).toBeGreaterThanOrEqual(0.5);
      await page.getByRole('button', { name: 'Raise the sheet' }).press('ArrowUp');
      await expect.poll(height).toBe(half);
      await page.getByRole('button', { name: 'Raise the sheet' }).press('ArrowDown');
      await expect.poll(height).toBe(0);
      await page.getByRole('tab', { name: 'Findings' }).click();
      await expect.poll(height).toBe(half);
      // The sheet of the build order is the same one, at the height it was left at.
      await goTo(page, ORDER);
      await expect.poll(height).toBe(half);
      await page.getByRole('button', { name: 'Raise the sheet' }).press('ArrowDown');
      await expect.poll(height).toBe(0);
      for (const hash of [ORDER, ACCESS]) {
        await goTo(page, hash);
        expect(await pictureShare(page), hash).toBeGreaterThanOrEqual(0.5);
      }
    });
  });

  test('bike, pivot, step, build order and access are one picture; back, next and side keep their place, and pivot and step are named', async () => {
    await using({ ...still, width: 390, height: 844, path: `${PIVOT}&step=3` }, async (_, page) => {
      await page.locator('.scene canvas').evaluate((canvas) => canvas.setAttribute('data-kept', 'yes'));
      const placed = () =>
        page.evaluate(() => {
          const box = (found: Element | null | undefined) => {
            const { x, y, right, height } = found!.getBoundingClientRect();
            return [x, y, right, height].map(Math.round);
          };
          const bar = document.querySelectorAll('.hand-bar .step-button');
          return {
            head: box(document.querySelector('.where-back')).slice(0, 2),
            back: box(bar[0]),
            next: box(bar[1]),
            stand: box(document.querySelector('.stand-line .plate')).slice(0, 2),
            // From the left on a narrow picture, from the right on a wide one.
            side: box(document.querySelector('.view-button')),
            picture: box(document.querySelector('.scene')).slice(0, 3),
          };
        });
      const usualAt = new Map<number, Awaited<ReturnType<typeof placed>>>();
      for (const { width, height } of usually(WINDOWS, 0, 1)) {
        await page.setViewportSize({ width, height });
        await goTo(page, `${PIVOT}&step=3`);
        const usual = await placed();
        usualAt.set(width, usual);
        for (const [hash, about] of [
          [ORDER, 'Build order, step 60'],
          [ACCESS, 'Access, step 8'],
        ] as const) {
          await goTo(page, hash);
          expect(await placed(), `${hash} at ${width} px`).toEqual(usual);
          if (width > height) expect(await pictureShare(page), `${hash} at ${width} px`).toBeGreaterThanOrEqual(0.6);
          await expect
            .poll(() => page.locator('.where-name').innerText())
            .toMatch(new RegExp(`^[A-Z].+ to .+\n${about}$`));
        }
        expect(await page.locator('.scene canvas').getAttribute('data-kept'), `${width} px`).toBe('yes');
      }
      // What lies on the tray stands where the picture did, and going on where Next was.
      for (const { width, height } of usually(WINDOWS, 0, 1)) {
        await page.setViewportSize({ width, height });
        const usual = usualAt.get(width)!;
        await page.evaluate(() => {
          window.location.hash = '#model=skarn-140&place=tray';
        });
        await page.locator('.tray .board').waitFor();
        const box = async (of: string) => (await page.locator(of).boundingBox())!;
        const [back, add] = [await box('.where-back'), await box('.tray-add')];
        expect([back.x, back.y].map(Math.round), `${width} px`).toEqual(usual.head);
        expect(Math.abs(add.x + add.width - usual.next[2]!), `${width} px`).toBeLessThanOrEqual(2);
        expect(await page.locator('.where-name').innerText()).toContain('Sorting tray');
        const least = width > height ? 0.6 : 0.5;
        expect(await pictureShare(page), `${width} px`).toBeGreaterThanOrEqual(least);
      }
    });
  });
});

describe('one bar', () => {
  // The panel of a step stays in front when the steps are left.
  const bar = { width: 1024, height: 768, webgl: false, isFresh: true, path: `${PIVOT}&apart=1` };

  test('apart or steps, never both', async () => {
    await using({ ...still, ...bar }, async (_, page) => {
      const apart = page.getByRole('slider', { name: 'Apart' });
      const step = page.getByRole('slider', { name: 'Step' });
      expect([await apart.count(), await step.count()]).toEqual([1, 0]);
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => step.count()).toBe(1);
      expect(await apart.count()).toBe(0);
      await page.getByRole('button', { name: 'Leave the steps' }).click();
      await expect.poll(() => apart.count()).toBe(1);
    });
  });
});

describe('the first screen of a pivot', () => {
  const model = demoModels().find(({ id }) => id === 'skarn-140')!;
  const reading = readData(model);
  if (!reading.ok) throw new Error('page: skarn-140: met a model with problems, allowed: one without');
  const pivot = analyse(reading.model).pivots.find(({ id }) => id === 'rocker-frame')!;
  const spacers = pivot.stacks.flatMap(({ items }) => items.filter(({ role }) => role === 'spacer'));

  test('says which way each spacer goes, above the torque, at every size of window', async () => {
    await using({ ...still, width: 390, height: 844, webgl: false, path: PIVOT }, async (_, page) => {
      for (const { width, height } of WINDOWS) {
        await page.setViewportSize({ width, height });
        const at = `${width} by ${height}`;
        const ways = page.getByRole('region', { name: 'Side card' }).locator('.way');
        await expect.poll(() => ways.count(), { message: at }).toBe(spacers.length);
        for (const [k, spacer] of spacers.entries())
          expect(await ways.nth(k).innerText(), at).toContain(wordWay(spacer));
        const last = (await ways.last().boundingBox())!;
        const torque = (await page.locator('.torque').first().boundingBox())!;
        expect(last.y + last.height, at).toBeLessThanOrEqual(torque.y + 1);
        expect(last.y + last.height, at).toBeLessThan(height);
      }
    });
  });
});
