/** Opens the built page, looks at it, and holds that nothing was said on the console and nothing left the machine. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { usually } from '../setup/series.ts';
import { openApp, waitReady, type OpenedApp, type Opening } from './harness.ts';

/** Run `look` on a page that is ready; console lines or requests to elsewhere fail it. */
export async function using(opening: Opening, look: (app: OpenedApp, page: Page) => Promise<void>): Promise<void> {
  const app = await openApp(opening);
  let isSound = false;
  try {
    await waitReady(app.page);
    await look(app, app.page);
    expect(app.noise).toEqual([]);
    expect(app.outside).toEqual([]);
    isSound = true;
  } finally {
    await app.close(isSound);
  }
}

/** Looks at the open page in the dark theme, in the long run in the light one too, and leaves it in the light. */
export async function inThemes(page: Page, look: (theme: 'light' | 'dark') => Promise<void>): Promise<void> {
  const enter = async (colorScheme: 'light' | 'dark'): Promise<void> => {
    await page.emulateMedia({ colorScheme });
    await expect.poll(() => page.evaluate(() => document.documentElement.dataset.theme)).toBe(colorScheme);
  };
  for (const theme of usually(['light', 'dark'] as const, 1)) {
    await enter(theme);
    await look(theme);
  }
  await enter('light');
}

/**
 * What of the page cannot be seen or pressed: cut off at the window's edge, smaller than a thumb, or under something
 * else.
 */
export async function outOfReach(page: Page): Promise<string[]> {
  return page.locator('button:visible, select:visible, input:visible').evaluateAll((all) =>
    all
      // What scrolls along its strip, the hidden file picker and the names on the picture have rules of their own.
      .filter(
        (element) =>
          element.closest(
            '.scene, .pivots, .parts, .card, .panel-scroll, .row-panel, .sheet-body, .plan-page, .job-page, .felt-page, .tray-side',
          ) === null && element.getBoundingClientRect().width > 2,
      )
      .flatMap((element) => {
        const box = element.getBoundingClientRect();
        const name = `${element.getAttribute('aria-label') ?? element.textContent} (${element.className})`;
        const least = Math.min(box.width, box.height);
        if (least < 43.5) return [`${name} is ${least.toFixed(0)} px`];
        if (
          box.left < -0.5 ||
          box.right > window.innerWidth + 0.5 ||
          box.top < -0.5 ||
          box.bottom > window.innerHeight + 0.5
        )
          return [`${name} is cut off`];
        const top = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
        return top !== null && (element.contains(top) || top.contains(element))
          ? []
          : [`${name} is under ${top?.className ?? 'nothing'}`];
      }),
  );
}
