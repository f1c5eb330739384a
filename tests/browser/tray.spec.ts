/**
 * The sorting tray in the built app, as a person at a bench uses it: a part in the hand, its kind by picture, its sizes
 * by thumb, what it is at every key, the next measurement, nothing lost, and from a row to its place on the picture.
 */
import { readFileSync } from 'node:fs';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { usually } from '../setup/series.ts';
import { axe, letPass, openApp, waitReady, type OpenedApp, type Opening } from './harness.ts';

interface ModelFile {
  name: string;
  parts: Record<string, { kind: string; name: string; count: number; outside_mm?: number; length_mm?: number }>;
  pivots: {
    id: string;
    name: string;
    stacks: { id: string; from: string; receiver: string; row: { id: string; part?: string }[] }[];
  }[];
}
const skarn = JSON.parse(
  readFileSync(fileURLToPath(new URL('../../models/skarn-140.json', import.meta.url)), 'utf8'),
) as ModelFile;
const pivotOf = (id: string) => skarn.pivots.find((pivot) => pivot.id === id)!;
const stackOf = (pivotId: string) => pivotOf(pivotId).stacks[0]!;
const partIn = (pivotId: string, rowId: string) =>
  skarn.parts[stackOf(pivotId).row.find(({ id }) => id === rowId)!.part!]!;
/** A size as it is typed on the pad. */
const typed = (size_mm: number): string => String(Number(size_mm.toFixed(2)));

const TABLE = readFileSync(fileURLToPath(new URL('../fixtures/sort/skarn-tray.csv', import.meta.url)), 'utf8');
const TRAY = '#model=skarn-140&place=tray';
const PHONE: Opening = { width: 390, height: 844, touch: true, stillness: true, webgl: false, path: TRAY };
const DESK: Opening = { width: 1440, height: 900, stillness: true, webgl: false, path: TRAY };

async function using(opening: Opening, work: (page: Page, app: OpenedApp) => Promise<void>): Promise<void> {
  const app = await openApp(opening);
  try {
    await waitReady(app.page);
    await app.page
      .getByRole('heading', { name: /Sorting/ })
      .first()
      .waitFor();
    await work(app.page, app);
    expect(app.noise).toEqual([]);
    expect(app.outside).toEqual([]);
  } finally {
    await app.close();
  }
}

const board = (page: Page) => page.getByRole('region', { name: 'What lies on the tray' });
const hand = (page: Page) => page.getByRole('region', { name: 'Part in the hand' });
const pad = async (page: Page, keys: string): Promise<void> => {
  for (const key of keys) await page.getByRole('button', { name: key === '.' ? 'Point' : key, exact: true }).tap();
};
async function paste(page: Page, table = TABLE): Promise<void> {
  await page.getByRole('button', { name: 'Paste a table' }).click();
  await page.getByRole('textbox', { name: 'Table' }).fill(table);
  await page.getByRole('button', { name: 'Put on the tray' }).click();
}

describe('a phone in one hand', () => {
  test('kind by picture, sizes by thumb, the answer at every key, the next measurement, and all of it still there after a reload', async () => {
    await using(PHONE, async (page) => {
      await page.getByRole('button', { name: 'Add a loose part' }).tap();
      await page.getByRole('button', { name: /^Tapered spacer/ }).tap();
      // They differ in their length alone: that is asked for, and nothing has a name before it is measured.
      const focused = () => page.evaluate(() => document.activeElement?.getAttribute('data-field'));
      await expect.poll(focused).toBe('length');
      expect(await hand(page).getByRole('status').innerText()).toBe('Measure one size.');
      await page.getByLabel('Large face, mm').tap();
      await pad(page, '29');
      // Both tapered spacers of the bike are 29 mm wide.
      await expect.poll(() => hand(page).getByRole('status').innerText()).toMatch(/^Tapered spacer, .*, or another/);
      await page.getByRole('button', { name: 'Next size' }).tap();
      await expect.poll(focused).toBe('length');
      await page.getByLabel('Small face, mm').tap();
      await pad(page, '18.2');
      expect(await page.getByLabel('Small face, mm').inputValue()).toBe('18.2');
      await page.getByRole('button', { name: 'Done' }).tap();
      const next = page.getByRole('region', { name: 'Next measurement' });
      expect(await next.innerText()).toContain('Measure next: the length of no. 1');
      expect(await next.getByRole('img').count()).toBe(1);
      await next.getByRole('button', { name: 'Enter it' }).tap();
      expect(await page.evaluate(() => document.activeElement?.getAttribute('data-field'))).toBe('length');
      const [short, long] = [partIn('rocker-frame', 'cone-left'), partIn('rocker-frame', 'cone-right')];
      await pad(page, typed(short.length_mm!));
      await expect.poll(() => hand(page).getByRole('status').innerText()).toBe(short.name);
      await page.getByRole('button', { name: 'Next part' }).tap();
      await page.getByRole('button', { name: /^Bearing/ }).tap();
      await pad(page, '32');
      await page.reload();
      await waitReady(page);
      await expect.poll(() => board(page).innerText()).toContain(partIn('rocker-frame', 'bearing-left').name);
      expect(await board(page).innerText()).toContain(short.name);
      expect(await board(page).innerText()).toContain(
        `${long.length_mm! - short.length_mm!} mm shorter than ${long.name}`,
      );
    });
  });

  test('what cannot be right is said in words, nothing typed is lost, and it is no part of the sort', async () => {
    await using(PHONE, async (page) => {
      await page.getByRole('button', { name: 'Add a loose part' }).tap();
      await page.getByRole('button', { name: /^Spacer/ }).tap();
      await page.getByLabel('Outside, mm').tap();
      await pad(page, '15');
      await page.getByLabel('Bore, mm').tap();
      await pad(page, '17.2');
      await expect
        .poll(() => hand(page).getByRole('status').innerText())
        .toBe('The bore cannot be as wide as the outside.');
      expect(await page.getByLabel('Bore, mm').getAttribute('aria-invalid')).toBe('true');
      await page.getByRole('button', { name: 'Done' }).tap();
      expect(await board(page).innerText()).toContain('Cannot be right');
      await page.reload();
      await waitReady(page);
      await board(page)
        .getByRole('button', { name: /Cannot be right/ })
        .tap();
      expect(await page.getByLabel('Bore, mm').inputValue()).toBe('17.2');
      await page.getByRole('button', { name: 'Rub out' }).tap();
      await page.getByRole('button', { name: 'Take off' }).tap();
      await expect.poll(() => board(page).innerText()).toContain('Nothing on the tray yet.');
      await page.getByRole('button', { name: 'Undo' }).tap();
      await expect.poll(() => board(page).innerText()).toContain('Cannot be right');
    });
  });

  test('every button is at least 44 px high and wide, and nothing runs out of the side', async () => {
    await using(PHONE, async (page) => {
      const small = () =>
        page.evaluate(() =>
          [...document.querySelectorAll<HTMLElement>('main button, main select, main input:not(.away)')]
            .filter((element) => element.offsetParent !== null)
            .map((element) => ({
              name: element.innerText || element.getAttribute('aria-label') || element.id,
              box: element.getBoundingClientRect(),
            }))
            .filter(({ box }) => box.width < 43.5 || box.height < 43.5)
            .map(({ name, box }) => `${name}: ${Math.round(box.width)} × ${Math.round(box.height)}`),
        );
      const tooWide = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      await page.getByRole('button', { name: 'Add a loose part' }).tap();
      expect(await small(), 'kinds').toEqual([]);
      for (const kind of ['Axle', 'Nut', 'End cap']) {
        await page.getByRole('button', { name: new RegExp(`^${kind}`) }).tap();
        expect(await small(), kind).toEqual([]);
        expect(await tooWide(), kind).toBe(0);
        await page.getByRole('button', { name: /change the kind/ }).tap();
      }
      await page.getByRole('button', { name: 'Done' }).tap();
      await paste(page);
      expect(await small(), 'board').toEqual([]);
      expect(await tooWide()).toBe(0);
    });
  });
});

describe('a desk with a keyboard', () => {
  test('Enter goes on to the next size, Escape puts the part down, letters mean nothing to the picture', async () => {
    const nut = skarn.parts[stackOf('main').receiver]!;
    await using({ ...DESK, hasClock: true }, async (page) => {
      await page.getByRole('button', { name: 'Add a loose part' }).press('Enter');
      await page.getByRole('button', { name: /^Nut/ }).press('Enter');
      const inHand = (): Promise<string> =>
        page.evaluate(() => document.activeElement?.getAttribute('data-field') ?? 'none yet');
      // The size it asks for gets the focus a moment after the kind is picked.
      await expect.poll(inHand).not.toBe('none yet');
      await page.getByLabel(/^Outside/).focus();
      await page.keyboard.type(typed(nut.outside_mm!));
      await page.keyboard.press('Enter');
      await expect.poll(inHand).not.toMatch(/^(outside|none yet)$/);
      await page.getByLabel(/^Thread/).focus();
      await page.keyboard.type('M14x1');
      await expect.poll(() => hand(page).getByRole('status').innerText()).toBe(nut.name);
      await page.keyboard.press('Escape');
      expect(await hand(page).innerText()).toContain('Take the next part');
      await page.getByRole('button', { name: 'Calliper' }).focus();
      const before = page.url();
      for (const key of ['d', 'n', 'p', 'b', 'c', 'ArrowRight', 'PageDown']) await page.keyboard.press(key);
      await letPass(page, 1000);
      expect(page.url()).toBe(before);
      expect(await board(page).innerText()).toContain(nut.name);
    });
  });

  test('a table is refused in words with the text kept, then taken; alternatives are all there', async () => {
    await using(DESK, async (page) => {
      const bad = TABLE.replace('outside mm', 'outside');
      await paste(page, bad);
      const sheet = page.getByRole('dialog', { name: 'Paste a table' });
      expect(await sheet.getByRole('alert').innerText()).toContain('the unit is missing');
      expect(await sheet.getByRole('textbox').inputValue()).toBe(bad);
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Paste a table' }).click();
      expect(await sheet.getByRole('textbox').inputValue()).toBe(bad);
      await sheet.getByRole('textbox').fill(TABLE);
      await page.getByRole('button', { name: 'Put on the tray' }).click();
      await expect.poll(() => page.locator('.tray-count').innerText()).toBe('9 on the tray, 6 found');
      await board(page).getByRole('button', { name: /^C / }).click();
      const words = await board(page).innerText();
      // 15 mm outside and 12.2 mm in the bore: both washers and the tube of the seatstay axle. One of them is named
      // first.
      const alike = ['rear-washer', 'seatstay-washer', 'seatstay-tube'].map((id) => skarn.parts[id]!.name);
      const could = alike.filter((name) =>
        words.includes(`It could as well be ${name}: the two cannot be told apart by what you measured.`),
      );
      expect(could).toHaveLength(alike.length - 1);
      const absent = skarn.parts['bearing-12-6']!;
      expect(words).toContain(`${absent.count} × ${absent.name}`);
    });
  });

  test('true relative size: every drawing has the same px a millimetre', async () => {
    await using(DESK, async (page) => {
      await paste(page);
      await expect.poll(() => page.locator('.board-picture svg').count()).toBe(9);
      const scales = await page.evaluate(() =>
        [...document.querySelectorAll<SVGSVGElement>('.board-picture svg')].map(
          (svg) => svg.getBoundingClientRect().width / svg.viewBox.baseVal.width,
        ),
      );
      expect(scales.length).toBe(9);
      for (const scale of scales) expect(scale).toBeCloseTo(scales[0]!, 2);
      const left = await page.evaluate(() =>
        [...document.querySelectorAll<SVGSVGElement>('.board-picture svg')].map(
          (svg) => svg.getBoundingClientRect().left,
        ),
      );
      for (const at of left) expect(at).toBeCloseTo(left[0]!, 0);
    });
  });

  test('from a row to its pivot and part, and back by the browser’s button', async () => {
    await using(DESK, async (page) => {
      await paste(page);
      await board(page).getByRole('button', { name: /^A/ }).click();
      await board(page)
        .getByRole('button', { name: /Rocker to frame: non-drive side.*small face to the non-drive side/ })
        .click();
      await expect.poll(() => page.url()).toContain('pivot=rocker-frame');
      await expect
        .poll(() => page.getByRole('region', { name: 'Side card' }).innerText())
        .toContain(partIn('rocker-frame', 'cone-left').name);
      await page.goBack();
      await expect.poll(() => page.url()).toContain('place=tray');
      // Where it goes stands in its line, with the way it looks.
      const line = board(page).getByRole('button', { name: /^A/ });
      expect(await line.innerText()).toContain('Rocker to frame, non-drive side, small face to the non-drive side');
      expect(await line.locator('.board-place .facing-non-drive').count()).toBe(1);
      await expect.poll(() => page.locator('.tray-count').innerText()).toBe('9 on the tray, 6 found');
    });
  });

  test('measured sizes go into the task as a model of its own', async () => {
    await using(DESK, async (page) => {
      const mount = partIn('shock-rocker', 'mount-left');
      const found_mm = Number((mount.length_mm! - 0.9).toFixed(2));
      await paste(
        page,
        `kind;outside mm;bore mm;length mm;alike\nspacer;${typed(mount.outside_mm!)};12,2;${typed(found_mm)};2\n`,
      );
      await expect
        .poll(() => board(page).innerText())
        .toContain(`length ${found_mm} mm instead of ${mount.length_mm!} mm`);
      await board(page).getByRole('button', { name: 'Check the fit with these sizes' }).click();
      await expect
        .poll(() => page.getByRole('region', { name: 'Side card' }).innerText())
        .toContain(`${skarn.name}, as measured`);
      expect(await page.getByRole('region', { name: 'Side card' }).innerText()).toContain(pivotOf('shock-rocker').name);
      expect(page.url()).toContain('file=skarn-140-measured');
    });
  });

  test('a browser that keeps nothing is told, and the tray works', async () => {
    const app = await openApp({ ...DESK, isOwn: true, path: '' });
    try {
      await app.page.addInitScript(() => {
        for (const name of ['localStorage', 'indexedDB'])
          Object.defineProperty(window, name, {
            get: () => {
              throw new DOMException('refused', 'SecurityError');
            },
          });
      });
      await app.page.goto(`${app.origin}${TRAY}`);
      await app.page.reload();
      await waitReady(app.page);
      const told = app.page.getByText('this browser keeps nothing');
      expect(await told.count()).toBe(0);
      await app.page.getByRole('button', { name: 'Add a loose part' }).click();
      await app.page.getByRole('button', { name: /^Bearing/ }).click();
      await app.page.getByLabel(/^Outside/).focus();
      await app.page.keyboard.type('24');
      await expect.poll(() => board(app.page).innerText()).toContain(skarn.parts['bearing-12-6']!.name);
      await told.waitFor();
      const [file] = await Promise.all([
        app.page.waitForEvent('download'),
        app.page.getByRole('button', { name: 'Save it as a file' }).click(),
      ]);
      const saved = await text(await file.createReadStream());
      expect(saved).toContain('"kind":"kept"');
      expect(saved).toContain('tray/skarn-140');
      expect(app.noise).toEqual([]);
    } finally {
      await app.close();
    }
  });

  test('the mat prints at 1:1: the bar is 100 mm, and nothing but the mat is on the paper', async () => {
    await using({ ...DESK, path: '#model=skarn-140&place=mat' }, async (page) => {
      await page.emulateMedia({ media: 'print' });
      const { bar, ring, isAlone } = await page.evaluate(() => {
        // 96 CSS px to the inch, by definition of the px.
        const mm = (px: number): number => (px * 25.4) / 96;
        const line = document.querySelector<SVGPathElement>('.mat-head path')!;
        const circle = document.querySelector<SVGCircleElement>('.mat-cell circle')!;
        const shown = [...document.querySelectorAll<HTMLElement>('header.head, .tray-head, .foot')].filter(
          (element) => element.offsetParent !== null,
        );
        return {
          bar: mm(line.getBBox().width * line.getScreenCTM()!.a),
          ring: mm(circle.getBoundingClientRect().width),
          isAlone: shown.length === 0,
        };
      });
      // The layout rounds to 1/64 px.
      expect(Math.abs(bar - 100)).toBeLessThan(0.02);
      // The first part of the first row that lies on its face, after its axle; its line adds 0.3 mm to the box.
      const { from, row } = stackOf('main');
      expect(from).toBe('non-drive');
      const outside_mm = skarn.parts[row.find(({ part }) => part !== undefined)!.part!]!.outside_mm!;
      expect(ring).toBeGreaterThan(outside_mm - 0.1);
      expect(ring).toBeLessThan(outside_mm + 0.4);
      expect(isAlone).toBe(true);
      const paper = await page.pdf({
        format: 'A4',
        margin: { top: '10mm', bottom: '10mm', left: '10mm', right: '10mm' },
      });
      expect(paper.length).toBeGreaterThan(10_000);
    });
  });
});

describe('no barrier that axe finds', () => {
  const sizes = [
    { width: 390, height: 844, theme: 'dark', touch: true },
    { width: 1024, height: 768, theme: 'light' },
    { width: 1920, height: 1080, theme: 'dark' },
    { width: 1920, height: 1080, theme: 'light' },
  ] as const;
  test.each(usually(sizes, 2))('$width × $height, $theme', async (size) => {
    await using({ ...size, stillness: true, webgl: false, path: TRAY }, async (page) => {
      expect(await axe(page), 'empty').toEqual([]);
      await page.getByRole('button', { name: 'Add a loose part' }).click();
      expect(await axe(page), 'kinds').toEqual([]);
      await page.getByRole('button', { name: /^Axle/ }).click();
      await page.getByRole('textbox', { name: 'Length' }).fill('5,5,5');
      expect(await axe(page), 'entry').toEqual([]);
      await page.getByRole('button', { name: 'Done' }).click();
      await paste(page);
      await board(page)
        .getByRole('button', { name: /^D, 2 alike/ })
        .click();
      expect(await axe(page), 'board').toEqual([]);
      await page.getByRole('button', { name: 'Calliper' }).click();
      expect(await axe(page), 'calliper').toEqual([]);
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Sorting mat' }).click();
      await page.getByRole('heading', { name: 'Sorting mat' }).waitFor();
      expect(await axe(page), 'mat').toEqual([]);
    });
  });
});
