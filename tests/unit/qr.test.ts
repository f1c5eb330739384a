/**
 * The code for a camera, read by a reader of this test's own as ISO/IEC 18004 lays a code out: finder patterns and timing,
 * format bits, mask, the way of the bits, blocks, Reed-Solomon, mode and length. Nothing of it is asked of the library
 * that drew the code. The block table is from memory; a wrong line of it leaves syndromes that are not zero.
 */
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, test } from 'vitest';
import { Qr } from '../../src/menu/Qr.tsx';

/** By version from 1: error-correction words a block, then how many blocks of how many data words, at level M. */
const BLOCKS: readonly (readonly [number, ...(readonly [number, number])[]])[] = [
  [10, [1, 16]],
  [16, [1, 28]],
  [26, [1, 44]],
  [18, [2, 32]],
  [24, [2, 43]],
  [16, [4, 27]],
  [18, [4, 31]],
  [22, [2, 38], [2, 39]],
  [22, [3, 36], [2, 37]],
  [26, [4, 43], [1, 44]],
];
/** Middles of the alignment patterns, by version from 1. */
const ALIGNED: readonly (readonly number[])[] = [
  [],
  [6, 18],
  [6, 22],
  [6, 26],
  [6, 30],
  [6, 34],
  [6, 22, 38],
  [6, 24, 42],
  [6, 26, 46],
  [6, 28, 50],
];
const QUIET = 4;
const LEVEL_M = 0;
const FORMAT_MASK = 0b101010000010010;
const MASKS: readonly ((y: number, x: number) => boolean)[] = [
  (y, x) => (y + x) % 2 === 0,
  (y) => y % 2 === 0,
  (_, x) => x % 3 === 0,
  (y, x) => (y + x) % 3 === 0,
  (y, x) => (Math.floor(y / 2) + Math.floor(x / 3)) % 2 === 0,
  (y, x) => ((y * x) % 2) + ((y * x) % 3) === 0,
  (y, x) => (((y * x) % 2) + ((y * x) % 3)) % 2 === 0,
  (y, x) => (((y + x) % 2) + ((y * x) % 3)) % 2 === 0,
];

type Code = readonly (readonly boolean[])[];

/** The dots as the page draws them, without the quiet edge, which is held to be free. */
function drawn(address: string): Code {
  const markup = renderToStaticMarkup(createElement(Qr, { address }));
  const [, side] = /viewBox="0 0 (\d+) \1"/.exec(markup)!;
  const dots = new Set([...markup.matchAll(/M(\d+) (\d+)h1v1h-1z/g)].map(([, x, y]) => `${x} ${y}`));
  const size = Number(side) - 2 * QUIET;
  const code = Array.from({ length: size }, (_, y) =>
    Array.from({ length: size }, (__, x) => dots.delete(`${x + QUIET} ${y + QUIET}`)),
  );
  expect(dots.size).toBe(0);
  return code;
}

/** What of a code carries no data; the patterns among it are held to be as they must be. */
function fixedOf(code: Code): (y: number, x: number) => boolean {
  const size = code.length;
  const version = (size - 17) / 4;
  const finder = (y: number, x: number): boolean => {
    const ring = Math.max(Math.abs(y - 3), Math.abs(x - 3));
    return ring !== 2 && ring !== 4;
  };
  for (const [top, left] of [
    [0, 0],
    [0, size - 7],
    [size - 7, 0],
  ] as const)
    for (let y = -1; y <= 7; y++)
      for (let x = -1; x <= 7; x++) {
        const dot = code[top + y]?.[left + x];
        if (dot !== undefined) expect(dot, `finder at ${top + y}, ${left + x}`).toBe(finder(y, x));
      }
  for (let k = 8; k < size - 8; k++) expect([code[6]![k], code[k]![6]]).toEqual([k % 2 === 0, k % 2 === 0]);
  expect(code[size - 8]![8]).toBe(true);
  const at = ALIGNED[version - 1]!;
  const last = at.at(-1);
  const isAligned = (y: number, x: number): boolean =>
    at.some((cy) =>
      at.some((cx) => {
        const isFinder = (cy === 6 && (cx === 6 || cx === last)) || (cy === last && cx === 6);
        return !isFinder && Math.max(Math.abs(y - cy), Math.abs(x - cx)) <= 2;
      }),
    );
  return (y, x) =>
    (y < 9 && (x < 9 || x >= size - 8)) ||
    (y >= size - 8 && x < 9) ||
    y === 6 ||
    x === 6 ||
    isAligned(y, x) ||
    (version >= 7 && ((y < 6 && x >= size - 11) || (x < 6 && y >= size - 11)));
}

/** Level and mask: both copies of the fifteen bits, of which the last ten are held against the first five. */
function formatOf(code: Code): { readonly level: number; readonly mask: number } {
  const size = code.length;
  const bit = (y: number, x: number): number => (code[y]![x] ? 1 : 0);
  const line = [0, 1, 2, 3, 4, 5, 7, 8];
  const once = [...line.map((x) => bit(8, x)), ...[7, 5, 4, 3, 2, 1, 0].map((y) => bit(y, 8))];
  const again = [
    ...[1, 2, 3, 4, 5, 6, 7].map((k) => bit(size - k, 8)),
    ...[8, 7, 6, 5, 4, 3, 2, 1].map((k) => bit(8, size - k)),
  ];
  expect(again).toEqual(once);
  const bits = once.reduce((sum, one) => sum * 2 + one, 0) ^ FORMAT_MASK;
  let rest = bits;
  for (let k = 14; k >= 10; k--) if (rest & (1 << k)) rest ^= 0b10100110111 << (k - 10);
  expect(rest).toBe(0);
  return { level: bits >> 13, mask: (bits >> 10) & 7 };
}

/** The words of a code in the order in which they lie: two columns at a time from the right, up and down by turns. */
function wordsOf(code: Code, mask: number): readonly number[] {
  const size = code.length;
  const isFixed = fixedOf(code);
  const bits: boolean[] = [];
  let isUp = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) right--;
    for (let k = 0; k < size; k++)
      for (const x of [right, right - 1]) {
        const y = isUp ? size - 1 - k : k;
        if (!isFixed(y, x)) bits.push(code[y]![x] !== MASKS[mask]!(y, x));
      }
    isUp = !isUp;
  }
  return Array.from({ length: bits.length >> 3 }, (_, k) =>
    bits.slice(k * 8, k * 8 + 8).reduce((sum, isOn) => sum * 2 + (isOn ? 1 : 0), 0),
  );
}

/** Powers of 2 in the field of 256 with x^8 + x^4 + x^3 + x^2 + 1. */
const POWERS: number[] = [1];
for (let k = 1; k < 255; k++) POWERS.push(POWERS[k - 1]! * 2 > 255 ? (POWERS[k - 1]! * 2) ^ 0x11d : POWERS[k - 1]! * 2);
const times = (a: number, b: number): number =>
  a === 0 || b === 0 ? 0 : POWERS[(POWERS.indexOf(a) + POWERS.indexOf(b)) % 255]!;

/** The data words of a code; each block is held to be a multiple of its generator. */
function dataOf(words: readonly number[], version: number): readonly number[] {
  const [correcting, ...groups] = BLOCKS[version - 1]!;
  const sizes = groups.flatMap(([count, data]) => Array.from({ length: count }, () => data));
  const blocks: number[][] = sizes.map(() => []);
  const rest = [...words];
  for (let k = 0; k < Math.max(...sizes); k++)
    for (const [b, data] of sizes.entries()) if (k < data) blocks[b]!.push(rest.shift()!);
  const data = blocks.flat();
  for (let k = 0; k < correcting; k++) for (const block of blocks) block.push(rest.shift()!);
  expect(rest).toEqual([]);
  for (const block of blocks)
    for (let power = 0; power < correcting; power++)
      expect(block.reduce((sum, word) => times(sum, POWERS[power]!) ^ word, 0)).toBe(0);
  return data;
}

function read(address: string): string {
  const code = drawn(address);
  const version = (code.length - 17) / 4;
  const { level, mask } = formatOf(code);
  expect(level).toBe(LEVEL_M);
  const bits = dataOf(wordsOf(code, mask), version)
    .map((word) => word.toString(2).padStart(8, '0'))
    .join('');
  expect(bits.slice(0, 4)).toBe('0100');
  const wide = version < 10 ? 8 : 16;
  const length = Number.parseInt(bits.slice(4, 4 + wide), 2);
  const bytes = Array.from({ length }, (_, k) => Number.parseInt(bits.slice(4 + wide + k * 8, 12 + wide + k * 8), 2));
  return new TextDecoder('utf-8', { fatal: true }).decode(Uint8Array.from(bytes));
}

test.each([
  'http://127.0.0.2:4173/',
  'http://192.168.4.20:4173/#model=skarn-140&pivot=rocker-frame',
  'http://192.168.4.20:4173/#model=skarn-140&pivot=rocker-frame&apart=1&step=3&cut=yes',
  'https://school.example/workshop/axles/#model=fjordside-150&pivot=main&part=sleeve&apart=0.55&step=12&view=drive',
  `http://127.0.0.2:4173/#model=class-rig&edit=${'a.b-'.repeat(25)}`,
  'http://127.0.0.2:4173/#file=mein-fährrad',
])('a camera reads %s', (address) => {
  expect(read(address)).toBe(address);
});
