/**
 * Browsers of their own for what happens to a disk: each with its own profile, started as a process that a test may
 * kill by its id, on a bare page over the app's store.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type Page } from 'playwright-core';
import { build } from 'vite';
import type { Found } from './kept-page.ts';
import { browserNote } from './served.ts';

const top = fileURLToPath(new URL('../..', import.meta.url));
const POLICY = "default-src 'none'; script-src 'self'; connect-src 'self'";

/** What the bare page says to its server: what it has found, then each number that is kept. */
type Heard = (said: Found | number) => void;
let hear: Heard | undefined;

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
  const script = readFileSync(`${folder}/page.js`);
  const page = `<!doctype html><meta http-equiv="Content-Security-Policy" content="${POLICY}"><script type="module" src="page.js"></script>`;
  const server = createServer((request, answer) => {
    if (request.method === 'POST')
      void text(request).then((said) => {
        answer.end();
        hear?.(JSON.parse(said) as Found | number);
      });
    else if (request.url === '/page.js') answer.setHeader('Content-Type', 'text/javascript').end(script);
    else if (request.url === '/') answer.setHeader('Content-Type', 'text/html; charset=utf-8').end(page);
    else answer.writeHead(404).end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
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

function launch(
  profile: string,
  args: readonly string[],
  within: readonly string[] = [],
): { readonly child: ChildProcess; readonly ended: Promise<void> } {
  const note = browserNote();
  const own = ['--headless', '--disable-gpu', `--user-data-dir=${profile}`];
  const [program = '', ...rest] = [...within, note.path, ...note.args, ...own, ...args];
  const child = spawn(program, rest, { env: { ...process.env, ...note.env }, stdio: ['ignore', 'ignore', 'pipe'] });
  running.add(child);
  const ended = new Promise<void>((resolve) => {
    child.once('exit', () => {
      running.delete(child);
      resolve();
    });
  });
  return { child, ended };
}

/** Has a browser count by itself and kills it once it has said so many numbers; what it found first, and the last one. */
export async function countThenKill(
  profile: string,
  origin: string,
  numbers: number,
): Promise<{ readonly found: Found; readonly said: number }> {
  let found: Found | undefined;
  let said = 0;
  let left = numbers;
  const enough = new Promise<void>((resolve) => {
    hear = (what) => {
      if (typeof what !== 'number') found = what;
      else {
        said = Math.max(said, what);
        if (--left === 0) resolve();
      }
    };
  });
  const { child, ended } = launch(profile, [`${origin}#count`]);
  // Its words go nowhere, but a full pipe would hold it up.
  child.stderr!.resume();
  await Promise.race([enough, ended]);
  child.kill('SIGKILL');
  await ended;
  hear = undefined;
  if (found?.trouble !== undefined) throw new Error(`the store is in trouble: ${found.trouble}`);
  if (!found || left > 0) throw new Error(`the browser ended after ${numbers - left} of ${numbers} numbers`);
  return { found, said };
}

/** Starts a browser on a profile and opens the bare page; `within` is a command that starts it. */
export async function start(profile: string, origin: string, within: readonly string[] = []): Promise<Started> {
  const { child, ended } = launch(profile, ['--remote-debugging-port=0', 'about:blank'], within);
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
