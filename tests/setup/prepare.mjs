// The set-up, in one command: `node tests/setup/prepare.mjs [--browser]`, run by npm before our own
// commands. Installs the locked packages when the lock file, the platform or the Node version has
// changed since the last time, and builds the command line where a source is newer; with `--browser`
// also sees to a browser for the tests. Silent when there is nothing to do, and all its words are on
// stderr. No dependencies before they are installed: it runs on a bare clone.

import { createHash } from 'node:crypto';
import { lstatSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isBrowserReady, prepareBrowser } from './browser.mjs';
import { makeCommandLine } from './bundle.mjs';
import { holdLock } from './lock.mjs';
import { npm, say } from './processes.mjs';

const top = fileURLToPath(new URL('../..', import.meta.url));
const cache = join(top, '.cache');
// Inside node_modules, so that it goes when they go.
const stamp = join(top, 'node_modules', '.axlewright-stamp');
const wantsBrowser = process.argv.includes('--browser');

checkNode();
if (!isReady()) {
  const release = await holdLock(join(cache, 'set-up.lock'), () =>
    say('waiting for another set-up of this checkout to end'),
  );
  process.on('exit', release);
  if (!arePackagesReady()) await installPackages();
  if (wantsBrowser && !isBrowserReady(cache)) await prepareBrowser(cache);
}
await makeCommandLine();

function isReady() {
  return arePackagesReady() && (!wantsBrowser || isBrowserReady(cache));
}

function checkNode() {
  const { engines } = JSON.parse(readFileSync(join(top, 'package.json'), 'utf8'));
  const wanted = engines.node.replace('>=', '').split('.').map(Number);
  const found = process.versions.node.split('.').map(Number);
  const differing = wanted.findIndex((part, i) => part !== found[i]);
  if (differing !== -1 && found[differing] < wanted[differing]) {
    fail(`needs Node ${wanted.join('.')} or later, and this is ${process.versions.node}: install a newer Node.`);
  }
}

function fingerprint() {
  const major = process.versions.node.split('.')[0];
  return createHash('sha256')
    .update(readFileSync(join(top, 'package-lock.json')))
    .update(`${process.platform} ${process.arch} node ${major}`)
    .digest('hex');
}

function arePackagesReady() {
  try {
    return readFileSync(stamp, 'utf8') === fingerprint();
  } catch {
    return false;
  }
}

async function installPackages() {
  // Installing would empty the folder of another checkout.
  if (lstatSync(join(top, 'node_modules'), { throwIfNoEntry: false })?.isSymbolicLink())
    fail('node_modules is a link and does not fit package-lock.json: take the link away, and it is installed here.');
  say('installing the locked packages (npm ci)');
  // Development packages build the app, so they are wanted whatever NODE_ENV says; none of the
  // packages needs an install script of its own, and none may fetch anything through one.
  const code = await npm(['ci', '--include=dev', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: top,
  });
  if (code !== 0) fail('npm ci failed, see the lines above.');
  writeFileSync(stamp, fingerprint());
}

function fail(text) {
  say(text);
  process.exit(1);
}
