/**
 * Tiles for hatched caps, face bands and woven laminate, as plain pixels.
 *
 * Each tile repeats without a seam and is supersampled, so that it stays calm when small. Values run from 0 (ground) to 1
 * (ink); `materials.ts` mixes the two colours.
 */

/** The tiles. `hatch-a` and `hatch-b` lean opposite ways, for neighbours in a section. */
export type Tile = 'hatch-a' | 'hatch-b' | 'hatch-bold' | 'dots' | 'diagonal' | 'weave';

const SAMPLES = 4;

/** Ink share of every pixel of a square tile, row by row. */
export function tilePixels(tile: Tile, size: number): Float32Array {
  const pixels = new Float32Array(size * size);
  for (let y = 0; y < size; y += 1) {
    for (let x = 0; x < size; x += 1) {
      let sum = 0;
      for (let sy = 0; sy < SAMPLES; sy += 1) {
        for (let sx = 0; sx < SAMPLES; sx += 1) {
          sum += inkAt(tile, (x + (sx + 0.5) / SAMPLES) / size, (y + (sy + 0.5) / SAMPLES) / size);
        }
      }
      pixels[y * size + x] = sum / (SAMPLES * SAMPLES);
    }
  }
  return pixels;
}

/** Ink at a place of the unit tile. */
function inkAt(tile: Tile, u: number, v: number): number {
  const rising = fraction(u + v);
  const falling = fraction(u - v);
  switch (tile) {
    case 'hatch-a':
      return rising < 0.14 ? 1 : 0;
    case 'hatch-b':
      return falling < 0.14 ? 1 : 0;
    case 'hatch-bold':
      return rising < 0.45 ? 1 : 0;
    case 'diagonal':
      return falling < 0.13 ? 1 : 0;
    case 'dots':
      return Math.min(dot(u, v, 0.25, 0.25), dot(u, v, 0.75, 0.75)) < 0.17 ? 1 : 0;
    case 'weave':
      return weave(u, v);
  }
}

function fraction(t: number): number {
  return t - Math.floor(t);
}

function dot(u: number, v: number, cu: number, cv: number): number {
  return Math.hypot(u - cu, v - cv);
}

/** A 2 by 2 twill: strands over two, under two, each row shifted by one. */
function weave(u: number, v: number): number {
  const column = Math.floor(u * 4);
  const row = Math.floor(v * 4);
  const isWarp = (column + row) % 4 < 2;
  const across = isWarp ? fraction(u * 4) : fraction(v * 4);
  const round = Math.sin(Math.PI * across);
  return (isWarp ? 0.55 : 0.2) * (0.55 + 0.45 * round) + 0.1;
}
