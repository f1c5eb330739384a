/**
 * Wrong pictures made on purpose from right ones, to show that a comparison would catch them: the spacer whose small face
 * looks to the non-drive side in another colour, and the same spacer without its arrow marks.
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
  return changed(picture, (x, y) => {
    const [r, g, b] = at(picture, x, y);
    if (Math.max(r, g, b) > 110) return undefined;
    const sum = [0, 0, 0];
    let orange = 0;
    let all = 0;
    for (let j = Math.max(0, y - REACH); j <= Math.min(picture.height - 1, y + REACH); j += 1) {
      for (let i = Math.max(0, x - REACH); i <= Math.min(picture.width - 1, x + REACH); i += 1) {
        const colour = at(picture, i, j);
        all += 1;
        if (!isOrange(colour)) continue;
        orange += 1;
        colour.forEach((value, k) => (sum[k]! += value));
      }
    }
    return orange > SHARE * all ? [sum[0]! / orange, sum[1]! / orange, sum[2]! / orange] : undefined;
  });
}
