// Hostile photos are refused by their first bytes; nothing here unpacks one.
import { describe, expect, test } from 'vitest';
import { PHOTO_LIMITS, photoHeader } from '../../shared/index.ts';

const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
const be16 = (value: number): number[] => [value >> 8, value & 255];
const be32 = (value: number): number[] => [...be16(Math.floor(value / 65536)), ...be16(value & 0xffff)];
const le24 = (value: number): number[] => [value & 255, (value >> 8) & 255, value >> 16];
const png = (width: number, height: number): Uint8Array =>
  Uint8Array.from([
    ...be32(0x89504e47),
    ...be32(0x0d0a1a0a),
    ...be32(13),
    ...ascii('IHDR'),
    ...be32(width),
    ...be32(height),
    8,
    2,
    0,
    0,
    0,
  ]);
const jpeg = (width: number, height: number, marker = 0xc0): Uint8Array =>
  Uint8Array.from([
    0xff,
    0xd8,
    0xff,
    0xe1,
    ...be16(10),
    ...ascii('Exif....'),
    0xff,
    0xff,
    marker,
    ...be16(17),
    8,
    ...be16(height),
    ...be16(width),
    3,
    1,
    2,
  ]);
const webp = (chunk: string, body: readonly number[]): Uint8Array =>
  Uint8Array.from([
    ...ascii('RIFF'),
    0,
    0,
    0,
    0,
    ...ascii('WEBP'),
    ...ascii(chunk),
    0,
    0,
    0,
    0,
    ...body,
    ...Array(20).fill(0),
  ]);

describe('the size of a photo', () => {
  test.each([
    ['png', png(4032, 3024)],
    ['jpeg', jpeg(4032, 3024)],
    ['jpeg', jpeg(4032, 3024, 0xc2)],
    ['webp', webp('VP8X', [0, 0, 0, 0, ...le24(4031), ...le24(3023)])],
    ['webp', webp('VP8L', [0x2f, ...[0, 8, 16, 24].map((by) => ((4031 | (3023 << 14)) >>> by) & 255)])],
    ['webp', webp('VP8 ', [0, 0, 0, 0x9d, 0x01, 0x2a, 4032 & 255, 4032 >> 8, 3024 & 255, 3024 >> 8])],
  ])('stands in the head of a %s', (kind, bytes) => {
    expect(photoHeader(bytes)).toEqual({ ok: true, kind, width_px: 4032, height_px: 3024 });
  });

  test.each([
    ['a side of 30,000 px', png(30_000, 20)],
    ['1 GiB unpacked', png(11_000, 11_000)],
    ['a frame of 65,535 px', jpeg(65_535, 65_535)],
    ['a canvas of 16 million px', webp('VP8X', [0, 0, 0, 0, 255, 255, 255, 255, 255, 255])],
  ])('refuses %s before it is unpacked', (_, bytes) => {
    expect(photoHeader(bytes)).toMatchObject({ ok: false, why: 'too-large' });
  });

  test('refuses a file that is too large, whatever it says', () => {
    expect(photoHeader(png(10, 10), PHOTO_LIMITS.file_bytes.value + 1)).toMatchObject({ ok: false, why: 'too-large' });
  });

  test.each([
    ['nothing', new Uint8Array()],
    ['text', Uint8Array.from(ascii('<svg xmlns="http://www.w3.org/2000/svg"/>     '))],
    ['a size of nothing', png(0, 0)],
    ['a cut head', png(10, 10).subarray(0, 20)],
    ['a picture that begins before its frame', Uint8Array.from([0xff, 0xd8, 0xff, 0xda, 0, 12, 0, 0, 0, 0, 0, 0, 0])],
    ['a segment of no length', Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 0, 0, 0, 0, 0, 0, 0, 0, 0])],
    [
      'a chain of segments without an end',
      Uint8Array.from({ length: 60_000 }, (_, k) => [0xff, 0xd8, 0xff, 0xe0, 0, 2][k < 6 ? k : 2 + (k % 4)]!),
    ],
  ])('is not found in %s', (_, bytes) => {
    expect(photoHeader(bytes)).toMatchObject({ ok: false, why: 'no-photo' });
  });

  test('every head cut short at any byte is read without a throw', () => {
    for (const whole of [png(10, 10), jpeg(10, 10), webp('VP8X', [0, 0, 0, 0, ...le24(9), ...le24(9)])])
      for (let length = 0; length <= whole.length; length++)
        expect(() => photoHeader(whole.subarray(0, length))).not.toThrow();
  });
});
