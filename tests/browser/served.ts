/**
 * The built app served on a free loopback port, once for all specs, and the browsers that each worker of them starts: one
 * that draws the picture, one whose pages leave it unpainted, and one without WebGL. A worker has browsers of its own,
 * since all that is said to a shared one would go through a third process.
 *
 * Nothing leaves the machine: the browsers resolve no name but 127.0.0.1. Which browser and with which flags stands in
 * `.cache/browser.json`, written by the set-up.
 */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { serveFolder } from '../setup/serving.mjs';

/** What a browser makes of the picture. */
export type Graphics = 'drawing' | 'unpainted' | 'blind';

/** What is shared by all specs. */
export interface Served {
  /** The server's address, ending in a slash. */
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

/** Starts the server; `close` ends it. */
export async function serve(): Promise<Served & { readonly close: () => Promise<void> }> {
  if (!existsSync(`${top}dist/index.html`)) {
    throw new Error('served: there is no built app in dist/; run `npm run build`, or `npm test`, which builds it.');
  }
  const { origin, close } = await serveFolder({ folder: `${top}dist` });
  return { origin, close };
}

/** Starts a browser, which ends with the process that has started it. */
export function launch(graphics: Graphics): Promise<Browser> {
  const note = browserNote();
  return chromium.launch({
    executablePath: note.path,
    args: [...note.args, noOutside, ...FLAGS[graphics]],
    env: { ...process.env, ...note.env },
  });
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
