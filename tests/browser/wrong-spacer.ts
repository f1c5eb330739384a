/**
 * Wrong pictures made on purpose from right ones, to show that a comparison would catch them: the spacer whose small
 * face looks to the non-drive side in another colour, and the same spacer without its arrow marks.
 */
import type { Picture } from './pictures.ts';

type Rgb = readonly [number, number, number];

const at = ({ data, width }: Picture, x: number, y: number): Rgb => {
  const k = 4 * (y * width + x);
  return [data[k]!, data[k + 1]!, data[k + 2]!];
};

/** Lit or in the shade, the spacer’s orange keeps its hue, 30 to 46°; words and wood are less strong. */
function isOrange([r, g, b]: Rgb): boolean {
  if (r < 70 || r <= g || g <= b) return false;
  const hue = (60 * (g - b)) / (r - b);
  return hue > 30 && hue < 46 && (r - b) / r > 0.55;
}

function changed(
  picture: Picture,
  change: (x: number, y: number) => Rgb | undefined,
): { readonly picture: Picture; readonly pixels: number } {
  const data = new Uint8Array(picture.data);
  let pixels = 0;
  for (let y = 0; y < picture.height; y += 1) {
    for (let x = 0; x < picture.width; x += 1) {
      const colour = change(x, y);
      if (!colour) continue;
      data.set(colour, 4 * (y * picture.width + x));
      pixels += 1;
    }
  }
  return { picture: { ...picture, data }, pixels };
}

/** The spacer in the other facing's colour: red and blue change places. Screen pixels. */
export function recolourSpacer(picture: Picture): { readonly picture: Picture; readonly pixels: number } {
  return changed(picture, (x, y) => {
    const [r, g, b] = at(picture, x, y);
    return isOrange([r, g, b]) ? [b, g, r] : undefined;
  });
}

/** How far around an ink pixel is looked for the spacer it lies on, and how much of that must be the spacer. */
const REACH = 6;
const SHARE = 0.45;

/** The spacer without the dark marks that lie within its orange. Screen pixels. */
export function eraseMarks(picture: Picture): { readonly picture: Picture; readonly pixels: number } {
  const { width, height } = picture;
  // Found once a pixel: a dark ground looks around itself everywhere.
  const orange = new Uint8Array(width * height);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) if (isOrange(at(picture, x, y))) orange[y * width + x] = 1;
  return changed(picture, (x, y) => {
    if (Math.max(...at(picture, x, y)) > 110) return undefined;
    const [left, right] = [Math.max(0, x - REACH), Math.min(width - 1, x + REACH)];
    const [top, bottom] = [Math.max(0, y - REACH), Math.min(height - 1, y + REACH)];
    const sum: [number, number, number] = [0, 0, 0];
    let count = 0;
    for (let j = top; j <= bottom; j += 1) {
      for (let i = left; i <= right; i += 1) {
        if (orange[j * width + i] === 0) continue;
        count += 1;
        at(picture, i, j).forEach((value, k) => (sum[k]! += value));
      }
    }
    const all = (right - left + 1) * (bottom - top + 1);
    return count > SHARE * all ? [sum[0] / count, sum[1] / count, sum[2] / count] : undefined;
  });
}
