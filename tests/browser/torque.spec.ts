// Torque and tolerance as a person meets them: the card's window and drawing, wrench, clamp, the list for the wall,
// sampled sets with progress and stop.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  torqueStack,
  checkTolerances,
  planOf,
  readModel,
  setUpTorque,
  torqueForClamp,
  torqueList,
  wordTorque,
  wordTorqueForClamp,
  type Analysis,
  type ToleranceReport,
} from '../../shared/index.ts';
import { usually } from '../setup/series.ts';
import { axe, type Opening } from './harness.ts';
import { using } from './using.ts';

const desk: Opening = { width: 1024, height: 768, stillness: true, webgl: false };

function load(id: string): Analysis {
  const text = readFileSync(fileURLToPath(new URL(`../../models/${id}.json`, import.meta.url)), 'utf8');
  const reading = readModel(text);
  if (!reading.ok) throw new Error(`torque: ${id}: met a model with problems, allowed: one without`);
  return analyse(reading.model);
}
/** A bike, one of its pivots and that one's only axle as its file has it. */
function placeOf(analysis: Analysis, pivotId: string) {
  const pivot = analysis.model.pivots.find(({ id }) => id === pivotId)!;
  return { analysis, pivot, stack: pivot.stacks[0]!, address: `#model=${analysis.model.id}&pivot=${pivotId}` };
}
const [skarn, fjordside] = [load('skarn-140'), load('fjordside-150')];
const rocker = placeOf(skarn, 'rocker-frame');
const main = placeOf(skarn, 'main');
/** Its axle is turned at its tip, from the side on which that looks like undoing. */
const tip = placeOf(fjordside, 'rocker-frame');

const at = ({ address }: { readonly address: string }, opening: Opening = desk): Opening => ({
  ...opening,
  path: address,
});
const thousands = (count: number): string => count.toLocaleString('en-GB');
/** A torque on a wrench's scale in N·m, to a tenth. */
const onScale = (torque_Nm: number): string => `Set ${Number(torque_Nm.toFixed(1))} N·m`;

const card = (page: Page) => page.getByRole('region', { name: 'Side card' });
const fold = (page: Page, title: string) => page.locator('summary', { hasText: title }).first();
const sheet = (page: Page, title: RegExp) => page.getByRole('dialog', { name: title });

describe('the torque card', () => {
  test('has one large number, its other units, the window with the spec in it, and who turns and who holds', async () => {
    await using(at(rocker), async (_, page) => {
      await expect.poll(() => card(page).innerText()).toContain('The setting is');
      const text = await card(page).innerText();
      const { torque_Nm, from, turned, drives, threadlocker } = rocker.stack;
      expect(turned).toBe('receiver');
      // 1 N·m is 0.737562 ft·lb or 8.850746 in·lb.
      const others = [Number((0.737562 * torque_Nm).toFixed(1)), (8.850746 * torque_Nm).toFixed(0)];
      for (const words of [
        `${torque_Nm} N·m`,
        `${others[0]} ft·lb, ${others[1]} in·lb`,
        `seen from the ${from === 'drive' ? 'non-drive' : 'drive'} side`,
        `${drives.receiver!.size_mm} mm spanner`,
        `Hold the axle on the ${from} side with a ${drives.head!.size_mm} mm hex key`,
        `threadlocker, ${threadlocker!}`,
      ])
        expect(text).toContain(words);
      expect(text).not.toContain('Against habit');
      const [needle, right] = await Promise.all(
        ['.window-needle', '.zone-between'].map(
          async (part) => (await card(page).locator(part).first().boundingBox())!,
        ),
      );
      // The middle of the needle is the setting.
      const setting = needle!.x + needle!.width / 2;
      expect(setting).toBeGreaterThan(right!.x);
      expect(setting).toBeLessThan(right!.x + right!.width);
    });
  });

  test('takes the torque that was reached, says what it is worth, and keeps it in the address', async () => {
    await using(at(rocker), async (_, page) => {
      const field = page.getByLabel('Torque reached, N·m');
      await field.fill(String(rocker.stack.torque_Nm));
      await expect.poll(() => card(page).innerText()).toContain('agrees with the setting');
      await field.fill(String(rocker.stack.torque_Nm / 2));
      await expect.poll(() => card(page).innerText()).toContain('Too little torque reached');
      // The verdict of the pivot follows, on its card and in the strip.
      const verdicts = () =>
        page.locator('.card-title + p .verdict-words, [aria-pressed="true"] .pivot-verdict').allInnerTexts();
      await expect.poll(verdicts).toEqual(['Look again', 'Look again']);
      await field.fill(String(1.5 * rocker.stack.torque_Nm));
      await expect.poll(() => card(page).innerText()).toContain('it only shows too little');
      await expect.poll(() => new URL(page.url()).hash).toContain('reached=');
      await field.fill('-3');
      await expect.poll(() => card(page).innerText()).toContain('A torque above 0, in N·m.');
      expect(await axe(page)).toEqual([]);
    });
  });

  test('says loudly what tightens anticlockwise', async () => {
    // The tip comes out on the side away from the one the axle goes in from.
    expect(tip.stack.turned).toBe('tip');
    const tipSide = tip.stack.from === 'drive' ? 'non-drive' : 'drive';
    await using(at(tip), async (_, page) => {
      await expect
        .poll(() => card(page).innerText())
        .toContain(`Against habit: from the ${tipSide} side this one tightens anticlockwise`);
      expect(await card(page).locator('.turn-arrow-back').count()).toBe(1);
    });
  });

  test('tells what sets the limits, and calls estimates estimates', async () => {
    await using(at(rocker), async (_, page) => {
      await fold(page, 'What sets these limits').click();
      await expect.poll(() => card(page).innerText()).toContain('Axle yields');
      const text = await card(page).innerText();
      for (const words of ['Inner rings creep', 'Thread strips', '(an estimate)', 'VDI 2230', 'nut factor'])
        expect(text).toContain(words);
    });
  });

  test('sets the wrench for an adapter at any angle, and says when none serves', async () => {
    await using(at(tip), async (_, page) => {
      await fold(page, 'Which wrench').click();
      const set = page.locator('.wrench-set');
      const { torque_Nm } = tip.stack;
      await expect.poll(() => set.innerText()).toContain(onScale(torque_Nm));
      await page.getByLabel('An adapter moves the drive').check();
      // 40 mm straight ahead of a wrench held at 300 mm.
      expect(onScale((torque_Nm * 300) / 340)).not.toBe(onScale(torque_Nm));
      expect(await set.innerText()).toContain(onScale((torque_Nm * 300) / 340));
      const angle = page.getByRole('slider', { name: /Adapter stands/ });
      await angle.focus();
      for (let k = 0; k < 18; k++) await page.keyboard.press('ArrowRight');
      await expect.poll(() => set.innerText()).toContain(onScale(torque_Nm));
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
    await using(at(rocker), async (_, page) => {
      await fold(page, 'Torque for a wanted clamp').click();
      const clamp = page.getByLabel('Clamp on the weakest inner ring, kN');
      await clamp.fill('4');
      const found = torqueForClamp(torqueStack(setUpTorque(skarn.resolved, 'rocker-frame'), rocker.stack.id), 4000)!;
      const words = wordTorqueForClamp(found, 4000, 'weakest inner ring');
      expect(words).toContain(
        `For 4 kN on the weakest inner ring: ${wordTorque(found.torque_Nm)} at the usual friction`,
      );
      await expect.poll(() => card(page).innerText()).toContain(words);
      await clamp.fill('none');
      await expect.poll(() => card(page).innerText()).toContain('A force above 0, in kN.');
    });
  });
});

describe('the torque list', () => {
  test('has every stack in build order and prints alone, in ink', async () => {
    const rows = torqueList(planOf(fjordside));
    expect(rows).toHaveLength(fjordside.model.pivots.flatMap(({ stacks }) => stacks).length);
    const against = rows.filter(({ isAgainstHabit }) => isAgainstHabit);
    expect(against.map(({ stackId }) => stackId)).toEqual([tip.stack.id]);
    await using({ ...desk, path: '#model=fjordside-150', theme: 'dark' }, async (_, page) => {
      await page.getByRole('button', { name: 'Torque list for the wall' }).click();
      const list = sheet(page, /^Torque list$/);
      await expect.poll(() => list.locator('.torque-row').count()).toBe(rows.length);
      const told = await list.locator('.torque-row').allInnerTexts();
      for (const [k, { stackName, torque, tightening }] of rows.entries())
        for (const words of [
          stackName,
          wordTorque(torque['N·m']),
          `From the ${tightening.stand} side, ${tightening.turn}`,
        ])
          expect(told[k]).toContain(words);
      expect(told.filter((words) => words.includes('Against habit'))).toEqual([told[rows.indexOf(against[0]!)]]);
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

describe('the spread of parts', () => {
  const title = /What tolerances do/;
  const tubeId = main.stack.row.find(({ id }) => id === 'tube')!.part!;
  const tube = skarn.model.parts[tubeId]!;
  if (tube.kind !== 'spacer') throw new Error(`torque: ${tubeId}: met a ${tube.kind}, allowed: a spacer`);
  const tubeName = tube.name.toLowerCase();
  async function openSheet(page: Page): Promise<void> {
    await page.getByRole('button', { name: 'What tolerances do' }).click();
    await expect.poll(() => sheet(page, title).isVisible()).toBe(true);
  }

  function builtOf(sets: number): ToleranceReport {
    const run = checkTolerances(skarn.model, { pivotId: main.pivot.id, sets, generalClass: 'm' });
    for (;;) {
      const { done, value } = run.next();
      if (done === true) return value;
    }
  }

  test('draws ten thousand sets in the worker, and draws each chain against its limits', async () => {
    const { sampling, chains } = builtOf(10_000);
    const { clamps, pinches, plays } = sampling.counts;
    const limits = chains.find(({ kind }) => kind === 'span')!.limits!;
    const figure = (value_mm: number): string => String(Number(value_mm.toFixed(2))).replace('-', '−');
    await using(at(main), async (_, page) => {
      await openSheet(page);
      await page.getByLabel('Class of the other lengths').selectOption('m');
      await page.getByRole('button', { name: 'Draw them' }).click();
      await expect
        .poll(() => sheet(page, title).innerText(), { timeout: 60_000 })
        .toContain(
          `Of 10,000 sets of parts ${thousands(clamps)} clamp, ${thousands(pinches)} pinch, ${thousands(plays)} play`,
        );
      const charts = page.getByRole('img', { name: /^Histogram/ });
      expect(await charts.count()).toBe(chains.length);
      expect(await charts.first().getAttribute('aria-label')).toContain(
        `clamps from ${figure(limits.low_mm!)} mm to ${figure(limits.high_mm!)} mm; ${clamps} clamp`,
      );
      expect(await sheet(page, title).innerText()).toContain(`length of ${tubeName}`);
    });
  });

  test('can be stopped, and started again', async () => {
    await using(at(main), async (_, page) => {
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
    await using(at(main), async (_, page) => {
      await openSheet(page);
      await page.getByLabel('Sets of parts').selectOption('1000');
      await fold(page, 'Measured lengths').click();
      const measure = page.getByLabel(new RegExp(`Length of ${tubeName}`));
      await measure.fill('3');
      await expect.poll(() => page.getByRole('alert').innerText()).toContain('within 3 mm');
      const go = page.getByRole('button', { name: 'Draw them' });
      expect(await go.getAttribute('aria-disabled')).toBe('true');
      await go.click({ force: true });
      expect(await sheet(page, title).getByRole('progressbar').count()).toBe(0);
      await measure.fill((tube.length_mm - 0.6).toFixed(1).replace('.', ','));
      await go.click();
      await expect
        .poll(() => sheet(page, title).innerText(), { timeout: 60_000 })
        .toContain(`one turned to ${tube.length_mm} mm`);
      expect(await sheet(page, title).innerText()).toContain('it would lie on the seal');
    });
  });
});

describe('for everyone', () => {
  const looks = [
    ['dark', 390, 844],
    ['light', 1024, 768],
    ['dark', 1920, 1080],
  ] as const;
  test.each(usually(looks, 1))('nothing in a reader’s way: %s at %i × %i', async (theme, width, height) => {
    await using(at(tip, { ...desk, theme, width, height, touch: width < 1000 }), async (_, page) => {
      const findings = page.getByRole('tab', { name: 'Findings' });
      if (await findings.isVisible()) await findings.click();
      await expect.poll(() => card(page).innerText()).toContain('The setting is');
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
