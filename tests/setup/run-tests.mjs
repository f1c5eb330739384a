// `npm test`: the type check, formatter and linter beside the build, then every test, against the build where a browser
// drives it. Arguments go on to vitest (`npm test -- --project core`, `npm test -- tests/unit/clamp`).
// Ends with one line, `N passed, N failed`; a type error, what formatter or linter find, a failed build, a test file that
// does not load or an error outside any test counts as one failure each. Exit 0 only if something ran and nothing failed.

import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = fileURLToPath(new URL('../..', import.meta.url));
const report = join(top, '.cache', 'reports', 'vitest.json');
const failures = [];

/** Runs a program of node_modules to its end; whether it found nothing wrong. */
function node(program, ...args) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(top, 'node_modules', program), ...args], {
      cwd: top,
      stdio: 'inherit',
    });
    child.on('error', () => resolve(false));
    child.on('close', (code) => resolve(code === 0));
  });
}

function countTests() {
  try {
    return JSON.parse(readFileSync(report, 'utf8'));
  } catch {
    return { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0, testResults: [] };
  }
}

const typed = node('typescript/bin/tsc', '--noEmit');
const isTidy = await node('@biomejs/biome/bin/biome', 'ci', '--max-diagnostics=200', '.');
const isBuilt = await node('vite/bin/vite.js', 'build', '--logLevel', 'warn');
if (!(await typed)) failures.push('the type check');
if (!isTidy) failures.push('formatter and linter');
if (!isBuilt) failures.push('the build');

mkdirSync(join(top, '.cache', 'reports'), { recursive: true });
rmSync(report, { force: true });
// Without a new build the browser specs would judge the last one.
const selection = isBuilt ? [] : ['--project', 'core'];
const isClean = await node(
  'vitest/vitest.mjs',
  'run',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
  ...selection,
  ...process.argv.slice(2),
);

const counts = countTests();
const unloaded = counts.testResults.filter(
  (file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed'),
);
failures.push(...unloaded.map((file) => `loading ${file.name}`));
if (!isClean && failures.length + counts.numFailedTests === 0) failures.push('vitest, outside any test');

const passed = counts.numPassedTests;
const failed = counts.numFailedTests + failures.length;
const skipped = counts.numPendingTests + counts.numTodoTests;
for (const name of failures) console.log(`failed: ${name}`);
if (skipped > 0) console.log(`${skipped} skipped`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
