// The address of a screen: what is written is read back, and nothing mistyped breaks it.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isNewPlace, readRoute, writeRoute, VIEWS, type Route } from '../../src/page/route.ts';

const plain: Route = { direction: 'build', scope: 'pivot', view: 'three-quarter', cut: false };
const id = fc.stringMatching(/^[a-z0-9]{1,8}(-[a-z0-9]{1,8}){0,3}$/);
const route: fc.Arbitrary<Route> = fc
  .record({
    kind: fc.constantFrom('model', 'file'),
    of: id,
    variant: fc.option(id, { nil: undefined }),
    pivot: id,
    stack: fc.option(id, { nil: undefined }),
    part: fc.option(
      fc.tuple(id, id).map((ids) => ids.join('/')),
      { nil: undefined },
    ),
    apart: fc.integer({ min: 0, max: 100 }),
    step: fc.option(fc.integer({ min: 0, max: 400 }), { nil: undefined }),
    direction: fc.constantFrom('build' as const, 'strip' as const),
    scope: fc.constantFrom('pivot' as const, 'bike' as const),
    view: fc.constantFrom(...VIEWS),
    cut: fc.boolean(),
    reached: fc.option(
      fc.dictionary(
        id,
        fc.integer({ min: 1, max: 4000 }).map((tenths) => tenths / 10),
        { minKeys: 1, maxKeys: 4 },
      ),
      {
        nil: undefined,
      },
    ),
  })
  .map(({ kind, of, variant, stack, part, apart, step, reached, ...rest }) => ({
    ...(reached === undefined ? {} : { reached: { ...reached } }),
    [kind]: of,
    ...(variant === undefined ? {} : { variant }),
    ...(stack === undefined ? {} : { stack }),
    ...(part === undefined ? {} : { part }),
    ...(step === undefined ? {} : { step }),
    apart: apart / 100,
    ...rest,
  }));

describe('the address of a screen', () => {
  test('comes back as it was written', () => {
    fc.assert(
      fc.property(route, (given) => {
        expect(readRoute(writeRoute(given))).toEqual(given);
      }),
      { seed: 4711, numRuns: 400 },
    );
  });

  test('leaves out what stands at its usual value', () => {
    expect(writeRoute({ ...plain, model: 'skarn-140' })).toBe('#model=skarn-140');
  });

  test('counts steps from 1, as the screen does', () => {
    expect(writeRoute({ ...plain, model: 'a', pivot: 'main', apart: 1, step: 0 })).toContain('step=1');
    expect(readRoute('#model=a&pivot=main&step=7').step).toBe(6);
  });

  test.each([
    ['apart=2', 'apart'],
    ['apart=-0.1', 'apart'],
    ['apart=much', 'apart'],
    ['apart=', 'apart'],
    ['reached=main:0', 'reached'],
    ['reached=main:401', 'reached'],
    ['reached=main:x', 'reached'],
    ['reached=Main:8', 'reached'],
    ['reached=main:8:9', 'reached'],
    ['reached=', 'reached'],
    ['step=0', 'step'],
    ['step=1.5', 'step'],
    ['step=1e9', 'step'],
    ['pivot=../../etc', 'pivot'],
    ['part=Main/axle', 'part'],
    ['part=main/axle%20x', 'part'],
    ['model=%3Cscript%3E', 'model'],
    [`pivot=${'a'.repeat(49)}`, 'pivot'],
  ] as const)('%s says nothing about %s', (text, key) => {
    expect(readRoute(`#model=ok&${text}`.replace('model=ok&model', 'model'))[key]).toBeUndefined();
  });

  test('tells the keys that mean nothing here, each once, and none that it has written itself', () => {
    expect(readRoute('#model=a&mistakep=x&cut=yes&zoom=2&zoom=3').unknown).toEqual(['mistakep', 'zoom']);
    expect(readRoute('#model=a&tab=own').unknown).toEqual(['tab']);
    for (const known of ['', '#', '#/', '#model=a&place=order&tab=own&at=3', '#model=a&travel=2&shock=out'])
      expect(readRoute(known)).not.toHaveProperty('unknown');
  });

  test('never throws, whatever stands in the hash', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200, unit: 'binary' }), (text) => {
        const read = readRoute(`#${text}`);
        expect(VIEWS).toContain(read.view);
      }),
      { seed: 4712, numRuns: 500 },
    );
  });

  test('another pivot is a new place, another step is not', () => {
    const here: Route = { ...plain, model: 'a', pivot: 'main', apart: 1 };
    expect(isNewPlace(here, { ...here, pivot: 'rocker' })).toBe(true);
    expect(isNewPlace(here, { ...here, variant: 'old' })).toBe(true);
    expect(isNewPlace(here, { ...here, step: 3, apart: 0.2, cut: true, view: 'above', direction: 'strip' })).toBe(
      false,
    );
  });
});
