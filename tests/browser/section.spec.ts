// The section on the page: read from a step away, never cut, and in line with the picture over it.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { Opening } from './harness.ts';
import { usually } from '../setup/series.ts';
import { goTo, settled } from './picture-view.ts';
import { using } from './using.ts';

const PIVOT = '#model=skarn-140&pivot=rocker-frame';
const desk: Opening = { width: 1024, height: 768, stillness: true, path: `${PIVOT}&apart=1&view=above` };

const WINDOWS = [
  [390, 844],
  [640, 400],
  [1024, 768],
  [1366, 768],
  [1920, 1080],
] as const;

/** What of a section is smaller than 14 px, cut off, or under something else. */
async function amiss(page: Page, which = '.drawing'): Promise<string[]> {
  return page.evaluate((selector) => {
    const drawing = document.querySelector(selector);
    const svg = drawing?.querySelector('svg');
    if (!drawing || !svg) return ['no section'];
    const found: string[] = [];
    const [room, own] = [drawing.getBoundingClientRect(), svg.getBoundingClientRect()];
    const isIn = (a: DOMRect, b: { left: number; top: number; right: number; bottom: number }) =>
      a.left >= b.left - 1 && a.top >= b.top - 1 && a.right <= b.right + 1 && a.bottom <= b.bottom + 1;
    if (!isIn(own, room)) found.push(`drawn over its room: ${own.height.toFixed(0)} px in ${room.height.toFixed(0)}`);
    if (!isIn(room, { left: 0, top: 0, right: window.innerWidth, bottom: window.innerHeight }))
      found.push('its room leaves the window');
    for (const [x, y] of [
      [0.02, 0.06],
      [0.98, 0.06],
      [0.5, 0.5],
      [0.02, 0.96],
      [0.98, 0.96],
    ] as const) {
      const top = document.elementFromPoint(own.left + x * own.width, own.top + y * own.height);
      if (!drawing.contains(top)) found.push(`under ${top?.className ?? 'nothing'} at ${x}, ${y}`);
    }
    for (const text of svg.querySelectorAll('text')) {
      const size = Number.parseFloat(getComputedStyle(text).fontSize) * (text.getScreenCTM()?.a ?? 0);
      if (size < 13.99)
        found.push(
          `${text.textContent} at ${size.toFixed(3)} px, ${own.width} of ${room.width}, ${own.height} of ${room.height}`,
        );
      if (!isIn(text.getBoundingClientRect(), own)) found.push(`${text.textContent} is cut`);
    }
    for (const part of svg.querySelectorAll('.aws-parts .aws-o')) {
      const { left, right, top } = part.getBoundingClientRect();
      if (left < own.left || right > own.right || top < own.top) found.push('a part is cut');
    }
    return found;
  }, which);
}

async function openRow(page: Page): Promise<void> {
  const tab = page.getByRole('tab', { name: 'The row' });
  if (await tab.isVisible()) await tab.click();
}

describe('the section under the picture', () => {
  test('stands in line with it and in its scale where one looks square to the axle', async () => {
    await using(desk, async (_, page) => {
      await settled(page);
      for (const apart of [1, 0.4]) {
        await goTo(page, `${PIVOT}&apart=${apart}&view=above`);
        expect(await page.locator('.drawing svg').getAttribute('data-form')).toMatch(/in-line$/);
        // A leader that runs straight up or down stands over the middle of its part.
        const [named, drawn] = await page.evaluate(() => {
          const left = document.querySelector('.scene')!.getBoundingClientRect().left;
          const leaders = [...document.querySelectorAll<SVGPolylineElement>('.scene-leader polyline')]
            .filter((line) => line.style.visibility !== 'hidden' && line.points.length > 1)
            // It comes to its part square to the axis, so straight up or down over its middle.
            .map((line) => [line.points[line.points.length - 2]!, line.points[line.points.length - 1]!] as const)
            .filter(([one, other]) => Math.abs(one.x - other.x) < 0.5 && Math.abs(one.y - other.y) > 1)
            .map(([, end]) => left + end.x);
          const parts = [...document.querySelectorAll('.drawing .aws-item')].map((part) => {
            const ends = [...part.querySelectorAll('.aws-o')].map((solid) => solid.getBoundingClientRect());
            return [Math.min(...ends.map((box) => box.left)), Math.max(...ends.map((box) => box.right))] as const;
          });
          return [leaders, parts] as const;
        });
        expect(named.length).toBeGreaterThan(4);
        const astray = named.filter((x) => drawn.every(([from, to]) => Math.abs((from + to) / 2 - x) > 1.5));
        // Only the axle, the longest part, is named where it shows: its middle is in the row until it is drawn out.
        const [from, to] = drawn.reduce((one, other) => (other[1] - other[0] > one[1] - one[0] ? other : one));
        expect(astray.length).toBeLessThan(2);
        for (const x of astray) expect(x > from && x < to).toBe(true);
        expect(await amiss(page)).toEqual([]);
      }
      await goTo(page, `${PIVOT}&apart=1`);
      expect(await page.locator('.drawing svg').getAttribute('data-form')).not.toMatch(/in-line/);
    });
  });

  test('is read from a step away and never cut, at every size of window', async () => {
    await using({ ...desk, path: `${PIVOT}&apart=1` }, async (_, page) => {
      for (const [width, height] of usually(WINDOWS, 0, 1, 4)) {
        await page.setViewportSize({ width, height });
        await settled(page);
        await openRow(page);
        // On a phone it lies under what the row is worked with, and is scrolled to.
        await page.locator('.drawing').evaluate((drawing) => drawing.scrollIntoView({ block: 'end' }));
        expect(await amiss(page), `${width} by ${height}`).toEqual([]);
      }
    });
  });
});

describe('without WebGL', () => {
  const blind = [
    { width: 390, height: 844 },
    { width: 1024, height: 768 },
    { width: 1920, height: 1080 },
  ];

  test('the section has the picture’s room, whole, moves with apart and steps, and leaves nothing empty', async () => {
    await using({ ...desk, webgl: false, path: `${PIVOT}&apart=1` }, async (_, page) => {
      const drawn = page.locator('.picture .drawing');
      const leave = page.getByRole('button', { name: 'Leave the steps' });
      for (const { width, height } of usually(blind, 0, 1)) {
        await page.setViewportSize({ width, height });
        const what = `${width} by ${height}`;
        const filled = () =>
          page.evaluate(() => {
            const [room, picture] = ['.picture-drawing', '.picture'].map((of) =>
              document.querySelector(of)!.getBoundingClientRect(),
            );
            const parts = [...document.querySelectorAll('.picture .aws-parts .aws-o')].map((part) =>
              part.getBoundingClientRect(),
            );
            const ends = [Math.min(...parts.map(({ left }) => left)), Math.max(...parts.map(({ right }) => right))];
            return { room: room!.height / picture!.height, across: (ends[1]! - ends[0]!) / room!.width };
          });
        const where = async (): Promise<string[]> =>
          drawn.locator('.aws-hit').evaluateAll((all) => all.map((hit) => `${hit.getAttribute('x')}`));
        await expect.poll(where, { message: what }).not.toEqual([]);
        const apart = await where();
        expect(await amiss(page, '.picture .drawing'), what).toEqual([]);
        expect((await filled()).across, what).toBeGreaterThan(0.75);
        expect((await filled()).room, what).toBeGreaterThan(0.5);
        await page.getByRole('slider', { name: 'Apart' }).fill('0.3');
        await expect.poll(where, { message: what }).not.toEqual(apart);
        expect(await amiss(page, '.picture .drawing'), what).toEqual([]);
        await page.getByRole('button', { name: 'Next', exact: true }).click();
        await page.getByRole('slider', { name: 'Step' }).fill('5');
        await expect.poll(() => drawn.locator('.is-active').count(), { message: what }).toBe(1);
        expect(await amiss(page, '.picture .drawing'), what).toEqual([]);
        await leave.click();
        await page.getByRole('slider', { name: 'Apart' }).fill('1');
        await expect.poll(where, { message: what }).not.toEqual([]);
        if (width > 900) expect(await amiss(page, '.the-row .drawing'), what).toEqual([]);
      }
      await page.getByRole('button', { name: 'Whole bike' }).click();
      await expect.poll(() => page.locator('.picture-drawing').innerText()).toContain('Rocker to frame');
    });
  });
});
