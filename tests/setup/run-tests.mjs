// `npm test`: the type check, formatter and linter beside the build, then every test, against the build where a browser
// drives it. Arguments go on to vitest (`npm test -- --project core`, `npm test -- tests/unit/clamp`).
// Ends with one line, `N passed, N failed`; a type error, what formatter or linter find, a failed build, a test file that
// does not load or an error outside any test counts as one failure each. Exit 0 only if something ran and nothing failed.
//
// Without arguments the stored pictures are compared first; then the core's tests run in a vitest of their own beside the
// browser's: one vitest runs one project after the other, and the browser's specs, which all wait for one renderer, leave
// half a machine idle that the core's can use.

import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = fileURLToPath(new URL('../..', import.meta.url));
const reports = join(top, '.cache', 'reports');
/** What counts as a failure besides the tests. */
const failures = [];
/** The failed tests, for the end of the log: what a build server shows of it. */
const told = [];
const counted = { passed: 0, failed: 0, skipped: 0 };

/** Runs a program of node_modules to its end; whether it found nothing wrong. One that is held back speaks at its end. */
function node(program, args, isHeld = false) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(top, 'node_modules', program), ...args], {
      cwd: top,
      stdio: isHeld ? ['ignore', 'pipe', 'pipe'] : 'inherit',
    });
    const said = [];
    child.stdout?.on('data', (words) => said.push(words));
    child.stderr?.on('data', (words) => said.push(words));
    child.on('error', () => resolve(false));
    child.on('close', (code) => {
      process.stdout.write(Buffer.concat(said));
      resolve(code === 0);
    });
  });
}

/** Runs vitest and counts what it found; `name` is that of its report. */
async function vitest(name, args, isHeld) {
  const report = join(reports, `${name}.json`);
  rmSync(report, { force: true });
  const isClean = await node(
    'vitest/vitest.mjs',
    ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...args],
    isHeld,
  );
  const counts = read(report);
  const unloaded = counts.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed'),
  );
  failures.push(...unloaded.map((file) => `loading ${file.name}`));
  told.push(...counts.testResults.flatMap((file) => failedIn(file)));
  if (!isClean && unloaded.length + counts.numFailedTests === 0) failures.push(`${name}, outside any test`);
  counted.passed += counts.numPassedTests;
  counted.failed += counts.numFailedTests;
  counted.skipped += counts.numPendingTests + counts.numTodoTests;
}

/** Each failed test of a file, with the first line of why. */
function failedIn({ name, assertionResults }) {
  return assertionResults
    .filter(({ status }) => status === 'failed')
    .map(({ fullName, failureMessages }) => `${relative(top, name)}: ${fullName}\n  ${firstOf(failureMessages)}`);
}

const firstOf = ([message = '']) => message.split('\n', 1)[0];

function read(report) {
  try {
    return JSON.parse(readFileSync(report, 'utf8'));
  } catch {
    return { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0, testResults: [] };
  }
}

mkdirSync(reports, { recursive: true });
const asked = process.argv.slice(2);
const isWhole = asked.length === 0;
const cores = availableParallelism();
// One worker for the core loads each of its modules once; a spec in a browser leaves room for one more.
const forCore = Math.max(1, Math.floor(cores / 2));
const forBrowser = cores - forCore + 1;
const PICTURES = 'tests/browser/pictures.spec.ts';

const typed = node('typescript/bin/tsc', ['--noEmit'], true);
const isTidy = await node('@biomejs/biome/bin/biome', ['ci', '--max-diagnostics=200', '.']);
const isBuilt = await node('vite/bin/vite.js', ['build', '--logLevel', 'warn']);
if (!isTidy) failures.push('formatter and linter');
if (!isBuilt) failures.push('the build');

// The stored pictures first and alone: on a busy machine one of them was seen to come out otherwise, by less than a pixel.
if (isWhole && isBuilt) await vitest('pictures', ['--project', 'browser', PICTURES]);
const core = isWhole ? vitest('core', ['--project', 'core', `--maxWorkers=${forCore}`], true) : undefined;

// Without a new build the browser specs would judge the last one.
if (!isWhole) await vitest('asked', [...(isBuilt ? [] : ['--project', 'core']), ...asked]);
else if (isBuilt)
  await vitest('browser', ['--project', 'browser', `--exclude=${PICTURES}`, `--maxWorkers=${forBrowser}`]);
await core;
if (!(await typed)) failures.push('the type check');

for (const name of [...told, ...failures]) console.log(`failed: ${name}`);
if (counted.skipped > 0) console.log(`${counted.skipped} skipped`);
const failed = counted.failed + failures.length;
console.log(`${counted.passed} passed, ${failed} failed`);
process.exitCode = failed === 0 && counted.passed > 0 ? 0 : 1;
