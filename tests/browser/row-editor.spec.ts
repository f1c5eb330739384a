// The row is worked by keyboard, by mouse and by finger: turned, left out, swapped, moved, taken back, and each time the
// verdict stands beside it.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axe, waitReady, type Opening } from './harness.ts';
import { goTo } from './picture-view.ts';
import { pointOf } from './scene-ids.ts';
import { inThemes, using } from './using.ts';

interface ModelFile {
  pivots: { id: string; stacks: { id: string; row: { id: string; part?: string }[] }[] }[];
  parts: Record<string, { kind: string; name: string }>;
}
const rig = JSON.parse(
  readFileSync(fileURLToPath(new URL('../../models/class-rig.json', import.meta.url)), 'utf8'),
) as ModelFile;
const pivot = rig.pivots[0]!;
const stack = pivot.stacks[0]!;
const cones = stack.row.filter(({ part }) => part !== undefined && rig.parts[part]!.kind === 'tapered-spacer');
const [first, second] = cones.map(({ id }) => id) as [string, string];
const order = stack.row.map(({ id }) => id);

const atRig: Opening = {
  width: 1024,
  height: 768,
  stillness: true,
  webgl: false,
  path: `#model=class-rig&pivot=${pivot.id}&apart=0`,
};
const onPhone: Opening = { ...atRig, width: 390, height: 844, touch: true };

const chip = (page: Page, id: string) => page.locator(`.chip[data-part="${id}"]`);
const verdict = (page: Page) => page.locator('.work-row-verdict');
const edit = (page: Page, name: string) => page.locator('.edits').getByRole('button', { name, exact: true });
const inRow = (page: Page) =>
  page
    .locator('.chips')
    .evaluate((line) => [...line.querySelectorAll<HTMLElement>('.chip')].map(({ dataset }) => dataset.part!));
const inner = async (page: Page) => (await inRow(page)).filter((id) => order.includes(id));
const facing = (page: Page, id: string) => chip(page, id).locator('.glyph').getAttribute('class');
const openRow = async (page: Page): Promise<void> => {
  await page.getByRole('tab', { name: 'The row' }).click();
  await chip(page, first).waitFor();
};

describe('by keyboard', () => {
  test('arrows pick in one tab stop; R, Delete, Shift and an arrow, S, Z work the part', async () => {
    await using(atRig, async (_, page) => {
      await openRow(page);
      expect(await verdict(page).innerText()).toContain('Fits');
      expect(await page.locator('.chips [tabindex="0"]').count()).toBe(1);
      await page.locator('.chips [tabindex="0"]').focus();
      for (let step = 0; step < order.length + 2; step += 1) {
        if ((await chip(page, first).getAttribute('aria-pressed')) === 'true') break;
        await page.keyboard.press('ArrowDown');
      }
      expect(await chip(page, first).getAttribute('aria-pressed')).toBe('true');
      expect(await page.locator('.chips [tabindex="0"]').count()).toBe(1);
      const before = await facing(page, first);

      await page.keyboard.press('r');
      await expect.poll(() => facing(page, first)).not.toBe(before);
      await expect.poll(() => verdict(page).innerText()).toContain('Does not fit');
      expect(await page.locator('.what-if').innerText()).toContain('turned round');
      await page.keyboard.press('z');
      await expect.poll(() => verdict(page).innerText()).toContain('Fits');
      expect(await facing(page, first)).toBe(before);
      await page.keyboard.press('Shift+Z');
      await expect.poll(() => verdict(page).innerText()).toContain('Does not fit');
      await page.keyboard.press('Control+z');
      await expect.poll(() => page.locator('.what-if').count()).toBe(0);

      await page.keyboard.press('Delete');
      await expect.poll(() => page.locator('.chips-out').count()).toBe(1);
      expect((await inner(page)).at(-1)).toBe(first);
      await page.keyboard.press('Delete');
      await expect.poll(() => inner(page)).toEqual(order);
      await expect.poll(() => page.locator('.what-if').count()).toBe(0);

      const at = order.indexOf(first);
      await page.keyboard.press('Shift+ArrowDown');
      await expect.poll(() => inner(page).then((ids) => ids.indexOf(first))).toBe(at + 1);
      expect(await chip(page, first).getAttribute('aria-pressed')).toBe('true');
      await page.keyboard.press('Shift+ArrowUp');
      await expect.poll(() => inner(page)).toEqual(order);

      await page.keyboard.press('s');
      await expect.poll(() => page.locator('.edits-name').innerText()).toContain('Swap it with');
      await page.keyboard.press('Escape');
      expect(await page.locator('.edits-name').innerText()).not.toContain('Swap it with');
      // The arrows did not step the build.
      expect(page.url()).not.toContain('step=');
    });
  });

  test('an edited row has an address, and its undo is one edit each', async () => {
    const path = `${atRig.path}&edit=turn:${stack.id}/${first},out:${stack.id}/${second}`;
    await using({ ...atRig, isFresh: true, path }, async (_, page) => {
      await openRow(page);
      expect((await inner(page)).at(-1)).toBe(second);
      await edit(page, 'Undo').click();
      await expect.poll(() => page.url()).toContain('mistake=turned');
      await edit(page, 'Undo').click();
      await expect.poll(() => page.locator('.what-if').count()).toBe(0);
      expect(await edit(page, 'Undo').getAttribute('aria-disabled')).toBe('true');
      await edit(page, 'Redo').click();
      await expect.poll(() => page.locator('.what-if').innerText()).toContain('turned round');
      await page.getByRole('button', { name: 'Put it right' }).click();
      await expect.poll(() => verdict(page).innerText()).toContain('Fits');
    });
  });
});

describe('by mouse', () => {
  test('a double tap turns a part, in the line and in the section; a drag moves or swaps it, and is one edit', async () => {
    await using(atRig, async (_, page) => {
      await openRow(page);
      const before = await facing(page, first);
      await page.mouse.dblclick(...(await pointOn(page, `${stack.id}/${first}`)));
      await expect.poll(() => facing(page, first)).not.toBe(before);
      await chip(page, first).dblclick();
      await expect.poll(() => facing(page, first)).toBe(before);
      await expect.poll(() => page.locator('.what-if').count()).toBe(0);

      const drag = async (from: string, to: string, share: number): Promise<void> => {
        const [a, b] = [(await chip(page, from).boundingBox())!, (await chip(page, to).boundingBox())!];
        await page.mouse.move(a.x + 70, a.y + a.height / 2);
        await page.mouse.down();
        await page.mouse.move(a.x + 70, a.y + a.height / 2 + 12);
        await page.mouse.move(b.x + 70, b.y + b.height * share);
        await page.mouse.up();
      };
      await page.locator('.row-panel').evaluate((panel) => panel.scrollTo(0, 0));
      const next = order[order.indexOf(first) + 1]!;
      await drag(first, next, 0.95);
      await expect.poll(() => inner(page).then((ids) => ids.indexOf(first))).toBe(order.indexOf(first) + 1);
      await edit(page, 'Undo').click();
      await expect.poll(() => inner(page)).toEqual(order);
      await expect.poll(() => page.locator('.what-if').count()).toBe(0);
    });
  });
});

test('a double tap on the part itself, in the picture, turns it round, by mouse and by finger', async () => {
  await using({ ...atRig, webgl: true, keepsScene: true, touch: true, path: '#model=class-rig' }, async (_, page) => {
    for (const [width, height] of [
      [1024, 768],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height });
      await goTo(page, `#model=class-rig&pivot=${pivot.id}&apart=1`);
      const [x, y] = await pointOf(page, `${stack.id}/${first}`);
      if (width > height) await page.mouse.dblclick(x, y);
      else {
        await page.touchscreen.tap(x, y);
        await page.touchscreen.tap(x, y);
      }
      await expect
        .poll(() => decodeURIComponent(page.url()), { message: `${width} px` })
        .toContain(`mistake=turned:${stack.id}/${first}`);
    }
  });
});

test('a part goes over to the other axle of its pivot, by key, by tap and by drag, and comes back by undo', async () => {
  const path = '#model=skarn-140&pivot=rear&stack=rear-left';
  await using({ ...atRig, path }, async (app, page) => {
    await page.getByRole('tab', { name: 'The row' }).click();
    await chip(page, 'washer').waitFor();
    const [left, right] = [await inRow(page), 'rear-right'];
    await chip(page, 'washer').click();
    await page.keyboard.press('o');
    await expect.poll(() => page.url()).toContain(`stack=${right}`);
    // It lies beside the row, picked and under the keyboard.
    const taken = chip(page, 'rear-left/washer');
    await expect.poll(() => taken.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('Escape');
    await expect.poll(() => inRow(page)).toEqual(left);
    await chip(page, 'washer').click();
    await page
      .locator('.edits')
      .getByRole('button', { name: /^To the other axle/ })
      .click();
    await page.locator('.chip-place').first().click();
    await expect.poll(() => page.url()).toContain('washer-2');
    expect(await page.locator('.what-if').innerText()).toContain('moved to');
    expect(await page.locator('.what-if').innerText()).not.toContain('washer-2');
    await edit(page, 'Undo').click();
    await expect.poll(() => page.locator('.what-if').count()).toBe(0);
    // From beside the row it is dragged in, too.
    await page.keyboard.press('Escape');
    await page.goto(`${app.origin}${path}`);
    await waitReady(page);
    await page.getByRole('tab', { name: 'The row' }).click();
    await chip(page, 'washer').click();
    await page.keyboard.press('o');
    await taken.waitFor();
    const from = (await taken.boundingBox())!;
    const to = (await chip(page, 'seatstay').boundingBox())!;
    await page.mouse.move(from.x + 70, from.y + from.height / 2);
    await page.mouse.down();
    await page.mouse.move(from.x + 70, from.y + from.height / 2 - 12);
    await page.mouse.move(to.x + 70, to.y + to.height * 0.9);
    await page.mouse.up();
    await expect.poll(() => decodeURIComponent(page.url())).toContain('edit=move:rear-left/washer/rear-right/');
  });
});

describe('by finger', () => {
  test('a tap picks, the buttons work the part, and the picked one follows the finger', async () => {
    await using(onPhone, async ({ context }, page) => {
      await openRow(page);
      await chip(page, first).tap();
      await edit(page, 'Leave out').tap();
      await expect.poll(() => verdict(page).innerText()).toContain('Does not fit');
      await edit(page, 'Put it back').tap();
      await expect.poll(() => inner(page)).toEqual(order);
      await edit(page, 'Swap…').tap();
      await chip(page, second).tap();
      await expect.poll(() => page.locator('.edits-name').innerText()).not.toContain('Swap it with');

      const finger = await context.newCDPSession(page);
      await chip(page, first).scrollIntoViewIfNeeded();
      if ((await chip(page, first).getAttribute('aria-pressed')) !== 'true') await chip(page, first).tap();
      const next = order[order.indexOf(first) + 1]!;
      const [a, b] = [(await chip(page, first).boundingBox())!, (await chip(page, next).boundingBox())!];
      const from = [a.x + a.width / 2, a.y + a.height / 2] as const;
      await touch(finger, 'touchStart', ...from);
      await touch(finger, 'touchMove', from[0] + 12, from[1]);
      await touch(finger, 'touchMove', b.x + b.width * 0.95, from[1]);
      await touch(finger, 'touchEnd');
      await expect.poll(() => inner(page).then((ids) => ids.indexOf(first))).toBe(order.indexOf(first) + 1);
      await finger.detach();
    });
  });
});

describe('room and access', () => {
  test('every button takes a thumb and nothing is cut off at any size of window', async () => {
    await using({ ...atRig, path: `${atRig.path}&mistake=turned:${stack.id}/${first}` }, async (_, page) => {
      for (const [width, height] of [
        [390, 844],
        [844, 390],
        [1024, 768],
        [1920, 1080],
      ] as const) {
        await page.setViewportSize({ width, height });
        const at = `${width} by ${height}`;
        await openRow(page);
        if ((await page.locator('.edit').count()) === 0) await chip(page, first).click();
        await expect.poll(() => page.locator('.edit').count(), { message: at }).toBeGreaterThan(0);
        for (const button of await page.locator('.chip, .edit, .what-if button').all()) {
          const box = (await button.boundingBox())!;
          expect(Math.min(box.width, box.height), at).toBeGreaterThanOrEqual(44);
        }
        expect(await page.evaluate(() => document.documentElement.scrollWidth), at).toBeLessThanOrEqual(width);
        for (const button of await page.locator('.edit').all()) {
          const box = (await button.boundingBox())!;
          expect(box.x, at).toBeGreaterThanOrEqual(0);
          expect(box.x + box.width, at).toBeLessThanOrEqual(width);
        }
      }
    });
  });

  test('nothing stands in a reader’s way in either theme', async () => {
    await using({ ...atRig, path: `${atRig.path}&edit=out:${stack.id}/${first}` }, async (_, page) => {
      await openRow(page);
      await inThemes(page, async (theme) => expect(await axe(page), theme).toEqual([]));
    });
  });
});

/** A point of the section where a hand meets the item, px. */
function pointOn(page: Page, item: string): Promise<[number, number]> {
  return page.evaluate((id): [number, number] => {
    for (const drawing of document.querySelectorAll('.drawing')) {
      const { left, top, right, bottom } = drawing.getBoundingClientRect();
      for (let y = top; y < bottom; y += 3) {
        for (let x = left; x < right; x += 3) {
          const met = document.elementFromPoint(x, y)?.closest<SVGElement>('.drawing .aws-parts [data-item]');
          if (met?.dataset.item === id) return [x, y];
        }
      }
    }
    throw new Error(`no point of the section belongs to ${id}`);
  }, item);
}

async function touch(session: CDPSession, type: 'touchStart' | 'touchMove' | 'touchEnd', x = 0, y = 0): Promise<void> {
  await session.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
}
