// The mistakes as a person meets them: the table on the side card, a mistake looked at before and after in one picture,
// and the way back.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axe, waitReady, type Opening } from './harness.ts';
import { usually } from '../setup/series.ts';
import { inThemes, outOfReach, using } from './using.ts';

interface ModelFile {
  pivots: {
    id: string;
    name: string;
    stacks: { id: string; from: string; row: { id: string; part?: string }[] }[];
  }[];
  parts: Record<string, { kind: string; name: string }>;
}
const load = (id: string): ModelFile =>
  JSON.parse(readFileSync(fileURLToPath(new URL(`../../models/${id}.json`, import.meta.url)), 'utf8')) as ModelFile;
const rig = load('class-rig');
const rigPivot = rig.pivots[0]!;
const ofKinds = (...kinds: string[]) =>
  rigPivot.stacks[0]!.row.filter(({ part }) => part !== undefined && kinds.includes(rig.parts[part]!.kind));
/** What can be turned round, and what can be left out. */
const rings = ofKinds('tapered-spacer');
const loose = ofKinds('tapered-spacer', 'spacer');
const ring = `${rigPivot.stacks[0]!.id}/${rings[0]!.id}`;

const desk: Opening = { width: 1024, height: 768, stillness: true, webgl: false };
const atRig: Opening = { ...desk, path: `#model=class-rig&pivot=${rigPivot.id}` };
const inWhatIf = (kind: string): string =>
  `#model=class-rig&pivot=${rigPivot.id}&apart=0&mistake=${encodeURIComponent(`${kind}:${ring}`)}`;

const card = (page: Page) => page.getByRole('region', { name: 'Side card' });
const mistakeRow = (page: Page, name: RegExp) => card(page).getByRole('button', { name });
const banner = (page: Page) => page.locator('.what-if');

describe('the mistake table', () => {
  test('says whether the build as written is the only way, names the silent ones first, and sifts by kind', async () => {
    await using(atRig, async (_, page) => {
      await expect.poll(() => card(page).innerText()).toContain('It is the only way');
      const text = await card(page).innerText();
      expect(text.indexOf('Silent')).toBeGreaterThan(0);
      expect(text.indexOf('Silent')).toBeLessThan(text.indexOf('Felt at the bench'));
      const kind = page.getByRole('combobox', { name: 'Kind of mistake' });
      await kind.selectOption('left-out');
      await expect.poll(() => mistakeRow(page, /left out/).count()).toBe(loose.length);
      expect(await mistakeRow(page, /turned round/).count()).toBe(0);
      await kind.selectOption('');
      await expect.poll(() => mistakeRow(page, /turned round/).count()).toBe(rings.length);
    });
  });

  test('adds every two at once when asked', async () => {
    await using(atRig, async (_, page) => {
      const two = page.getByRole('button', { name: 'Two at once' });
      await two.click();
      await expect
        .poll(() => page.getByRole('combobox', { name: 'Kind of mistake' }).innerText())
        .toContain('Two at once (');
      expect(await two.getAttribute('aria-pressed')).toBe('true');
    });
  });

  test('of the whole bike shows how far it is, can be stopped, and goes on when asked', async () => {
    await using({ ...desk, path: '#model=skarn-140' }, async (_, page) => {
      // Both presses in one turn of the page: the worker has not come to its end by then.
      await page.evaluate(async () => {
        const press = (word: string): boolean => {
          const button = [...document.querySelectorAll<HTMLElement>('.mistakes button')].find(
            (each) => each.textContent === word,
          );
          button?.click();
          return button !== undefined;
        };
        press('Work out all mistakes');
        for (let frame = 0; frame < 20 && !press('Stop'); frame++)
          await new Promise((next) => requestAnimationFrame(next));
      });
      await expect.poll(() => card(page).innerText()).toContain('Stopped.');
      await page.getByRole('button', { name: 'Work it out' }).click();
      await expect.poll(() => card(page).innerText(), { timeout: 60_000 }).toContain('Silent');
      // A row of another pivot takes there.
      const row = card(page).locator('button.mistake-row').first();
      const pivot = await row.locator('.mistake-pivot').innerText();
      await row.click();
      await expect.poll(() => page.title()).toContain(pivot);
      expect(await banner(page).isVisible()).toBe(true);
    });
  });
});

describe('a mistake looked at', () => {
  test('shows the mistaken build with its broken or bent column, the right one in the same picture, and goes back in one tap', async () => {
    await using({ ...atRig, webgl: true }, async (_, page) => {
      await mistakeRow(page, /left out/)
        .first()
        .click();
      await expect.poll(() => banner(page).innerText()).toContain(`What if: ${rig.parts[rings[0]!.part!]!.name}`);
      expect(page.url()).toContain('mistake=left-out');
      // One part fewer than the build as written, which is shown in the same place.
      const items = () => page.locator('.drawing .aws-parts [data-item]').count();
      const wrong = await items();
      expect(await page.locator('.drawing .is-troubled').count()).toBeGreaterThan(0);
      await banner(page).getByRole('button', { name: 'As written' }).click();
      await expect.poll(items).toBe(wrong + 1);
      expect(await page.locator('.drawing .is-troubled').count()).toBe(0);
      expect(await page.locator('.drawing svg').count()).toBe(1);
      expect(page.url()).toContain('mistake=left-out');
      await banner(page).getByRole('button', { name: 'As you have it' }).click();
      await expect.poll(items).toBe(wrong);
      const words = await card(page).innerText();
      for (const heading of ['What gives it away', 'At the bench', 'On the trail', 'In numbers'])
        expect(words).toContain(heading);
      expect(words).toContain('Count the tray');
      await banner(page).getByRole('button', { name: 'Put it right' }).click();
      await expect.poll(() => banner(page).count()).toBe(0);
      await expect.poll(() => page.url()).not.toContain('mistake=');
      expect(await card(page).innerText()).toContain('Fits');
    });
  });

  test('opens from its address; the browser’s back button and Escape leave it', async () => {
    await using({ ...desk, path: inWhatIf('turned') }, async (_, page) => {
      expect(await banner(page).innerText()).toContain('turned round');
      await page.keyboard.press('Escape');
      await expect.poll(() => banner(page).count()).toBe(0);
      await mistakeRow(page, /turned round/)
        .first()
        .click();
      await expect.poll(() => banner(page).count()).toBe(1);
      await page.goBack();
      await expect.poll(() => banner(page).count()).toBe(0);
      await page.goForward();
      await expect.poll(() => banner(page).innerText()).toContain('turned round');
    });
  });

  test('by keyboard: Enter on a row goes there and leaves the focus in the card', async () => {
    await using(atRig, async (_, page) => {
      const row = mistakeRow(page, /turned round/).first();
      await row.waitFor();
      await row.focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => banner(page).count()).toBe(1);
      expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Side card');
      await page.keyboard.press('Tab');
      expect(await page.evaluate(() => document.activeElement?.textContent)).toContain('Work the row');
      await banner(page).getByRole('button', { name: 'Put it right' }).focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => banner(page).count()).toBe(0);
    });
  });

  test('leaves the steps to the right build', async () => {
    // The panel of a step stays in front.
    await using({ ...desk, isFresh: true, path: inWhatIf('left-out') }, async (_, page) => {
      await page.keyboard.press('PageDown');
      await expect.poll(() => banner(page).count()).toBe(0);
      await expect.poll(() => page.url()).toContain('step=1');
    });
  });

  test('what cannot be put together is told and not shown', async () => {
    // Its thread is in the frame, on the side away from the axle's own.
    const pivot = load('holt-120').pivots.find(({ id }) => id === 'main')!;
    const wrong = pivot.stacks[0]!.from === 'drive' ? 'non-drive' : 'drive';
    await using({ ...desk, path: `#model=holt-120&pivot=${pivot.id}` }, async (_, page) => {
      await page.getByRole('combobox', { name: 'Kind of mistake' }).selectOption('wrong-side');
      await card(page).getByRole('button', { name: 'Show them' }).click();
      await expect.poll(() => card(page).innerText()).toContain(`put in from the ${wrong} side`);
      expect(await mistakeRow(page, new RegExp(`put in from the ${wrong} side`)).count()).toBe(0);
    });
  });

  test('a press that is held shows the build as written until it is let go', async () => {
    await using({ ...desk, path: inWhatIf('left-out') }, async (_, page) => {
      const troubled = () => page.locator('.drawing .is-troubled').count();
      await expect.poll(troubled).toBeGreaterThan(0);
      const button = (await banner(page).getByRole('button', { name: 'As written' }).boundingBox())!;
      await page.mouse.move(button.x + 10, button.y + 10);
      await page.mouse.down();
      await expect.poll(troubled).toBe(0);
      // Longer than a tap, by the browser's own time of the two events.
      await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 500)));
      await page.mouse.up();
      await expect.poll(troubled).toBeGreaterThan(0);
      await page.keyboard.press('w');
      await expect.poll(troubled).toBe(0);
    });
  });
});

describe('room and access', () => {
  const sizes = [
    [390, 844],
    [844, 390],
    [1024, 768],
    [1920, 1080],
  ] as const;
  test.each(usually(sizes, 0, 1))(
    'nothing of it is cut off at %d by %d, and every button takes a thumb',
    async (width, height) => {
      await using({ ...desk, width, height, touch: width < 1100, path: inWhatIf('left-out') }, async (_, page) => {
        const strip = (await banner(page).boundingBox())!;
        expect(strip.x).toBeGreaterThanOrEqual(0);
        expect(strip.x + strip.width).toBeLessThanOrEqual(width);
        for (const button of await page.locator('.what-if button, .card button').all()) {
          if (!(await button.isVisible())) continue;
          const box = (await button.boundingBox())!;
          expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(44);
        }
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        await page.keyboard.press('Escape');
        const table = page.locator('.mistakes button, .mistakes select');
        await page.locator('.mistake-row').first().waitFor({ state: 'attached' });
        for (const control of await table.all())
          expect((await control.boundingBox())!.height).toBeGreaterThanOrEqual(44);
      });
    },
  );

  test('nothing stands in a reader’s way in either theme', async () => {
    await using(atRig, async (_, page) => {
      await page.locator('.mistake-row').first().waitFor();
      await inThemes(page, async (theme) => expect(await axe(page), theme).toEqual([]));
      await mistakeRow(page, /left out/)
        .first()
        .click();
      await expect.poll(() => banner(page).count()).toBe(1);
      await inThemes(page, async (theme) => expect(await axe(page), `what if, ${theme}`).toEqual([]));
    });
  });
});

test('what is felt leads to the mistake: by touch, by keys, to its picture and back to the question', async () => {
  await using({ ...atRig, touch: true }, async (_, page) => {
    await page.getByRole('button', { name: 'What is wrong with it?' }).tap();
    await page.getByRole('button', { name: 'Turns tight' }).tap();
    await page.getByRole('region', { name: 'You say' }).getByRole('button', { name: 'Yes' }).tap();
    const next = page.getByRole('region', { name: 'Check next' });
    const ends = page.getByRole('status').locator('h3');
    const said = page.getByRole('list', { name: 'What you said' }).getByRole('button');
    await next.waitFor();
    const spacer = 'apered spacer, 5 mm (non-drive)';
    // Each check by keys, as the hand at the rig would find it; the focus stands before the answers each time.
    for (let checks = 1; (await next.count()) > 0; checks++) {
      expect(checks).toBeLessThan(25);
      const asked = await next.getByRole('heading').innerText();
      // What was seen once is asked once more.
      const isSo = ['Does it rub on the non-drive side?', `Does t${spacer} lie the wrong way round?`].some(
        (one) => asked.replace(/^Once more: d/, 'D') === one,
      );
      await page.keyboard.press('Tab');
      if (!isSo) await page.keyboard.press('Tab');
      await page.keyboard.press('Enter');
      await expect.poll(() => said.count()).toBe(checks + 1);
    }
    expect(await ends.innerText()).toBe(`T${spacer} turned round`);

    await page.getByRole('button', { name: 'Picture before and after' }).first().tap();
    await expect.poll(() => banner(page).innerText()).toContain('turned round');
    expect(page.url()).toContain(encodeURIComponent(`turned:${ring}`));
    await page.goBack();
    await expect.poll(() => ends.innerText()).toBe(`T${spacer} turned round`);

    await page.locator('summary', { hasText: 'How likely each is' }).tap();
    await page.getByRole('textbox', { name: 'Turned round' }).fill('0.001');
    await expect.poll(() => ends.innerText()).not.toBe(`T${spacer} turned round`);
    await page.getByRole('button', { name: 'As written: Turned round' }).tap();
    await expect.poll(() => ends.innerText()).toBe(`T${spacer} turned round`);

    for (const [width, height] of [
      [1920, 1080],
      [1024, 768],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      expect(await outOfReach(page)).toEqual([]);
    }
    await inThemes(page, async () => expect(await axe(page)).toEqual([]));

    // What was answered is on the disk, and two taps at once are two answers.
    const before = await said.count();
    await page.reload();
    await waitReady(page);
    await expect.poll(() => ends.innerText()).toBe(`T${spacer} turned round`);
    expect(await said.count()).toBe(before);
    await said.evaluateAll((all) => all.slice(-2).forEach((one) => (one as HTMLElement).click()));
    await expect.poll(() => said.count()).toBe(before - 2);
    await page.getByRole('button', { name: 'Start again' }).tap();
    await expect.poll(() => said.count()).toBe(0);
  });
});
