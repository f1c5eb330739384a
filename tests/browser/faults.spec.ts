// One fault stays one fault: what the server does not send, a worker that dies, graphics that are lost again and again,
// and a history gone through faster than models open.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { readModel } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { LONG } from '../setup/series.ts';
import { axe, openApp, waitReady, type OpenedApp, type Opening } from './harness.ts';
import { using } from './using.ts';

const models = demoModels();
const plain: Opening = { width: 1024, height: 768, stillness: true, webgl: false };
const soon = (seen: () => unknown) => expect.poll(seen, { timeout: 15_000 });
const host = (app: OpenedApp): string => new URL(app.origin).host;

/** What the browser itself says of a file that did not come is no fault of the page. */
function forgive(app: OpenedApp, words: RegExp): void {
  app.noise.splice(0, app.noise.length, ...app.noise.filter((line) => !words.test(line)));
}
const NOT_SENT = /ERR_FAILED|Failed to fetch dynamically imported module/;

describe('history', () => {
  const [first, second, third] = models.map(({ id, name }) => ({ id, name }));

  test('Back then Forward at once ends on the right model and cuts nothing', async () => {
    await using({ ...plain, isFresh: true, path: `#model=${first!.id}` }, async (_, page) => {
      for (const { id, name } of [second!, third!]) {
        await page.getByRole('combobox', { name: 'Model' }).selectOption(id);
        await soon(() => page.title()).toContain(name);
        await waitReady(page);
      }
      const length = await page.evaluate(() => history.length);
      // Forward before the model of the entry behind has opened.
      await page.evaluate(async () => {
        const passed = (): Promise<unknown> =>
          new Promise((go) => window.addEventListener('popstate', go, { once: true }));
        const back = passed();
        history.back();
        await back;
        const forward = passed();
        history.forward();
        await forward;
      });
      await waitReady(page);
      expect(await page.title()).toContain(third!.name);
      expect(page.url()).toContain(`model=${third!.id}`);
      expect(await page.evaluate(() => history.length)).toBe(length);
      await page.goBack();
      await soon(() => page.title()).toContain(second!.name);
      await waitReady(page);
      await page.goBack();
      await soon(() => page.title()).toContain(first!.name);
      await page.goForward();
      await page.goForward();
      await soon(() => page.title()).toContain(third!.name);
      expect(await page.evaluate(() => history.length)).toBe(length);
    });
  });
});

describe('what the server does not send', () => {
  test('one place: it says so and names the server, the others work, and it comes when tried again', async () => {
    await using({ ...plain, isFresh: true, path: `#model=${models[0]!.id}` }, async (app, page) => {
      await page.route(/TrayPlace-.*\.js/, (route) => route.abort());
      const go = async (name: string): Promise<void> => {
        await page.keyboard.press('/');
        await page.getByRole('combobox', { name: 'Pivot, part, tool or word' }).fill(name);
        await page.keyboard.press('Enter');
      };
      await go('sorting tray');
      const fault = page.getByRole('alert');
      await soon(() => fault.innerText()).toContain(`The server at ${host(app)} did not send this part of the page.`);
      expect(await axe(page)).toEqual([]);
      await fault.getByRole('button', { name: 'Back to the bike' }).click();
      await soon(() => page.getByRole('region', { name: 'Side card' }).isVisible()).toBe(true);
      await go('build order');
      await soon(() => page.getByRole('tab', { name: 'Access' }).isVisible()).toBe(true);
      await go('sorting tray');
      await soon(() => fault.isVisible()).toBe(true);
      await page.unrouteAll();
      await fault.getByRole('button', { name: 'Try again' }).click();
      await soon(() =>
        page
          .getByRole('button', { name: /calliper|measure|add/i })
          .first()
          .isVisible(),
      ).toBe(true);
      expect(await fault.count()).toBe(0);
      forgive(app, NOT_SENT);
    });
  });

  test('a model: its address stays while that is said, and the next try opens it', async () => {
    const [first, second] = models;
    await using({ ...plain, isFresh: true, path: `#model=${first!.id}` }, async (app, page) => {
      await page.route(new RegExp(`${second!.id}-.*\\.js`), (route) => route.abort());
      await page.evaluate((hash) => {
        window.location.hash = hash;
      }, `#model=${second!.id}&pivot=${second!.pivots[0]!.id}`);
      const sheet = page.getByRole('dialog');
      await soon(() => sheet.innerText()).toContain(`The server at ${host(app)} did not send ${second!.id}`);
      expect(page.url()).toContain(`model=${second!.id}`);
      expect(await page.title()).toContain(first!.name);
      await page.unrouteAll();
      await sheet.getByRole('button', { name: 'Try again' }).click();
      await soon(() => page.title()).toContain(second!.name);
      expect(await page.title()).toContain(second!.pivots[0]!.name);
      forgive(app, NOT_SENT);
    });
  });
});

describe('a worker', () => {
  test('that is not sent fails what was asked in words, and is asked for again by hand', async () => {
    const app = await openApp({ ...plain, isOwn: true, path: 'linkage-model.schema.json' });
    try {
      const { page } = app;
      await page.route(/worker-.*\.js/, (route) => route.abort());
      await page.goto(`${app.origin}#model=${models[0]!.id}&pivot=${models[0]!.pivots[0]!.id}`);
      await waitReady(page);
      await page.getByRole('tab', { name: 'Steps' }).click();
      const panel = page.getByRole('tabpanel');
      await soon(() => panel.getByRole('alert').innerText()).toContain(
        `the server at ${host(app)} did not send the worker`,
      );
      await page.unrouteAll();
      await panel.getByRole('button', { name: 'Try again' }).click();
      await soon(() => page.getByRole('region', { name: 'Step' }).innerText()).toMatch(/\d+ steps/);
    } finally {
      await app.close();
    }
  });

  test('that dies is noticed, and another does the work', async () => {
    const app = await openApp({ ...plain, isOwn: true, path: 'linkage-model.schema.json' });
    try {
      const { page } = app;
      await page.addInitScript(() => {
        const Real = window.Worker;
        let asked = 0;
        window.Worker = class extends Real {
          override postMessage(message: unknown): void {
            if (asked++ > 0) super.postMessage(message);
            else queueMicrotask(() => this.dispatchEvent(new ErrorEvent('error', { message: 'out of memory' })));
          }
        };
      });
      await page.goto(`${app.origin}#model=${models[0]!.id}&pivot=${models[0]!.pivots[0]!.id}`);
      await waitReady(page);
      await page.getByRole('tab', { name: 'Steps' }).click();
      await soon(() => page.getByRole('region', { name: 'Step' }).innerText()).toMatch(/\d+ steps/);
    } finally {
      await app.close();
    }
  });
});

describe('graphics', () => {
  const stopped = (page: Page) => page.getByText('The 3D picture has stopped.');

  // Three times as well as ten, but for what a software renderer takes to draw again.
  const times = LONG ? 10 : 3;

  test('lost again and again: each time it is told, the section stands in, and the picture comes back', async () => {
    const { id, pivots } = models.find((model) => model.id === 'skarn-140')!;
    const at = `#model=${id}&pivot=${pivots[0]!.id}`;
    await using({ width: 360, height: 640, stillness: true, isPainted: true, path: at }, async (app, page) => {
      const context = await page.evaluateHandle(
        () => document.querySelector('canvas')!.getContext('webgl2')!.getExtension('WEBGL_lose_context')!,
      );
      for (let k = 0; k < times; k += 1) {
        await context.evaluate((extension) => extension.loseContext());
        await soon(() => stopped(page).isVisible()).toBe(true);
        expect(await page.locator('.drawing svg').count()).toBe(1);
        await context.evaluate((extension) => extension.restoreContext());
        await soon(() => stopped(page).count()).toBe(0);
      }
      await waitReady(page);
      expect(await page.locator('canvas').isVisible()).toBe(true);
      forgive(app, /Context (Lost|Restored)|CONTEXT_LOST_WEBGL|does not belong to this context|WEBGL_lose_context/);
    });
  });
});

test('a sample file can be saved, and opens', async () => {
  await using({ ...plain, isFresh: true }, async (_, page) => {
    await page.getByRole('button', { name: 'Menu' }).click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save a sample file' }).click(),
    ]);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    const reading = readModel(Buffer.concat(chunks).toString('utf8'));
    expect(reading.ok && `${reading.model.id}.json`).toBe(download.suggestedFilename());
  });
});
