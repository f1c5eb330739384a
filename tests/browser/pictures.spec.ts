// The stored pictures of every view, what a frame of each costs, and that none would pass with a spacer wrong.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { LONG } from '../setup/series.ts';
import { waitReady, type Opening } from './harness.ts';
import { eyeFor, MOST_UNLIKE, shrink, storedPicture, takePictureHand, unlike, unlikeStored } from './pictures.ts';
import { eachLook, frameCost, settled, viewAddress, WINDOWS, type FrameCost, type Look } from './picture-view.ts';
import { using } from './using.ts';
import { eraseMarks, recolourSpacer } from './wrong-spacer.ts';

const PIVOT = 'Rocker to frame';

/** What follows a tap may take a while on a slow renderer. */
const soon = <T>(look: () => T) => expect.poll(look, { timeout: 15_000 });

/** Limits of issue and design: what a frame may cost a cheap tablet. */
const MOST = { calls: 120, triangles: 400_000 } as const;

describe.each(WINDOWS)('pictures at $width by $height', ({ width, height }) => {
  // In one theme each; in both in the long run.
  const only = LONG ? undefined : width === 1024 ? 'dark' : 'light';
  test('every view is as stored, costs what it may, and would not pass with a spacer wrong', async () => {
    const opening: Opening = { width, height, stillness: true, isPainted: true, path: viewAddress('bike') };
    await using({ ...opening, theme: only ?? 'light' }, async (_, page) => {
      const eye = await eyeFor(page);
      const wrong: string[] = [];
      const dear: (FrameCost & { name: string })[] = [];
      const look = async ({ view, name }: Look): Promise<void> => {
        const cost = await frameCost(page);
        if (cost.calls > MOST.calls || cost.triangles > MOST.triangles) dear.push({ name, ...cost });
        // Another renderer sorts the faint parts of a step in another order.
        if (eye === 'soft' && view === 'step') return;
        const raw = await takePictureHand(page);
        const found = unlikeStored(name, shrink(raw, width), eye);
        if (found > MOST_UNLIKE) wrong.push(`${name}: ${found} unlike pixels in one window`);
        if (view !== 'apart') return;
        const stored = storedPicture(name);
        const recoloured = recolourSpacer(raw);
        expect(recoloured.pixels, `${name}: the spacer is in the picture`).toBeGreaterThan(20);
        expect(
          unlike(stored, shrink(recoloured.picture, width), eye),
          `${name}: the spacer in the other colour`,
        ).toBeGreaterThan(MOST_UNLIKE);
        // On a phone or a tablet a mark is a pixel or two of what is stored; there colour, place and name of the spacer
        // are held.
        if (eye === 'soft' || width < 1900) return;
        const erased = eraseMarks(raw);
        expect(erased.pixels, `${name}: the spacer has marks`).toBeGreaterThan(5);
        expect(
          unlike(stored, shrink(erased.picture, width), eye),
          `${name}: the spacer without its marks`,
        ).toBeGreaterThan(MOST_UNLIKE);
      };
      await eachLook(page, look, only);
      expect(wrong).toEqual([]);
      expect(dear).toEqual([]);
      await page.getByRole('button', { name: 'Legend' }).click();
      expect(
        await page.getByRole('dialog', { name: 'Colours and marks' }).isVisible(),
        'the legend, one tap away',
      ).toBe(true);
    });
  });
});

describe('a ring put in the wrong way round', () => {
  test('makes another picture of the picture', async () => {
    const file = fileURLToPath(new URL('../../models/skarn-140.json', import.meta.url));
    const model = JSON.parse(readFileSync(file, 'utf8')) as {
      pivots: { id: string; stacks: { row: { part?: string; turned?: boolean }[] }[] }[];
      parts: Record<string, { kind: string }>;
    };
    const row = model.pivots.find(({ id }) => id === 'rocker-frame')!.stacks[0]!.row;
    const ring = row.find(({ part }) => part !== undefined && model.parts[part]!.kind === 'tapered-spacer')!;
    ring.turned = ring.turned !== true;
    await using({ width: 1024, height: 768, stillness: true, isPainted: true }, async (_, page) => {
      await page.getByLabel('Model file').setInputFiles({
        name: 'turned.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(model)),
      });
      await soon(() => page.url()).toContain('file=');
      await waitReady(page);
      await page.getByRole('navigation', { name: 'Pivots' }).getByRole('button', { name: PIVOT }).click();
      await settled(page);
      expect(
        unlike(storedPicture('apart-1024-light'), shrink(await takePictureHand(page), 1024), await eyeFor(page)),
      ).toBeGreaterThan(MOST_UNLIKE);
    });
  });
});
