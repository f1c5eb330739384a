// Torque and tolerance as a person meets them: the card's window and drawing, wrench, clamp, the list for the wall, sampled builds with progress and stop.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axe, type Opening } from './harness.ts';
import { using } from './using.ts';

const desk: Opening = { width: 1024, height: 768, stillness: true, webgl: false };
const at = (pivot: string, opening: Opening = desk): Opening => ({
  ...opening,
  path: `#model=skarn-140&pivot=${pivot}`,
});

const card = (page: Page) => page.getByRole('region', { name: 'Side card' });
const fold = (page: Page, title: string) => page.locator('summary', { hasText: title }).first();
const sheet = (page: Page, title: RegExp) => page.getByRole('dialog', { name: title });

describe('the torque card', () => {
  test('has one large number, its other units, the window with the spec in it, and who turns and who holds', async () => {
    await using(at('rocker-frame'), async (_, page) => {
      await expect.poll(() => card(page).innerText()).toContain('In the window');
      const text = await card(page).innerText();
      for (const words of [
        '11 N·m',
        '8.1 ft·lb, 97 in·lb',
        'seen from the drive side',
        '6 mm hex key',
        'Hold the axle on the non-drive side',
        'threadlocker, medium strength',
      ])
        expect(text).toContain(words);
      expect(text).not.toContain('Against habit');
      const [needle, right] = await Promise.all(
        ['.window-needle', '.zone-right'].map(async (part) => (await card(page).locator(part).first().boundingBox())!),
      );
      expect(needle!.x).toBeGreaterThan(right!.x);
      expect(needle!.x + needle!.width).toBeLessThan(right!.x + right!.width);
    });
  });

  test('says loudly what tightens anticlockwise', async () => {
    await using(at('lower-swingarm'), async (_, page) => {
      await expect
        .poll(() => card(page).innerText())
        .toContain('Against habit: from the non-drive side this one tightens anticlockwise');
      expect(await card(page).locator('.turn-arrow-back').count()).toBe(1);
    });
  });

  test('tells what sets the limits, and calls estimates estimates', async () => {
    await using(at('rocker-frame'), async (_, page) => {
      await fold(page, 'What sets these limits').click();
      await expect.poll(() => card(page).innerText()).toContain('Axle yields');
      const text = await card(page).innerText();
      for (const words of ['Inner rings creep', 'Thread strips', '(an estimate)', 'VDI 2230', 'nut factor'])
        expect(text).toContain(words);
    });
  });

  test('sets the wrench for an adapter at any angle, and says when none serves', async () => {
    await using(at('lower-swingarm'), async (_, page) => {
      await fold(page, 'Which wrench').click();
      const set = page.locator('.wrench-set');
      await expect.poll(() => set.innerText()).toContain('Set 13 N·m');
      await page.getByLabel('An adapter moves the drive').check();
      expect(await set.innerText()).toContain('Set 11.5 N·m');
      const angle = page.getByRole('slider', { name: /Adapter stands/ });
      await angle.focus();
      for (let k = 0; k < 18; k++) await page.keyboard.press('ArrowRight');
      await expect.poll(() => set.innerText()).toContain('Set 13 N·m');
      expect(await card(page).innerText()).toContain('changes nothing');
      await page.getByLabel('Grip mark to drive, mm').fill('0');
      await expect.poll(() => card(page).innerText()).toContain('must be above 0 mm');
      await page.getByLabel('Grip mark to drive, mm').fill('30');
      await page.keyboard.press('Tab');
      await angle.focus();
      await page.keyboard.press('End');
      await expect.poll(() => card(page).innerText()).toContain('behind the grip');
    });
  });

  test('leads from a wanted clamp back to the torque', async () => {
    await using(at('rocker-frame'), async (_, page) => {
      await fold(page, 'Torque for a wanted clamp').click();
      const clamp = page.getByLabel('Clamp on the weakest inner ring, kN');
      await clamp.fill('4');
      await expect
        .poll(() => card(page).innerText())
        .toContain('For 4 kN on the weakest inner ring: 7.9 N·m at the usual friction');
      await clamp.fill('none');
      await expect.poll(() => card(page).innerText()).toContain('A force above 0, in kN.');
    });
  });
});

describe('the torque list', () => {
  test('has every stack in build order and prints alone, in ink', async () => {
    await using({ ...desk, path: '#model=skarn-140', theme: 'dark' }, async (_, page) => {
      await page.getByRole('button', { name: 'Torque list for the wall' }).click();
      const list = sheet(page, /^Torque list$/);
      await expect.poll(() => list.locator('.torque-row').count()).toBe(7);
      expect(await list.locator('.torque-row').first().innerText()).toContain('16 N·m');
      expect(await list.innerText()).toContain('Against habit');
      await page.emulateMedia({ media: 'print' });
      expect(await page.getByRole('button', { name: 'Print' }).isVisible()).toBe(false);
      expect(await page.locator('.head').isVisible()).toBe(false);
      expect(await list.locator('.torque-row').last().isVisible()).toBe(true);
      expect(await list.evaluate((element) => getComputedStyle(element).backgroundColor)).toBe('rgb(255, 255, 255)');
      await page.emulateMedia({ media: 'screen' });
      await page.keyboard.press('Escape');
      await expect.poll(() => list.count()).toBe(0);
    });
  });
});

describe('how far parts may stray', () => {
  const title = /What tolerances do/;
  async function openSheet(page: Page): Promise<void> {
    await page.getByRole('button', { name: 'What tolerances do' }).click();
    await expect.poll(() => sheet(page, title).isVisible()).toBe(true);
  }

  test('builds ten thousand in the worker, and draws each chain against its limits', async () => {
    await using(at('lower-frame'), async (_, page) => {
      await openSheet(page);
      await page.getByLabel('Class of the other lengths').selectOption('m');
      await page.getByRole('button', { name: 'Draw them' }).click();
      await expect
        .poll(() => sheet(page, title).innerText(), { timeout: 60_000 })
        .toMatch(/Of 10,000 sets of parts [\d,]+ clamp, [\d,]+ pinch, 0 play/);
      const charts = page.getByRole('img', { name: /^Histogram/ });
      expect(await charts.count()).toBe(3);
      expect(await charts.first().getAttribute('aria-label')).toMatch(/clamps from −1\.03 mm to 0\.97 mm; 8\d+ clamp/);
      expect(await sheet(page, title).innerText()).toContain('length of frame tube, 30 mm');
    });
  });

  test('can be stopped, and started again', async () => {
    await using(at('lower-frame'), async (_, page) => {
      await openSheet(page);
      await page.getByLabel('Sets of parts').selectOption('50000');
      await page.getByRole('button', { name: 'Draw them' }).click();
      await expect.poll(() => page.getByRole('progressbar', { name: 'Building' }).isVisible()).toBe(true);
      await sheet(page, title).getByRole('button', { name: 'Stop' }).click();
      await expect.poll(() => sheet(page, title).getByText('Stopped.').isVisible()).toBe(true);
      expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Draw them');
      await page.getByLabel('Sets of parts').selectOption('1000');
      await page.keyboard.press('Tab');
      await page.getByRole('button', { name: 'Draw them' }).click();
      await expect.poll(() => sheet(page, title).innerText(), { timeout: 60_000 }).toContain('Of 1,000 sets of parts');
    });
  });

  test('takes a measured length, refuses one that cannot be, and says what mends it', async () => {
    await using(at('lower-frame'), async (_, page) => {
      await openSheet(page);
      await page.getByLabel('Sets of parts').selectOption('1000');
      await fold(page, 'Measured lengths').click();
      const tube = page.getByLabel(/Length of frame tube/);
      await tube.fill('3');
      await expect.poll(() => page.getByRole('alert').innerText()).toContain('within 3 mm');
      const go = page.getByRole('button', { name: 'Draw them' });
      expect(await go.getAttribute('aria-disabled')).toBe('true');
      await go.click({ force: true });
      expect(await sheet(page, title).getByRole('progressbar').count()).toBe(0);
      await tube.fill('29,4');
      await go.click();
      await expect.poll(() => sheet(page, title).innerText(), { timeout: 60_000 }).toContain('one turned to 30 mm');
      expect(await sheet(page, title).innerText()).toContain('it would lie on the seal');
    });
  });
});

describe('for everyone', () => {
  test.each([
    ['dark', 390, 844],
    ['light', 1024, 768],
    ['dark', 1920, 1080],
  ] as const)('nothing in a reader’s way: %s at %i × %i', async (theme, width, height) => {
    await using(at('lower-swingarm', { ...desk, theme, width, height, touch: width < 1000 }), async (_, page) => {
      const findings = page.getByRole('tab', { name: 'Findings' });
      if (await findings.isVisible()) await findings.click();
      await expect.poll(() => card(page).innerText()).toContain('In the window');
      for (const title of ['What sets these limits', 'Which wrench', 'Torque for a wanted clamp'])
        await fold(page, title).click();
      await page.getByLabel('An adapter moves the drive').check();
      expect(await axe(page, '.card')).toEqual([]);
      const targets = await page
        .locator('.torque summary, .torque .input, .torque .range, .torque .button')
        .evaluateAll((found) => found.map((element) => element.getBoundingClientRect().height));
      expect(Math.min(...targets)).toBeGreaterThanOrEqual(44);
      // Nothing makes the whole page scroll.
      expect(await page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight)).toBeLessThanOrEqual(
        0,
      );
      await page.getByRole('button', { name: 'What tolerances do' }).click();
      await page.getByLabel('Sets of parts').selectOption('1000');
      await fold(page, 'Measured lengths').click();
      await page.getByRole('button', { name: 'Draw them' }).click();
      await expect
        .poll(() => page.getByRole('img', { name: /^Histogram/ }).count(), { timeout: 60_000 })
        .toBeGreaterThan(0);
      expect(await axe(page, 'dialog')).toEqual([]);
      const wide = await page
        .locator('dialog .sheet-body')
        .evaluate((element) => element.scrollWidth - element.clientWidth);
      expect(wide).toBeLessThanOrEqual(0);
      await page.getByRole('button', { name: 'Close' }).click();
      await page.getByRole('button', { name: 'Menu' }).click();
      await page.getByRole('button', { name: 'Torque list', exact: true }).click();
      expect(await axe(page, 'dialog')).toEqual([]);
    });
  });
});
