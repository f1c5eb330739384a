// From anywhere to anything: the search, the ways between a part and what belongs to it, the link, the files, the paper;
// and the questions of who has never seen the page, in at most two taps.
import type { Download, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { accessOf, analyse, planOf, readData, wordAccess, wordPlanStep, wordWay } from '../../shared/index.ts';
import { readRoute } from '../../src/page/route.ts';
import { demoModels } from '../bench/models.ts';
import { someOf, usually } from '../setup/series.ts';
import { axe, waitReady, type Opening } from './harness.ts';
import { using } from './using.ts';

const model = demoModels().find(({ id }) => id === 'skarn-140')!;
const reading = readData(model);
if (!reading.ok) throw new Error('find: skarn-140: met a model with problems, allowed: one without');
const analysis = analyse(reading.model);
const pivot = analysis.pivots.find(({ id }) => id === 'rocker-frame')!;
const items = pivot.stacks.flatMap((stack) => stack.items);
const bearing = items.find(({ role }) => role === 'bearing')!;
const { torque_Nm } = pivot.stacks[0]!.tightening;
const spanner_mm = model.pivots[0]!.stacks[0]!.drives.receiver!.size_mm;

const still: Opening = { width: 1024, height: 768, stillness: true, webgl: false };
const card = (page: Page) => page.getByRole('region', { name: 'Side card' });
const field = (page: Page) => page.getByRole('combobox', { name: 'Pivot, part, tool or word' });
const soon = (seen: () => unknown) => expect.poll(seen, { timeout: 15_000 });

async function bytesOf(download: Download): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

describe('the search', () => {
  test('by key, with a letter wrong, to a part of another pivot; its address opens it again', async () => {
    await using({ ...still, path: '#model=skarn-140' }, async (_, page) => {
      await page.keyboard.press('/');
      await soon(() => field(page).evaluate((element) => element === document.activeElement)).toBe(true);
      await page.keyboard.type('baering 15x32');
      const options = page.getByRole('dialog').getByRole('option');
      await soon(() => options.first().innerText()).toContain('Bearing 15 × 32 × 9');
      expect(await axe(page, 'dialog')).toEqual([]);
      const first = await field(page).getAttribute('aria-activedescendant');
      await page.keyboard.press('ArrowDown');
      const second = await field(page).getAttribute('aria-activedescendant');
      expect(second).not.toBe(first);
      const name = await page.getByRole('dialog').getByRole('option', { selected: true }).innerText();
      expect(await page.getByRole('dialog').getByRole('option', { selected: true }).getAttribute('id')).toBe(second);
      await page.keyboard.press('Enter');
      await soon(() => page.getByRole('dialog').count()).toBe(0);
      await soon(() => card(page).getByRole('heading', { level: 2 }).innerText()).toBe(name.split('\n')[0]);
      await soon(() => page.url()).toContain('&part=rocker-frame');
      await page.reload();
      await waitReady(page);
      expect(await card(page).getByRole('heading', { level: 2 }).innerText()).toBe(name.split('\n')[0]);
    });
  });

  test('by its button from another place; what is nowhere is said; Escape leaves all as it was', async () => {
    await using({ ...still, width: 390, height: 844, path: '#model=skarn-140&place=tray' }, async (_, page) => {
      const address = page.url();
      await page.getByRole('button', { name: 'Search' }).click();
      await field(page).fill('qqqq');
      await soon(() => page.getByRole('dialog').innerText()).toContain('Nothing here by that name');
      await page.keyboard.press('Escape');
      await soon(() => page.getByRole('dialog').count()).toBe(0);
      expect(page.url()).toBe(address);
      await page.keyboard.press('/');
      await field(page).fill(`${spanner_mm} mm spanner`);
      await page.getByRole('dialog').getByRole('option').first().click();
      await soon(() => page.url()).not.toContain('place=');
      await soon(() => page.evaluate(() => document.activeElement?.className ?? '')).toContain('torque');
    });
  });
});

describe('who has never seen it', () => {
  /** Whether words can be read: nothing lies over their beginning, and they are not scrolled away. */
  const isRead = (page: Page, words: string): Promise<boolean> =>
    page
      .getByText(words)
      .first()
      .evaluate((element) => {
        const { left, top } = element.getBoundingClientRect();
        const met = document.elementFromPoint(left + 8, top + 8);
        return met !== null && (element.contains(met) || met.contains(element));
      });
  const next = wordPlanStep(planOf(analysis).steps.find(({ pivotId }) => pivotId === pivot.id)!, analysis);
  const sizes: Opening[] = [
    { ...still, width: 390, height: 844, webgl: true },
    { ...still, width: 1024, height: 768 },
    { ...still, width: 1920, height: 1080 },
  ];

  test.each(usually(sizes, 0))(
    'finds way round, torque, next and what comes off in two taps at $width px',
    async (opening) => {
      await using(opening, async (app, page) => {
        const pick = (): Promise<void> =>
          page.getByRole('navigation', { name: 'Pivots' }).getByRole('button', { name: pivot.name }).click();
        await pick();
        for (const spacer of items.filter(({ role }) => role === 'spacer'))
          await soon(() => isRead(page, wordWay(spacer))).toBe(true);
        expect(await isRead(page, `${torque_Nm} N·m`)).toBe(true);
        await page.getByRole('button', { name: 'Next', exact: true }).click();
        await soon(() => isRead(page, next.title)).toBe(true);

        await page.goto('about:blank');
        await page.goto(app.origin);
        await waitReady(page);
        await pick();
        // Where the bearing is seen: its name on the picture, or itself in the section.
        if (opening.webgl === true)
          await page.locator('.scene-part').filter({ hasText: 'Bearing', visible: true }).first().click();
        else
          await page
            .locator(`.drawing .aws-hit[data-item="${bearing.id}"]`)
            .first()
            .click({ position: { x: 8, y: 8 }, force: true });
        await soon(() => page.url()).toContain('&part=');
        const id = readRoute(new URL(page.url()).hash).part!;
        expect(items.filter(({ role }) => role === 'bearing').map((item) => item.id)).toContain(id);
        const { text } = wordAccess(accessOf(planOf(analysis), id), analysis);
        await soon(() => card(page).innerText()).toContain(text);
        expect(await isRead(page, text)).toBe(true);
      });
    },
  );
});

describe('the ways on', () => {
  test('from a part to its torque, its mistakes and its step; from a pivot to the build order and to access', async () => {
    const at = `#model=skarn-140&pivot=${pivot.id}&part=${encodeURIComponent(bearing.id)}`;
    await using({ ...still, path: at }, async (app, page) => {
      const ways = card(page).getByRole('navigation', { name: 'More of this part' });
      await ways.getByRole('button', { name: `${torque_Nm} N·m` }).click();
      await soon(() => page.evaluate(() => document.activeElement?.getAttribute('data-section'))).toBe(
        `torque ${pivot.stacks[0]!.id}`,
      );
      await page.goto(`${app.origin}${at}&cut=yes`);
      await waitReady(page);
      await ways.getByRole('button', { name: 'Mistakes' }).click();
      await soon(() => page.evaluate(() => document.activeElement?.getAttribute('data-section'))).toBe('mistakes');
      await page.goto(`${app.origin}${at}`);
      await waitReady(page);
      await ways.getByRole('button', { name: /^Step \d+ of/ }).click();
      await soon(() => page.url()).toMatch(/step=\d+/);
      await page.getByRole('tab', { name: 'Findings' }).click();
      await page.keyboard.press('Escape');
      await page.keyboard.press('Escape');
      const more = card(page).getByRole('navigation', { name: `More of ${pivot.name}` });
      await more.getByRole('button', { name: 'What comes off' }).click();
      await soon(() => page.url()).toContain('tab=access');
      await page.goBack();
      await more.getByRole('button', { name: /^Step \d+ of/ }).click();
      await soon(() => page.url()).toMatch(/place=order.*at=\d+/);
    });
  });
});

describe('to take away', () => {
  test('the link to what is shown, the section in mm, the picture, and one sheet of paper for every pivot', async () => {
    await using(
      {
        ...still,
        webgl: true,
        isPainted: true,
        width: 960,
        height: 540,
        path: `#model=skarn-140&pivot=${pivot.id}&cut=yes`,
      },
      async (app, page) => {
        await app.context.grantPermissions(['clipboard-read', 'clipboard-write'], {
          origin: new URL(app.origin).origin,
        });
        await page.getByRole('button', { name: 'Menu' }).click();
        await page.getByRole('dialog').getByRole('button', { name: 'Link, picture, paper' }).click();
        await page.getByRole('button', { name: 'Copy link' }).click();
        await soon(() => page.getByText('Copied.').isVisible()).toBe(true);
        const link = await page.evaluate(() => navigator.clipboard.readText());
        expect(link).toBe(page.url());
        expect(link).toContain('cut=yes');
        const save = async (name: string): Promise<Download> => {
          const [download] = await Promise.all([
            page.waitForEvent('download'),
            page.getByRole('button', { name, exact: true }).click(),
          ]);
          return download;
        };
        const section = await save('Section as SVG');
        expect(section.suggestedFilename()).toBe(`skarn-140-${pivot.stacks[0]!.id}.svg`);
        const drawn = (await bytesOf(section)).toString('utf8');
        expect(drawn).toMatch(/^<svg [^>]*width="[\d.]+mm" height="[\d.]+mm"/);
        for (const { id } of items) expect(drawn).toContain(`data-item="${id}"`);
        const picture = await save('Picture as PNG');
        const bytes = await bytesOf(picture);
        expect(bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
        // A ground without parts and labels packs into a tenth of this.
        expect(bytes.length).toBeGreaterThan(60_000);

        // For other programs: each file is of what the fields beside it say.
        const model = await bytesOf(await save('Picture of the bike, glTF'));
        expect(model.subarray(0, 4).toString('latin1')).toBe('glTF');
        expect((await bytesOf(await save('Parts as a table, CSV'))).toString('utf8')).toContain(items[0]!.id);
        const row = await save('Section 1:1, DXF');
        expect(row.suggestedFilename()).toBe(`skarn-140-${pivot.stacks[0]!.id}.dxf`);
        await page.getByLabel('Times its size').fill('three');
        expect(await page.getByRole('button', { name: 'Part, STL' }).getAttribute('aria-disabled')).toBe('true');
        await page.getByLabel('Times its size').fill('1,5');
        const part = await save('Part, STL');
        expect(part.suggestedFilename()).toMatch(/^skarn-140-.*\.stl$/);
        expect((await bytesOf(part)).length % 50).toBe(34);

        await page.getByRole('button', { name: 'This pivot on one sheet' }).click();
        const paper = page.locator('.pivot-paper');
        await soon(() => paper.innerText()).toContain(`${torque_Nm} N·m`);
        for (const spacer of items.filter(({ role }) => role === 'spacer'))
          expect(await paper.innerText()).toContain(wordWay(spacer));
        expect(await axe(page, 'dialog')).toEqual([]);
        for (const { id, name } of someOf(analysis.pivots, 3)) {
          await page.evaluate((hash) => {
            window.location.hash = hash;
          }, `#model=skarn-140&pivot=${id}`);
          await soon(() => paper.innerText()).toContain(name);
          for (const format of ['A4', 'Letter']) {
            const margin = '12mm';
            const pdf = await page.pdf({
              format,
              margin: { top: margin, bottom: margin, left: margin, right: margin },
            });
            expect(pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g), `${id}, ${format}`).toHaveLength(1);
          }
        }
      },
    );
  });
});
