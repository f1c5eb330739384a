// How the app is built, and which tests run where.
// Two builds: the usual one is a folder for any web server, under any path, which keeps itself on the device; with
// `--mode one` it is one HTML file to open by a double click. Either runs under a content-security policy that stands in
// its head: what is written into the page itself is named there by its hash, and nothing else may be.
// The page lives in src/ so that the top level stays short; everything it needs is bundled, and
// every address in the build is relative, so that the built folder works from any path.

import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';
import { defineConfig } from 'vitest/config';
import { SECTION_STYLE } from './src/drawings/sectionStyle.ts';
import { lookSheet, PAGE } from './src/look.ts';
import { LongestFirst } from './tests/setup/longest-first.ts';
import { noticesOf } from './tests/setup/notices.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const underVitest = process.env.VITEST !== undefined;

const hashOf = (text: string | Uint8Array): string => `sha256-${createHash('sha256').update(text).digest('base64')}`;

/** What may run and be loaded; `frame-ancestors` counts in a header alone (tests/setup/serving.mjs). */
function policy(html: string, isOne: boolean): string {
  const script = /<script[^>]*>([\s\S]*?)<\/script>/g;
  const hashes = (found: Iterable<RegExpMatchArray>): string =>
    [...found].map(([, text = '']) => (text === '' ? '' : ` '${hashOf(text)}'`)).join('');
  const scripts = hashes(html.matchAll(script));
  // What a script writes of styles is none of the page's.
  const styles = hashes(html.replace(script, '').matchAll(/<style[^>]*>([\s\S]*?)<\/style>/g));
  const own = isOne ? '' : " 'self'";
  return [
    "default-src 'none'",
    `script-src${own}${scripts}`,
    `style-src${own}${styles} '${hashOf(SECTION_STYLE)}'`,
    `img-src${own} data: blob:`,
    `font-src${own}${isOne ? ' data:' : ''}`,
    ...(isOne ? ['worker-src blob:'] : ["connect-src 'self'", "worker-src 'self'", "manifest-src 'self'"]),
    "base-uri 'none'",
    "form-action 'none'",
    "object-src 'none'",
  ].join('; ');
}

const MANIFEST = {
  name: 'Axlewright',
  short_name: 'Axlewright',
  description: 'Which spacer goes at which linkage pivot, on which side, which way round, and in what order.',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: PAGE.light.ground,
  theme_color: PAGE.light.paper,
  icons: [
    { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
    { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
    { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any maskable' },
  ],
};
/** Of what is copied as it is, that the app needs without a network. */
const COPIED = ['icon.svg', 'icon-192.png', 'icon-512.png'];

/** Writes the policy into the page, and what keeps the app beside it. */
function keptApp(isOne: boolean): Plugin {
  return {
    name: 'kept-app',
    apply: 'build',
    enforce: 'post',
    transformIndexHtml: {
      order: 'post',
      handler: () =>
        isOne
          ? []
          : [
              { tag: 'link', attrs: { rel: 'icon', type: 'image/svg+xml', href: './icon.svg' }, injectTo: 'head' },
              { tag: 'link', attrs: { rel: 'apple-touch-icon', href: './icon-192.png' }, injectTo: 'head' },
              { tag: 'link', attrs: { rel: 'manifest', href: './app.webmanifest' }, injectTo: 'head' },
            ],
    },
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        const page = bundle['index.html'];
        if (page?.type !== 'asset') throw new Error('kept-app: the build has no page');
        const html = String(page.source);
        const meta = `<meta http-equiv="Content-Security-Policy" content="${policy(html, isOne)}" />`;
        // First of all: the letters of a file are told by its first 1024 bytes, and the policy counts from where it stands.
        page.source = html
          .replace(/\s*<meta charset="utf-8" \/>/, '')
          .replace('<head>', () => `<head>\n    <meta charset="utf-8" />\n    ${meta}`);
        if (isOne) {
          page.fileName = 'axlewright.html';
          return;
        }
        this.emitFile({ type: 'asset', fileName: 'app.webmanifest', source: JSON.stringify(MANIFEST) });
        const keeper = Object.values(bundle).find((file) => file.type === 'chunk' && file.name === 'offline');
        if (keeper?.type !== 'chunk') throw new Error('kept-app: the build has nothing that keeps the app');
        const files = [
          ...Object.values(bundle)
            .filter((file) => file !== keeper)
            .map((file) => [
              file.fileName === 'index.html' ? '' : file.fileName,
              hashOf(file.type === 'chunk' ? file.code : file.source),
            ]),
          ['app.webmanifest', hashOf(JSON.stringify(MANIFEST))],
          ...COPIED.map((name) => [name, hashOf(readFileSync(`${here}assets/${name}`))]),
        ].sort(([a = ''], [b = '']) => (a < b ? -1 : 1));
        const version = createHash('sha256').update(JSON.stringify(files)).digest('hex').slice(0, 16);
        keeper.code = keeper.code.replace(/\bFILES\b/, () => JSON.stringify({ version, files }));
      },
    },
  };
}

/** Modules that a build takes something from, those of its worker included. */
const taken = new Set<string>();
const takesModules: Plugin = {
  name: 'takes-modules',
  apply: 'build',
  generateBundle(_options, bundle) {
    for (const file of Object.values(bundle))
      if (file.type === 'chunk')
        for (const [id, { renderedLength }] of Object.entries(file.modules)) if (renderedLength > 0) taken.add(id);
    // A style sheet leaves its chunk, and with it the fonts it names.
    for (const id of this.getModuleIds()) if (/\.css$/.test(id)) taken.add(id);
  },
};

/** Writes the licences of all that ships beside the page. */
const notices: Plugin = {
  name: 'notices',
  apply: 'build',
  generateBundle() {
    this.emitFile({ type: 'asset', fileName: 'notices.txt', source: noticesOf(taken) });
  },
};

/** In one file the worker is a part of it. */
const workerInside: Plugin = {
  name: 'worker-inside',
  enforce: 'pre',
  resolveId(name) {
    return name === './openWorker.ts' ? `${here}src/page/openWorkerInside.ts` : undefined;
  },
};

export default defineConfig(({ mode }) => {
  const isOne = mode === 'one';
  return {
    // The tests name their files from the top of the repository, the page from src/.
    root: underVitest ? here : `${here}src`,
    base: './',
    // A missing file is a 404, not the page again under another name.
    appType: 'mpa',
    publicDir: underVitest || isOne ? false : '../assets',
    plugins: [
      react(),
      // In the head, so that the first paint has them.
      { name: 'look', transformIndexHtml: () => [{ tag: 'style', children: lookSheet(), injectTo: 'head-prepend' }] },
      ...(isOne ? [workerInside, viteSingleFile({ removeViteModuleLoader: true })] : []),
      takesModules,
      notices,
      keptApp(isOne),
    ],
    server: { host: '127.0.0.1', fs: { allow: [here] } },
    preview: { host: '127.0.0.1' },
    // A module from a blob does not start where the page comes from a plain file.
    worker: { format: isOne ? 'iife' : 'es', plugins: () => [takesModules] },
    build: {
      outDir: isOne ? '../dist-one' : '../dist',
      emptyOutDir: true,
      chunkSizeWarningLimit: 900,
      rolldownOptions: {
        ...(isOne ? {} : { input: [`${here}src/index.html`, `${here}src/offline.ts`] }),
        // The core does nothing when it is loaded: what its one door names goes to the chunk that uses it, not to the first.
        treeshake: { moduleSideEffects: [{ test: /[\\/]shared[\\/]/, sideEffects: false }] },
        output: isOne
          ? {}
          : {
              // The browser looks for a new version under the same name for ever.
              entryFileNames: ({ name }) => (name === 'offline' ? '[name].js' : 'assets/[name]-[hash].js'),
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
            // Modules and open pages are shared by the specs of a worker.
            isolate: false,
          },
        },
      ],
    },
  };
});
