// Keeping the screen awake, with a browser made for the test: offered, refused, taken back, left while still being
// asked for.
import { describe, expect, test } from 'vitest';
import { keepAwake, type Awake, type Lock, type Watch } from '../../src/page/awake.ts';

class TestLock implements Lock {
  released = false;
  readonly #listeners: (() => void)[] = [];
  addEventListener(_: 'release', listener: () => void): void {
    this.#listeners.push(listener);
  }
  release(): Promise<void> {
    if (!this.released) {
      this.released = true;
      for (const listener of this.#listeners) listener();
    }
    return Promise.resolve();
  }
}

type Offer = 'gives' | 'refuses' | 'has none';

interface World {
  offer: Offer;
  visibilityState: 'visible' | 'hidden';
  readonly locks: TestLock[];
  readonly listeners: Set<() => void>;
  readonly see: (state: 'visible' | 'hidden') => void;
  readonly watch: Watch;
}

/** A page that is seen or hidden, and a browser that gives locks, refuses them, or has none to give. */
function machine(offer: Offer): World {
  const locks: TestLock[] = [];
  const listeners = new Set<() => void>();
  const world: World = {
    offer,
    visibilityState: 'visible',
    locks,
    listeners,
    see(state: 'visible' | 'hidden'): void {
      world.visibilityState = state;
      // As the standard has it: what is held goes when the page is hidden, before the page hears of it.
      if (state === 'hidden') for (const lock of locks) void lock.release();
      for (const listener of [...listeners]) listener();
    },
    watch: {
      navigator:
        offer === 'has none'
          ? {}
          : {
              wakeLock: {
                request: (): Promise<Lock> => {
                  if (world.offer === 'refuses')
                    return Promise.reject(new DOMException('low battery', 'NotAllowedError'));
                  const lock = new TestLock();
                  locks.push(lock);
                  return Promise.resolve(lock);
                },
              },
            },
      document: {
        get visibilityState(): string {
          return world.visibilityState;
        },
        addEventListener: (_: 'visibilitychange', listener: () => void) => void listeners.add(listener),
        removeEventListener: (_: 'visibilitychange', listener: () => void) => void listeners.delete(listener),
      },
    },
  };
  return world;
}

const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
const held = (world: World): number => world.locks.filter((lock) => !lock.released).length;

describe('the screen stays awake', () => {
  test('from the first step until the steps are left', async () => {
    const world = machine('gives');
    const heard: Awake[] = [];
    const stop = keepAwake(world.watch, (awake) => heard.push(awake));
    await settle();
    expect(held(world)).toBe(1);
    stop();
    await settle();
    expect(held(world)).toBe(0);
    expect(world.listeners.size).toBe(0);
    expect(heard).toEqual(['held', 'off']);
  });

  test('again after the page was hidden, with one lock at a time', async () => {
    const world = machine('gives');
    const heard: Awake[] = [];
    const stop = keepAwake(world.watch, (awake) => heard.push(awake));
    await settle();
    world.see('hidden');
    await settle();
    expect(held(world)).toBe(0);
    world.see('visible');
    world.see('visible');
    await settle();
    expect(held(world)).toBe(1);
    expect(world.locks.length).toBe(2);
    expect(heard.at(-1)).toBe('held');
    stop();
    world.see('hidden');
    world.see('visible');
    await settle();
    expect(held(world)).toBe(0);
    expect(heard.at(-1)).toBe('off');
  });

  test('a page that starts hidden asks when it is seen', async () => {
    const world = machine('gives');
    world.visibilityState = 'hidden';
    const stop = keepAwake(world.watch, () => undefined);
    await settle();
    expect(world.locks.length).toBe(0);
    world.see('visible');
    await settle();
    expect(held(world)).toBe(1);
    stop();
  });

  test('leaving while the browser still thinks leaves no lock behind', async () => {
    const world = machine('gives');
    const heard: Awake[] = [];
    keepAwake(world.watch, (awake) => heard.push(awake))();
    await settle();
    expect(world.locks.length).toBe(1);
    expect(held(world)).toBe(0);
    expect(heard).toEqual(['off']);
  });

  test('a refusal is told, and tried again when the page is next seen', async () => {
    const world = machine('refuses');
    const heard: Awake[] = [];
    const stop = keepAwake(world.watch, (awake) => heard.push(awake));
    await settle();
    expect(heard).toEqual(['refused']);
    world.offer = 'gives';
    world.see('visible');
    await settle();
    expect(heard).toEqual(['refused', 'held']);
    stop();
  });

  test('a lock taken back under the page’s eyes is told and not begged for', async () => {
    const world = machine('gives');
    const heard: Awake[] = [];
    const stop = keepAwake(world.watch, (awake) => heard.push(awake));
    await settle();
    await world.locks[0]!.release();
    await settle();
    expect(heard).toEqual(['held', 'refused']);
    expect(world.locks.length).toBe(1);
    stop();
  });

  test('a browser that offers nothing is told as such', () => {
    const world = machine('has none');
    const heard: Awake[] = [];
    const stop = keepAwake(world.watch, (awake) => heard.push(awake));
    expect(heard).toEqual(['not-offered']);
    expect(world.listeners.size).toBe(0);
    stop();
    expect(heard).toEqual(['not-offered', 'off']);
  });
});
