/**
 * What the store is worth when the machine fails: a browser killed in the middle of writing, a full disk, bytes that
 * the disk has turned. Each on a profile of its own and a bare page over the store that the app is built on.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { random as randomOf } from '../setup/random.ts';
import { cases, seedOf } from '../setup/series.ts';
import { countThenKill, killAll, serveBare, start, type Started } from './kept-profile.ts';

const KILLS = Math.min(200, cases(20));
const TURNED = Math.min(40, cases(2));
/** Nothing is missing and nothing is told; what a page has no trouble with it does not name to its server. */
const SOUND = { isWhole: true, damaged: 0, isLost: false };
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
    let before = 0;
    for (let k = 0; k < KILLS; k++) {
      const { found, said } = await countThenKill(profile, bare.origin, 1 + Math.floor(random() * 25));
      expect(found, `kill ${k}`).toMatchObject(SOUND);
      expect(found.count, `kill ${k}`).toBeGreaterThanOrEqual(before);
      // Nothing between two kills is lost either: every step can still be taken back.
      expect(found.steps).toBe(found.count);
      before = said;
    }
    expect(before).toBeGreaterThan(KILLS);
  }, 600_000);

  test('between the two halves of a line of either log loses nothing, though the browser drops that database', async () => {
    const profile = join(folder, 'torn');
    const { said: first } = await countThenKill(profile, bare.origin, 3);
    let before = first;
    for (const copy of COPIES) {
      // The head of a line of 243 bytes, as a kill was seen to leave it.
      for (const log of databaseFiles(profile, copy).filter((name) => name.endsWith('.log')))
        appendFileSync(log, Buffer.from('0edc20a5f30001', 'hex'));
      // The next start writes on behind it, and the one after finds a line that is none.
      for (let k = 0; k < 2; k++) {
        const { found, said } = await countThenKill(profile, bare.origin, 3);
        expect(found, copy).toMatchObject(SOUND);
        expect(found.count, copy).toBeGreaterThanOrEqual(before);
        expect(found.steps).toBe(found.count);
        before = said;
      }
    }
  }, 240_000);
});

describe('bytes that the disk has turned', () => {
  test('in one copy cost nothing; in both, what is shown is whole, and what is missing is told', async () => {
    const random = randomOf(seedOf(1613));
    for (let k = 0; k < TURNED; k++) {
      const profile = join(folder, `turned-${k}`);
      const { said } = await countThenKill(profile, bare.origin, 25);
      const isBoth = k % 2 === 1;
      for (const copy of isBoth ? COPIES : [COPIES[(k / 2) % 2]!])
        for (const file of databaseFiles(profile, copy)) {
          const bytes = readFileSync(file);
          for (let n = 0; n < 1 + k * 3 && bytes.length > 0; n++) {
            const at = Math.floor(random() * bytes.length);
            bytes[at] = bytes[at]! ^ (1 << Math.floor(random() * 8));
          }
          writeFileSync(file, bytes);
        }
      const { found } = await countThenKill(profile, bare.origin, 1);
      const isTold = found.damaged > 0 || found.isLost;
      const isAll = found.count >= said && found.isWhole;
      expect(isAll || (isBoth && isTold), `${k}: ${JSON.stringify(found)}`).toBe(true);
    }
  }, 240_000);
});

/** Where a profile holds the two copies of what is kept. */
const COPIES = ['IndexedDB', 'WebStorage'];

function databaseFiles(profile: string, copy: string): string[] {
  const place = join(profile, 'Default', copy);
  const files = readdirSync(place, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(log|ldb)$/.test(name))
    .map((name) => join(place, name));
  expect(files.length, copy).toBeGreaterThan(0);
  return files;
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
