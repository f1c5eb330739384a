// `npm run long -- [--seed S] [--count N] [files]`: the seeded series of the tests with N cases each (1,000 if not
// said) from seed S on (1 if not said), in place of the slices `npm test` takes; lists whose cases are slow are gone
// through whole. Runs every test file that asks tests/setup/series.ts and everything in a browser, or what is named; what
// drives a browser last, on a new build. Prints the seed and the count.

import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const top = fileURLToPath(new URL('../..', import.meta.url));
const { seed, count, files } = asked();
console.log(`seeds ${seed} and up, ${count} cases a series`);
const env = { ...process.env, AXLEWRIGHT_LONG: JSON.stringify({ seed, count }) };
const isInBrowser = (file) => file.startsWith('tests/browser/');
const run = (program, args) =>
  spawnSync(process.execPath, [join(top, 'node_modules', program), ...args], { cwd: top, stdio: 'inherit', env })
    .status;
/** Whether what is named of a project runs without a failure; nothing named is none. */
const isSound = (project, named) =>
  named.length === 0 || run('vitest/vitest.mjs', ['run', '--project', project, '--testTimeout', '0', ...named]) === 0;
const inBrowser = files.filter(isInBrowser);
const isCoreSound = isSound(
  'core',
  files.filter((file) => !isInBrowser(file)),
);
const isBuilt = inBrowser.length === 0 || run('vite/bin/vite.js', ['build', '--logLevel', 'warn']) === 0;
const isBrowserSound = isBuilt && isSound('browser', inBrowser);
console.log(`these were seeds ${seed} and up, ${count} cases a series`);
process.exitCode = isCoreSound && isBrowserSound ? 0 : 1;

function asked() {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { seed: { type: 'string', default: '1' }, count: { type: 'string', default: '1000' } },
    });
    const whole = (name) => {
      const value = Number(values[name]);
      if (!Number.isInteger(value) || value < 1 || value > 1e9)
        throw new Error(`--${name} wants a whole number from 1 on, not ${values[name]}.`);
      return value;
    };
    return {
      seed: whole('seed'),
      count: whole('count'),
      files: positionals.length > 0 ? positionals : filesWithSeries(),
    };
  } catch (error) {
    process.stderr.write(`axlewright: ${error.message}\n`);
    process.exit(2);
  }
}

function filesWithSeries() {
  return ['tests/unit', 'tests/reference', 'tests/browser'].flatMap((folder) =>
    readdirSync(join(top, folder))
      .map((name) => `${folder}/${name}`)
      .filter(
        (file) =>
          file.endsWith('.spec.ts') ||
          (/\.test\.tsx?$/.test(file) && readFileSync(join(top, file), 'utf8').includes('/series.ts')),
      ),
  );
}
