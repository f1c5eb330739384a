/**
 * What is kept, in the built app: two tabs at once, own files with all that can be done to them, a store that fills or
 * is taken by a newer app, no network, an update in the middle of work, and the shell round all of it.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { hash } from 'node:crypto';
import { execFile } from 'node:child_process';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { type BrowserContext, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { logOf, nextCounter, readEnvelope, settingOver, writeEnvelope, type FieldValue } from '../../shared/index.ts';
import { usually } from '../setup/series.ts';
import { serveFolder } from '../setup/serving.mjs';
import { axe, openApp, waitReady, type OpenedApp, type Opening } from './harness.ts';
import { launch } from './served.ts';

const top = fileURLToPath(new URL('../..', import.meta.url));
const MODEL = readFileSync(`${top}models/class-rig.json`, 'utf8');
/** A model of somebody's own, as a file. */
const ownFile = (name: string, description = ''): { name: string; mimeType: string; buffer: Buffer } => ({
  name: 'mine.json',
  mimeType: 'application/json',
  buffer: Buffer.from(
    JSON.stringify({
      ...(JSON.parse(MODEL) as object),
      id: 'my-own-bike',
      name,
      ...(description ? { description } : {}),
    }),
  ),
});
const DESK: Opening = { width: 1024, height: 768, stillness: true, webgl: false };

async function using(opening: Partial<Opening>, look: (page: Page, app: OpenedApp) => Promise<void>): Promise<void> {
  const app = await openApp({ ...DESK, ...opening });
  try {
    await waitReady(app.page);
    await look(app.page, app);
    expect(app.noise).toEqual([]);
    expect(app.outside).toEqual([]);
  } finally {
    await app.close();
  }
}

const sheet = (page: Page) => page.getByRole('dialog', { name: 'Own files' });
async function ownFiles(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Menu' }).click();
  await page.getByRole('button', { name: 'Own files' }).click();
  await sheet(page).waitFor();
}
const row = (page: Page, title: string) => sheet(page).getByRole('listitem', { name: title, exact: true });
const openModel = (page: Page, file: ReturnType<typeof ownFile>): Promise<void> =>
  page.getByLabel('Model file').first().setInputFiles(file);
async function saved(page: Page, press: () => Promise<void>): Promise<{ name: string; said: string }> {
  const [file] = await Promise.all([page.waitForEvent('download'), press()]);
  return { name: file.suggestedFilename(), said: await text(await file.createReadStream()) };
}

/** Tries to run and fetch what the build has not put there; what the policy has refused of it, once it has said all. */
async function attacked(page: Page): Promise<readonly string[]> {
  const told = await page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const refused = new Set<string>();
        document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) => {
          refused.add(effectiveDirective);
          if (refused.size === 4) resolve([...refused].sort());
        });
        const script = document.createElement('script');
        script.textContent = 'window.ran = true';
        document.head.append(script);
        const picture = document.createElement('div');
        picture.innerHTML = '<img src="data:," onerror="window.ran = true">';
        document.body.append(picture);
        setTimeout('window.ran = true');
        void fetch('http://127.0.0.1:9/').catch(() => undefined);
      }),
  );
  expect(await page.evaluate(() => 'ran' in window)).toBe(false);
  return told;
}

/** A file with the log of `said` and a setting by another device that knew of nothing that was said of these fields. */
function divergent(said: string, fields: Readonly<Record<string, FieldValue>>, device = 'other'): string {
  const reading = readEnvelope(said, 'kept');
  if (!reading.ok) throw new Error(reading.trouble.code);
  const things = reading.body.things.map(({ name, events }) => {
    const base = logOf(
      events.filter(({ what }) => what.do !== 'set' || !Object.keys(fields).some((f) => f in what.fields)),
    );
    const counter = nextCounter(base);
    const what = settingOver(base, fields);
    return { name, events: [...base.values(), { id: `${device}-${counter}`, device, counter, at_ms: 0, what }] };
  });
  return writeEnvelope('kept', '0.1.0', { things });
}

async function takeIn(page: Page, said: string): Promise<void> {
  const file = { name: 'other.json', mimeType: 'application/json', buffer: Buffer.from(said) };
  await sheet(page).getByLabel('Saved file').setInputFiles(file);
  await sheet(page).getByRole('button', { name: 'Take in', exact: true }).click();
  await sheet(page).getByText('Look at what shows two values').waitFor();
}

/** Rows of both copies on the disk; none of a copy that is not there. */
function rowsKept(page: Page): Promise<readonly number[]> {
  return page.evaluate(async () => {
    const { storageBuckets } = navigator as unknown as {
      storageBuckets: {
        keys: () => Promise<string[]>;
        open: (name: string) => Promise<{ indexedDB: IDBFactory }>;
      };
    };
    const rows = (from: IDBFactory): Promise<number> =>
      new Promise((resolve, reject) => {
        const asked = from.open('axlewright');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const count = asked.result.transaction('events').objectStore('events').count();
          count.onsuccess = () => {
            asked.result.close();
            resolve(count.result);
          };
        };
      });
    const isTwice = (await storageBuckets.keys()).includes('kept-twice');
    return [await rows(indexedDB), isTwice ? await rows((await storageBuckets.open('kept-twice')).indexedDB) : 0];
  });
}

describe('two tabs on one tray', () => {
  test('both parts lie on both, whatever the clock says, and of one field two values are one after the other', async () => {
    await using({ path: '#model=skarn-140&place=tray', isOwn: true }, async (one, { context, origin }) => {
      const two = await context.newPage();
      await two.clock.setFixedTime(new Date('2001-01-01'));
      await two.goto(`${origin}#model=skarn-140&place=tray`);
      await waitReady(two);
      const add = async (page: Page, outside: string): Promise<void> => {
        await page.getByRole('button', { name: 'Add a loose part' }).click();
        await page.getByRole('button', { name: /^Bearing/ }).click();
        await page.getByLabel(/^Outside/).fill(outside);
      };
      await Promise.all([add(one, '24'), add(two, '28')]);
      for (const page of [one, two])
        await expect.poll(() => page.locator('.tray-count').innerText()).toMatch(/^2 on the tray/);
      const misfits = async (): Promise<number> =>
        (await one.locator('.board').innerText()).split('Fits nothing').length - 1;
      expect(await misfits()).toBe(0);
      await two.getByLabel(/^Outside/).fill('31.37');
      await one.keyboard.press('Escape');
      await expect.poll(misfits).toBe(1);
      await one.reload();
      await waitReady(one);
      await expect.poll(() => one.locator('.tray-count').innerText()).toMatch(/^2 on the tray/);
      await expect.poll(misfits).toBe(1);
      // A setting of one is a setting of both.
      await two.getByRole('button', { name: 'Calliper' }).click();
      await two.getByLabel('Inches').click();
      await expect.poll(() => one.getByText('Outside, in').count()).toBe(0);
      await one.locator('.board-button').first().click();
    });
  });
});

describe('own files', () => {
  test('are listed, renamed, taken back, saved and removed; a link to one that is gone says so and keeps its address', async () => {
    await using({ isOwn: true }, async (page, { origin }) => {
      await openModel(page, ownFile('First name'));
      await expect.poll(() => page.url()).toContain('file=my-own-bike');
      await openModel(page, ownFile('Second name'));
      await page.getByText('Second name was here already with other content').waitFor();
      await page.getByRole('button', { name: 'Close' }).click();
      await page.reload();
      await waitReady(page);
      expect(await page.getByLabel('Model', { exact: true }).first().innerText()).toContain('Second name');
      await ownFiles(page);
      expect(await axe(page)).toEqual([]);
      await row(page, 'Second name').getByRole('button', { name: 'Undo' }).click();
      await row(page, 'First name').getByRole('button', { name: 'Redo' }).click();
      await row(page, 'Second name').getByRole('button', { name: 'Rename' }).click();
      await sheet(page).getByLabel('New name').fill('The red one');
      await page.keyboard.press('Enter');
      const red = row(page, 'The red one');
      const model = await saved(page, () => red.getByRole('button', { name: 'Save as a file' }).click());
      expect(model.name).toBe('my-own-bike.json');
      expect(JSON.parse(model.said)).toMatchObject({ id: 'my-own-bike', name: 'Second name' });
      const all = await saved(page, () => sheet(page).getByRole('button', { name: 'Save all as one file' }).click());
      expect(all.name).toBe('axlewright-own-files.json');
      expect(readEnvelope(all.said, 'kept').ok).toBe(true);
      await red.getByRole('button', { name: 'Remove…' }).click();
      await sheet(page).getByRole('button', { name: 'Remove for good' }).click();
      await sheet(page).getByText('None yet.').waitFor();
      const address = page.url();
      await page.goto('about:blank');
      await page.goto(address);
      await page.getByRole('dialog', { name: 'That model is not here' }).waitFor();
      await page.getByRole('button', { name: 'Close' }).click();
      await waitReady(page);
      expect(page.url()).toBe(address);
      // Taken in again, it opens where the address said.
      await ownFiles(page);
      const file = { name: 'all.json', mimeType: 'application/json', buffer: Buffer.from(all.said) };
      await sheet(page).getByLabel('Saved file').setInputFiles(file);
      await sheet(page).getByRole('button', { name: 'Take in', exact: true }).click();
      await sheet(page).getByText('Taken in: 1 new.').waitFor();
      await row(page, 'The red one').getByRole('button', { name: 'Open' }).click();
      await waitReady(page);
      expect(await page.getByLabel('Model', { exact: true }).first().innerText()).toContain('Second name');
      // Once more it says nothing new; a newer one is refused, and nothing here is touched.
      await ownFiles(page);
      await sheet(page).getByLabel('Saved file').setInputFiles(file);
      await sheet(page).getByRole('button', { name: 'Take in', exact: true }).click();
      await sheet(page).getByText('Taken in: 1 known already.').waitFor();
      const newer = JSON.stringify({ ...(JSON.parse(all.said) as object), schema: 2, app: '9.0.0' });
      await sheet(page)
        .getByLabel('Saved file')
        .setInputFiles({ ...file, buffer: Buffer.from(newer) });
      await sheet(page).getByText('Get the newer Axlewright (9.0.0) first').waitFor();
      // Gone again, its file opens where the address says.
      await row(page, 'The red one').getByRole('button', { name: 'Remove…' }).click();
      await sheet(page).getByRole('button', { name: 'Remove for good' }).click();
      await sheet(page).getByText('None yet.').waitFor();
      await page.goto('about:blank');
      await page.goto(`${origin}#file=my-own-bike&pivot=rig-pivot`);
      await page.getByRole('dialog', { name: 'That model is not here' }).getByRole('button', { name: 'Close' }).click();
      await openModel(page, ownFile('Third name'));
      await expect.poll(() => page.title()).toContain('Third name');
      expect(page.url()).toContain('pivot=rig-pivot');
    });
  });
});

describe('another device', () => {
  test('has measured otherwise: both values are shown until a hand picks one; all of it can be removed', async () => {
    const old = { version: 1, drafts: [{ kind: 'bearing', texts: { outside: '24' } }], doubt: '0.02' };
    await using({ isOwn: true }, async (page) => {
      // What the first versions kept, and how.
      await page.evaluate((tray) => localStorage.setItem('axlewright.tray.skarn-140', JSON.stringify(tray)), old);
      await page.goto('about:blank');
      await page.goBack();
      await page.evaluate(() => (window.location.hash = '#model=skarn-140&place=tray'));
      await page.locator('.board-button').first().click();
      await page.getByRole('button', { name: 'Measure more' }).click();
      await page.getByLabel(/^Outside/).fill('24,1');
      await expect.poll(() => page.locator('.board').innerText()).toContain('24.1');
      expect(await page.evaluate(() => localStorage.getItem('axlewright.tray.skarn-140'))).toBeNull();
      await ownFiles(page);
      const press = () =>
        row(page, 'Sorting tray of Skarn 140').getByRole('button', { name: 'Save as a file' }).click();
      const { said, name } = await saved(page, press);
      expect(name).toBe('axlewright-tray-skarn-140.json');
      const [, field = ''] = /"(part\/\d+\/outside)"/.exec(said) ?? [];
      await takeIn(page, divergent(said, { [field]: '24,6' }));
      await sheet(page).getByRole('button', { name: 'Close' }).click();
      const two = page.getByRole('group', { name: 'Two values were entered' });
      await two.getByRole('button', { name: '24,1' }).waitFor();
      await two.getByRole('button', { name: '24,6' }).click();
      await two.waitFor({ state: 'detached' });
      expect(await page.getByLabel(/^Outside/).inputValue()).toBe('24,6');
      // A next file, as long as the last one, is one of its own; the list shows both values as well.
      await ownFiles(page);
      await takeIn(page, divergent(said, { [field]: '24,8' }, 'spare'));
      await takeIn(page, divergent(said, { [field]: '24,7' }, 'third'));
      const listed = sheet(page).getByRole('group', { name: /^Two values were entered/ });
      expect((await listed.getByRole('button').allInnerTexts()).sort()).toEqual(['24,6', '24,7', '24,8']);
      expect(await axe(page)).toEqual([]);
      await listed.getByRole('button', { name: '24,7' }).click();
      await listed.waitFor({ state: 'detached' });
      await sheet(page).getByRole('button', { name: 'Remove all…' }).click();
      await sheet(page).getByRole('button', { name: 'Remove for good' }).click();
      await row(page, 'Sorting tray of Skarn 140').waitFor({ state: 'detached' });
      expect(await rowsKept(page)).toEqual([0, 0]);
      await sheet(page).getByRole('button', { name: 'Close' }).click();
      await expect.poll(() => page.locator('.tray-count').innerText()).toBe('empty');
    });
  });
});

describe('a store in trouble', () => {
  test('that is full is told, offers all of it as a file, and goes on once there is room', async () => {
    await using({ path: '#model=skarn-140&place=tray', isOwn: true }, async (page) => {
      await page.getByRole('button', { name: 'Add a loose part' }).click();
      await page.getByRole('button', { name: /^Bearing/ }).click();
      // As a full disk answers; what a real one does to the store is held in kept-disk.spec.ts.
      await page.evaluate(() => {
        const { put } = IDBObjectStore.prototype;
        IDBObjectStore.prototype.put = () => {
          throw new DOMException('full', 'QuotaExceededError');
        };
        Object.assign(window, { makeRoom: () => (IDBObjectStore.prototype.put = put) });
      });
      await page.keyboard.type('24');
      await page.getByText(/it is full, and .* not kept/).waitFor();
      const { said } = await saved(page, () => page.getByRole('button', { name: 'Save it as a file' }).click());
      expect(said).toContain('"24"');
      await page.evaluate(() => void (window as unknown as { makeRoom: () => void }).makeRoom());
      await page.getByLabel(/^Outside/).fill('2');
      await page.getByText(/it is full/).waitFor({ state: 'detached' });
      await page.reload();
      await waitReady(page);
      await page.locator('.board-button').first().click();
      await expect.poll(() => page.locator('.board').innerText()).toContain('outside diameter 2 mm');
    });
  });

  test('that a newer app has taken lets it go at once; one that an older tab holds is told, and used once it is free', async () => {
    const tray = '#model=skarn-140&place=tray';
    await using({ path: tray, isOwn: true }, async (page, { context, origin }) => {
      const count = (of: Page) => expect.poll(() => of.locator('.tray-count').innerText());
      const add = (of: Page): Promise<void> => of.getByRole('button', { name: 'Add a loose part' }).click();
      await add(page);
      await count(page).toMatch(/^1 on the tray/);
      /** The app as it will be after so many changes of the store's form. */
      const laterApp = async (changes: number): Promise<Page> => {
        const later = await context.newPage();
        await later.addInitScript((more) => {
          const { open } = IDBFactory.prototype;
          IDBFactory.prototype.open = function (name, version) {
            return version === undefined ? open.call(this, name) : open.call(this, name, version + more);
          };
        }, changes);
        await later.goto(`${origin}${tray}`);
        await waitReady(later);
        return later;
      };
      const newer = await laterApp(1);
      await page.getByText('a newer Axlewright is open in another tab').waitFor();
      await count(newer).toMatch(/^1 on the tray/);
      await add(newer);
      await count(newer).toMatch(/^2 on the tray/);
      const [first = 0, second] = await rowsKept(newer);
      expect(first).toBeGreaterThan(1);
      expect(second).toBe(first);

      // A tab that holds on, as none of ours does.
      await page.evaluate(
        () =>
          new Promise<void>((resolve, reject) => {
            const asked = indexedDB.open('axlewright');
            asked.onerror = () => reject(asked.error);
            asked.onsuccess = () => resolve(void Object.assign(window, { held: asked.result }));
          }),
      );
      const newest = await laterApp(2);
      const told = newest.getByText('an older one holds what is kept');
      await told.waitFor();
      await add(newest);
      await count(newest).toMatch(/^1 on the tray/);
      await page.evaluate(() => (window as unknown as { held: IDBDatabase }).held.close());
      await count(newest).toMatch(/^3 on the tray/);
      await told.waitFor({ state: 'detached' });
      await newest.reload();
      await waitReady(newest);
      await count(newest).toMatch(/^3 on the tray/);
    });
  });
});

describe('what a hand enters', () => {
  /** Nothing reaches the disk until it is let go: writes of all tabs wait for one another. */
  const holdDisk = (page: Page): Promise<void> =>
    page.evaluate(
      () =>
        new Promise<void>((held) => {
          void navigator.locks.request('axlewright.kept', () => {
            held();
            return new Promise<void>((letGo) => Object.assign(window, { letGo }));
          });
        }),
    );
  /** Do something while the disk is held: the screen says nothing of it, and says it once it is let go. */
  async function late(page: Page, deed: () => Promise<void>, says: () => Promise<boolean>): Promise<void> {
    await holdDisk(page);
    await deed();
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    expect(await says()).toBe(false);
    await page.evaluate(() => (window as unknown as { letGo: () => void }).letGo());
    await expect.poll(says).toBe(true);
  }
  /** The picture with the place where it was taken, as a telephone writes it: 48 deg N, 11 deg E. */
  function placed(jpeg: Buffer): Buffer {
    const tiff = Buffer.alloc(8 + 18 + 54 + 48);
    tiff.write('II*\0\b\0\0\0', 0, 'latin1');
    tiff.writeUInt16LE(1, 8);
    const entry = (at: number, tag: number, type: number, count: number, value: number): void => {
      tiff.writeUInt16LE(tag, at);
      tiff.writeUInt16LE(type, at + 2);
      tiff.writeUInt32LE(count, at + 4);
      tiff.writeUInt32LE(value, at + 8);
    };
    entry(10, 0x8825, 4, 1, 26);
    tiff.writeUInt16LE(4, 26);
    entry(28, 1, 2, 2, 'N'.charCodeAt(0));
    entry(40, 2, 5, 3, 80);
    entry(52, 3, 2, 2, 'E'.charCodeAt(0));
    entry(64, 4, 5, 3, 104);
    for (const [k, number] of [48, 1, 8, 1, 0, 1, 11, 1, 34, 1, 0, 1].entries()) tiff.writeUInt32LE(number, 80 + 4 * k);
    const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
    const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
    return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
  }

  test('is on the disk before the screen says so; a photo loses its place; nobody is named in links and file names', async () => {
    await using({ path: '#model=class-rig&place=tray', isOwn: true }, async (page) => {
      await page.getByRole('button', { name: 'Menu' }).click();
      const theme = async (): Promise<boolean> =>
        (await page.evaluate(() => document.documentElement.dataset.theme)) === 'dark';
      await late(page, () => page.getByLabel('Dark').click(), theme);
      await page.keyboard.press('Escape');
      const tray = async (): Promise<boolean> => /^1 on the tray/.test(await page.locator('.tray-count').innerText());
      await late(page, () => page.getByRole('button', { name: 'Add a loose part' }).click(), tray);

      await page.evaluate(() => (window.location.hash = '#model=class-rig&place=practice'));
      await page.getByLabel('Your initials').fill('zq');
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: /^Which way it tightens/ }).click();
      const told = async (): Promise<boolean> => (await page.locator('.drill-result').count()) > 0;
      await late(
        page,
        () =>
          page
            .getByRole('button', { name: /clockwise/ })
            .first()
            .click(),
        told,
      );
      await page.getByText('ZQ, 1 done').waitFor();

      await page.evaluate(() => (window.location.hash = '#model=class-rig&place=job'));
      const isBegun = async (): Promise<boolean> => (await page.getByLabel('Reference of the shop').count()) > 0;
      await late(page, () => page.getByRole('button', { name: 'New job' }).click(), isBegun);
      for (const field of ['Reference of the shop', 'Frame number']) await page.getByLabel(field).fill('zqowner-0412');
      await page.getByLabel('Your initials').fill('zq');
      const plain = await page.evaluate(() => {
        const canvas = document.createElement('canvas');
        canvas.width = canvas.height = 40;
        canvas.getContext('2d')!.fillRect(5, 5, 20, 20);
        return canvas.toDataURL('image/jpeg').split(',')[1]!;
      });
      const file = placed(Buffer.from(plain, 'base64'));
      expect(file.includes('Exif')).toBe(true);
      const photo = page.getByRole('img', { name: 'As it came, photo 1' });
      await late(
        page,
        () =>
          page
            .getByLabel('Photo', { exact: true })
            .setInputFiles({ name: 'zqowner-garage.jpg', mimeType: 'image/jpeg', buffer: file }),
        async () => (await photo.count()) > 0,
      );
      const [kind, data = ''] = (await photo.getAttribute('src'))!.split(',');
      const kept = Buffer.from(data, 'base64');
      expect([kind, kept.subarray(0, 2).toString('hex')]).toEqual(['data:image/jpeg;base64', 'ffd8']);
      // Its blocks are the browser's own: the colour profile (APP2) alone, no Exif or XMP (APP1), no words of a maker.
      const blocks = markersOf(kept).filter((marker) => (marker >= 0xe1 && marker <= 0xef) || marker === 0xfe);
      expect(blocks.filter((marker) => marker !== 0xe2)).toEqual([]);
      for (const tell of ['Exif', 'GPS', 'xmp']) expect(kept.includes(tell), tell).toBe(false);

      const step = async (): Promise<string> => new URL(page.url()).hash;
      await page.getByRole('tab', { name: 'Work', exact: true }).click();
      const before = await page.getByRole('status').filter({ hasText: 'steps closed' }).innerText();
      const isClosed = async (): Promise<boolean> =>
        (await page.getByRole('status').filter({ hasText: 'steps closed' }).innerText()) !== before;
      await page.getByRole('button', { name: 'Not on this bike…' }).click();
      await page.getByLabel('Why not on this bike?').fill('no such part');
      await late(page, () => page.keyboard.press('Enter'), isClosed);

      const names: string[] = [];
      const links = [await step(), page.url()];
      await page.getByRole('tab', { name: 'Hand over', exact: true }).click();
      for (const button of ['Save the job as a file', 'Save the sheet as PDF'])
        names.push((await saved(page, () => page.getByRole('button', { name: button }).click())).name);
      links.push(page.url());
      let jobSaid = '';
      await ownFiles(page);
      for (const all = sheet(page).getByRole('listitem'), k = { at: 0 }; k.at < (await all.count()); k.at++) {
        const { name, said } = await saved(page, () =>
          all.nth(k.at).getByRole('button', { name: 'Save as a file' }).click(),
        );
        names.push(name);
        if (name.startsWith('axlewright-job-')) jobSaid = said;
      }
      names.push(
        (
          await saved(page, () =>
            sheet(page)
              .getByRole('button', { name: /^Save all/ })
              .click(),
          )
        ).name,
      );
      expect(names.length).toBeGreaterThan(6);
      for (const text of [...names, ...links]) expect(text).not.toMatch(/zq/i);

      // Another device has another number for the same frame: the job says so, and where to pick.
      await takeIn(page, divergent(jobSaid, { frame: 'zqowner-0413' }));
      await sheet(page).getByRole('button', { name: 'Close' }).click();
      const told2 = page.getByText('in one place of this job two devices say something else');
      await told2.waitFor();
      await page.getByRole('button', { name: 'Own files', exact: true }).click();
      const frames = sheet(page).getByRole('group', { name: /^Two values were entered.* frame$/ });
      expect(await frames.getByRole('button').allInnerTexts()).toEqual(['zqowner-0412', 'zqowner-0413']);
      // The second copy fails at this write, so that from now on there is one.
      await page.evaluate(() => {
        const { put } = IDBObjectStore.prototype;
        let calls = 0;
        IDBObjectStore.prototype.put = function (...asked) {
          if (++calls === 2) throw new DOMException('gone', 'UnknownError');
          return put.apply(this, asked);
        };
      });
      await frames.getByRole('button', { name: 'zqowner-0413' }).click();
      await told2.waitFor({ state: 'detached' });

      // Taken away whole: no row of it in either copy, nor one that nobody can read.
      await page.evaluate(
        () =>
          new Promise<void>((resolve, reject) => {
            const asked = indexedDB.open('axlewright');
            asked.onerror = () => reject(asked.error);
            asked.onsuccess = () => {
              const tx = asked.result.transaction('events', 'readwrite');
              tx.objectStore('events').put({ thing: 'draft/turned', counter: 1, id: 'x', event: 'zq', sum: 0 });
              tx.oncomplete = () => resolve(asked.result.close());
            };
          }),
      );
      await sheet(page).getByRole('button', { name: 'Remove all…' }).click();
      await sheet(page).getByRole('button', { name: 'Remove for good' }).click();
      await expect.poll(() => sheet(page).getByRole('button', { name: 'Remove all…' }).count()).toBe(0);
      await expect.poll(() => rowsKept(page)).toEqual([0, 0]);
    });
  });
});

/** What kinds of block a JPEG begins with, up to its picture. */
function markersOf(jpeg: Buffer): readonly number[] {
  const found: number[] = [];
  for (let at = 2; jpeg[at] === 0xff && jpeg[at + 1] !== 0xda; at += 2 + jpeg.readUInt16BE(at + 2))
    found.push(jpeg[at + 1]!);
  expect(found.length).toBeGreaterThan(2);
  return found;
}

describe('without a network', () => {
  let folder: string;
  let context: BrowserContext;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'axlewright-offline-'));
    const browser = await launch('blind');
    context = await browser.newContext({ viewport: { width: 1024, height: 768 } });
  });
  afterAll(async () => {
    await context.browser()!.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('all of it opens from under a folder of any host; an update waits for a hand and disturbs no other tab', async () => {
    const base = '/some/folder/';
    const first = await serveFolder({ folder: `${top}dist`, base });
    const port = Number(new URL(first.origin).port);
    const page = await context.newPage();
    await page.goto(first.origin);
    await waitReady(page);
    await page.evaluate(
      () =>
        new Promise<void>((resolve) => {
          if (navigator.serviceWorker.controller) return resolve();
          navigator.serviceWorker.addEventListener('controllerchange', () => resolve(), { once: true });
        }),
    );
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
    await first.close();
    const paths = [
      '?x=1#model=class-rig&place=order',
      '#model=skarn-140&place=tray',
      '#model=fjordside-150',
      '#model=holt-120',
    ];
    for (const path of usually(paths, 0, 1)) {
      await page.goto('about:blank');
      await page.goto(`${first.origin}${path}`);
      await waitReady(page);
    }
    // What is not the app is no part of what is kept.
    const kept = await page.evaluate(async () =>
      (await (await caches.open((await caches.keys())[0]!)).keys()).map(({ url }) => url),
    );
    expect(kept.filter((url) => /readme|schema/.test(url))).toEqual([]);
    expect(kept.length).toBeGreaterThan(20);

    // The next version: another page, and a chunk that only it has.
    const next = join(folder, 'next');
    cpSync(`${top}dist`, next, { recursive: true });
    const html = readFileSync(`${next}/index.html`, 'utf8').replace('<body>', '<body data-next="yes">');
    writeFileSync(`${next}/index.html`, html);
    const check = hash('sha256', html, 'base64');
    const keeper = readFileSync(`${next}/offline.js`, 'utf8')
      .replace(/"version":"\w+"/, '"version":"next"')
      .replace(/\["","sha256-[^"]+"\]/, `["","sha256-${check}"]`);
    writeFileSync(`${next}/offline.js`, keeper);
    const second = await serveFolder({ folder: next, base, port, isStrict: true });
    const other = await context.newPage();
    await other.goto(`${second.origin}#model=class-rig`);
    await waitReady(other);
    const shown = page.url();
    await page.evaluate(() => navigator.serviceWorker.getRegistration().then((found) => found!.update()));
    const told = page.getByText('A newer Axlewright is ready');
    await told.waitFor();
    expect(page.url()).toBe(shown);
    expect(await page.locator('body').getAttribute('data-next')).toBeNull();
    await Promise.all([
      page.waitForEvent('load'),
      page.getByRole('button', { name: 'Load the newer one' }).first().click(),
    ]);
    await waitReady(page);
    expect(await page.locator('body').getAttribute('data-next')).toBe('yes');
    expect(page.url()).toBe(shown);
    await second.close();
    // The other tab runs on as it was, and finds what it had not loaded yet.
    expect(await other.locator('body').getAttribute('data-next')).toBeNull();
    await other.getByRole('button', { name: 'Menu' }).click();
    await other.getByRole('button', { name: 'Sorting tray' }).click();
    await other.getByRole('heading', { name: 'Sorting tray' }).waitFor();
  });
});

describe('one file', () => {
  test('opens by itself from the disk, under its own policy, with worker and store', async () => {
    const outDir = `${top}.cache/one`;
    // As a hand builds it: vitest's own surroundings would make another app of it.
    const { NODE_ENV: _, VITEST: __, ...env } = process.env;
    const vite = [`${top}node_modules/vite/bin/vite.js`, 'build', '--mode', 'one', '--logLevel', 'warn'];
    await promisify(execFile)(process.execPath, [...vite, '--outDir', outDir], { cwd: top, env });
    const browser = await launch('blind');
    try {
      const context = await browser.newContext();
      const page = await context.newPage();
      const noise: string[] = [];
      page.on('console', (message) => message.type() === 'error' && noise.push(message.text()));
      page.on('pageerror', (error) => noise.push(error.message));
      await page.goto(`file://${outDir}/axlewright.html#model=class-rig&pivot=rig-pivot`);
      await waitReady(page);
      await page.getByRole('button', { name: 'Menu' }).click();
      await page.getByLabel('Dark').click();
      await expect.poll(() => page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
      await page.reload();
      await waitReady(page);
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
      // No second window follows this one, and none is offered.
      await page.getByRole('button', { name: 'Menu' }).click();
      await page.getByRole('button', { name: 'Class screen in a second window' }).click();
      await page.getByText('windows opened from a file cannot follow one another').waitFor();
      expect(await page.getByRole('button', { name: 'Open the screen' }).count()).toBe(0);
      expect(noise).toEqual([]);
      expect(await attacked(page)).toEqual(['connect-src', 'script-src', 'script-src-attr', 'script-src-elem']);
    } finally {
      await browser.close();
    }
  });
});

describe('the shell', () => {
  test('lets nothing run that the build has not put there', async () => {
    const app = await openApp({ ...DESK, isOwn: true });
    const { page, origin, noise } = app;
    try {
      await waitReady(page);
      expect(noise).toEqual([]);
      const response = await page.request.get(origin);
      const headers = response.headers();
      const policy = headers['content-security-policy']!;
      expect(policy).toMatch(/^default-src 'none'; script-src 'self'; style-src 'self' 'sha256-/);
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
      expect(headers).toMatchObject({
        'referrer-policy': 'no-referrer',
        'cross-origin-embedder-policy': 'require-corp',
        'x-content-type-options': 'nosniff',
        'x-frame-options': 'DENY',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
      });
      const stated = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
      expect(policy.startsWith(stated!)).toBe(true);
      expect(await attacked(page)).toEqual(['connect-src', 'script-src', 'script-src-attr', 'script-src-elem']);
      // What the browser says on its console of each is what was asked for.
      expect(noise.filter((line) => !/Content Security Policy|Failed to load resource/.test(line))).toEqual([]);
    } finally {
      await app.close();
    }
  });

  test('serves what was built and nothing beside it, to its own name alone', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'axlewright-served-'));
    const built = join(folder, 'built');
    mkdirSync(join(built, '.git'), { recursive: true });
    writeFileSync(join(folder, 'secret.json'), '{}');
    for (const name of ['index.html', '.env.json', '.git/config.json', 'a b.js']) writeFileSync(join(built, name), 'x');
    symlinkSync(join(folder, 'secret.json'), join(built, 'link.json'));
    symlinkSync(folder, join(built, 'up'));
    const { origin, close } = await serveFolder({ folder: built });
    const port = Number(new URL(origin).port);
    const ask = (path: string, host = `127.0.0.1:${port}`, method = 'GET'): Promise<number> =>
      new Promise((resolve, reject) => {
        request({ host: '127.0.0.1', port, path, method, headers: { host } }, (answer) => {
          answer.resume();
          resolve(answer.statusCode!);
        })
          .on('error', reject)
          .end();
      });
    try {
      expect(await ask('/')).toBe(200);
      expect(await ask('/a%20b.js')).toBe(200);
      expect(await ask('/', `localhost:${port}`)).toBe(200);
      for (const path of [
        '/.env.json',
        '/.git/config.json',
        '/link.json',
        '/up/secret.json',
        '/../secret.json',
        '/..%2fsecret.json',
        '/%2e%2e/secret.json',
        '//',
        '/index.html/',
      ])
        expect(await ask(path), path).toBe(404);
      expect(await ask('/%ff')).toBe(400);
      expect(await ask('/', 'somewhere.example')).toBe(421);
      expect(await ask('/', `127.0.0.1:${port + 1}`)).toBe(421);
      expect(await ask('/', undefined, 'POST')).toBe(405);
    } finally {
      await close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
