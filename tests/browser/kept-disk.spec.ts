/**
 * What the store is worth when the machine fails: a browser killed in the middle of writing, a full disk, bytes that
 * the disk has turned. Each on a profile of its own and a bare page over the store that the app is built on.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { random as randomOf } from '../setup/random.ts';
import { cases, seedOf } from '../setup/series.ts';
import { killAll, serveBare, start, type Started } from './kept-profile.ts';

const KILLS = Math.min(200, cases(6));
const TURNED = Math.min(40, cases(4));
let bare: Awaited<ReturnType<typeof serveBare>>;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'axlewright-kept-'));
  bare = await serveBare();
});
afterAll(async () => {
  killAll();
  await bare.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Count on in a page until it has said so many numbers; the last one it said. */
async function counted({ page }: Started, numbers: number): Promise<number> {
  let last = 0;
  let left = numbers;
  const enough = new Promise<void>((resolve) => {
    page.on('console', (message) => {
      last = Number(message.text());
      if (--left === 0) resolve();
    });
  });
  void page.evaluate(() => window.bare.countOn(1e6, (count) => console.log(count))).catch(() => undefined);
  await enough;
  return last;
}

describe('a browser killed by its process', () => {
  test(`${KILLS} times in the middle of counting brings back every number it had said`, async () => {
    const random = randomOf(seedOf(1612));
    const profile = join(folder, 'killed');
    let said = 0;
    for (let k = 0; k < KILLS; k++) {
      const started = await start(profile, bare.origin);
      const found = await started.page.evaluate(() => window.bare.find());
      expect(found, `kill ${k}`).toMatchObject({ isWhole: true, damaged: 0, isLost: false, trouble: undefined });
      expect(found.count, `kill ${k}`).toBeGreaterThanOrEqual(said);
      // Nothing between two kills is lost either: every step can still be taken back.
      expect(found.steps).toBe(found.count);
      said = await counted(started, 1 + Math.floor(random() * 25));
      await started.kill();
    }
    expect(said).toBeGreaterThan(KILLS);
  }, 600_000);
});

describe('bytes that the disk has turned', () => {
  test('are found: what is shown is whole, and what is missing is told', async () => {
    const random = randomOf(seedOf(1613));
    for (let k = 0; k < TURNED; k++) {
      const profile = join(folder, `turned-${k}`);
      const before = await start(profile, bare.origin);
      await counted(before, 40);
      const { count } = await before.page.evaluate(() => window.bare.find());
      await before.close();
      const files = databaseFiles(profile);
      expect(files.length).toBeGreaterThan(0);
      for (const file of files) {
        const bytes = readFileSync(file);
        for (let n = 0; n < 1 + k * 3 && bytes.length > 0; n++) {
          const at = Math.floor(random() * bytes.length);
          bytes[at] = bytes[at]! ^ (1 << Math.floor(random() * 8));
        }
        writeFileSync(file, bytes);
      }
      const after = await start(profile, bare.origin);
      const found = await after.page.evaluate(() => window.bare.find());
      const isTold = found.damaged > 0 || found.isLost || found.trouble !== undefined;
      expect(isTold || (found.count >= count && found.isWhole), `${k}: ${JSON.stringify(found)}`).toBe(true);
      await after.close();
    }
  }, 240_000);
});

function databaseFiles(profile: string): string[] {
  const place = join(profile, 'Default', 'IndexedDB');
  return readdirSync(place, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(log|ldb)$/.test(name))
    .map((name) => join(place, name));
}

describe('a full disk', () => {
  test('is told, and loses nothing that was kept', async () => {
    const profile = join(folder, 'small');
    mkdirSync(profile);
    // A small disk of its own, in a view of the file system that only this browser has and that ends with it.
    const view = ['unshare', '--map-root-user', '--mount'];
    const canMount = spawnSync(view[0]!, [...view.slice(1), 'mount', '-t', 'tmpfs', 'tmpfs', profile]).status === 0;
    const mount = 'mount -t tmpfs -o size=40m tmpfs "$0" && exec "$@"';
    const started = await start(profile, bare.origin, canMount ? [...view, 'sh', '-c', mount, profile] : []);
    const { page } = started;
    await counted(started, 10);
    // A system that lets nobody mount has the browser refuse after some texts in place of the disk.
    if (!canMount)
      await page.evaluate(() => {
        const { put } = IDBObjectStore.prototype;
        let left = 5;
        IDBObjectStore.prototype.put = function (...asked) {
          if (left-- === 0) throw new DOMException('full', 'QuotaExceededError');
          return put.apply(this, asked);
        };
      });
    const found = await page.evaluate(async () => {
      let k = 0;
      while (k < 100 && (await window.bare.fill(`big-${k}`, 3_000_000))) k++;
      const { trouble, unkept } = window.bare.keep.getState();
      return { k, trouble, unkept };
    });
    expect(found).toMatchObject({ trouble: 'full', unkept: 1 });
    expect(found.k).toBeGreaterThan(0);
    await page.reload();
    await page.waitForFunction(() => document.title === 'ready');
    expect(await page.evaluate(() => window.bare.find())).toMatchObject({ isWhole: true, damaged: 0 });
    await started.kill();
  }, 120_000);
});
