// The command line as one file that node starts at once: the sources through a loader take three times as long, and a
// test file starts them twenty times. Built at set-up, and again where a source is newer than the file. Needs the
// packages only when it builds.

import { mkdirSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { holdLock } from './lock.mjs';

const top = fileURLToPath(new URL('../..', import.meta.url));
const folder = join(top, '.cache', 'command-line');
const SOURCES = ['shared', 'src', 'package-lock.json', 'tests/setup/bundle.mjs'];

/** The built file. */
export const COMMAND_LINE = join(folder, 'cli.mjs');

/** Builds the file where there is none that is as new as the sources. */
export async function makeCommandLine() {
  if (isFresh()) return;
  mkdirSync(folder, { recursive: true });
  const release = await holdLock(join(top, '.cache', 'command-line.lock'), () => undefined);
  try {
    if (!isFresh()) await buildNow();
  } finally {
    release();
  }
}

function isFresh() {
  const built_ms = statSync(COMMAND_LINE, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return SOURCES.every((path) => newest_ms(join(top, path)) < built_ms);
}

/** A folder is as new as the newest of what is in it; that one was taken out shows in its own time. */
function newest_ms(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newest_ms(join(path, name))));
}

async function buildNow() {
  const { build } = await import('vite');
  await build({
    configFile: false,
    root: top,
    logLevel: 'error',
    publicDir: false,
    ssr: { noExternal: true },
    build: {
      ssr: 'src/cli.ts',
      outDir: folder,
      emptyOutDir: true,
      rolldownOptions: { output: { entryFileNames: 'cli.mjs' } },
    },
  });
}
