/**
 * Opens the built app in a real browser for the specs of this folder: one page a worker for each kind of device, used
 * again by the next test, of whatever spec. A test that passed and left nothing behind, neither on the disk nor a sheet
 * over the page, leaves its page running, and the next of the same spec goes on from there by its own address: loading
 * the app costs more than most tests. After any other everything it left is taken away and the app loaded anew. What a
 * page tried outside this machine is kept.
 *
 * The server is that of `served.ts`, shared by all specs, the browsers are started there, by each worker its own; a script
 * outside vitest starts both.
 */
import axeCore from 'axe-core';
import { type Browser, type BrowserContext, type CDPSession, type Page } from 'playwright-core';
import { KEEP_SCENE } from './scene-ids.ts';
import { browserNote, launch, serve, type Graphics, type Served } from './served.ts';

/** How a page is opened; sizes in CSS pixels. */
export interface Opening {
  width: number;
  height: number;
  /** Which colours the person's system asks for; light if left out. */
  theme?: 'light' | 'dark';
  /** False opens a browser that has no WebGL at all: the cheapest page, for whatever is not about the picture. */
  webgl?: boolean;
  /**
   * True paints the picture, for a test that judges what is seen in it. Else it is there with its place, names and
   * state, and its canvas stays empty: painting it costs a processor four times the rest of a page.
   */
  isPainted?: boolean;
  /** What follows the server's address: a file, a query or a #fragment. */
  path?: string;
  /** A finger instead of a mouse. */
  touch?: boolean;
  /** The person's system asks for less motion. */
  stillness?: boolean;
  /** Device pixels per CSS pixel; 1 if left out, since the software renderer pays for each. */
  density?: number;
  /** A page of its own, for a test that changes what every later load of the page would meet. */
  isOwn?: boolean;
  /** The app is loaded anew for it, and after it: for a test of how a page begins, fails or keeps. */
  isFresh?: boolean;
  /** Its scene can be read (`scene-ids.ts`); a page of its own. */
  keepsScene?: boolean;
  /** Its timers and frames also come when the test says so, by `letPass`; a page of its own. */
  hasClock?: boolean;
}

/** One opened page, and what it should not have done. */
export interface OpenedApp {
  page: Page;
  context: BrowserContext;
  /** The server's address, ending in a slash. */
  origin: string;
  /** Console errors and warnings and uncaught errors, as they came; empty in a sound page. */
  noise: string[];
  /** Addresses asked for outside this machine; empty in a sound page. */
  outside: string[];
  /** `isSound`: what was to be seen was seen, and the page may go on. */
  close: (isSound?: boolean) => Promise<void>;
}

/** One accessibility violation of a serious or critical kind, by axe-core's rule. */
export interface Barrier {
  rule: string;
  impact: 'serious' | 'critical';
  help: string;
  targets: string[];
}

// fiber 9.8.2 logs it on every start; of what a page can say, no other line is let through.
const clockRemark = /^THREE\.Clock: This module has been deprecated/;
// The graphics driver of the browser packed for npm remarks on a screenshot's own reading back.
const packedDriverRemark = /^\[\.WebGL-\w+\]GL Driver Message .*GPU stall due to ReadPixels/;

/** Put into a page before it loads: whatever is drawn is let go of, after all that was to be said of it. */
const DRAW_NOTHING = `(() => {
  for (const name of ['drawArrays', 'drawElements', 'drawArraysInstanced', 'drawElementsInstanced', 'drawRangeElements'])
    WebGL2RenderingContext.prototype[name] = () => undefined;
})()`;

/** A page that is opened again and again; `heard` is who listens to it now. */
interface Kept {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly session: CDPSession;
  heard: { readonly noise: string[]; readonly outside: string[] };
  /** While a test has it. One that ran out of time may have it still: the next test then gets another page. */
  isBusy: boolean;
  /** The spec whose last test left the app running here: the next test of it may go on from there. */
  leftBy: string | undefined;
}

let own: ReturnType<typeof serve> | undefined;
const browsers = new Map<Graphics, Promise<Browser>>();
const pages = new Map<string, Promise<Kept>>();

/** Opens the built app as if for the first time and loads it; does not wait until it is ready. */
export async function openApp(opening: Opening): Promise<OpenedApp> {
  const { origin } = await served();
  const { webgl = true, isPainted = false, touch = false, density = 1, hasClock = false, keepsScene = false } = opening;
  const { isOwn = hasClock || keepsScene, isFresh = false, path = '' } = opening;
  const graphics = !webgl ? 'blind' : isPainted ? 'drawing' : 'unpainted';
  const device = JSON.stringify([graphics, touch, density]);
  const before = isOwn ? undefined : await pages.get(device);
  const isFree = before !== undefined && !before.isBusy;
  const making = isFree ? Promise.resolve(before) : newPage(origin, graphics, touch, density);
  if (!isOwn) pages.set(device, making);
  const kept = await making;
  kept.isBusy = true;
  const { page, context } = kept;
  const noise: string[] = [];
  const outside: string[] = [];
  const spec = await nameOfSpec();
  const goesOn = spec !== undefined && kept.leftBy === spec && !isFresh && /^(#|$)/.test(path);
  if (kept.leftBy !== undefined && !goesOn) await clear(kept, origin);
  kept.heard = { noise, outside };
  await page.setViewportSize({ width: opening.width, height: opening.height });
  await page.emulateMedia({
    media: null,
    colorScheme: opening.theme ?? 'light',
    reducedMotion: opening.stillness === true ? 'reduce' : 'no-preference',
    forcedColors: 'none',
  });
  if (hasClock) await page.clock.install();
  if (keepsScene) await page.addInitScript(KEEP_SCENE);
  if (goesOn) await goOn(page, path);
  else await page.goto(new URL(path, origin).href);
  const close = async (isSound = false): Promise<void> => {
    if (isOwn) return context.close();
    const mayGoOn = isSound && !isFresh && !(await hasLeft(page, origin)) && (await resetTabs(page));
    kept.leftBy = mayGoOn ? spec : undefined;
    if (kept.leftBy === undefined) await clear(kept, origin);
    kept.isBusy = false;
  };
  return { page, context, origin, noise, outside, close };
}

async function newPage(origin: string, graphics: Graphics, hasTouch: boolean, density: number): Promise<Kept> {
  const browser = await browserWith(graphics);
  const context = await browser.newContext({ deviceScaleFactor: density, hasTouch, locale: 'en-GB' });
  // Keeping the app on the device has its own spec; here each page would fetch all of it anew.
  await context.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, 'serviceWorker'));
  if (graphics === 'unpainted') await context.addInitScript(DRAW_NOTHING);
  const page = await context.newPage();
  const kept = {
    page,
    context,
    session: await context.newCDPSession(page),
    heard: { noise: [], outside: [] },
    isBusy: false,
    leftBy: undefined,
  };
  listen(kept, origin);
  return kept;
}

/** Leaves the app, and takes away what it has kept and where the mouse was. */
async function clear(kept: Kept, origin: string): Promise<void> {
  const { page, session } = kept;
  // What is kept for the tab alone can be reached only from a page of the same origin; and the next load of the app
  // finds its process running.
  await page.goto(`${origin}icon.svg`);
  await page.evaluate(() => sessionStorage.clear());
  await session.send('Storage.clearDataForOrigin', { origin: new URL(origin).origin, storageTypes: 'all' });
  await page.unrouteAll();
  await page.mouse.move(0, 0);
  kept.leftBy = undefined;
}

/**
 * Opens the tab that each list begins with: the findings of the side sheet, of any other the first. Which one is open
 * stands in no address. False if one does not open.
 */
async function resetTabs(page: Page): Promise<boolean> {
  return page.evaluate(async () => {
    const shut = (): HTMLElement[] =>
      [...document.querySelectorAll('[role="tablist"]')]
        .map((list) => list.querySelector<HTMLElement>('#tab-card') ?? list.querySelector<HTMLElement>('[role="tab"]')!)
        .filter((tab) => tab.getAttribute('aria-selected') !== 'true');
    for (const tab of shut()) tab.click();
    await new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(next)));
    return shut().length === 0;
  });
}

/** Whether a test has left something that the next would meet: on the disk, over the page, or another page. */
async function hasLeft(page: Page, origin: string): Promise<boolean> {
  if (!page.url().startsWith(`${origin}#`) || page.context().pages().length > 1) return true;
  return page.evaluate(async (): Promise<boolean> => {
    if (document.querySelector('dialog[open]') !== null) return true;
    const isThere = (await indexedDB.databases()).some(({ name }) => name === 'axlewright');
    if (!isThere) return false;
    return new Promise((resolve) => {
      const asked = indexedDB.open('axlewright');
      asked.onerror = () => resolve(true);
      asked.onsuccess = () => {
        const count = asked.result.transaction('events').objectStore('events').count();
        count.onerror = () => resolve(true);
        count.onsuccess = () => resolve(count.result > 0);
        asked.result.close();
      };
    });
  });
}

/** Goes to an address on a page that runs the app, by way of the bare bike, where nothing of a pivot stays open. */
async function goOn(page: Page, hash: string): Promise<void> {
  await page.mouse.move(0, 0);
  await page.evaluate(async (to) => {
    const turns = (): Promise<void> =>
      new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(() => next())));
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    for (const address of new Set(['#', to || '#'])) {
      window.location.hash = address;
      await turns();
    }
  }, hash);
}

/** Waits until the app has raised its ready flag, which it does after a drawn frame. */
export async function waitReady(page: Page, limit_ms = 60_000): Promise<void> {
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'true', undefined, { timeout: limit_ms });
}

/** For the page that much time passes at once, with all it had timers and frames for; opened with `hasClock`. */
export async function letPass(page: Page, time_ms: number): Promise<void> {
  await page.clock.runFor(time_ms);
}

/** The serious and critical violations axe-core finds in the page, or in the part of it that `within` selects. */
export async function axe(page: Page, within?: string): Promise<Barrier[]> {
  await bringAxe(page);
  const { violations } = await page.evaluate((selector) => {
    const runner = (window as unknown as { axe: typeof axeCore }).axe;
    return runner.run(selector ?? document, { resultTypes: ['violations'] });
  }, within);
  return violations.flatMap(({ id, impact, help, nodes }) =>
    impact === 'serious' || impact === 'critical'
      ? [{ rule: id, impact, help, targets: nodes.map((node) => node.target.join(' ')) }]
      : [],
  );
}

/** Puts axe-core into the page, once a load. */
export async function bringAxe(page: Page): Promise<void> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeCore.source);
}

/**
 * Lets go of pages, browsers and the server, for a script outside vitest. Specs leave theirs to the next spec of the same
 * worker, and all of it ends with the browsers.
 */
export async function closeAll(): Promise<void> {
  const open = [...browsers.values()];
  const running = own;
  pages.clear();
  browsers.clear();
  own = undefined;
  for (const browser of open) await (await browser).close();
  await (await running)?.close();
}

function listen(kept: Kept, origin: string): void {
  const { page, context } = kept;
  const say = (text: string): unknown => kept.heard.noise.push(text);
  page.on('console', (message) => {
    const kind = message.type();
    if (kind !== 'error' && kind !== 'warning') return;
    const text = message.text();
    // The bare picture that a page waits at names no icon, and the browser asks for one; that may be said late.
    if (message.location().url === `${origin}favicon.ico`) return;
    if (!isAllowed(text)) say(`${kind}: ${text}`);
  });
  page.on('pageerror', (error) => say(`uncaught: ${error.stack ?? error.message}`));
  page.on('crash', () => say('the page crashed'));
  const note = (address: string): void => {
    if (!address.startsWith(origin) && !/^(data|blob|about):/.test(address)) kept.heard.outside.push(address);
  };
  context.on('request', (request) => note(request.url()));
  page.on('websocket', (socket) => note(socket.url()));
}

function isAllowed(text: string): boolean {
  return clockRemark.test(text) || (browserNote().from === 'npm' && packedDriverRemark.test(text));
}

/** The spec that is being run; none in a script. */
async function nameOfSpec(): Promise<string | undefined> {
  return process.env.VITEST === undefined ? undefined : (await import('vitest')).expect.getState().testPath;
}

async function served(): Promise<Served> {
  if (process.env.VITEST === undefined) return (own ??= serve());
  const { inject } = await import('vitest');
  return inject('served');
}

function browserWith(graphics: Graphics): Promise<Browser> {
  const running = browsers.get(graphics) ?? launch(graphics);
  browsers.set(graphics, running);
  return running;
}
