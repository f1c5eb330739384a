/**
 * Browsers of their own for what happens to a disk: each with its own profile, started as a process that a test may
 * kill by its id, on a bare page over the app's store.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type Page } from 'playwright-core';
import { build } from 'vite';
import { serveFolder } from '../setup/serving.mjs';
import { browserNote } from './served.ts';

const top = fileURLToPath(new URL('../..', import.meta.url));
const POLICY = "default-src 'none'; script-src 'self'";

/** Builds the bare page and serves it. */
export async function serveBare(): Promise<{ readonly origin: string; readonly close: () => Promise<void> }> {
  const folder = `${top}.cache/kept-page`;
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  await build({
    configFile: false,
    logLevel: 'error',
    root: top,
    publicDir: false,
    define: { 'process.env.NODE_ENV': '"production"' },
    build: {
      outDir: folder,
      lib: { entry: `${top}tests/browser/kept-page.ts`, formats: ['es'], fileName: () => 'page.js' },
    },
  });
  writeFileSync(
    `${folder}/index.html`,
    `<!doctype html><meta http-equiv="Content-Security-Policy" content="${POLICY}"><script type="module" src="page.js"></script>`,
  );
  return serveFolder({ folder });
}

/** A browser with a profile. */
export interface Started {
  readonly page: Page;
  /** Its own process, killed as a flat battery would. */
  readonly kill: () => Promise<void>;
  /** Its own process, asked to end. */
  readonly close: () => Promise<void>;
}

const running = new Set<ChildProcess>();

/** Ends the browsers that a failed test has left. */
export function killAll(): void {
  for (const child of running) child.kill('SIGKILL');
}

/** Starts a browser on a profile and opens the bare page; `within` is a command that starts it. */
export async function start(profile: string, origin: string, within: readonly string[] = []): Promise<Started> {
  const note = browserNote();
  const args = ['--headless', '--disable-gpu', '--remote-debugging-port=0', `--user-data-dir=${profile}`];
  const [program = '', ...rest] = [...within, note.path, ...note.args, ...args, 'about:blank'];
  const child = spawn(program, rest, { env: { ...process.env, ...note.env }, stdio: ['ignore', 'ignore', 'pipe'] });
  running.add(child);
  const ended = new Promise<void>((resolve) => {
    child.once('exit', () => {
      running.delete(child);
      resolve();
    });
  });
  const browser = await chromium.connectOverCDP(await addressOf(child));
  const page = browser.contexts()[0]!.pages()[0]!;
  await page.goto(origin);
  await page.waitForFunction(() => document.title === 'ready');
  const end = async (how: 'SIGKILL' | 'SIGTERM'): Promise<void> => {
    child.kill(how);
    await ended;
  };
  return { page, kill: () => end('SIGKILL'), close: () => politely(browser, ended) };
}

async function politely(browser: Browser, ended: Promise<void>): Promise<void> {
  const session = await browser.newBrowserCDPSession();
  await session.send('Browser.close').catch(() => undefined);
  await ended;
}

/** Where a browser that was just started listens: it says so itself. */
function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stderr!.on('data', (words: Buffer) => {
      said += words.toString('utf8');
      const [, address] = /DevTools listening on (ws:\S+)/.exec(said) ?? [];
      if (address !== undefined) resolve(address);
    });
    child.once('exit', () => reject(new Error(`the browser ended at once: ${said}`)));
  });
}
