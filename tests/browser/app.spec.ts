// The built page as a person meets it: models, pivots, steps, files, addresses, no WebGL, and what stands in a reader's
// way.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { analyse, planOf, readData, stripOf } from '../../shared/index.ts';
import { turnedAt } from '../../src/build/orderRun.ts';
import { LONG, usually } from '../setup/series.ts';
import { axe, waitReady, type Opening } from './harness.ts';
import { inThemes, using } from './using.ts';

interface ModelFile {
  id: string;
  name: string;
  parts: Record<string, { kind: string; name: string }>;
  pivots: {
    id: string;
    name: string;
    stacks: { id: string; torque_Nm: number; row: { id: string; part?: string }[] }[];
  }[];
}

const folder = fileURLToPath(new URL('../../models/', import.meta.url));
const models = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .map((name) => JSON.parse(readFileSync(folder + name, 'utf8')) as ModelFile);
const first = models.find((model) => model.id === 'skarn-140') ?? models[0]!;
/** The plan of the first model, and a pivot's steps of it, building and taking apart. */
const plan = (() => {
  const reading = readData(first);
  if (!reading.ok) throw new Error(`app: ${first.id}: met a model with problems, allowed: one without`);
  return planOf(analyse(reading.model));
})();
const stepsAt = (pivotId: string) => ({
  build: plan.steps.filter((step) => step.pivotId === pivotId),
  strip: stripOf(plan).steps.filter(({ step }) => step.pivotId === pivotId),
});
const rig = models.find((model) => model.id === 'class-rig') ?? models[0]!;

/**
 * With a picture, and without one where the picture is not what is looked at: a software renderer costs most of a test.
 */
const desk: Opening = { width: 960, height: 540, stillness: true };
const plain: Opening = { width: 1024, height: 768, stillness: true, webgl: false };

const pivotButton = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Pivots' }).getByRole('button', { name });

/** A file held over the page and let go, as a hand does it. */
async function dropFile(page: Page, name: string, text: string): Promise<void> {
  const transfer = await page.evaluateHandle(
    ([fileName, content]) => {
      const data = new DataTransfer();
      data.items.add(new File([content!], fileName!, { type: 'application/json' }));
      return data;
    },
    [name, text],
  );
  await page.dispatchEvent('body', 'dragenter', { dataTransfer: transfer });
  await expect.poll(() => page.getByText('Let go to open the model file').isVisible()).toBe(true);
  await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}

describe.each(usually(models, 0, 1).map((model) => [model.id, model] as const))('%s', (id, model) => {
  test('opens from its address, and every pivot can be picked by its name', async () => {
    await using({ ...plain, path: `#model=${id}` }, async (_, page) => {
      expect(await page.title()).toContain(model.name);
      for (const pivot of model.pivots) {
        await pivotButton(page, pivot.name).click();
        await expect.poll(() => page.title()).toContain(pivot.name);
        expect(await page.getByRole('heading', { level: 2, name: pivot.name, exact: true }).isVisible()).toBe(true);
        const torque = await page.getByRole('region', { name: 'Side card' }).innerText();
        for (const stack of pivot.stacks) expect(torque).toContain(`${stack.torque_Nm} N·m`);
        expect(await page.locator('.drawing svg [data-item]').count()).toBeGreaterThan(pivot.stacks[0]!.row.length);
      }
    });
  });
});

describe('the page', () => {
  test('changes models in place', async () => {
    await using(desk, async (_, page) => {
      for (const model of usually(models, 0)) {
        await page.getByRole('combobox', { name: 'Model' }).selectOption(model.id);
        await waitReady(page);
        await expect.poll(() => page.title()).toContain(model.name);
        expect(page.url()).toContain(`model=${model.id}`);
      }
    });
  });

  test('always says where one stands, and which view is which', async () => {
    await using(desk, async (_, page) => {
      const views = page.getByRole('group', { name: 'Look from' });
      await views.getByRole('button', { name: 'Non-drive side' }).click();
      await expect.poll(() => page.getByText('You are standing on the non-drive side').isVisible()).toBe(true);
      await views.getByRole('button', { name: 'Drive side', exact: true }).click();
      await expect.poll(() => page.getByText('You are standing on the drive side').isVisible()).toBe(true);
    });
  });

  test('nothing lies over that line at any size', async () => {
    await using(
      { ...desk, path: `#model=${first.id}&pivot=${first.pivots[0]!.id}&view=non-drive` },
      async (_, page) => {
        const sizes = [
          [390, 844],
          [844, 390],
          [1024, 768],
          [1440, 900],
          [1920, 1080],
        ] as const;
        for (const [width, height] of usually(sizes, 0, 2, 4)) {
          await page.setViewportSize({ width, height });
          const line = (await page.getByText('You are standing on the non-drive side').boundingBox())!;
          const views = (await page.getByRole('group', { name: 'Look from' }).boundingBox())!;
          const isApart =
            line.x + line.width <= views.x || line.y + line.height <= views.y || views.y + views.height <= line.y;
          expect(isApart, JSON.stringify({ width, height, line, views })).toBe(true);
          expect(line.x + line.width).toBeLessThanOrEqual(width);
        }
      },
    );
  });

  test('slides a pivot apart and together and says so in the address', async () => {
    const pivot = first.pivots[0]!;
    await using(plain, async (_, page) => {
      await pivotButton(page, pivot.name).click();
      const slider = page.getByRole('slider', { name: 'Apart' });
      expect(await slider.inputValue()).toBe('1');
      await slider.fill('0.4');
      await expect.poll(() => page.url()).toContain('apart=0.4');
      await slider.press('Home');
      expect(await slider.getAttribute('aria-valuetext')).toBe('tight');
    });
  });

  test('steps by remote, arrows, buttons and slider; strip-down walks back', async () => {
    const pivot = first.pivots[0]!;
    await using(plain, async (_, page) => {
      const words = page.getByRole('region', { name: 'Step' });
      await pivotButton(page, pivot.name).click();
      await page.keyboard.press('PageDown');
      await expect.poll(() => words.innerText()).toMatch(/Step 1 of \d+/);
      const total = Number(/Step 1 of (\d+)/.exec(await words.innerText())![1]);
      // In the strip of pivots arrows go along it.
      await page.getByRole('button', { name: 'Next', exact: true }).press('ArrowRight');
      await expect.poll(() => words.innerText()).toContain(`Step 2 of ${total}`);
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => words.innerText()).toContain(`Step 3 of ${total}`);
      const third = await words.getByRole('heading').innerText();
      await page.getByRole('button', { name: 'Back', exact: true }).click();
      await page.keyboard.press('PageUp');
      await expect.poll(() => words.innerText()).toContain(`Step 1 of ${total}`);
      await page.keyboard.press('End');
      await expect.poll(() => words.innerText()).toContain(`Step ${total} of ${total}`);
      expect(await page.getByRole('button', { name: 'Next', exact: true }).getAttribute('aria-disabled')).toBe('true');
      await page.getByRole('slider', { name: 'Step' }).fill('3');
      await expect.poll(() => words.getByRole('heading').innerText()).toBe(third);
      await page.getByRole('button', { name: 'Strip down' }).click();
      // Three of the build steps stand; as many are undone as leave them so.
      const { build, strip } = stepsAt(pivot.id);
      expect(build).toHaveLength(total);
      const undone = turnedAt(build, strip, 3, 'strip');
      await expect.poll(() => words.innerText()).toContain(`Step ${undone} of ${strip.length}`);
      await page.keyboard.press('Escape');
      await expect.poll(() => page.url()).not.toContain('step=');
    });
  });

  test('leads through the whole bike in the order of its plan, from the frame in the stand to hand-over', async () => {
    await using(plain, async (_, page) => {
      const words = page.getByRole('region', { name: 'Step' });
      const total = plan.steps.length;
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => words.innerText()).toContain(`Step 1 of ${total}`);
      await page.keyboard.press('End');
      await expect.poll(() => words.innerText()).toContain(`Step ${total} of ${total}`);
      for (const pivot of first.pivots) {
        const at = plan.steps.findIndex(({ pivotId }) => pivotId === pivot.id) + 1;
        await page.getByRole('slider', { name: 'Step' }).fill(String(at));
        await expect.poll(() => words.innerText()).toContain(`Step ${at} of ${total}, ${pivot.name}`);
      }
    });
  });

  test('links row and card: a part tapped in the drawing is told of, by keyboard too', async () => {
    const pivot = first.pivots[0]!;
    await using(plain, async (_, page) => {
      await pivotButton(page, pivot.name).click();
      const card = page.getByRole('region', { name: 'Side card' });
      const ring = pivot.stacks[0]!.row.find((entry) => entry.part !== undefined)!;
      const name = first.parts[ring.part!]!.name;
      await page.locator(`.picture .drawing .aws-name[data-item="${pivot.stacks[0]!.id}/${ring.id}"]`).click();
      await expect.poll(() => card.getByRole('heading', { level: 2 }).innerText()).toContain(name);
      expect(await card.innerText()).toContain('What it bears on');
      await page.keyboard.press('Escape');
      await expect.poll(() => card.getByRole('heading', { level: 2 }).innerText()).toBe(pivot.name);
      await page.getByRole('tab', { name: 'The row' }).click();
      const parts = page.getByRole('toolbar');
      await parts.getByRole('button').first().focus();
      await page.keyboard.press('ArrowRight');
      const second = await parts.getByRole('button').nth(1).innerText();
      await page.getByRole('tab', { name: 'Findings' }).click();
      await expect.poll(() => card.getByRole('heading', { level: 2 }).innerText()).toBe(second);
    });
  });
});

describe('addresses', () => {
  const pivot = first.pivots.at(-1)!;
  const address = `#model=${first.id}&pivot=${pivot.id}&apart=0.35&step=2&do=strip&view=non-drive&cut=yes`;

  test('bring back model, pivot, step, view and cut', async () => {
    await using({ ...desk, path: address }, async (_, page) => {
      expect(await page.title()).toContain(pivot.name);
      expect(await page.getByRole('region', { name: 'Step' }).innerText()).toContain('Step 2 of');
      expect(await page.getByRole('button', { name: 'Strip down' }).getAttribute('aria-pressed')).toBe('true');
      expect(await page.getByRole('button', { name: 'Cut open' }).getAttribute('aria-pressed')).toBe('true');
      expect(await page.getByText('You are standing on the non-drive side').isVisible()).toBe(true);
      await page.getByRole('button', { name: 'Leave the steps' }).click();
      expect(await page.getByRole('slider', { name: 'Apart' }).inputValue()).toBe('0.35');
    });
  });

  test('go back and forward between pivots, not between steps', async () => {
    const [a, b] = first.pivots;
    await using({ ...plain, path: `#model=${first.id}` }, async (_, page) => {
      await pivotButton(page, a!.name).click();
      await page.keyboard.press('PageDown');
      await page.keyboard.press('PageDown');
      await expect.poll(() => page.url()).toContain('step=2');
      await pivotButton(page, b!.name).click();
      await expect.poll(() => page.title()).toContain(b!.name);
      await page.goBack();
      await expect.poll(() => page.title()).toContain(a!.name);
      expect(await page.getByRole('region', { name: 'Step' }).innerText()).toContain('Step 2 of');
      await page.goForward();
      await expect.poll(() => page.title()).toContain(b!.name);
      await page.goBack();
      await page.goBack();
      await expect.poll(() => page.title()).toBe(`${first.name} · Axlewright`);
    });
  });

  test('that name nothing we have open what we have and say so', async () => {
    await using({ ...plain, path: '#model=no-such-bike&pivot=main' }, async (_, page) => {
      expect(await page.getByRole('dialog').innerText()).toContain('no-such-bike');
      expect(await page.title()).toContain(first.name);
    });
  });
});

describe('files of one’s own', () => {
  test('a faulty assembly opens and shows its findings, and a reload keeps it', async () => {
    const faulty = structuredClone(rig);
    faulty.id = 'rig-with-a-mistake';
    faulty.name = 'Rig with a mistake';
    const stack = faulty.pivots[0]!.stacks[0]!;
    const lost = stack.row.findIndex(
      (entry) => entry.part !== undefined && faulty.parts[entry.part]!.kind.includes('spacer'),
    );
    expect(lost).toBeGreaterThanOrEqual(0);
    stack.row.splice(lost, 1);
    await using(plain, async (_, page) => {
      await dropFile(page, 'mistake.json', JSON.stringify(faulty));
      await expect.poll(() => page.title()).toContain('Rig with a mistake');
      await waitReady(page);
      await pivotButton(page, faulty.pivots[0]!.name).click();
      const card = page.getByRole('region', { name: 'Side card' });
      expect(await card.locator('.finding').count()).toBeGreaterThan(0);
      expect(await card.innerText()).toContain('Does not fit');
      await card.locator('button.finding').first().click();
      expect(await page.locator('.drawing .is-marked').count()).toBeGreaterThan(0);
      await page.reload();
      await waitReady(page);
      expect(await page.title()).toContain('Rig with a mistake');
    });
  });

  test('an unreadable file lists every problem and leaves the open model alone', async () => {
    const broken = structuredClone(first) as unknown as {
      parts: Record<string, unknown>;
      pivots: { torque_Nm?: number; stacks: Record<string, unknown>[] }[];
    };
    const stack = broken.pivots[0]!.stacks[0]!;
    stack.torque_Nm = 'tight';
    stack.frm = stack.from;
    delete stack.from;
    await using(plain, async (_, page) => {
      const before = await page.title();
      await page.getByLabel('Model file').setInputFiles({
        name: 'broken.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(broken, null, 2)),
      });
      const sheet = page.getByRole('dialog');
      await expect.poll(() => sheet.isVisible()).toBe(true);
      // Rows out of sight are not laid out, and so have no innerText.
      const words = (await sheet.textContent()) ?? '';
      expect(words).toContain('broken.json');
      expect(words).toContain('pivots[0].stacks[0].torque_Nm');
      const line = JSON.stringify(broken, null, 2)
        .split('\n')
        .findIndex((one) => one.includes('"torque_Nm": "tight"'));
      expect(words).toContain(`Line ${line + 1}, column`);
      expect(words).toContain('"torque_Nm": "tight"');
      expect(await sheet.getByRole('button', { name: 'Read it again' }).count()).toBe(1);
      expect(words).toContain('frm');
      expect(words).toContain('from');
      expect(await sheet.getByRole('listitem').count()).toBeGreaterThanOrEqual(2);
      expect(words).toContain(`${first.name} stays open`);
      expect(await axe(page), 'the sheet of problems').toEqual([]);
      await page.keyboard.press('Escape');
      await expect.poll(() => sheet.count()).toBe(0);
      expect(await page.title()).toBe(before);
      await waitReady(page);
    });
  });

  test.each([
    ['empty.json', ''],
    ['notes.txt', 'torque 12, thread clean'],
    ['list.json', '[]'],
  ])('%s is refused with a reason', async (name, text) => {
    await using(plain, async (_, page) => {
      await dropFile(page, name, text);
      await expect.poll(() => page.getByRole('dialog').isVisible()).toBe(true);
      expect(await page.getByRole('dialog').getByRole('listitem').count()).toBe(1);
      await page.getByRole('button', { name: 'Close' }).click();
      expect(await page.title()).toContain(first.name);
    });
  });
});

describe('without WebGL', () => {
  test('a calm word stands for the picture, and row and steps carry on', async () => {
    await using(plain, async (_, page) => {
      expect(await page.getByText('No 3D picture here.').isVisible()).toBe(true);
      await pivotButton(page, first.pivots[0]!.name).click();
      expect(await page.locator('.drawing svg [data-item]').count()).toBeGreaterThan(3);
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => page.getByRole('region', { name: 'Step' }).innerText()).toContain('Step 1 of');
      await page.getByRole('button', { name: 'Go round' }).first().click();
    });
  });
});

describe('when the graphics give up', () => {
  test('the page says so, carries on, and can set the picture up again', async () => {
    await using({ ...desk, path: `#model=${first.id}&pivot=${first.pivots[0]!.id}` }, async (app, page) => {
      await page.evaluate(() => {
        const context = document.querySelector('canvas')!.getContext('webgl2')!;
        context.getExtension('WEBGL_lose_context')!.loseContext();
      });
      await expect.poll(() => page.getByText('The 3D picture has stopped.').isVisible()).toBe(true);
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => page.getByRole('region', { name: 'Step' }).innerText()).toContain('Step 1 of');
      await page.getByRole('button', { name: 'Try it again' }).click();
      await expect.poll(() => page.locator('canvas').count()).toBe(1);
      await waitReady(page);
      // three itself tells of the loss, and again when it lets go of what is lost already; that is no fault of the
      // page.
      app.noise.splice(
        0,
        app.noise.length,
        ...app.noise.filter((line) => !/Context Lost|WEBGL_lose_context/.test(line)),
      );
    });
  });
});

describe('movement', () => {
  test('a step glides there, may be overtaken by the next, and ends where it should', async () => {
    const pivot = first.pivots[0]!;
    const drawing = (page: Page) => page.locator('.picture .drawing').innerHTML();
    const stills: string[] = [];
    // From where the parts lie ready: then the first of them move.
    const from = stepsAt(pivot.id).build.findIndex(({ kind }) => kind === 'prepare') + 1;
    for (const step of [from, from + 1, from + 2, from + 3]) {
      await using({ ...plain, path: `#model=${first.id}&pivot=${pivot.id}&step=${step}` }, async (_, page) => {
        stills.push(await drawing(page));
      });
    }
    await using(
      { ...plain, stillness: false, isFresh: true, path: `#model=${first.id}&pivot=${pivot.id}&step=${from}` },
      async (_, page) => {
        // Noted by the page itself, turn by turn: a busy machine asks too seldom from outside.
        const seen = await page.evaluateHandle(() => {
          const found = new Set<string>();
          const note = (): void => {
            found.add(document.querySelector('.picture .drawing')!.innerHTML);
            requestAnimationFrame(note);
          };
          note();
          return found;
        });
        for (let k = 0; k < 3; k += 1) await page.keyboard.press('PageDown');
        await expect.poll(() => drawing(page), { timeout: 10_000 }).toBe(stills.at(-1));
        const between = (await seen.evaluate((found) => [...found])).filter((one) => !stills.includes(one));
        expect(between.length).toBeGreaterThan(0);
      },
    );
  });
});

describe('nobody is kept out', () => {
  const sizes = [
    [390, 844],
    [1024, 768],
    [1920, 1080],
  ] as const;
  const pivot = first.pivots[0]!;
  // Every size in both themes in the long run; usually the phone, which has the most sheets and tabs.
  const looks = sizes.flatMap(([width, height]) => [
    { width, height, theme: 'light' as const },
    { width, height, theme: 'dark' as const },
  ]);
  test.each(usually(looks, 1))(
    'no serious barrier in the $theme theme at $width by $height',
    async ({ width, height, theme }) => {
      await using(
        { ...plain, width, height, theme, path: `#model=${first.id}&pivot=${pivot.id}&step=2` },
        async (_, page) => {
          expect(await axe(page)).toEqual([]);
          await page.getByRole('button', { name: 'Whole bike' }).click();
          expect(await axe(page), 'whole bike').toEqual([]);
          await pivotButton(page, pivot.name).click();
          if (width < 900) {
            for (const tab of ['Steps', 'Findings']) {
              await page.getByRole('tab', { name: tab }).click();
              expect(await axe(page), tab).toEqual([]);
            }
          }
          await page.getByRole('button', { name: 'Menu' }).click();
          expect(await axe(page), 'menu').toEqual([]);
          await page.getByRole('button', { name: 'Keys' }).click();
          expect(await axe(page), 'keys').toEqual([]);
        },
      );
    },
  );

  // One page in both themes: it is the setting up that a software renderer takes its time for.
  // What the picture itself adds to what `everyone.spec.ts` looks at without it.
  test('no serious barrier on the picture in either theme', async () => {
    const at = `#model=${first.id}&pivot=${pivot.id}&step=2`;
    await using({ ...desk, path: at }, async (_, page) => {
      const inBoth = (what: string): Promise<void> =>
        inThemes(page, async (theme) => expect(await axe(page), `${what}, ${theme}`).toEqual([]));
      await inBoth('a step');
      if (!LONG) return;
      await page.getByRole('button', { name: 'Whole bike' }).click();
      await inBoth('whole bike');
      await pivotButton(page, pivot.name).click();
      await inBoth('a pivot');
    });
  });

  test('buttons are large enough for a thumb', async () => {
    await using(
      { ...desk, width: 390, height: 844, touch: true, path: `#model=${first.id}&pivot=${pivot.id}` },
      async (_, page) => {
        for (const tab of ['Steps', 'The row', 'Findings']) {
          await page.getByRole('tab', { name: tab }).click();
          const small = await page.locator('button:visible, select:visible, input:visible').evaluateAll((all) =>
            all
              .filter((element) => element.closest('.parts') === null && element.getBoundingClientRect().width > 1)
              .filter(
                (element) => element.getBoundingClientRect().height < 44 || element.getBoundingClientRect().width < 44,
              )
              .map((element) => `${element.textContent} ${element.className}`),
          );
          expect(small, tab).toEqual([]);
        }
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
      },
    );
  });

  test('the licences of all that ships are there; big words, theme and letter keys are kept', async () => {
    await using({ ...plain, width: 1920, height: 1080 }, async (_, page) => {
      await page.getByRole('button', { name: 'Menu' }).click();
      const licences = page.getByRole('link', { name: 'Licences of all that is inside' });
      const notices = await page.request.get(new URL((await licences.getAttribute('href'))!, page.url()).href);
      expect(notices.status()).toBe(200);
      // Of the page, the picture, the worker, the sheets and the fonts, whichever chunk they went to.
      for (const name of ['react', 'three', 'zod', 'pdfkit', '@fontsource-variable/inter'])
        expect(await notices.text()).toMatch(new RegExp(`^${name} [0-9.]+\nLicence: `, 'm'));
      await page.getByLabel('Big words, for a projector').click();
      await page.getByLabel('Dark').click();
      // What the page shows is on the disk.
      await expect.poll(() => page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
      await page.reload();
      await waitReady(page);
      expect(await page.evaluate(() => ({ ...document.documentElement.dataset }))).toMatchObject({
        theme: 'dark',
        words: 'big',
      });
    });
  });
});
