/** `check --reached`: what was reached, told on the command line, and what is refused. */
import { afterEach, describe, expect, it, test, vi } from 'vitest';
import { checkCommand } from '../../src/commands/check.ts';
import { Refusal, type Options } from '../../src/commands/command.ts';
import { demoModels } from '../bench/models.ts';

const skarn = demoModels().find(({ id }) => id === 'skarn-140')!;
function run(options: Options): { code: number; out: string } {
  const said: string[] = [];
  vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    said.push(String(chunk));
    return true;
  });
  const code = checkCommand.run(skarn, options, []);
  vi.restoreAllMocks();
  return { code, out: said.join('') };
}

afterEach(() => vi.restoreAllMocks());

describe('check --reached', () => {
  it('tells too little and too much, each once, of the pivots it was told of', () => {
    const { out } = run({ reached: ['main=8', 'rear-left=12'] });
    expect(out.match(/Too little torque reached\. [^:]+: 8 N·m was reached/g)).toHaveLength(1);
    expect(out.match(/Too much torque reached\. [^:]+: 12 N·m was reached/g)).toHaveLength(1);
    expect(out).toContain('Look again');
  });

  it('a torque no rings can be held with is no sound bike', () => {
    expect(run({ reached: ['main=3'] }).code).toBe(1);
    expect(run({ reached: [`main=${skarn.pivots.find(({ id }) => id === 'main')!.stacks[0]!.torque_Nm}`] }).code).toBe(
      0,
    );
    expect(run({}).out).not.toContain('torque reached');
  });

  test.each<[readonly string[], RegExp]>([
    [['nowhere=8'], /--reached: met nowhere, allowed: main, rear/],
    [['main'], /--reached: met main, allowed: a torque in N·m above 0, such as main=8/],
    [['main='], /--reached: met main=/],
    [['main=-8'], /--reached: met main=-8/],
    [['main=8=9'], /--reached: met main=8=9/],
    [['=8'], /--reached: met nothing, allowed: main/],
    [['main=8', 'main=9'], /main is named twice/],
  ])('%j is refused', (reached, words) => {
    expect(() => run({ reached })).toThrow(Refusal);
    expect(() => run({ reached })).toThrow(words);
  });
});
