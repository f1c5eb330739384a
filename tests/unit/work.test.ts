// The page's long work without a browser: shared, stopped, kept by content, and a worker that dies.
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../shared/index.ts';
import { Kept, keyOf } from '../../src/content.ts';
import type { Answer, Ask } from '../../src/worker.ts';
import { demoModels } from '../bench/models.ts';

/** A worker that does nothing of itself. */
class Bench {
  static opened: Bench[] = [];
  static refuses = false;
  heard: Ask[] = [];
  isOver = false;
  onmessage: ((event: { data: Answer }) => void) | undefined;
  onerror: ((event: { message: string }) => void) | undefined;
  constructor() {
    if (Bench.refuses) throw new Error('no worker here');
    Bench.opened.push(this);
  }
  postMessage(ask: Ask): void {
    this.heard.push(ask);
  }
  terminate(): void {
    this.isOver = true;
  }
  say(answer: Answer): void {
    this.onmessage!({ data: answer });
  }
}

const order = { kind: 'tolerance', asked: {} as never } as const;
const given = { lengths: 3 } as never;
const bench = (): Bench => Bench.opened.at(-1)!;
type Page = typeof import('../../src/page/work.ts');
let page: Page;

beforeEach(async () => {
  vi.resetModules();
  vi.useFakeTimers();
  vi.stubGlobal('Worker', Bench);
  Bench.opened = [];
  Bench.refuses = false;
  page = await import('../../src/page/work.ts');
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('work', () => {
  test('is asked once however many wait, tells how far it is, and is kept', () => {
    const told = vi.fn();
    page.watchWork(told);
    page.waitForWork('a', order);
    page.waitForWork('a', order);
    expect(Bench.opened).toHaveLength(1);
    expect(bench().heard.map(({ kind }) => kind)).toEqual(['tolerance']);
    const { id } = bench().heard[0]!;
    bench().say({ id, what: 'progress', done: 2, total: 9 });
    expect(page.workState('a')).toEqual({ is: 'running', done: 2, total: 9 });
    bench().say({ id, what: 'done', given });
    expect(page.workState('a')).toEqual({ is: 'done', given });
    expect(told.mock.calls.length).toBeGreaterThanOrEqual(3);
    page.waitForWork('a', order);
    expect(bench().heard).toHaveLength(1);
  });

  test('gives what there is so far while something better may come', () => {
    page.waitForWork('a', order);
    const { id } = bench().heard[0]!;
    bench().say({ id, what: 'progress', done: 2, total: 9, given });
    bench().say({ id, what: 'progress', done: 3, total: 9 });
    expect(page.workState('a')).toEqual({ is: 'running', done: 3, total: 9, given });
    const better = { lengths: 4 } as never;
    bench().say({ id, what: 'progress', done: 4, total: 9, given: better });
    expect(page.workState('a')).toEqual({ is: 'running', done: 4, total: 9, given: better });
  });

  test('goes on while one still waits, and is stopped when the last one goes', () => {
    const one = page.waitForWork('a', order);
    const other = page.waitForWork('a', order);
    one();
    expect(bench().heard).toHaveLength(1);
    other();
    const [asked, stop] = bench().heard;
    expect(stop).toEqual({ id: asked!.id, kind: 'stop' });
    bench().say({ id: asked!.id, what: 'done', given });
    expect(page.workState('a').is).toBe('running');
    page.waitForWork('a', order);
    expect(bench().heard.at(-1)!.kind).toBe('tolerance');
  });

  test('stopped by hand it says so and is begun again by hand alone', () => {
    page.waitForWork('a', order);
    page.stopWork('a');
    expect(page.workState('a')).toEqual({ is: 'stopped' });
    expect(bench().heard.at(-1)!.kind).toBe('stop');
    page.restartWork('a');
    expect(page.workState('a').is).toBe('running');
    bench().say({ id: bench().heard[0]!.id, what: 'failed', message: 'an old answer' });
    expect(page.workState('a').is).toBe('running');
    bench().say({ id: bench().heard.at(-1)!.id, what: 'done', given });
    expect(page.workState('a')).toEqual({ is: 'done', given });
  });

  test('that fails says so in words, and no other fails with it', () => {
    const log = vi.spyOn(console, 'error').mockImplementation(() => undefined);
    page.waitForWork('a', order);
    page.waitForWork('b', order);
    bench().say({ id: bench().heard[0]!.id, what: 'failed', message: 'a part of no size' });
    expect(page.workState('a')).toEqual({ is: 'failed', message: 'a part of no size' });
    expect(page.workState('b').is).toBe('running');
    expect(log).toHaveBeenCalledWith('tolerance: a part of no size');
  });
});

describe('a worker', () => {
  test('that dies is replaced once with what was asked of it; where the next dies too, that has failed', () => {
    page.waitForWork('a', order);
    page.waitForWork('b', order);
    bench().onerror!({ message: 'out of memory' });
    expect(Bench.opened).toHaveLength(2);
    expect(Bench.opened[0]!.isOver).toBe(true);
    expect(['a', 'b'].map((key) => page.workState(key).is)).toEqual(['running', 'running']);
    bench().onerror!({ message: 'out of memory' });
    expect(['a', 'b'].map(page.workState)).toEqual(Array(2).fill({ is: 'failed', message: 'out of memory' }));
    expect(bench().isOver).toBe(true);
    page.restartWork('a');
    expect(Bench.opened).toHaveLength(3);
    bench().say({ id: bench().heard[0]!.id, what: 'done', given });
    expect(page.workState('a').is).toBe('done');
  });

  test('that falls silent is given up; one that speaks, or has nothing to do, is not', () => {
    page.waitForWork('a', order);
    const { id } = bench().heard[0]!;
    vi.advanceTimersByTime(60_000);
    bench().say({ id, what: 'progress', done: 1, total: 2 });
    vi.advanceTimersByTime(60_000);
    expect(page.workState('a').is).toBe('running');
    vi.advanceTimersByTime(60_000);
    expect(Bench.opened).toHaveLength(2);
    expect(page.workState('a').is).toBe('running');
    vi.advanceTimersByTime(120_000);
    expect(page.workState('a').is).toBe('failed');
    page.restartWork('a');
    bench().say({ id: bench().heard[0]!.id, what: 'done', given });
    vi.advanceTimersByTime(1e9);
    expect(bench().isOver).toBe(false);
  });

  test('a browser without one says so', () => {
    Bench.refuses = true;
    page.waitForWork('a', order);
    expect(page.workState('a')).toEqual({ is: 'failed', message: 'no worker here' });
  });
});

describe('content', () => {
  test('a copy of a build has its key, another build or variant has not', () => {
    const models = demoModels();
    const keys = models.flatMap((model) =>
      [undefined, ...(model.variants ?? []).map(({ id }) => id)].map((variant) =>
        keyOf(analyse(model, variant === undefined ? {} : { variant })),
      ),
    );
    expect(new Set(keys).size).toBe(keys.length);
    for (const model of models) expect(keyOf(structuredClone({ model }))).toBe(keyOf({ model }));
  });

  test('what was used longest ago goes first', () => {
    const kept = new Kept<number>(2);
    kept.set('a', 1);
    kept.set('b', 2);
    expect(kept.of('a', () => 9)).toBe(1);
    kept.set('c', 3);
    expect(['a', 'b', 'c'].map((key) => kept.get(key))).toEqual([1, undefined, 3]);
  });
});
