/**
 * What every browser spec shares: the built app served on a free loopback port, and three browsers: one that draws the
 * picture, one whose pages leave it unpainted, and one without WebGL. Started once for all specs, before the first of them, and reached over their addresses.
 *
 * Nothing leaves the machine: the browsers resolve no name but 127.0.0.1. Which browser and with which flags stands in
 * `.cache/browser.json`, written by the set-up.
 */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { serveFolder } from '../setup/serving.mjs';

/** What a browser makes of the picture. */
export type Graphics = 'drawing' | 'unpainted' | 'blind';

/** Addresses of what is shared: the browsers' for playwright's `connect`. */
export interface Served extends Readonly<Record<Graphics, string>> {
  /** The server's, ending in a slash. */
  readonly origin: string;
}

/** What the set-up has found out about the browser. */
export interface BrowserNote {
  readonly path: string;
  readonly from: string;
  readonly args: string[];
  readonly env: Record<string, string>;
}

declare module 'vitest' {
  export interface ProvidedContext {
    served: Served;
  }
}

const top = fileURLToPath(new URL('../..', import.meta.url));
// The last of the compilers works longer on a page than a test lasts, and the one before it is worth its work only for
// what is called very often: beside a page they take as long as the page itself.
const SHORT_LIVED = '--js-flags=--no-turbofan --invocation-count-for-maglev=2000';
// A page is painted by the processor itself at a tenth of what a software renderer takes for it.
const FLAGS: Readonly<Record<Graphics, readonly string[]>> = {
  drawing: [SHORT_LIVED],
  unpainted: ['--disable-gpu-compositing', SHORT_LIVED],
  blind: ['--disable-3d-apis', '--disable-gpu', SHORT_LIVED],
};
const noOutside = '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1';

/** Starts server and browsers; `close` ends them. */
export async function serve(): Promise<Served & { readonly close: () => Promise<void> }> {
  const server = await startServer();
  const [drawing, unpainted, blind] = await Promise.all([
    launch(FLAGS.drawing),
    launch(FLAGS.unpainted),
    launch(FLAGS.blind),
  ]);
  const browsers = [drawing, unpainted, blind];
  const close = async (): Promise<void> => {
    for (const browser of browsers) await browser.close();
    await server.close();
  };
  return {
    origin: server.origin,
    drawing: drawing.wsEndpoint(),
    unpainted: unpainted.wsEndpoint(),
    blind: blind.wsEndpoint(),
    close,
  };
}

/** Vitest calls it before the first spec, and what it returns after the last. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { close, ...served } = await serve();
  project.provide('served', served);
  return close;
}

/** What the set-up wrote down. */
export function browserNote(): BrowserNote {
  try {
    return JSON.parse(readFileSync(`${top}.cache/browser.json`, 'utf8')) as BrowserNote;
  } catch (cause) {
    throw new Error('served: no browser has been set up; run `node tests/setup/prepare.mjs --browser`.', { cause });
  }
}

function launch(args: readonly string[]): ReturnType<typeof chromium.launchServer> {
  const note = browserNote();
  return chromium.launchServer({
    executablePath: note.path,
    args: [...note.args, noOutside, ...args],
    env: { ...process.env, ...note.env },
    host: '127.0.0.1',
  });
}

function startServer(): ReturnType<typeof serveFolder> {
  if (!existsSync(`${top}dist/index.html`)) {
    throw new Error('served: there is no built app in dist/; run `npm run build`, or `npm test`, which builds it.');
  }
  return serveFolder({ folder: `${top}dist` });
}
