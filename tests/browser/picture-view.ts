/**
 * The picture as a spec or the bench looks at it: its views by address, when it has come to rest, and what a frame
 * cost.
 */
import type { Page } from 'playwright-core';

/** The views whose pictures are kept: what follows `#model=skarn-140`. */
export const VIEWS = {
  bike: '',
  tight: '&pivot=rocker-frame&apart=0',
  apart: '&pivot=rocker-frame&apart=1',
  cut: '&pivot=rocker-frame&apart=1&cut=yes',
  step: '&pivot=rocker-frame&step=3',
} as const;

/** A view whose picture is kept. */
export type ViewName = keyof typeof VIEWS;

/** The address of a view. */
export const viewAddress = (name: ViewName): string => `#model=skarn-140${VIEWS[name]}`;

/** The windows whose pictures are kept: an upright phone, a tablet lying flat, a projector; CSS pixels. */
export const WINDOWS = [
  { width: 390, height: 844 },
  { width: 1024, height: 768 },
  { width: 1920, height: 1080 },
] as const;

/** A view in a window under a theme, as its picture is named. */
export interface Look {
  readonly view: ViewName;
  readonly theme: 'light' | 'dark';
  readonly name: string;
}

/**
 * Goes through every view of an open page at rest each time, in both themes or in the named one, which the page then
 * has; it is opened with `viewAddress('bike')`.
 */
export async function eachLook(
  page: Page,
  look: (at: Look) => Promise<void>,
  only?: Look['theme'] | undefined,
): Promise<void> {
  const width = page.viewportSize()?.width;
  let theme: Look['theme'] = only ?? 'light';
  for (const view of Object.keys(VIEWS) as ViewName[]) {
    await page.emulateMedia({ colorScheme: theme });
    await goTo(page, viewAddress(view));
    await look({ view, theme, name: `${view}-${width}-${theme}` });
    if (only) continue;
    // The other theme of the same view, and from it to the next: a slow renderer sets up half as many scenes.
    theme = theme === 'light' ? 'dark' : 'light';
    // The frames of the other theme are waited for: a busy machine takes them up late.
    const other = theme;
    await redrawn(page, () => page.emulateMedia({ colorScheme: other }));
    await look({ view, theme, name: `${view}-${width}-${theme}` });
  }
}

/** What the last frame cost; counts of the renderer with the shadow's pass in. */
export interface FrameCost {
  readonly calls: number;
  readonly triangles: number;
  /** Frames drawn since the picture was set up. */
  readonly frames: number;
  readonly geometries: number;
  readonly textures: number;
}

/**
 * No frame for this long, and through this many turns of the page, is rest: a fine still follows the last movement
 * within less.
 */
const REST = { time_ms: 340, turns: 12 } as const;

// As text: what runs the bench gives functions names by a helper of its own, which a page does not have.
const UNTIL_REST = `new Promise((resolve) => {
  let frames;
  let from = 0;
  let turns = 0;
  const look = (now) => {
    const { dataset } = document.querySelector('.scene') ?? {};
    const isStill = document.documentElement.dataset.ready === 'true' && dataset?.moving === 'false' && dataset.still === 'true' && dataset.frames === frames;
    turns = isStill ? turns + 1 : 0;
    if (!isStill) from = now;
    frames = dataset?.frames;
    // Turns are held up with the frames of a slow renderer; the clock is not.
    if (turns >= ${REST.turns} && now - from > ${REST.time_ms}) resolve();
    else requestAnimationFrame(look);
  };
  // The page takes up a new address, and hands the picture over, within two turns.
  requestAnimationFrame(() => requestAnimationFrame(look));
})`;

/** Waits until the picture has settled and no frame has followed for a while. */
export async function settled(page: Page): Promise<void> {
  await page.evaluate(UNTIL_REST);
}

/** Does what changes the picture, and waits for the frames that follow. */
export async function redrawn(page: Page, act: () => Promise<void>): Promise<void> {
  const { frames } = await frameCost(page);
  await act();
  await page.waitForFunction(
    (before) => Number(document.querySelector<HTMLElement>('.scene')?.dataset.frames) > before,
    frames,
  );
  await settled(page);
}

/** Goes to an address on the open page, as a link would, and waits for the picture. */
export async function goTo(page: Page, hash: string): Promise<void> {
  await page.evaluate((to) => {
    window.location.hash = to;
  }, hash);
  await settled(page);
}

/** What the last frame cost. */
export async function frameCost(page: Page): Promise<FrameCost> {
  const counts = await page.locator('.scene').evaluate((element) => ({ ...(element as HTMLElement).dataset }));
  const read = (key: keyof FrameCost): number => {
    const value = Number(counts[key]);
    if (!Number.isFinite(value)) throw new Error(`picture-view: the picture does not say its ${key}: ${counts[key]}`);
    return value;
  };
  return {
    calls: read('calls'),
    triangles: read('triangles'),
    frames: read('frames'),
    geometries: read('geometries'),
    textures: read('textures'),
  };
}
