// How the app is built and served, and which tests run where.
// The page lives in src/ so that the top level stays short; everything it needs is bundled, and
// every address in the build is relative, so that the built folder works from any path.

import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';
import { lookSheet } from './src/look.ts';
import { LongestFirst } from './tests/setup/longest-first.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const underVitest = process.env.VITEST !== undefined;

export default defineConfig({
  // The tests name their files from the top of the repository, the page from src/.
  root: underVitest ? here : `${here}src`,
  base: './',
  // A missing file is a 404, not the page again under another name.
  appType: 'mpa',
  publicDir: underVitest ? false : '../assets',
  plugins: [
    react(),
    // In the head, so that the first paint has them.
    { name: 'look', transformIndexHtml: () => [{ tag: 'style', children: lookSheet(), injectTo: 'head-prepend' }] },
  ],
  server: { host: '127.0.0.1', fs: { allow: [here] } },
  preview: { host: '127.0.0.1' },
  worker: { format: 'es' },
  build: {
    outDir: '../dist',
    emptyOutDir: true,
    chunkSizeWarningLimit: 900,
    rolldownOptions: {
      // The core does nothing when it is loaded: what its one door names goes to the chunk that uses it, not to the first.
      treeshake: { moduleSideEffects: [{ test: /[\\/]shared[\\/]/, sideEffects: false }] },
      output: {
        codeSplitting: {
          groups: [
            // React first: everything else imports it, and a page without WebGL needs only it.
            {
              name: 'react',
              test: /node_modules[\\/](react|react-dom|scheduler|zustand|use-sync-external-store)[\\/]/,
              priority: 30,
            },
            // Only the library itself: an exporter from its examples stays with the page that loads it.
            { name: 'three', test: /node_modules[\\/]three[\\/](build|src)[\\/]/, priority: 20 },
            {
              name: 'fiber',
              test: /node_modules[\\/](@react-three|three-stdlib|its-fine|react-use-measure|suspend-react)[\\/]/,
              priority: 10,
            },
          ],
        },
      },
    },
  },
  test: {
    passWithNoTests: false,
    // A spec waits for its browser most of the time, and the core fills the wait.
    maxWorkers: availableParallelism() + 1,
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          name: 'core',
          root: here,
          environment: 'node',
          include: ['tests/unit/**/*.test.{ts,tsx}', 'tests/reference/**/*.test.ts'],
          globalSetup: ['tests/setup/command-line.ts'],
          testTimeout: 30_000,
          // No test file changes what another sees: each module is loaded once a worker.
          isolate: false,
        },
      },
      {
        test: {
          name: 'browser',
          root: here,
          environment: 'node',
          include: ['tests/browser/**/*.spec.ts'],
          globalSetup: ['tests/browser/served.ts'],
          testTimeout: 120_000,
          expect: { poll: { timeout: 10_000 } },
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
