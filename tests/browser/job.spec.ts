/**
 * A job in the built app: a whole one of the rig by keyboard and by thumb, every value asked for before its step closes,
 * a step put off, undo, what is open, and reading aloud by a voice that never says it has ended.
 */
import { buffer, text } from 'node:stream/consumers';
import type { Locator, Page } from 'playwright-core';
import { extractText } from 'unpdf';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { AS_IT_CAME_WORDS } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { LONG } from '../setup/series.ts';
import { axe, openApp, waitReady, type OpenedApp } from './harness.ts';
import { outOfReach } from './using.ts';

/** A picture of one dot. */
const DOT = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);
const RIG = '#model=class-rig&place=job';

const tab = (page: Page, name: string) => page.getByRole('tab', { name, exact: true });
const closed = async (page: Page): Promise<number> =>
  Number(/^(\d+) of/.exec(await page.getByRole('status').filter({ hasText: 'steps closed' }).innerText())![1]);
const total = async (page: Page): Promise<number> =>
  Number(/of (\d+)/.exec(await page.getByRole('status').filter({ hasText: 'steps closed' }).innerText())![1]);

type Press = (button: Locator) => Promise<void>;
const byKey: Press = (button) => button.press('Enter');
const byThumb: Press = (button) => button.tap();

async function begin(page: Page, press: Press): Promise<void> {
  await press(page.getByRole('button', { name: 'New job' }));
  await page.getByLabel('Reference of the shop').fill('W-0412');
  await page.getByLabel('Your initials').fill('ab');
  await page.getByRole('heading', { name: 'Job W-0412' }).waitFor();
}

/** Give what the step shown asks for, all being well. */
async function answer(page: Page, press: Press): Promise<void> {
  const card = page.getByRole('tabpanel');
  const all = card.getByRole('button', { name: /looked at: all good$/ });
  if ((await all.count()) > 0) return press(all);
  const air = card.getByLabel(AS_IT_CAME_WORDS.air.title);
  if ((await air.count()) > 0) return air.fill('165 psi');
  const back = card.getByRole('button', { name: 'As it came: 165 psi' });
  if ((await back.count()) > 0) return press(back);
  // Nobody stands beside threadlocker: the clock of the page goes on by a day.
  if ((await card.getByRole('timer').count()) > 0) return page.clock.fastForward(25 * 3600 * 1000);
  const chips = card.getByRole('button', { name: /^(good|even, no play)$/, pressed: false });
  for (let left = await chips.count(); left > 0; left--) {
    await press(chips.first());
    await expect.poll(() => chips.count()).toBe(left - 1);
  }
  const reached = card.getByRole('button', { name: /^Reached / });
  if ((await reached.count()) > 0) await press(reached);
}

async function sign(page: Page, press: Press): Promise<void> {
  const initials = page.getByLabel('Initials of the second person');
  if ((await initials.count()) === 0) return;
  await initials.fill('AB');
  await page.getByRole('alert').filter({ hasText: 'your own initials' }).waitFor();
  await initials.fill('cd');
  await press(page.getByRole('button', { name: 'Sign', exact: true }));
  await page.getByText('Countersigned: cd').waitFor();
}

/** Close every step; `done` is what closes the one shown. Gives how many asked for something first. */
async function goThrough(page: Page, press: Press, done: () => Promise<void>): Promise<number> {
  let asked = 0;
  for (let before = await closed(page), all = await total(page); before < all; before = await closed(page)) {
    await sign(page, press);
    const wants = page.getByRole('alert');
    await done();
    await expect.poll(async () => (await closed(page)) > before || (await wants.count()) > 0).toBe(true);
    if ((await closed(page)) > before) continue;
    asked++;
    await answer(page, press);
    await expect.poll(() => wants.count()).toBe(0);
    await done();
    await expect.poll(() => closed(page)).toBe(before + 1);
  }
  return asked;
}

describe('at a desk', () => {
  let app: OpenedApp;
  beforeAll(async () => {
    app = await openApp({ width: 1440, height: 900, stillness: true, webgl: false, path: RIG });
    await waitReady(app.page);
  });
  afterAll(() => app.close());

  test('a whole job by keyboard alone: Page Down closes a step once it has what it asks for', async () => {
    const { page } = app;
    await begin(page, byKey);
    await page
      .getByLabel('Photo', { exact: true })
      .setInputFiles({ name: 'runs.png', mimeType: 'image/png', buffer: DOT });
    await expect.poll(() => page.getByRole('img', { name: 'As it came, photo 1' }).count()).toBe(1);
    await tab(page, 'Came').press('ArrowRight');
    await tab(page, 'Lay out').press('ArrowRight');
    await page.getByRole('button', { name: 'Done', exact: true }).waitFor();

    // A stand-in voice: it takes what it is given and never says that it has ended.
    await page.evaluate(() => {
      const said: string[] = [];
      Object.assign(window, { said });
      const voice = { speak: ({ text }: { text: string }) => said.push(text), cancel: () => said.push('—') };
      Object.defineProperty(window, 'speechSynthesis', { value: voice, configurable: true });
    });
    const said = (): Promise<string> => page.evaluate(() => (window as unknown as { said: string[] }).said.join('\n'));
    const step = page.getByRole('tabpanel').getByRole('heading', { level: 3 });
    await page.getByRole('button', { name: 'Read aloud' }).press('Enter');
    const first = await step.innerText();
    await expect.poll(said).toContain(`${first}.`);
    // A pedal that is held down closes one step and no more.
    await page.keyboard.down('PageDown');
    await expect.poll(() => step.innerText()).not.toBe(first);
    await page.keyboard.down('PageDown');
    await page.keyboard.up('PageDown');
    await expect.poll(said).toContain(`—\n${await step.innerText()}.`);

    // Undo opens it again, and the job is back at it.
    expect(await closed(page)).toBe(1);
    await page.keyboard.press('u');
    await expect.poll(() => closed(page)).toBe(0);
    await expect.poll(() => step.innerText()).toBe(first);

    // Put off with a reason it is no longer to do, and stays open.
    await page.getByRole('button', { name: 'Not yet…' }).press('Enter');
    await page.getByLabel('Why not yet?').fill('the vice is taken');
    await page.getByLabel('Why not yet?').press('Enter');
    await expect.poll(() => step.innerText()).not.toBe(first);
    await tab(page, 'Work').press('ArrowRight');
    await tab(page, 'Parts').press('ArrowRight');
    await page.getByText('The vice is taken').waitFor();
    await tab(page, 'Open').press('ArrowLeft');
    await tab(page, 'Parts').press('ArrowLeft');
    await page.getByRole('button', { name: 'Back', exact: true }).press('PageUp');
    await expect.poll(() => step.innerText()).toBe(first);

    const asked = await goThrough(page, byKey, () => page.keyboard.press('PageDown'));
    expect(asked).toBeGreaterThan(5);
    await expect.poll(said).toMatch(/No step is left to do\./);
    await page.getByRole('status').filter({ hasText: 'No step is left to do.' }).waitFor();
    expect(await said()).toMatch(/newton metres/);
    expect(await said()).not.toMatch(/N·m|×|Ø/);
  });

  test('what came of it is kept, and told at hand-over, in the list and to a second job', async () => {
    const { page } = app;
    await tab(page, 'Work').press('End');
    await page.getByRole('heading', { name: 'Torques reached' }).waitFor();
    expect(await page.getByRole('tabpanel').innerText()).toMatch(/\d+ of \d+ N·m/);
    await page.reload();
    await waitReady(page);
    await page.getByRole('heading', { name: 'Job W-0412' }).waitFor();
    expect(await closed(page)).toBe(await total(page));
    await tab(page, 'Work').press('End');
    await tab(page, 'Hand over').press('ArrowLeft');
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: /^Save 4 dates/ }).press('Enter'),
    ]);
    expect(file.suggestedFilename()).toMatch(/^axlewright-class-rig-.*\.ics$/);
    expect(await axe(page)).toEqual([]);
    await tab(page, 'Open').press('ArrowRight');
    const [sheet] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the sheet as PDF' }).press('Enter'),
    ]);
    expect(sheet.suggestedFilename()).toMatch(/^axlewright-job-class-rig-.*\.pdf$/);
    const printed = await extractText(new Uint8Array(await buffer(await sheet.createReadStream())), {
      mergePages: true,
    });
    expect(printed.text).toContain('W-0412');
    expect(printed.text).toMatch(/Countersigned|cd/);
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the job as a file' }).press('Enter'),
    ]);
    const whole = await text(await saved.createReadStream());

    await page.getByRole('button', { name: 'All jobs' }).press('Enter');
    await page.getByRole('button', { name: 'Open W-0412' }).waitFor();
    await page.getByRole('button', { name: 'New, like the last one' }).press('Enter');
    await expect.poll(() => page.getByLabel('Your initials').inputValue()).toBe('ab');
    expect(await page.getByLabel('Reference of the shop').inputValue()).toBe('');
    await page.getByRole('button', { name: 'All jobs' }).press('Enter');
    await page.getByRole('button', { name: /^Archive W-0412/ }).press('Enter');
    const jobs = page.getByRole('list', { name: 'Jobs' }).getByRole('listitem');
    await expect.poll(() => jobs.count()).toBe(1);
    await page.getByLabel('With the archive').press('Space');
    await expect.poll(() => jobs.count()).toBe(2);
    await page.getByLabel('Search jobs').fill('w-0412');
    await expect.poll(() => jobs.count()).toBe(1);
    // The file of the job comes back as a job of its own.
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles({ name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(whole) });
    const inside = page.getByRole('region', { name: 'What the file holds' });
    await inside.getByText('Job of Class rig').waitFor();
    await inside.getByRole('button', { name: 'Take in' }).press('Enter');
    await inside.getByRole('status').waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => jobs.count()).toBe(2);
    expect([app.noise, app.outside]).toEqual([[], []]);
  });
});

/** The bikes whose whole jobs are gone through: the rig's are above and below, those of the others in the long run. */
const OTHERS = LONG ? demoModels().flatMap(({ id }) => (id === 'class-rig' ? [] : [id])) : [];

describe.each(OTHERS)('a whole job of %s', (id) => {
  test('by keyboard', async () => {
    const path = `#model=${id}&place=job`;
    const app = await openApp({ width: 1440, height: 900, stillness: true, webgl: false, hasClock: true, path });
    const { page } = app;
    try {
      await waitReady(page);
      await begin(page, byKey);
      for (const name of ['Came', 'Lay out']) await tab(page, name).press('ArrowRight');
      await page.getByRole('button', { name: 'Done', exact: true }).waitFor();
      expect(await goThrough(page, byKey, () => page.keyboard.press('PageDown'))).toBeGreaterThan(5);
      expect([app.noise, app.outside]).toEqual([[], []]);
    } finally {
      await app.close();
    }
  });
});

describe.each(['class-rig', ...OTHERS])('on a phone, %s', (id) => {
  test('a whole job by thumb, every control within reach', async () => {
    const path = `#model=${id}&place=job`;
    const hasClock = id !== 'class-rig';
    const app = await openApp({ width: 390, height: 844, touch: true, stillness: true, webgl: false, hasClock, path });
    const { page } = app;
    try {
      await waitReady(page);
      await begin(page, byThumb);
      for (const name of ['Came', 'Lay out', 'Parts', 'Open', 'Hand over', 'Work']) {
        await tab(page, name).tap();
        expect(await outOfReach(page), name).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth), name).toBe(390);
      }
      await goThrough(page, byThumb, () => page.getByRole('button', { name: 'Done', exact: true }).tap());
      expect(await axe(page)).toEqual([]);
      expect([app.noise, app.outside]).toEqual([[], []]);
    } finally {
      await app.close();
    }
  });
});
