/**
 * The build order in the built app: steps on the slider and on the picture, the order with its reasons, an order of
 * one's own by keyboard, mouse and finger, reach, strip-down, variants, and the job sheet. What is listed is held
 * against the core's own plan.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  compareVariants,
  planOf,
  accessOf,
  readModel,
  stripOf,
  wordCount,
  wordTask,
  wordPlanStep,
  wordVariantOrder,
  type Plan,
} from '../../shared/index.ts';
import { usually } from '../setup/series.ts';
import { axe, letPass, type OpenedApp, type Opening } from './harness.ts';
import { using } from './using.ts';

const ORDER = '#model=skarn-140&place=order';
const desk: Opening = { width: 1024, height: 768, stillness: true };
const plain: Opening = { ...desk, webgl: false };
const phone: Opening = { width: 390, height: 844, stillness: true, touch: true, webgl: false };

const text = readFileSync(fileURLToPath(new URL('../../models/skarn-140.json', import.meta.url)), 'utf8');
const plan = planOfText(text);
const { analysis } = plan;
const strip = stripOf(plan);

function planOfText(file: string): Plan {
  const reading = readModel(file);
  if (!reading.ok) throw new Error('order.spec: the demo model does not read');
  return planOf(analyse(reading.model));
}

/** Titles as a person reads them. */
const titleOf = (step: number): string => wordPlanStep(plan.steps[step - 1]!, analysis).title;
const nameOf = (task: number): string => wordTask(plan.tasks[task]!.id, analysis);
/** The first task at the bike that cannot come before another of the same axle. */
// A pivot that is tightened as soon as it is built up: the two tasks stand side by side.
const fit = plan.tasks.findIndex(
  ({ kind, id }, k) => kind === 'fit' && plan.tasks[k + 1]?.id === id.replace('fit:', 'tighten:'),
);
const tighten = fit + 1;
const firstTightened = plan.tasks.findIndex(({ kind }) => kind === 'tighten');

const slider = (page: Page) => page.getByRole('slider', { name: 'Step' });
const picture = (page: Page) => page.locator('.order-stand');
const step = (page: Page) => page.getByRole('region', { name: 'Step' });
const panel = (page: Page) => page.getByRole('tabpanel');
const rows = (page: Page) => panel(page).locator('.own-row');
const grip = (page: Page, task: number) => panel(page).getByRole('button', { name: `Move ${nameOf(task)}, place` });
const names = async (page: Page): Promise<string[]> =>
  (await rows(page).locator('.own-name').allInnerTexts()).map((text) => text.replace(/^\d+\s+/, ''));

/** Opens the place and waits until its plan has been worked out. */
function onOrder(opening: Opening, look: (page: Page, app: OpenedApp) => Promise<void>): Promise<void> {
  return using(opening, async (app, page) => {
    await panel(page).waitFor({ timeout: 30_000 });
    await look(page, app);
  });
}

/** Opens the place, from the menu, of a file of one's own. */
function onOrderOf(file: string, look: (page: Page) => Promise<void>): Promise<void> {
  return using({ ...plain, path: '#model=skarn-140' }, async (_, page) => {
    await page
      .getByLabel('Model file')
      .first()
      .setInputFiles({ name: 'own.json', mimeType: 'application/json', buffer: Buffer.from(file) });
    await expect.poll(() => page.getByRole('combobox', { name: 'Model' }).innerText()).toContain('(your file)');
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Build order' }).click();
    await look(page);
  });
}

/** A tab is open, and what it shows has been worked out. */
async function worked(page: Page, tab: Locator): Promise<void> {
  await expect.poll(() => tab.getAttribute('aria-selected')).toBe('true');
  await panel(page).getByRole('status').filter({ hasText: 'Working out' }).waitFor({ state: 'detached' });
}

/** Held against what is seen: nothing wider than the window, every control big enough for a thumb. */
async function measure(page: Page): Promise<{ wide: string[]; small: string[] }> {
  return page.evaluate(() => {
    const seen = [
      ...document.querySelectorAll<HTMLElement>('.floor button, .floor summary, .floor input, .floor select'),
    ].filter((control) => control.checkVisibility() && control.closest('.job-sheet') === null);
    const small = seen.filter((control) => {
      const { width, height } = control.getBoundingClientRect();
      return width < 44 || height < 44;
    });
    const wide = [
      document.documentElement,
      ...document.querySelectorAll<HTMLElement>('.floor, .order-side, .plan-page, .plan-now'),
    ].filter((box) => box.scrollWidth > box.clientWidth + 1);
    return {
      wide: wide.map((box) => `${box.className} ${box.scrollWidth}`),
      small: small.map(
        (control) =>
          `${control.className} ${control.textContent ?? ''} ${control.getBoundingClientRect().width} × ${control.getBoundingClientRect().height}`,
      ),
    };
  });
}

describe('steps of the whole bike', () => {
  test('an address opens its step; buttons, keys and slider move it, and the picture says so', async () => {
    await onOrder({ ...desk, path: `${ORDER}&at=40` }, async (page) => {
      await expect.poll(() => slider(page).inputValue()).toBe('40');
      expect(await step(page).getByRole('heading').innerText()).toBe(titleOf(40));
      expect(await picture(page).getAttribute('data-step')).toBe('40');
      // The step's own motion is worked out away from the page and drawn when it has come.
      await expect.poll(() => picture(page).getAttribute('data-motion'), { timeout: 20_000 }).toBe('true');
      await page.getByRole('button', { name: 'Next', exact: true }).click();
      await expect.poll(() => picture(page).getAttribute('data-step')).toBe('41');
      await expect.poll(() => page.url()).toContain('at=41');
      await page.locator('body').press('ArrowLeft');
      await page.locator('body').press('PageUp');
      await expect.poll(() => step(page).getByRole('heading').innerText()).toBe(titleOf(39));
      await page.locator('body').press('End');
      await expect.poll(() => slider(page).inputValue()).toBe(String(plan.steps.length));
      const all = [...plan.steps.at(-1)!.on].sort();
      expect((await picture(page).getAttribute('data-on'))!.split(' ').sort()).toEqual(all);
      await slider(page).fill('0');
      await expect.poll(() => picture(page).getAttribute('data-on')).toBe('frame');
      await page.goBack();
      await expect.poll(() => page.getByRole('heading', { name: 'Build order' }).count()).toBe(0);
    });
  });

  test('every step of the slider stands in the list of its task, with side, tools and why', async () => {
    await onOrder({ ...plain, path: ORDER }, async (page) => {
      await expect
        .poll(() => panel(page).locator('.plan-task-name').allInnerTexts())
        .toEqual(plan.tasks.map(({ id }) => wordTask(id, analysis)));
      expect(await panel(page).innerText()).toContain(wordCount(plan.orders));
      await panel(page)
        .locator('.plan-task-head', { hasText: nameOf(firstTightened) })
        .click();
      const task = panel(page).locator(`.plan-task[data-task="${plan.tasks[firstTightened]!.id}"]`);
      expect(await task.locator('.plan-step').count()).toBe(plan.tasks[firstTightened]!.steps.length);
      await task.locator('.plan-step', { hasText: 'N·m' }).click();
      await expect.poll(() => step(page).locator('.fact-torque').innerText()).toMatch(/^\d+(\.\d)? N·m$/);
      expect(await step(page).innerText()).toMatch(/Turn with[\s\S]*torque wrench/);
      await task.getByText('Why here').click();
      expect(await task.locator('.plan-because').innerText()).toMatch(/\d.*(mm|°)/);
      await expect.poll(() => panel(page).locator('[aria-current="step"]').count()).toBe(1);
      const changes = await panel(page).locator('.plan-change').allInnerTexts();
      expect(changes.length).toBeGreaterThan(2);
      for (const change of changes) expect(change).toMatch(/Go (round )?to the (non-drive side|drive side|bench)$/);
    });
  });

  test('plays on by itself until it is paused', async () => {
    await onOrder({ ...plain, hasClock: true, path: ORDER }, async (page) => {
      await page.getByRole('button', { name: 'Play' }).click();
      await expect.poll(async () => Number(await slider(page).inputValue()), { timeout: 15_000 }).toBeGreaterThan(0);
      await page.getByRole('button', { name: 'Pause' }).click();
      const at = await slider(page).inputValue();
      await letPass(page, 10_000);
      expect(await slider(page).inputValue()).toBe(at);
    });
  });

  test('strip down begins with what is written down and air, and turns back to the same moment of the build', async () => {
    // Past the middle, between two steps that are both undone: what only prepares leaves no mark to come back to.
    const undoneAt = (k: number): number => strip.steps.findIndex(({ undoes }) => undoes === plan.steps[k]!.id);
    const moment = plan.steps.findIndex(
      (_, k) => 2 * k > plan.steps.length && undoneAt(k) >= 0 && undoneAt(k - 1) > undoneAt(k),
    );
    await onOrder({ ...plain, path: `${ORDER}&at=${moment}` }, async (page) => {
      await page.getByRole('button', { name: 'Strip down' }).click();
      await expect.poll(() => page.url()).toContain('way=strip');
      const at = Number(await slider(page).inputValue());
      expect(await slider(page).getAttribute('max')).toBe(String(strip.steps.length));
      expect(strip.steps[at]!.undoes).toBe(plan.steps[moment - 1]!.id);
      await slider(page).fill('1');
      await expect.poll(() => step(page).innerText()).toMatch(/write down how it came/i);
      await page.locator('body').press('ArrowRight');
      const said = panel(page);
      await expect.poll(() => said.innerText()).toMatch(/air/i);
      await slider(page).fill(String(at));
      await page.getByRole('button', { name: 'Build up' }).click();
      await expect.poll(() => slider(page).getAttribute('max')).toBe(String(plan.steps.length));
      await expect.poll(() => slider(page).inputValue()).toBe(String(moment));
    });
  });
});

describe('an order of one’s own', () => {
  test('by keyboard: a place that does not work says what it waits for, the nearest that works mends it, nothing is lost', async () => {
    await onOrder({ ...plain, path: `${ORDER}&tab=own` }, async (page) => {
      await grip(page, fit).focus();
      await page.keyboard.press('ArrowDown');
      await expect.poll(() => names(page).then((list) => list[tighten])).toBe(nameOf(fit));
      // The hand stays on the task it has moved.
      await expect
        .poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label')))
        .toBe(`Move ${nameOf(fit)}, place ${tighten + 1} of ${plan.tasks.length}`);
      await expect
        .poll(() => panel(page).locator('[aria-live="assertive"]').innerText())
        .toContain(`place ${tighten + 1} of ${plan.tasks.length}`);
      const fault = rows(page).nth(fit).locator('.own-fault');
      expect(await fault.innerText()).toContain('Too early here.');
      expect((await fault.innerText()).toLowerCase()).toContain(nameOf(fit).toLowerCase());
      expect(await slider(page).getAttribute('max')).toBe(
        String(plan.tasks.slice(0, fit).reduce((sum, { steps }) => sum + steps.length, 0)),
      );
      expect(await page.getByRole('button', { name: 'Print' }).getAttribute('aria-disabled')).toBe('true');
      await fault.getByRole('button', { name: /^Put it at the nearest place that works: / }).click();
      await expect.poll(() => panel(page).locator('.own-fault').count()).toBe(0);
      expect((await names(page)).indexOf(nameOf(fit))).toBeLessThan((await names(page)).indexOf(nameOf(tighten)));
    });
  });

  test('it stays in the address and in the tab, a change can be taken back, and the recommended order returns', async () => {
    await onOrder({ ...plain, path: `${ORDER}&tab=own` }, async (page, app) => {
      const usual = await names(page);
      await panel(page)
        .getByRole('button', { name: `Move down: ${nameOf(1)}` })
        .click();
      const own = [usual[0]!, usual[2]!, usual[1]!, ...usual.slice(3)];
      await expect.poll(() => names(page)).toEqual(own);
      expect(await panel(page).innerText()).toContain('Your order works.');
      await expect.poll(() => page.url()).toContain(`own=${ownOf([0, 2, 1, ...plan.tasks.map((_, k) => k).slice(3)])}`);
      // The steps follow it, to the last.
      await expect.poll(() => slider(page).getAttribute('max')).toBe(String(plan.steps.length));
      await page.getByRole('button', { name: '‹ Bike' }).click();
      await page.goto(`${app.origin}${ORDER}&tab=own`);
      await page.reload();
      await expect.poll(() => names(page), { timeout: 20_000 }).toEqual(own);
      await panel(page).getByRole('button', { name: 'Back to the recommended order' }).click();
      await expect.poll(() => names(page)).toEqual(usual);
      await panel(page).getByRole('button', { name: 'Undo the last change' }).click();
      await expect.poll(() => names(page)).toEqual(own);
    });
  });

  test('by mouse: dragged to a place that does not work, and Escape lets go', async () => {
    await onOrder({ ...plain, width: 1500, height: 1400, path: `${ORDER}&tab=own` }, async (page) => {
      const usual = await names(page);
      const from = (await grip(page, firstTightened).boundingBox())!;
      const to = (await rows(page).nth(3).boundingBox())!;
      const drag = async (): Promise<void> => {
        await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
        await page.mouse.down();
        await page.mouse.move(from.x + 24, to.y + 60, { steps: 5 });
        await page.mouse.move(from.x + 24, to.y + 8, { steps: 5 });
      };
      await drag();
      expect(await panel(page).locator('[data-held="true"]').count()).toBe(1);
      await page.keyboard.press('Escape');
      await page.mouse.up();
      expect(await names(page)).toEqual(usual);
      await drag();
      await page.mouse.up();
      await expect.poll(async () => (await names(page)).indexOf(nameOf(firstTightened))).toBe(3);
      expect(await rows(page).nth(3).locator('.own-fault').innerText()).toMatch(/Too early here\.[\s\S]*Waits for/);
    });
  });

  test('by finger on a phone', async () => {
    // High enough that nothing scrolls along.
    await onOrder({ ...phone, height: 1400, path: `${ORDER}&tab=own` }, async (page, { context }) => {
      const before = await names(page);
      const from = (await grip(page, 1).boundingBox())!;
      const next = (await rows(page).nth(2).boundingBox())!;
      const [x, y] = [from.x + from.width / 2, from.y + from.height / 2];
      const far = next.y + next.height - 4 - (await rows(page).nth(1).boundingBox())!.height / 2 + from.height / 2;
      const touch = await context.newCDPSession(page);
      await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
      for (let k = 1; k <= 6; k++)
        await touch.send('Input.dispatchTouchEvent', {
          type: 'touchMove',
          touchPoints: [{ x, y: y + ((far - y) * k) / 6 }],
        });
      await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
      await expect.poll(() => names(page)).toEqual([before[0], before[2], before[1], ...before.slice(3)]);
    });
  });
});

test('access: a part found by name, the least that comes off, tools and threadlocker, and the way back', async () => {
  const { shock } = analysis.model;
  const access = accessOf(plan, shock!.body);
  await onOrder({ ...plain, path: `${ORDER}&tab=access` }, async (page) => {
    await page.getByRole('searchbox', { name: 'Find a part' }).fill('shock');
    await panel(page)
      .locator('.access-group', { hasText: 'Whole pieces' })
      .getByRole('button', { name: /shock/i })
      .click();
    await expect.poll(() => page.url()).toContain(`access=${shock!.body}`);
    await expect
      .poll(() => panel(page).locator('.access-answer').innerText())
      .toContain(`${access.stacks.length} pivot ax`);
    const words = await panel(page).innerText();
    expect(words).toContain(`Off: ${access.strip.length} steps`);
    expect(words).toContain(`And back: ${access.back.length} steps`);
    expect(words).toMatch(/stand-in shock/i);
    expect(await panel(page).locator('.access-wants li').count()).toBe(
      access.tools.length + access.threadlocker.length,
    );
    expect(await slider(page).getAttribute('max')).toBe(String(access.strip.length + access.back.length));
    await panel(page).locator('.plan-step').nth(2).click();
    await expect.poll(() => picture(page).getAttribute('data-step')).toBe('3');
    await page.getByRole('tab', { name: 'Order' }).click();
    await expect.poll(() => slider(page).getAttribute('max')).toBe(String(plan.steps.length));
    await page.getByRole('tab', { name: 'Access' }).click();
    await expect.poll(() => picture(page).getAttribute('data-step')).toBe('3');
  });
});

describe('variants', () => {
  const other = readFileSync(fileURLToPath(new URL('../../models/fjordside-150.json', import.meta.url)), 'utf8');
  const told = (file: string) => {
    const reading = readModel(file);
    if (!reading.ok) throw new Error('order.spec: a model with variants does not read');
    const [order, ...more] = compareVariants(reading.model).filter(({ variant }) => variant !== undefined);
    expect(more).toEqual([]);
    return { order: order!, lines: wordVariantOrder(order!, analyse(reading.model)).lines };
  };
  /** What is listed and marked is what the core finds. */
  async function shows(page: Page, { order, lines }: ReturnType<typeof told>): Promise<void> {
    await expect
      .poll(() => panel(page).locator('.variant-lines li').allInnerTexts(), { timeout: 20_000 })
      .toEqual(lines);
    const differing = new Set([...order.moved, ...order.changed.map(({ task }) => task)]);
    expect(differing.size).toBeGreaterThan(0);
    expect(await panel(page).locator('.variant-table [data-differs="true"]').count()).toBe(differing.size);
  }

  test('what the other build does differently, and the way to its order', async () => {
    const expected = told(other);
    await onOrder({ ...plain, path: '#model=fjordside-150&place=order&tab=variants' }, async (page) => {
      await shows(page, expected);
      expect(await panel(page).innerText()).toMatch(/with other tools/);
      await panel(page)
        .getByRole('button', { name: /^Show the order of / })
        .click();
      await expect.poll(() => page.url()).toContain(`variant=${expected.order.variant!}`);
      await expect.poll(() => page.getByRole('heading', { name: 'Build order' }).count()).toBe(1);
      await expect
        .poll(() => panel(page).locator('.plan-task').count(), { timeout: 20_000 })
        .toBe(expected.order.plan.tasks.length);
    });
  });

  test('an axle that goes in from the other side', async () => {
    const model = JSON.parse(other) as {
      pivots: { stacks: { id: string; from: string }[] }[];
      variants: { stacks: Record<string, { from?: string }> }[];
    };
    const [id, stack] = Object.entries(model.variants[0]!.stacks)[0]!;
    const usual = model.pivots.flatMap(({ stacks }) => stacks).find((each) => each.id === id)!;
    stack.from = usual.from === 'drive' ? 'non-drive' : 'drive';
    const file = JSON.stringify(model);
    const expected = told(file);
    expect(expected.lines.length).toBeGreaterThan(1);
    await onOrderOf(file, async (page) => {
      await page.getByRole('tab', { name: 'Variants' }).click();
      await shows(page, expected);
      expect(await panel(page).innerText()).toMatch(/from another side/);
    });
  });
});

test('a maker’s order that can be kept is followed where one asks for it', async () => {
  const { makersOrder } = plan;
  expect(makersOrder!.isSame).toBe(false);
  const makers = planOf(analysis, { follow: 'makers' });
  expect(makers.follows).toBe('makers');
  await onOrder({ ...plain, path: ORDER }, async (page) => {
    const told = panel(page).locator('.plan-makers');
    await told.locator('summary').click();
    expect(await told.locator('tbody tr').count()).toBe(makersOrder!.stacks.length);
    await told.getByRole('button', { name: 'The maker’s' }).click();
    await expect
      .poll(() => panel(page).locator('.plan-task-name').allInnerTexts(), { timeout: 20_000 })
      .toEqual(makersOrder!.tasks.map((id) => wordTask(id, analysis)));
    await expect.poll(() => page.url()).toContain('follow=makers');
    await expect.poll(() => slider(page).getAttribute('max')).toBe(String(makers.steps.length));
  });
});

test('an order of the author’s that cannot be kept is named link by link; from the menu of a file of one’s own', async () => {
  const model = JSON.parse(text) as { order: string[] };
  const file = JSON.stringify({ ...model, order: [...model.order].reverse() });
  const { makersOrder } = planOfText(file);
  expect(makersOrder!.tasks).toEqual([]);
  await onOrderOf(file, async (page) => {
    const told = panel(page).locator('.plan-makers');
    await expect.poll(() => told.innerText(), { timeout: 20_000 }).toContain('cannot be kept');
    expect(await told.locator('li:visible').count()).toBe(makersOrder!.cycle?.length ?? makersOrder!.conflicts.length);
    expect(await told.locator('tr[data-differs="true"]').count()).toBeGreaterThan(1);
  });
});

test('on paper: the job sheet with a box for every step, and nothing else', async () => {
  await onOrder({ ...plain, path: ORDER }, async (page) => {
    await expect.poll(() => panel(page).locator('.plan-task').count()).toBe(plan.tasks.length);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.job-sheet-line:visible').count()).toBe(plan.steps.length);
    expect(await page.locator('.bar:visible, .plan-page:visible, .head:visible').count()).toBe(0);
  });
});

describe('for everyone', () => {
  test('neither a phone nor a tablet scrolls a tab sideways, and every control is as big as a thumb', async () => {
    await onOrder({ ...phone, path: `${ORDER}&at=60&own=${own()}` }, async (page) => {
      for (const tab of await page.getByRole('tab').all()) {
        await tab.tap();
        await worked(page, tab);
        expect({ tab: await tab.innerText(), ...(await measure(page)) }).toEqual({
          tab: await tab.innerText(),
          wide: [],
          small: [],
        });
      }
      expect(await page.getByRole('tab').count()).toBe(5);
      // The sheet of a tablet lying flat is the narrowest of all.
      await page.setViewportSize({ width: 1024, height: 768 });
      // The steps have no tab of their own there.
      await expect.poll(() => page.getByRole('tab').count()).toBe(4);
      for (const tab of await page.getByRole('tab').all()) {
        await tab.tap();
        await worked(page, tab);
        expect({ tab: await tab.innerText(), ...(await measure(page)) }).toEqual({
          tab: await tab.innerText(),
          wide: [],
          small: [],
        });
      }
    });
  });

  test('no barrier in any tab, light or dark', async () => {
    await onOrder({ ...plain, path: `${ORDER}&at=60&own=${own()}` }, async (page) => {
      for (const colorScheme of usually(['light', 'dark'] as const, 1)) {
        await page.emulateMedia({ colorScheme });
        for (const tab of await page.getByRole('tab').all()) {
          await tab.click();
          await worked(page, tab);
          expect({ tab: await tab.innerText(), barriers: await axe(page, '.floor > :not(.job-sheet)') }).toEqual({
            tab: await tab.innerText(),
            barriers: [],
          });
        }
      }
    });
  });
});

/** An own order with a task in a wrong place. */
function own(): string {
  const order = plan.tasks.map((_, k) => k);
  [order[fit], order[tighten]] = [order[tighten]!, order[fit]!];
  return ownOf(order);
}

/** Tasks by their places in the plan, as an address writes them: by their ids from a to z. */
function ownOf(order: readonly number[]): string {
  const letters = plan.tasks.map(({ id }) => id).sort();
  return order.map((task) => letters.indexOf(plan.tasks[task]!.id).toString(36)).join('.');
}
