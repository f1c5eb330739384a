/**
 * The command line as one file that node starts at once, built before the first test that runs it: the sources through
 * a loader take three times as long to start, and a test file starts them twenty times.
 */
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const top = fileURLToPath(new URL('../..', import.meta.url));

/** The built file. */
export const COMMAND_LINE = `${top}.cache/command-line/cli.mjs`;

/** Vitest calls it before the first test of the core. */
export default async function setup(): Promise<void> {
  await build({
    configFile: false,
    root: top,
    logLevel: 'error',
    publicDir: false,
    ssr: { noExternal: true },
    build: {
      ssr: 'src/cli.ts',
      outDir: '.cache/command-line',
      emptyOutDir: true,
      rolldownOptions: { output: { entryFileNames: 'cli.mjs' } },
    },
  });
}
