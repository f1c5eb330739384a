/**
 * Stored pictures of the picture: taken, made small, kept under `pictures/`, and compared.
 *
 * A picture is the picture's box of a page at rest, each stored pixel the mean of a square of screen pixels, its
 * colours in 32 steps a channel. Two pictures differ by the most unlike pixels that any window of them holds: one ring
 * wrong in one corner counts, a faint change spread all over does not. Unlike is an OKLab distance (pixelmatch).
 *
 * One renderer repeats itself to the pixel; another draws edges and faint parts otherwise. Which one drew what is
 * stored is stored too, and any other is compared softened: a spacer's colour still tells, its marks do not.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';

/** Four bytes a pixel. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

const folder = fileURLToPath(new URL('pictures/', import.meta.url));
const failed = fileURLToPath(new URL('../../.cache/pictures/', import.meta.url));

/** Edge of the window that is searched, stored pixels. */
const WINDOW = 10;
/** Unlike pixels that a window may hold. */
export const MOST_UNLIKE = 12;

/** How closely pictures are compared. */
export type Eye = 'sharp' | 'soft';
/**
 * `unlike`: pixels farther apart than this are; 1 is black against white. `reach`: pixels averaged over, to each side.
 */
const EYES: Readonly<Record<Eye, { readonly unlike: number; readonly reach: number }>> = {
  sharp: { unlike: 0.05, reach: 0 },
  soft: { unlike: 0.07, reach: 2 },
};

/** Screen pixels of a stored pixel, each way. */
const shrinkBy = (width: number): number => (width < 1200 ? 2 : 4);

/** The picture of a page at rest, in screen pixels. */
export async function takePictureHand(page: Page): Promise<Picture> {
  const { width, height, data } = PNG.sync.read(
    await page.locator('section.picture').screenshot({ animations: 'disabled', caret: 'hide' }),
  );
  return { width, height, data };
}

/** A picture as it is stored; `windowWidth` is that of the page it was taken of. */
export function shrink(picture: Picture, windowWidth: number): Picture {
  const by = shrinkBy(windowWidth);
  const [width, height] = [Math.floor(picture.width / by), Math.floor(picture.height / by)];
  const data = new Uint8Array(4 * width * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      for (let channel = 0; channel < 4; channel += 1) {
        let sum = 0;
        for (let j = 0; j < by; j += 1)
          for (let i = 0; i < by; i += 1)
            sum += picture.data[4 * ((by * y + j) * picture.width + by * x + i) + channel]!;
        data[4 * (y * width + x) + channel] = channel === 3 ? 255 : Math.min(248, 8 * Math.round(sum / (by * by) / 8));
      }
    }
  }
  return { width, height, data };
}

/** Stores a shrunk picture; bytes written. */
export function storePicture(name: string, picture: Picture): number {
  mkdirSync(folder, { recursive: true });
  const bytes = encode(picture);
  writeFileSync(`${folder}${name}.png`, bytes);
  return bytes.length;
}

/** The stored picture of this name; throws where there is none. */
export function storedPicture(name: string): Picture {
  const file = `${folder}${name}.png`;
  if (!existsSync(file)) throw new Error(`pictures: ${file} is not there; \`npm run pictures\` takes it`);
  const { width, height, data } = PNG.sync.read(readFileSync(file));
  return { width, height, data };
}

/** The most unlike pixels in any window of two shrunk pictures; of different sizes, all of them. */
export function unlike(a: Picture, b: Picture, eye: Eye = 'sharp'): number {
  if (a.width !== b.width || a.height !== b.height) return Math.max(a.width * a.height, b.width * b.height);
  const { unlike: threshold, reach } = EYES[eye];
  return pixelmatch(softened(a, reach), softened(b, reach), undefined, a.width, a.height, {
    threshold,
    includeAA: true,
    windowSize: WINDOW,
  });
}

/** `unlike` against the stored picture; one that fails is left in `.cache/pictures` beside what was expected. */
export function unlikeStored(name: string, picture: Picture, eye: Eye): number {
  const stored = storedPicture(name);
  const found = unlike(stored, picture, eye);
  if (found > MOST_UNLIKE) {
    mkdirSync(failed, { recursive: true });
    writeFileSync(`${failed}${name}.png`, encode(picture));
    writeFileSync(`${failed}${name}.stored.png`, encode(stored));
  }
  return found;
}

/** The renderer behind a page, by the name of its family, which outlives its versions. */
export async function rendererOf(page: Page): Promise<string> {
  const name = await page.evaluate(() => {
    const context = document.createElement('canvas').getContext('webgl2');
    const info = context?.getExtension('WEBGL_debug_renderer_info');
    const found = String(context?.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : context.RENDERER));
    context?.getExtension('WEBGL_lose_context')?.loseContext();
    return found;
  });
  return /llvmpipe|swiftshader/i.exec(name)?.[0].toLowerCase() ?? name;
}

const rendererFile = `${folder}renderer.txt`;

/** Notes which renderer the stored pictures are of. */
export function storeRenderer(name: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(rendererFile, `${name}\n`);
}

/** How closely a page's pictures can be compared with the stored ones. */
export async function eyeFor(page: Page): Promise<Eye> {
  return (await rendererOf(page)) === readFileSync(rendererFile, 'utf8').trim() ? 'sharp' : 'soft';
}

function softened({ width, height, data }: Picture, reach: number): Uint8Array {
  if (reach === 0) return data;
  const soft = new Uint8Array(data.length);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const [left, right, top, bottom] = [
        Math.max(0, x - reach),
        Math.min(width - 1, x + reach),
        Math.max(0, y - reach),
        Math.min(height - 1, y + reach),
      ];
      for (let channel = 0; channel < 4; channel += 1) {
        let sum = 0;
        for (let j = top; j <= bottom; j += 1)
          for (let i = left; i <= right; i += 1) sum += data[4 * (j * width + i) + channel]!;
        soft[4 * (y * width + x) + channel] = sum / ((right - left + 1) * (bottom - top + 1));
      }
    }
  }
  return soft;
}

function encode({ width, height, data }: Picture): Buffer {
  const png = new PNG({ width, height });
  png.data = Buffer.from(data);
  return PNG.sync.write(png, { colorType: 2, deflateLevel: 9 });
}
