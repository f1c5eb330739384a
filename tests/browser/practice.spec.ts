/**
 * Practice and class in the built app: a row laid by keyboard alone and judged, what was done kept over a reload, a
 * lesson with its question, and the class screen in a second window, closed and loaded again in any order.
 */
import { readFileSync } from 'node:fs';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  benchAnswer,
  findDrill,
  layDrill,
  readModel,
  wordBenchAnswer,
  wordBenchCheck,
  wordMistake,
  wordMistakeKind,
  wordTried,
  type LinkageModel,
} from '../../shared/index.ts';
import { asWritten } from '../setup/drills.ts';
import { axe, waitReady, type Opening } from './harness.ts';
import { using } from './using.ts';

const file = fileURLToPath(new URL('../../models/class-rig.json', import.meta.url));
const reading = readModel(readFileSync(file, 'utf8'));
if (!reading.ok) throw new Error('practice: the class rig cannot be read');
const rig: LinkageModel = reading.model;

// Of its own: it opens a second window beside it.
const DESK: Opening = { width: 1280, height: 900, stillness: true, webgl: false, isOwn: true };
const at = (hash: string): Opening => ({ ...DESK, path: `#model=class-rig&${hash}` });
const isFocused = (locator: Locator): Promise<boolean> =>
  locator.evaluate((element) => element === document.activeElement);

/** Go by Tab until it has the focus. */
async function tabTo(page: Page, locator: Locator, isBack = false): Promise<void> {
  const goal = await locator.elementHandle();
  for (let k = 0; k < 120; k++) {
    if (await page.evaluate((element) => element === document.activeElement, goal)) return;
    await page.keyboard.press(isBack ? 'Shift+Tab' : 'Tab');
  }
  throw new Error('practice: never reached by Tab');
}

/** Press a button that Tab leads to; in a row of choices arrows lead on. */
async function press(page: Page, name: string | RegExp): Promise<void> {
  const button = page.getByRole('button', { name, exact: typeof name === 'string' });
  const group = page.locator('.segments').filter({ has: button });
  if ((await group.count()) > 0) {
    const stop = group.locator('[tabindex="0"]');
    await tabTo(page, (await stop.count()) > 0 ? stop.first() : button);
    for (let k = 0; k < 6 && !(await isFocused(button)); k++) await page.keyboard.press('ArrowRight');
  } else await tabTo(page, button);
  await page.keyboard.press('Enter');
}

describe('lay the row', () => {
  test('by keyboard alone: nothing tells the answer before, a wrong row shows what it does, the right one is kept', async () => {
    await using(at('place=practice'), async (_, page) => {
      const initials = page.getByLabel('Your initials');
      await tabTo(page, initials);
      await page.keyboard.type('ab');
      await page.keyboard.press('Enter');
      await press(page, /^Rig pivot axle/);
      await page.getByRole('heading', { name: 'Rig pivot: lay the row' }).waitFor();
      const room = await page.locator('.practice-page').boundingBox();
      expect([room?.x, room?.width]).toEqual([0, DESK.width]);
      const drill = layDrill(rig, 'rig-axle', 1);
      const answer = asWritten(rig, drill);
      const early = await page.locator('.practice').innerHTML();
      for (const tell of [...Object.entries(rig.parts).flatMap(([id, { name }]) => [id, name]), 'Fits', 'as written'])
        if (!/bearing/i.test(tell)) expect(early, tell).not.toContain(tell);

      // In the order of the row; each is picked on the mat and laid in behind what lies there already.
      const chip = (id: string): Locator => page.locator(`[data-part="${id}"]`);
      const lay = async (id: string, to: number): Promise<void> => {
        await tabTo(page, page.locator('.chips [tabindex="0"].chip'), true);
        for (let k = 0; k < 20 && !(await isFocused(chip(id))); k++)
          await page.keyboard.press(k === 0 ? 'Home' : 'ArrowRight');
        await tabTo(page, page.locator('.chip-place').nth(to), true);
        await page.keyboard.press('Enter');
        await expect.poll(() => isFocused(chip(id))).toBe(true);
      };
      const [first] = drill.start.out;
      await lay(first!.entry.id, 0);
      await press(page, 'Drive side');
      await press(page, 'The head');
      await press(page, 'Grease');
      for (const one of ['The axle’s shank', 'The loose parts', 'The nut’s face']) await press(page, one);
      for (const work of [
        /Clean the threads/,
        /Grease what/,
        /Push the axle/,
        /Treat the thread/,
        /Start the/,
        /Pull it/,
        /Feel that/,
      ])
        await press(page, work);
      await press(page, 'Tighten');
      const told = page.getByRole('region', { name: 'What it comes to' });
      await expect.poll(() => isFocused(told)).toBe(true);
      expect(await told.innerText()).toMatch(/Not right/);
      expect(await told.innerText()).toMatch(/Does not fit/);
      expect(await told.getByRole('group', { name: 'Section of the row as you laid it' }).locator('svg').count()).toBe(
        1,
      );

      await tabTo(page, page.getByRole('button', { name: 'Undo' }), true);
      await page.keyboard.press('Enter');
      expect(await told.count()).toBe(0);
      for (const [to, { id, turned }] of answer.row.entries()) {
        const own = drill.start.out.find(({ entry }) => entry.id === id)?.entry;
        if (!own) continue;
        await lay(id, to);
        if ((turned === true) !== (own.turned === true)) await page.keyboard.press('r');
      }
      await press(page, 'Tighten');
      await expect.poll(() => told.innerText()).toMatch(/^Right, with trouble/);
      await page.getByText('AB, 1 done').waitFor();
      expect(await axe(page, '.practice')).toEqual([]);

      await page.reload();
      await waitReady(page);
      await press(page, 'AB');
      await page.getByText('AB, 1 done').waitFor();
      await press(page, /^Which way it tightens/);
      await press(page, /^On the drive side, clockwise/);
      await page.getByText('AB, 2 done').waitFor();
      expect(await page.locator('.drill-choice[data-right="true"]').count()).toBe(1);

      // Find the mistake: a check tells what the bench would; a wrong cause is told; the truth comes with the right one.
      await page.getByRole('button', { name: 'All drills' }).click();
      await page
        .getByRole('region', { name: 'Find the mistake' })
        .getByRole('button', { name: /^Rig pivot/ })
        .click();
      const analysis = analyse(rig);
      const given = findDrill(rig, 'rig-pivot', 1, 1)!;
      const checks = page.getByRole('region', { name: 'Checks' });
      const known = page.getByRole('region', { name: 'What the checks told' });
      const cause = page.getByRole('region', { name: 'The cause' });
      const truth = wordTried(given.hidden, analysis);
      const untold = await page.locator('.practice').innerHTML();
      for (const tell of [truth.bench, truth.trail, 'find-truth', 'The checks that tell most'])
        expect(untold).not.toContain(tell);
      const check = given.checks.find((one) => one.do === 'turn') ?? given.checks[0]!;
      await checks.getByRole('button', { name: wordBenchCheck(check, analysis) }).click();
      expect(await known.innerText()).toContain(wordBenchAnswer(benchAnswer(rig, given.hidden, check), analysis));
      const name = async (mistake: (typeof given.causes)[number]): Promise<void> => {
        const fold = cause.locator('details', { hasText: wordMistakeKind(mistake.kind) }).first();
        if ((await fold.getAttribute('open')) === null) await fold.locator('summary').click();
        await fold.getByRole('button', { name: wordMistake(mistake, analysis), exact: true }).click();
        await cause.getByRole('button', { name: 'This is it' }).click();
      };
      const right = given.causes.find(({ id }) => id === given.hidden.mistake.id)!;
      await name(given.causes.find(({ kind }) => kind !== right.kind)!);
      await cause.getByText('Not right').waitFor();
      expect(await page.locator('.find-truth').count()).toBe(0);
      await name(right);
      await cause.getByText(/^You took/).waitFor();
      expect(await page.locator('.find-truth').innerText()).toContain(truth.bench);
      await page.getByText('AB, 3 done').waitFor();
      expect(await axe(page, '.practice')).toEqual([]);
    });
  });
});

/** What is read on the class screen and is smaller than 24 px, drawings as large as they stand there. */
function smallWords(page: Page): Promise<string[]> {
  return page.locator('.class-screen').evaluate((top) => {
    const found: string[] = [];
    const walk = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const element = node.parentElement!;
      const drawn = element instanceof SVGGraphicsElement ? (element.getScreenCTM()?.a ?? 1) : 1;
      const size = Number.parseFloat(getComputedStyle(element).fontSize) * drawn;
      const isRead = node.textContent!.trim() !== '' && element.closest('.class-tools, .away, style, title') === null;
      if (isRead && size < 23.9) found.push(`${node.textContent}: ${size.toFixed(1)} px`);
    }
    return found;
  });
}

describe('the class screen', () => {
  const screenOf = async (page: Page): Promise<Page> => {
    const screen = await page.context().newPage();
    await screen.setViewportSize({ width: 1920, height: 1080 });
    await screen.goto(new URL('#model=skarn-140&place=class', page.url()).href);
    await waitReady(screen);
    return screen;
  };
  const pivot = (screen: Page): Promise<string> => screen.locator('.class-pivot').innerText();
  const begin = async (page: Page): Promise<void> => {
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: 'Class screen in a second window' }).click();
    await page.getByRole('region', { name: 'Class screen' }).waitFor();
  };

  test('one window alone steps; driven, it follows, whichever is opened, closed or loaded again first; freeze, blank and point', async () => {
    await using(at('pivot=rig-pivot&apart=1'), async (_, page) => {
      const screen = await screenOf(page);
      try {
        expect(await pivot(screen)).toBe('Skarn 140');
        expect(await screen.locator('.head, .bar').count()).toBe(0);
        await screen.keyboard.press('PageDown');
        await screen.locator('.class-step').waitFor();
        expect(await screen.locator('.class-screen').getAttribute('data-driven')).toBe('false');

        await begin(page);
        await expect.poll(() => pivot(screen)).toBe('Rig pivot');
        // Slowly together, and stopped on the way: the class's picture stands where the trainer's does.
        const apartOf = (window: Page): string => new URL(window.url()).hash.match(/apart=([\d.]+)/)?.[1] ?? '0';
        await page.getByRole('button', { name: 'Slowly together' }).click();
        await expect.poll(() => Number(apartOf(page))).toBeLessThan(1);
        await page.getByRole('button', { name: 'Stop there' }).click();
        // Either address is written a moment after the picture rests.
        await expect.poll(() => Number(apartOf(page)) < 1 && apartOf(screen) === apartOf(page)).toBe(true);
        // A hand on the trainer's picture moves a dot on the class's, at the same place from its middle.
        await page.getByRole('button', { name: 'Point' }).click();
        const own = (await page.locator('.picture').boundingBox())!;
        await page.mouse.move(own.x + own.width / 2 + own.height / 4, own.y + own.height / 4);
        const dot = screen.locator('.class-dot');
        await dot.waitFor();
        const [big, seen] = [(await screen.locator('.picture').boundingBox())!, (await dot.boundingBox())!];
        expect(seen.x + seen.width / 2).toBeCloseTo(big.x + big.width / 2 + big.height / 4, -1);
        expect(seen.y + seen.height / 2).toBeCloseTo(big.y + big.height / 4, -1);
        await page.getByRole('button', { name: 'Point' }).click();
        await dot.waitFor({ state: 'detached' });
        const said = page.getByRole('region', { name: 'Class screen' }).getByRole('status');
        await screen.reload();
        await waitReady(screen);
        await expect.poll(() => pivot(screen)).toBe('Rig pivot');
        await expect.poll(() => said.innerText()).toBe('The class sees this.');
        await page.reload();
        await waitReady(page);
        await page.getByRole('region', { name: 'Class screen' }).waitFor();
        // The remote may be in either hand.
        await screen.keyboard.press('PageDown');
        await expect.poll(() => screen.locator('.class-step').innerText()).toMatch(/^1 of \d+: /);
        await page.keyboard.press('PageDown');
        await expect.poll(() => screen.locator('.class-step').innerText()).toMatch(/^2 of \d+: /);

        await page.getByRole('button', { name: 'Freeze' }).click();
        await page.keyboard.press('PageDown');
        await page.keyboard.press('PageDown');
        await screen.reload();
        await waitReady(screen);
        await expect.poll(() => screen.locator('.class-step').innerText()).toMatch(/^2 of \d+: /);
        await page.getByRole('button', { name: 'Freeze' }).click();
        await expect.poll(() => screen.locator('.class-step').innerText()).toMatch(/^4 of \d+: /);
        await page.getByRole('button', { name: 'Blank' }).click();
        await expect.poll(() => screen.locator('.class-screen').getAttribute('data-blank')).toBe('true');
        expect(await screen.locator('.class-pivot').count()).toBe(0);
        await page.getByRole('button', { name: 'Blank' }).click();
        await expect.poll(() => pivot(screen)).toBe('Rig pivot');

        // The picture has all the room that the words leave.
        const room = await screen.locator('.class-screen .picture').boundingBox();
        expect([room?.x, room?.width]).toEqual([0, 1920]);
        expect(room!.height).toBeGreaterThan(700);
        expect(await smallWords(screen)).toEqual([]);
        expect(await axe(screen, '.class-screen')).toEqual([]);
      } finally {
        await screen.close();
      }
      await page.getByText('No class screen is open yet.').waitFor();
    });
  });

  test('a lesson: the class sees card and question, never the notes, and the answer only once it is shown', async () => {
    await using(at('place=practice'), async (_, page) => {
      // Written on in the page: each card is shown as the class will see it while it is written.
      await page.getByRole('button', { name: /^Copy and change ?: Why a spacer/ }).click();
      const form = page.getByRole('dialog', { name: 'Write a lesson' });
      await form.getByLabel('Title').fill('Spacers, our way');
      const shown = form.getByRole('region', { name: 'Card 2 as the class sees it' });
      expect(await shown.innerText()).toContain('Rig pivot');
      await shown.locator('svg').waitFor();
      await form
        .locator('.lesson-card')
        .nth(1)
        .locator('textarea')
        .first()
        .fill('Look at the row from the drive side.');
      await expect.poll(() => shown.innerText()).toContain('Look at the row from the drive side.');
      expect(await axe(page, 'dialog[open]')).toEqual([]);
      await form.getByRole('button', { name: 'Keep the lesson' }).click();
      const written = page.getByRole('button', { name: /^Write on ?: Spacers, our way/ });
      await written.waitFor();
      // Another trainer's file with the same id lies beside it, never over it; what is known is not taken twice.
      const [file] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: /^Save as a file ?: Spacers, our way/ }).click(),
      ]);
      const mine = await text(await file.createReadStream());
      for (const [said, told] of [
        [mine, 'was here already.'],
        [mine.replace('Look at the row', 'Look along the row'), 'beside the one that was here'],
      ] as const) {
        const buffer = Buffer.from(said);
        await page
          .getByLabel('Lesson file')
          .setInputFiles({ name: 'lesson.json', mimeType: 'application/json', buffer });
        await page.getByText(told).waitFor();
      }
      await expect.poll(() => written.count()).toBe(2);
      await page
        .getByRole('button', { name: /^Remove… ?: Spacers, our way/ })
        .last()
        .click();
      await page.getByRole('button', { name: 'Remove for good' }).click();
      await expect.poll(() => written.count()).toBe(1);
      await page.getByRole('button', { name: /^Why a spacer is there/ }).click();
      await begin(page);
      const screen = await screenOf(page);
      try {
        const lesson = page.getByRole('region', { name: 'Lesson' });
        await expect.poll(() => screen.locator('.class-text').innerText()).toMatch(/^An arm turns on an axle/);
        expect(await lesson.innerText()).toContain('Hold a loose bearing up');
        await screen.keyboard.press('PageDown');
        await expect.poll(() => pivot(screen)).toBe('Rig pivot');
        for (let k = 0; k < 3; k++) await page.keyboard.press('PageDown');
        await expect.poll(() => screen.locator('.lesson-choices li').count()).toBe(3);
        const early = await screen.content();
        for (const hidden of ['The large face reaches out', 'Then do it', 'data-right', 'Hold a loose bearing'])
          expect(early).not.toContain(hidden);
        await page.reload();
        await waitReady(page);
        await expect.poll(() => lesson.innerText()).toContain('5 of 7');
        expect(await screen.locator('[data-right]').count()).toBe(0);
        await lesson.getByRole('button', { name: 'Show the answer' }).click();
        await expect.poll(() => screen.locator('.class-card').innerText()).toContain('The large face reaches out');
        expect(await screen.locator('[data-right="true"]').innerText()).toContain('It presses on what must turn');
      } finally {
        await screen.close();
      }
    });
  });

  test('nothing in the picture that is read is smaller than 24 px on a projector', async () => {
    const opening = {
      width: 1920,
      height: 1080,
      stillness: true,
      path: '#model=class-rig&pivot=rig-pivot&apart=1&place=class',
    };
    await using(opening, async (_, page) => {
      await page.locator('.scene-part').first().waitFor();
      expect(await smallWords(page)).toEqual([]);
    });
  });
});
