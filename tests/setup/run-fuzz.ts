/**
 * `npm run fuzz -- [--seed S] [--count N]`: N inputs (10,000 if not said) from seed S on (1 if not said), each by its
 * own seed. Prints how many of each kind were made and taken, and every fault with the seed that repeats it; ends with
 * 1 where there was one.
 */
import { parseArgs } from 'node:util';
import { fuzz, fuzzing } from './fuzz.ts';

const SHOWN = 20;
const LONGEST_SHOWN = 2000;
/** How often a long run says how far it is. */
const EVERY = 10_000;

const { values } = parseArgs({
  options: { seed: { type: 'string', default: '1' }, count: { type: 'string', default: '10000' } },
});
const [seed, count] = (['seed', 'count'] as const).map((name) => {
  const value = Number(values[name]);
  if (Number.isInteger(value) && value >= 1 && value <= 2 ** 31) return value;
  process.stderr.write(`fuzz: --${name} wants a whole number from 1 on, not ${values[name]}.\n`);
  return process.exit(2);
}) as [number, number];

const run = fuzzing();
for (let k = 0; k < count; k++) {
  if (k > 0 && k % EVERY === 0) console.log(`${k} inputs, ${run.faults.length} faults; next seed ${seed + k}`);
  fuzz(seed + k, run);
}
for (const kind of Object.keys(run.made) as (keyof typeof run.made)[])
  console.log(`${kind.padEnd(9)} ${run.made[kind]} made, ${run.taken[kind]} taken`);
console.log(
  `slowest: seed ${run.slowest.seed}, a ${run.slowest.kind}, ${Math.round(run.slowest.cpu_ms)} ms of the processor`,
);
for (const fault of run.faults.slice(0, SHOWN))
  console.log(
    `seed ${fault.seed}, ${fault.kind}: ${fault.why}\n  ${JSON.stringify(fault.text.slice(0, LONGEST_SHOWN))}`,
  );
console.log(`${count} inputs from seed ${seed}, ${run.faults.length} faults`);
process.exitCode = run.faults.length === 0 ? 0 : 1;
