// A pivot is measured up from nothing, by pointer and by keys alone: the class rig, which then comes to what its shipped
// file comes to; its draft is there after a reload, and opens as a model.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  completed,
  JOB_DRAFT_WORDS,
  readDraft,
  readModel,
  type Analysis,
  type Draft,
} from '../../shared/index.ts';
import { LONG } from '../setup/series.ts';
import { axe, type Opening } from './harness.ts';
import { outOfReach, using } from './using.ts';

const place: Opening = { width: 1024, height: 768, stillness: true, webgl: false, path: '#place=measure' };
const phone: Opening = { ...place, width: 390, height: 844, touch: true };

const shipped = readModel(readFileSync(fileURLToPath(new URL('../../models/class-rig.json', import.meta.url)), 'utf8'));
if (!shipped.ok) throw new Error('class-rig cannot be read');
const rig = analyse(shipped.model);

/** What a calliper reads on the rig, by the row ids of the manner it begins from. */
const READINGS: readonly (readonly [item: string, sizes: Readonly<Record<string, number>>])[] = [
  ['spacer-left', { small_mm: 18, large_mm: 26, bore_mm: 15.2, length_mm: 5, small_land_mm: 1.4, large_land_mm: 1.2 }],
  ['tube', { outside_mm: 18, bore_mm: 15.2, length_mm: 22 }],
  [
    'frame-shell',
    {
      width_mm: 36,
      bore_mm: 24,
      boss_mm: 40,
      'seats[0].diameter_mm': 28,
      'seats[0].depth_mm': 7,
      'seats[1].diameter_mm': 28,
      'seats[1].depth_mm': 7,
    },
  ],
  ['arm-left', { width_mm: 9, bore_mm: 15.05, boss_mm: 34 }],
  ['arm-right', { width_mm: 9, gap_mm: 52, bore_mm: 15.05, boss_mm: 34 }],
  ['spacer-2', { outside_mm: 26, bore_mm: 15.2, length_mm: 6 }],
  [
    'axle',
    {
      'head.diameter_mm': 26,
      'head.height_mm': 5,
      'shank[0].diameter_mm': 14.98,
      'shank[0].length_mm': 84,
      'thread.size_mm': 15,
      'thread.pitch_mm': 1,
      'thread.length_mm': 25,
      bore_mm: 6,
    },
  ],
  ['receiver', { outside_mm: 24, length_mm: 13, 'thread.size_mm': 15, 'thread.pitch_mm': 1, 'thread.length_mm': 13 }],
];
const TIGHTENING = { torque_Nm: 13, 'drives.head.size_mm': 8, 'drives.receiver.size_mm': 21 };

/** Of the things in the row, how many are read by keys outside the long run. */
const BY_KEYS = 3;

const chip = (page: Page, id: string) => page.locator(`.chip[data-part="${id}"]`);
const field = (page: Page, end: string) => page.locator(`[data-size$=".${end}"]:visible`).first();

const soIt = (page: Page) => page.getByRole('button', { name: 'It measures so' });

/** Types a size; a guess that was right is said to be so. */
async function enter(page: Page, end: string, value: number): Promise<void> {
  const at = field(page, end);
  if ((await at.inputValue()) !== String(value)) return at.fill(String(value));
  await at.focus();
  if ((await soIt(page).count()) > 0) await soIt(page).click();
}

async function enterAll(page: Page, sizes: Readonly<Record<string, number>>): Promise<void> {
  for (const [end, value] of Object.entries(sizes)) await enter(page, end, value);
}

async function readByPointer(page: Page, item: string, sizes: Readonly<Record<string, number>>): Promise<void> {
  if ((await chip(page, item).getAttribute('aria-pressed')) !== 'true') await chip(page, item).click();
  await enterAll(page, sizes);
}

async function draftOf(page: Page): Promise<Draft> {
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the draft' }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await file.createReadStream()) chunks.push(chunk as Buffer);
  const read = readDraft(Buffer.concat(chunks).toString('utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.draft;
}

/** Verdict, what is found beside notes, and how long each thing of the row is, in its order: a tenth leaves the clamp’s give aside. */
function told({ verdict, findings, pivots }: Analysis): unknown {
  const found = [...findings, ...pivots.flatMap((pivot) => pivot.findings)];
  return {
    verdict,
    found: found.flatMap(({ code, severity }) => (severity === 'note' ? [] : [code])),
    row: pivots[0]!.stacks[0]!.items.map(({ kind, from_mm, to_mm }) => [kind, Math.round((to_mm - from_mm) * 10)]),
  };
}

async function comesToTheRig(page: Page): Promise<void> {
  const draft = await draftOf(page);
  const { model, faults, assumed } = completed(draft);
  expect(faults).toEqual([]);
  expect(assumed).toEqual([]);
  const own = told(analyse(model)) as { row: [string, number][] };
  const theirs = told(rig) as { row: [string, number][] };
  // The arm of the rig is called a rocker, that of the manner a swing arm.
  const asArm = (row: [string, number][]) => row.map(([kind, long]) => [kind === 'swingarm' ? 'rocker' : kind, long]);
  expect({ ...own, row: asArm(own.row) }).toEqual({ ...theirs, row: asArm(theirs.row) });
  expect(own).toMatchObject({ verdict: 'sound' });
}

describe('the class rig, from nothing', () => {
  test('by pointer, and it is there after a reload, and opens as a model', async () => {
    await using(place, async (_, page) => {
      await page.locator('.manner').first().click();
      await chip(page, 'spacer-right').click();
      await page.getByRole('button', { name: 'Add…' }).click();
      await page.locator('.kind-button', { hasText: 'two equal faces' }).click();
      await chip(page, 'spacer-2').waitFor();
      await chip(page, 'bearing-left').click();
      await page.getByLabel('Designation on the seal').selectOption('61902');
      for (const [item, sizes] of READINGS) await readByPointer(page, item, sizes);
      await enterAll(page, TIGHTENING);
      await page.getByText('Every size of this row was read.').waitFor();
      await comesToTheRig(page);

      await page.reload();
      await chip(page, 'spacer-2').waitFor();
      await comesToTheRig(page);
      await page.getByRole('button', { name: 'Open as a model' }).click();
      await page.locator('.card').getByText('Fits').first().waitFor();
      await expect.poll(() => page.url()).toContain('file=');
    });
  });

  test('by keys alone', async () => {
    await using(place, async (_, page) => {
      const at = (selector: string) => page.evaluate((own) => document.activeElement?.matches(own) === true, selector);
      const tabTo = async (selector: string, key = 'Tab'): Promise<void> => {
        for (let presses = 0; presses < 80; presses += 1) {
          if (await at(selector)) return;
          await page.keyboard.press(key);
        }
        throw new Error(`no key leads to ${selector}`);
      };
      const pick = async (item: string): Promise<void> => {
        await tabTo('.chip', 'Shift+Tab');
        await page.keyboard.press('Home');
        for (let presses = 0; presses < 14 && !(await at(`[data-part="${item}"][aria-pressed="true"]`)); presses += 1)
          await page.keyboard.press('ArrowRight');
        expect(await at(`[data-part="${item}"][aria-pressed="true"]`)).toBe(true);
      };
      const type = async (sizes: Readonly<Record<string, number>>): Promise<void> => {
        for (const [end, value] of Object.entries(sizes)) {
          await tabTo(`[data-size$=".${end}"]`);
          if ((await field(page, end).inputValue()) === String(value) && (await soIt(page).count()) > 0) {
            await tabTo('.size-so');
            await page.keyboard.press('Enter');
            continue;
          }
          await page.keyboard.press('Control+a');
          await page.keyboard.type(String(value));
        }
      };
      await tabTo('.manner');
      await page.keyboard.press('Enter');
      await chip(page, 'spacer-right').waitFor();
      await tabTo('.chip');
      await pick('spacer-right');
      await tabTo('.row-add');
      await page.keyboard.press('Enter');
      await tabTo('.kind-button');
      await page.keyboard.press('Enter');
      await chip(page, 'spacer-2').waitFor();
      await pick('bearing-left');
      await tabTo('.bearing-name');
      await page.keyboard.type('61902');
      await page.keyboard.press('Enter');
      const read = async (item: string, sizes: Readonly<Record<string, number>>): Promise<void> => {
        await pick(item);
        await type(sizes);
      };
      // By keys as by pointer; outside the long run the first, the rest as quickly as a script can.
      for (const [k, [item, sizes]] of READINGS.entries())
        await (LONG || k < BY_KEYS ? read(item, sizes) : readByPointer(page, item, sizes));
      await (LONG ? type(TIGHTENING) : enterAll(page, TIGHTENING));
      await page.getByText('Every size of this row was read.').waitFor();
      await comesToTheRig(page);
    });
  });
});

test('on a phone everything is in reach of a thumb, and nothing bars the way', async () => {
  await using(phone, async (_, page) => {
    expect(await axe(page)).toEqual([]);
    await page.locator('.manner').first().click();
    await page.locator('.draft-section svg').waitFor();
    const next = page.getByRole('region', { name: 'Measure next' });
    const answer = next.getByRole('textbox', { name: 'It reads' });
    const asked = next.locator('.large.bold').first();
    await asked.waitFor();
    // What is entered leads to the next one, which draws where the calliper goes and says what hangs on what.
    for (const value of ['36', '5']) {
      const before = await asked.innerText();
      await answer.fill(value);
      await answer.press('Enter');
      await expect.poll(async () => ((await asked.count()) > 0 ? asked.innerText() : before)).not.toBe(before);
      await expect.poll(() => answer.evaluate((own) => own === document.activeElement)).toBe(true);
      expect(await answer.inputValue()).toBe('');
    }
    expect(await next.locator('.size-picture svg').count()).toBe(1);
    expect(await next.innerText()).toMatch(/Hangs on \d+ sizes/);
    await next.getByRole('button', { name: 'All sizes of this part' }).click();
    await page.locator('.draft-side .size-row input:focus').waitFor();
    // A comparison is entered, stands in its list, and is taken out again.
    const compared = page.locator('[data-comparison]');
    await page.locator('summary', { hasText: 'Comparisons' }).click();
    await page.locator('.compare-pick').selectOption({ index: 1 });
    await page.getByRole('button', { name: 'Too long by' }).click();
    await page.getByRole('textbox', { name: 'Too long by' }).fill('0.03');
    await page.getByRole('textbox', { name: 'Too long by' }).press('Enter');
    await expect.poll(() => compared.innerText()).toContain('-0.03 mm');
    await compared.getByRole('button', { name: 'Take it out' }).click();
    await expect.poll(() => compared.count()).toBe(0);
    // The list that ends at what can be trusted says what is open.
    await page.locator('summary', { hasText: 'Can it be trusted?' }).click();
    await page.locator('[data-step="settled"][data-done="false"]').waitFor();
    await page.locator('[data-step="agrees"][data-done="true"]').waitFor();
    expect(await axe(page)).toEqual([]);
    await page.locator('summary', { hasText: 'Can it be trusted?' }).click();
    await page.locator('summary', { hasText: 'Comparisons' }).click();
    await chip(page, 'spacer-left').click();
    await field(page, 'length_mm').click();
    // A box to tick has the whole of its label to be tapped.
    const small = (await outOfReach(page)).filter((one) => / px$/.test(one) && !one.startsWith(' () '));
    expect(small).toEqual([]);
    const labels = await page
      .locator('.choice')
      .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
    expect(labels.length).toBeGreaterThan(0);
    expect(Math.min(...labels)).toBeGreaterThanOrEqual(44);
    expect(await axe(page)).toEqual([]);
    await field(page, 'length_mm').fill('5.02');
    await page.getByRole('button', { name: 'Read it once more' }).click();
    await page.getByRole('textbox', { name: 'Length, reading 2', exact: true }).fill('5.6');
    await expect.poll(() => page.locator('.draft-side').innerText()).toContain('do not agree');
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect.poll(() => page.locator('.draft-side').innerText()).not.toContain('do not agree');
    // Opened on the whole page, it says in its name how much of it is a guess.
    await page.getByRole('button', { name: 'Open as a model' }).click();
    await expect.poll(() => page.locator('body').textContent()).toMatch(/\(\d+ sizes guessed\)/);
  });
});

test('pivots are placed by numbers and from a photo, each click by its height; a photo that lies is refused', async () => {
  await using(place, async (_, page) => {
    await page.locator('.manner').first().click();
    await page.getByRole('button', { name: 'One more pivot…' }).click();
    await page.getByRole('dialog').getByRole('button').nth(1).click();
    await page.getByRole('button', { name: 'Where they stand…' }).click();
    const forward = page.getByLabel(/^Forward, mm/);
    await forward.last().fill('-85,5');
    await expect.poll(() => forward.last().inputValue()).toBe('-85,5');
    const picker = page.getByLabel('Photo of the side');
    const head = new PNG({ width: 1, height: 1 });
    const lying = PNG.sync.write(head);
    lying.writeUInt32BE(30_000, 16);
    await picker.setInputFiles({ name: 'lying.png', mimeType: 'image/png', buffer: lying });
    await page.getByRole('alert').filter({ hasText: '30000 × 1 px' }).waitFor();

    // Straight from 3 m, a mm of the middle plane a px: what stands 60 mm nearer is seen 2 % larger.
    const size = { width: 1200, height: 800 };
    const white = PNG.sync.write(new PNG(size));
    await picker.setInputFiles({ name: 'side.png', mimeType: 'image/png', buffer: white });
    const frame = page.getByRole('application');
    await frame.waitFor();
    const marks = page.locator('.photo-marks');
    const at = (x_mm: number, y_mm: number, z_mm: number) => {
      const by = 3000 / (3000 - z_mm);
      return { x: 600 + x_mm * by, y: 400 - y_mm * by };
    };
    const shown = await marks.evaluate((own) => own.getBoundingClientRect().width);
    const tapAt = async (x_mm: number, y_mm: number, z_mm: number): Promise<void> => {
      const { x, y } = at(x_mm, y_mm, z_mm);
      await marks.dispatchEvent(
        'pointerup',
        await marks.evaluate(
          (own, [u, v]) => {
            const box = own.getBoundingClientRect();
            return {
              clientX: box.left + (u! / 1200) * box.width,
              clientY: box.top + (v! / 800) * box.height,
              bubbles: true,
            };
          },
          [x, y],
        ),
      );
    };
    expect(shown).toBeGreaterThan(300);
    for (let k = 0; k < 12; k++) await tapAt(-300 + (k % 4) * 200, 150 - Math.floor(k / 4) * 150, 60);
    await tapAt(-500, 0, 70);
    await tapAt(500, 0, 70);
    await page.getByText(/^The marks fit within/).waitFor();
    expect(await page.getByText(/^The marks fit within/).innerText()).toMatch(
      /wheels stand 100[01] mm apart|wheels stand 999 mm apart/,
    );
    const places = page.getByRole('region', { name: 'From a photo' });
    await tapAt(0, 0, 40);
    await tapAt(100, 50, 40);
    await places
      .getByRole('listitem')
      .filter({ hasText: /forward, .* up, ± / })
      .nth(1)
      .waitFor();
    await page.getByRole('button', { name: 'Take these places' }).click();
    await expect.poll(async () => Math.abs(Number(await forward.last().inputValue()) - 100)).toBeLessThan(3);
    // The cross goes by keys, and the last mark is taken back.
    await page.getByRole('button', { name: 'Take the last back' }).click();
    await page.getByText(/^Now the axle’s end of/).waitFor();
    await frame.focus();
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Enter');
    await page.getByText('All is marked.').waitFor();
    expect(await axe(page)).toEqual([]);

    // A real bike can be worked on before all is measured: its job says that sizes may be guesses.
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Begin a job' }).click();
    await page.getByText(JOB_DRAFT_WORDS.came).waitFor();
    expect(page.url()).toMatch(/file=.*place=job.*job=/);
  });
});
