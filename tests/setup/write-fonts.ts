/**
 * Writes the type of the sheets, `src/drawings/fonts/inter.json`, from the variable type of `node_modules`: two weights
 * of one face, Latin, Greek and Cyrillic, as plain TrueType, which the writer of PDF embeds. `npm run fonts`.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import * as fontkit from 'fontkit';

const FILE = 'src/drawings/fonts/inter.json';
const SOURCE = 'node_modules/@fontsource-variable/inter/files';
const WEIGHTS = { regular: 400, bold: 700 } as const;
/** Parts of the face, and what is taken of each: what European names and figures are written with. */
const PARTS: readonly (readonly [part: string, wanted: (code: number) => boolean])[] = [
  ['latin', () => true],
  ['latin-ext', (code) => code < 0x250 || (code >= 0x1e80 && code <= 0x1e9e) || code >= 0x2000],
  ['vietnamese', () => true],
  ['greek', () => true],
  ['cyrillic', () => true],
  ['cyrillic-ext', (code) => code < 0x530 || code === 0x20b4],
];

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly isOn: boolean;
}
interface Letter {
  readonly advance: number;
  readonly contours: readonly (readonly Corner[])[];
}

type Part = fontkit.Part;
type Take = (code: string) => Letter;

/** Signs that none of the parts has, made of some that they have. */
const MADE: Readonly<Record<string, (take: Take) => Letter>> = {
  '→': (take) => moved(take('↑'), ({ x, y }) => [y + 226, 1437 - x]),
  '←': (take) => moved(take('↓'), ({ x, y }) => [y + 226, 1437 - x]),
  '≤': (take) => withBar(take('<'), take('−')),
  '≥': (take) => withBar(take('>'), take('−')),
  '≈': (take) => ({
    advance: take('~').advance,
    contours: [-250, 250].flatMap((up) => moved(take('~'), ({ x, y }) => [x, y + up]).contours),
  }),
};

function moved({ advance, contours }: Letter, to: (corner: Corner) => readonly [number, number]): Letter {
  return {
    advance,
    contours: contours.map((contour) =>
      contour.map((corner) => {
        const [x, y] = to(corner);
        return { x: Math.round(x), y: Math.round(y), isOn: corner.isOn };
      }),
    ),
  };
}

/** A sign over a bar on the line of writing, as high together as a capital. */
function withBar(sign: Letter, minus: Letter): Letter {
  const [left, low, right, high] = boxOf(sign.contours.flat());
  const [from, foot, to] = boxOf(minus.contours.flat());
  const squeezed = moved(sign, ({ x, y }) => [x, 344 + ((y - low) / (high - low)) * 927]);
  const bar = moved(minus, ({ x, y }) => [left + ((x - from) / (to - from)) * (right - left), y - foot]);
  return { advance: sign.advance, contours: [...squeezed.contours, ...bar.contours] };
}

/** A part of the face at one weight. The library cannot vary what came as WOFF2, so the deltas are applied here. */
function opened(part: string, weight: number) {
  const file = readFileSync(`${SOURCE}/inter-${part}-wght-normal.woff2`);
  const font = fontkit.create(file);
  font.getGlyph(0);
  // A second one: with a weight set, the first would vary outlines while it unpacks them, which fails.
  const varied = fontkit.create(file);
  varied.variationCoords = [weight];
  const vary = varied._variationProcessor;
  const corners = (id: number): Corner[][] => {
    const glyph = font._transformedGlyphs[id]!;
    const isWhole = glyph.points !== undefined;
    const points = (glyph.points ?? glyph.components ?? []).map((one) =>
      'dx' in one ? point(one.dx, one.dy, true) : point(one.x, one.y, one.endContour),
    );
    // Four more that stand for the advance; they are varied with the rest and not needed.
    const moved = [...points, ...[0, 0, 0, 0].map(() => point(0, 0, true))];
    if (points.length > 0) vary.transformPoints(id, moved);
    if (!isWhole)
      return (glyph.components ?? []).flatMap(({ glyphID, scaleX, scaleY, scale01, scale10 }, k) =>
        corners(glyphID).map((contour) =>
          contour.map(({ x, y, isOn }) => ({
            x: Math.round(x * scaleX + y * scale01 + moved[k]!.x),
            y: Math.round(y * scaleY + x * scale10 + moved[k]!.y),
            isOn,
          })),
        ),
      );
    const contours: Corner[][] = [[]];
    glyph.points!.forEach(({ onCurve, endContour }, k) => {
      contours.at(-1)!.push({ x: moved[k]!.x, y: moved[k]!.y, isOn: onCurve });
      if (endContour) contours.push([]);
    });
    return contours.slice(0, -1);
  };
  return {
    font,
    letter: (code: number): Letter => {
      const id = font.glyphForCodePoint(code).id;
      const advance = font.hmtx.metrics.get(Math.min(id, font.hmtx.metrics.length - 1)).advance;
      return { advance: Math.round(advance + vary.getAdvanceAdjustment(id, font.HVAR)), contours: corners(id) };
    },
  };
}

function point(x: number, y: number, endContour: boolean): fontkit.Point {
  const own: fontkit.Point = { x, y, endContour, copy: () => point(own.x, own.y, endContour) };
  return own;
}

/** Bytes that grow, most significant first. */
class Bytes {
  readonly all: number[] = [];
  u8(...values: readonly number[]): this {
    this.all.push(...values.map((value) => value & 255));
    return this;
  }
  u16(...values: readonly number[]): this {
    for (const value of values) this.u8(value >> 8, value);
    return this;
  }
  u32(...values: readonly number[]): this {
    for (const value of values) this.u16(Math.floor(value / 65536), value);
    return this;
  }
}

function outline(contours: Letter['contours']): Bytes {
  const out = new Bytes();
  const all = contours.flat();
  if (all.length === 0) return out;
  out.u16(contours.length, ...boxOf(all));
  let end = -1;
  for (const contour of contours) out.u16((end += contour.length));
  out.u16(0);
  let last = { x: 0, y: 0 };
  const steps = all.map((corner) => {
    const step = { x: corner.x - last.x, y: corner.y - last.y, isOn: corner.isOn };
    last = corner;
    return step;
  });
  const short = (step: number): boolean => Math.abs(step) < 256;
  const flag = (step: number, isShort: number, isSame: number): number =>
    step === 0 ? isSame : short(step) ? isShort | (step > 0 ? isSame : 0) : 0;
  out.u8(...steps.map(({ x, y, isOn }) => (isOn ? 1 : 0) | flag(x, 2, 16) | flag(y, 4, 32)));
  for (const axis of ['x', 'y'] as const)
    for (const { [axis]: step } of steps) if (step !== 0) short(step) ? out.u8(Math.abs(step)) : out.u16(step);
  while (out.all.length % 4 !== 0) out.u8(0);
  return out;
}

function boxOf(corners: readonly Corner[]): [number, number, number, number] {
  const xs = corners.map(({ x }) => x);
  const ys = corners.map(({ y }) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Letters by code as runs of codes that follow one another, the n-th letter being glyph n + 1. */
function runsOf(codes: readonly number[]): { first: number; last: number; glyph: number }[] {
  const runs: { first: number; last: number; glyph: number }[] = [];
  codes.forEach((code, k) => {
    const run = runs.at(-1);
    if (run && run.last === code - 1) run.last = code;
    else runs.push({ first: code, last: code, glyph: k + 1 });
  });
  return runs;
}

function cmapOf(codes: readonly number[]): Bytes {
  const runs = [...runsOf(codes), { first: 0xffff, last: 0xffff, glyph: 0 }];
  const search = 2 * 2 ** Math.floor(Math.log2(runs.length));
  return new Bytes()
    .u16(0, 1, 3, 1)
    .u32(12)
    .u16(4, 16 + 8 * runs.length, 0, 2 * runs.length, search, Math.log2(search / 2), 2 * runs.length - search)
    .u16(...runs.map(({ last }) => last), 0)
    .u16(...runs.map(({ first }) => first))
    .u16(...runs.map(({ first, glyph }) => (glyph - first) & 0xffff))
    .u16(...runs.map(() => 0));
}

function nameTable(style: string): Bytes {
  const names: readonly (readonly [number, string])[] = [
    [0, 'Copyright 2016 The Inter Project Authors (https://github.com/rsms/inter)'],
    [1, 'Inter'],
    [2, style],
    [4, `Inter ${style}`],
    [6, `Inter-${style}`],
    [14, 'https://openfontlicense.org'],
  ];
  const out = new Bytes().u16(0, names.length, 6 + 12 * names.length);
  let at = 0;
  for (const [id, text] of names) {
    out.u16(3, 1, 0x409, id, 2 * text.length, at);
    at += 2 * text.length;
  }
  for (const [, text] of names) out.u16(...[...text].map((letter) => letter.charCodeAt(0)));
  return out;
}

function tableOf({ directory, stream }: Part, tag: string): Bytes {
  const { offset, length } = directory.tables[tag]!;
  return new Bytes().u8(...stream.buffer.slice(offset, offset + length));
}

function put16(table: Bytes, at: number, value: number): void {
  table.all.splice(at, 2, (value >> 8) & 255, value & 255);
}

function written(weight: number, style: string): { readonly bytes: Buffer; readonly codes: readonly number[] } {
  const letters = new Map<number, Letter>();
  const parts = PARTS.map(([part, wanted]) => ({ ...opened(part, weight), wanted }));
  for (const { font, letter, wanted } of parts)
    for (const code of font.characterSet)
      if (code >= 0x20 && code < 0xfe00 && wanted(code) && !letters.has(code)) letters.set(code, letter(code));
  for (const [sign, make] of Object.entries(MADE))
    letters.set(
      sign.codePointAt(0)!,
      make((known) => letters.get(known.codePointAt(0)!)!),
    );
  const codes = [...letters.keys()].sort((a, b) => a - b);
  const { font } = parts[0]!;
  const blank: Letter = { advance: 1344, contours: [] };
  const all = [blank, ...codes.map((code) => letters.get(code)!)];
  const glyf = new Bytes();
  const loca = new Bytes().u32(0);
  const hmtx = new Bytes();
  for (const { advance, contours } of all) {
    glyf.all.push(...outline(contours).all);
    loca.u32(glyf.all.length);
    hmtx.u16(advance, contours.length > 0 ? boxOf(contours.flat())[0] : 0);
  }
  const head = tableOf(font, 'head');
  put16(head, 50, 1);
  boxOf(all.flatMap(({ contours }) => contours.flat())).forEach((value, k) => put16(head, 36 + 2 * k, value));
  const hhea = tableOf(font, 'hhea');
  put16(hhea, 34, all.length);
  const maxp = tableOf(font, 'maxp');
  put16(maxp, 4, all.length);
  const os2 = tableOf(font, 'OS/2');
  put16(os2, 4, weight);
  const tables: Record<string, Bytes> = {
    'OS/2': os2,
    cmap: cmapOf(codes),
    glyf,
    head,
    hhea,
    hmtx,
    loca,
    maxp,
    name: nameTable(style),
    post: new Bytes().u32(0x30000, 0).u16(-348, 140).u32(0, 0, 0, 0, 0),
  };
  return { bytes: fileOf(tables), codes };
}

function sumOf(bytes: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < bytes.length; k += 4)
    sum = (sum + (((bytes[k]! << 24) | (bytes[k + 1]! << 16) | (bytes[k + 2]! << 8) | bytes[k + 3]!) >>> 0)) % 2 ** 32;
  return sum;
}

function fileOf(tables: Readonly<Record<string, Bytes>>): Buffer {
  const tags = Object.keys(tables).sort();
  const search = 16 * 2 ** Math.floor(Math.log2(tags.length));
  const head = new Bytes().u32(0x10000).u16(tags.length, search, Math.log2(search / 16), 16 * tags.length - search);
  const body = new Bytes();
  for (const tag of tags) {
    const { all } = tables[tag]!;
    const length = all.length;
    while (all.length % 4 !== 0) all.push(0);
    head.u8(...[...tag].map((letter) => letter.charCodeAt(0)));
    head.u32(sumOf(all), 12 + 16 * tags.length + body.all.length, length);
    for (const value of all) body.all.push(value);
  }
  return Buffer.from([...head.all, ...body.all]);
}

const regular = written(WEIGHTS.regular, 'Regular');
const bold = written(WEIGHTS.bold, 'Bold');
const text = JSON.stringify(
  {
    letters: runsOf(regular.codes).map(({ first, last }) => [first, last]),
    regular: regular.bytes.toString('base64'),
    bold: bold.bytes.toString('base64'),
  },
  undefined,
  2,
).replace(/\[\s+(\d+),\s+(\d+)\s+\]/g, '[$1, $2]');
writeFileSync(FILE, `${text}\n`);
console.log(`wrote ${FILE}: ${regular.codes.length} letters`);
