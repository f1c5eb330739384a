// Finds or installs a Chromium for the tests, and notes where it is and how to start it in
// .cache/browser.json, which tests/browser/harness.ts reads. In this order: the program named in
// AXLEWRIGHT_BROWSER, an installed Chrome, Chromium or Edge, Debian's package when we are root
// there, a Chromium packed for npm (Linux x64), and else one sentence saying what to install.
// A browser counts as found only when it gives a WebGL2 context with a stencil; of two software
// renderers Linux tries the faster first, which needs system libraries. Runs after `npm ci`.

import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { npm, run, say } from './processes.mjs';

const packed = { name: '@sparticuz/chromium', version: '143.0.4' };

const quietFlags = [
  // The browser's own sandbox does not start as root or in most containers; the page is ours, on loopback.
  '--no-sandbox',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

const slowRenderer = ['--use-angle=swiftshader', '--enable-unsafe-swiftshader'];
const renderers =
  process.platform === 'linux' ? [['--use-angle=gl-egl', '--ignore-gpu-blocklist'], slowRenderer] : [[], slowRenderer];

/** Whether the note of an earlier run still points at a browser, and at the one asked for. */
export function isBrowserReady(cache) {
  try {
    const note = JSON.parse(readFileSync(noteIn(cache), 'utf8'));
    const asked = process.env.AXLEWRIGHT_BROWSER;
    return existsSync(note.path) && (asked ? note.path === asked : note.from !== 'AXLEWRIGHT_BROWSER');
  } catch {
    return false;
  }
}

/** Finds or installs a browser and writes the note; ends the process with one sentence if there is none. */
export async function prepareBrowser(cache) {
  const found = await find(cache);
  if (found === undefined) {
    say('found no browser for the tests: install Chromium, Chrome or Edge, or name its program in AXLEWRIGHT_BROWSER.');
    process.exit(1);
  }
  mkdirSync(cache, { recursive: true });
  const half = `${noteIn(cache)}.${process.pid}`;
  writeFileSync(half, `${JSON.stringify(found, null, 2)}\n`);
  renameSync(half, noteIn(cache));
  say(`the tests use ${found.path}`);
}

async function find(cache) {
  const asked = process.env.AXLEWRIGHT_BROWSER;
  if (asked) {
    const note = await tryOut(asked, 'AXLEWRIGHT_BROWSER');
    if (note === undefined) {
      say(`AXLEWRIGHT_BROWSER names ${asked}, which does not start or draws no WebGL: correct or unset it.`);
      process.exit(1);
    }
    return note;
  }
  return (await findInstalled()) ?? (await installFromDebian()) ?? (await unpackFromNpm(cache));
}

async function findInstalled() {
  for (const path of installedPaths()) {
    const note = await tryOut(path, 'installed');
    if (note !== undefined) return note;
  }
  return undefined;
}

async function installFromDebian() {
  if (process.platform !== 'linux' || process.getuid() !== 0 || !isDebian()) return undefined;
  say("installing Debian's chromium for the tests (apt-get)");
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const packages = ['chromium', 'libegl1', 'libgl1-mesa-dri'];
  const isInstalled =
    (await run('apt-get', ['update'], { env })) === 0 &&
    (await run('apt-get', ['install', '-y', '--no-install-recommends', ...packages], { env })) === 0;
  if (!isInstalled) say('apt-get failed, see the lines above; trying the browser packed for npm');
  return isInstalled ? findInstalled() : undefined;
}

// Kept outside node_modules, which `npm ci` empties, and renamed into place when whole.
async function unpackFromNpm(cache) {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined;
  const home = join(cache, `chromium-${packed.version}`);
  const env = { LD_LIBRARY_PATH: join(home, 'al2023', 'lib'), FONTCONFIG_PATH: join(home, 'fonts') };
  if (!existsSync(home)) {
    say(`fetching ${packed.name} ${packed.version} for the tests (npm, 64 MB)`);
    mkdirSync(cache, { recursive: true });
    const workshop = mkdtempSync(join(cache, 'unpacking-'));
    try {
      await unpack(workshop, home);
    } finally {
      rmSync(workshop, { recursive: true, force: true });
    }
  }
  return existsSync(home) ? tryOut(join(home, 'chromium'), 'npm', env) : undefined;
}

async function unpack(workshop, home) {
  const out = join(workshop, 'out');
  mkdirSync(out);
  // Its own manifest keeps npm from taking the repository's.
  writeFileSync(join(workshop, 'package.json'), '{ "private": true }\n');
  const install = [
    'install',
    `${packed.name}@${packed.version}`,
    '--ignore-scripts',
    '--no-audit',
    '--no-fund',
    '--loglevel=error',
  ];
  if ((await npm(install, { cwd: workshop })) !== 0) return;
  // The package unpacks into the temporary folder, and brings its system libraries only where it
  // believes itself in the cloud service it was made for.
  const env = { ...process.env, TMPDIR: out, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };
  const script = `import chromium from '${packed.name}'\nawait chromium.executablePath()`;
  const code = await run(process.execPath, ['--input-type=module', '--eval', script], { cwd: workshop, env });
  if (code !== 0 || !existsSync(join(out, 'chromium'))) return;
  pointFontsTo(out, home);
  renameSync(out, home);
}

// The packed font list names folders of the cloud service; without a font no text is drawn at all.
function pointFontsTo(out, home) {
  const folders = `<dir>${join(home, 'fonts')}</dir><cachedir>${join(home, 'fonts-cache')}</cachedir>`;
  const list = `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>${folders}</fontconfig>\n`;
  writeFileSync(join(out, 'fonts', 'fonts.conf'), list);
}

async function tryOut(path, from, env = {}) {
  if (!existsSync(path)) return undefined;
  for (const renderer of renderers) {
    const args = [...quietFlags, ...renderer];
    if (await drawsWebGL(path, args, env)) return { path, from, args, env };
  }
  return undefined;
}

// Started just as the tests start it: a browser's own command-line printing is missing from some builds.
async function drawsWebGL(path, args, env) {
  const { chromium } = await import('playwright-core');
  let browser;
  try {
    browser = await chromium.launch({ executablePath: path, args, env: { ...process.env, ...env }, timeout: 60_000 });
    const page = await browser.newPage();
    return await page.evaluate(() => {
      const gl = document.createElement('canvas').getContext('webgl2', { stencil: true });
      return gl !== null && gl.getParameter(gl.STENCIL_BITS) >= 8;
    });
  } catch {
    return false;
  } finally {
    await browser?.close();
  }
}

function installedPaths() {
  if (process.platform === 'darwin') {
    const programs = ['Google Chrome', 'Chromium', 'Microsoft Edge'];
    const folders = ['/Applications', join(process.env.HOME ?? '', 'Applications')];
    return folders.flatMap((folder) => programs.map((name) => join(folder, `${name}.app`, 'Contents', 'MacOS', name)));
  }
  if (process.platform === 'win32') {
    const programs = [
      'Google\\Chrome\\Application\\chrome.exe',
      'Chromium\\Application\\chrome.exe',
      'Microsoft\\Edge\\Application\\msedge.exe',
    ];
    const folders = [process.env.PROGRAMFILES, process.env['PROGRAMFILES(X86)'], process.env.LOCALAPPDATA];
    return folders.filter(Boolean).flatMap((folder) => programs.map((name) => join(folder, name)));
  }
  const programs = [
    'chromium',
    'google-chrome-stable',
    'google-chrome',
    'chromium-browser',
    'microsoft-edge-stable',
    'microsoft-edge',
  ];
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  return programs.flatMap((name) => folders.map((folder) => join(folder, name)));
}

// Ubuntu's package of that name is only a pointer to a snap, so Debian itself is asked for.
function isDebian() {
  try {
    return /^ID="?(debian|raspbian)"?$/m.test(readFileSync('/etc/os-release', 'utf8'));
  } catch {
    return false;
  }
}

function noteIn(cache) {
  return join(cache, 'browser.json');
}
