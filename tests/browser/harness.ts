// Opens the built app in a real browser for the specs of this folder: one preview server on a free
// loopback port and one browser per spec file, one fresh browser context per `openApp`. Nothing
// leaves the machine: the browser resolves no name but 127.0.0.1, and what a page tried is kept.
// The browser and its flags come from .cache/browser.json, written by the set-up.

import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import axeCore from 'axe-core';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { preview, type PreviewServer } from 'vite';

/** How a page is opened; sizes in CSS pixels. */
export interface Opening {
  width: number;
  height: number;
  /** Which colours the person's system asks for; light if left out. */
  theme?: 'light' | 'dark';
  /** False opens a browser that has no WebGL at all. */
  webgl?: boolean;
  /** What follows the server's address: a file, a query or a #fragment. */
  path?: string;
  /** A finger instead of a mouse. */
  touch?: boolean;
  /** The person's system asks for less motion. */
  stillness?: boolean;
  /** Device pixels per CSS pixel; 1 if left out, since the software renderer pays for each. */
  density?: number;
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
  close: () => Promise<void>;
}

/** One accessibility violation of a serious or critical kind, by axe-core's rule. */
export interface Barrier {
  rule: string;
  impact: 'serious' | 'critical';
  help: string;
  targets: string[];
}

interface BrowserNote {
  path: string;
  from: string;
  args: string[];
  env: Record<string, string>;
}

const top = fileURLToPath(new URL('../..', import.meta.url));
const noWebGL = ['--disable-3d-apis'];
const noOutside = '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1';

// fiber 9.8.2 logs it on every start; of what a page can say, no other line is let through.
const clockRemark = /^THREE\.Clock: This module has been deprecated/;
// The graphics driver of the browser packed for npm remarks on a screenshot's own reading back.
const packedDriverRemark = /^\[\.WebGL-\w+\]GL Driver Message .*GPU stall due to ReadPixels/;

let server: Promise<PreviewServer> | undefined;
const browsers = new Map<boolean, Promise<Browser>>();

/** Opens the built app in a fresh context and loads it; does not wait until it is ready. */
export async function openApp(opening: Opening): Promise<OpenedApp> {
  const origin = originOf(await (server ??= startServer()));
  const browser = await browserWith(opening.webgl ?? true);
  const context = await browser.newContext({
    viewport: { width: opening.width, height: opening.height },
    deviceScaleFactor: opening.density ?? 1,
    colorScheme: opening.theme ?? 'light',
    reducedMotion: opening.stillness === true ? 'reduce' : 'no-preference',
    hasTouch: opening.touch ?? false,
    locale: 'en-GB',
  });
  const noise: string[] = [];
  const outside: string[] = [];
  const page = await context.newPage();
  listen(context, page, origin, noise, outside);
  await page.goto(new URL(opening.path ?? '', origin).href);
  return { page, context, origin, noise, outside, close: () => context.close() };
}

/** Waits until the app has raised its ready flag, which it does after a drawn frame. */
export async function waitReady(page: Page, limit_ms = 60_000): Promise<void> {
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'true', undefined, { timeout: limit_ms });
}

/** The serious and critical violations axe-core finds in the page, or in the part of it that `within` selects. */
export async function axe(page: Page, within?: string): Promise<Barrier[]> {
  await page.evaluate(axeCore.source);
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

/** Closes the browsers and the server; under vitest it runs by itself after each spec file. */
export async function closeAll(): Promise<void> {
  const open = [...browsers.values()];
  const running = server;
  browsers.clear();
  server = undefined;
  for (const browser of open) await (await browser).close();
  if (running !== undefined) await (await running).close();
}

function listen(context: BrowserContext, page: Page, origin: string, noise: string[], outside: string[]): void {
  page.on('console', (message) => {
    const kind = message.type();
    if (kind !== 'error' && kind !== 'warning') return;
    const text = message.text();
    if (!isAllowed(text)) noise.push(`${kind}: ${text}`);
  });
  page.on('pageerror', (error) => noise.push(`uncaught: ${error.stack ?? error.message}`));
  page.on('crash', () => noise.push('the page crashed'));
  const note = (address: string): void => {
    if (!address.startsWith(origin) && !/^(data|blob|about):/.test(address)) outside.push(address);
  };
  context.on('request', (request) => note(request.url()));
  page.on('websocket', (socket) => note(socket.url()));
}

function isAllowed(text: string): boolean {
  return clockRemark.test(text) || (browserNote().from === 'npm' && packedDriverRemark.test(text));
}

async function startServer(): Promise<PreviewServer> {
  if (!existsSync(`${top}dist/index.html`)) {
    throw new Error('harness: there is no built app in dist/; run `npm run build`, or `npm test`, which builds it.');
  }
  // Without our config file: under vitest that one points at the tests, not at the page.
  return preview({
    configFile: false,
    root: `${top}src`,
    base: './',
    appType: 'mpa',
    logLevel: 'error',
    build: { outDir: '../dist' },
    preview: { host: '127.0.0.1', port: 0 },
  });
}

function originOf(running: PreviewServer): string {
  const address = running.httpServer.address();
  if (address === null || typeof address === 'string')
    throw new Error(`harness: the preview server has no port but ${address}`);
  return `http://127.0.0.1:${address.port}/`;
}

function browserWith(webgl: boolean): Promise<Browser> {
  const running = browsers.get(webgl) ?? launch(webgl);
  browsers.set(webgl, running);
  return running;
}

async function launch(webgl: boolean): Promise<Browser> {
  const note = browserNote();
  return chromium.launch({
    executablePath: note.path,
    args: [...note.args, noOutside, ...(webgl ? [] : noWebGL)],
    env: { ...definedOnly(process.env), ...note.env },
  });
}

function browserNote(): BrowserNote {
  try {
    return JSON.parse(readFileSync(`${top}.cache/browser.json`, 'utf8')) as BrowserNote;
  } catch (cause) {
    throw new Error('harness: no browser has been set up; run `node tests/setup/prepare.mjs --browser`.', { cause });
  }
}

function definedOnly(env: NodeJS.ProcessEnv): Record<string, string> {
  return Object.fromEntries(Object.entries(env).filter((entry): entry is [string, string] => entry[1] !== undefined));
}

// Outside vitest (a script that takes pictures, say) the caller calls closeAll itself.
if (process.env.VITEST !== undefined) {
  const { afterAll } = await import('vitest');
  afterAll(closeAll);
}
