/**
 * What every drawing is made of: named shapes in mm of the sheet, from which a writer makes a file or a page.
 *
 * x grows to the right and y downward, both in mm. A shape says what it is (a hatch, not its lines; a text with its
 * anchor, not its outline), so that writers for other forms than SVG need no drawing of their own. What is arranged for
 * a screen is composed in px first, since fingers and type are measured there, and handed over in mm: 96 px an inch.
 * A shape without fill is not filled, unless its class leaves the colours to a style sheet.
 */

/** A place on the sheet, mm. */
export type Point = readonly [x: number, y: number];

/** The next corner of a line, reached along an arc of a circle. */
export interface Arc {
  readonly to: Point;
  readonly radius: number;
  /** True for the longer of the two arcs that lead there. */
  readonly isLong: boolean;
  /** True where the arc turns clockwise on the sheet. */
  readonly isClockwise: boolean;
}

/** Corners in order, the first of them a point. */
export type Run = readonly (Point | Arc)[];

/** How a shape is painted, named and touched. */
export interface Look {
  readonly class?: string | undefined;
  /** What belongs to it: the item, pose or member it shows. */
  readonly data?: Readonly<Record<string, string | undefined>> | undefined;
  readonly fill?: string | undefined;
  readonly stroke?: string | undefined;
  /** Thickness of the stroke, mm. */
  readonly pen?: number | undefined;
  /** Strokes and gaps in turn, mm. */
  readonly dash?: readonly number[] | undefined;
  readonly cap?: 'round' | undefined;
  readonly join?: 'round' | 'miter' | undefined;
  /** What a pointer meets: the whole shape though it is not painted, or nothing. */
  readonly hits?: 'all' | 'none' | undefined;
}

/** Lines or outlines painted in one go. */
export interface Path extends Look {
  readonly kind: 'path';
  readonly runs: readonly Run[];
  readonly isClosed: boolean;
}

/** A rectangle, its corners rounded where it has a radius. */
export interface Rect extends Look {
  readonly kind: 'rect';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly radius?: number | undefined;
}

/** A circle. */
export interface Circle extends Look {
  readonly kind: 'circle';
  readonly middle: Point;
  readonly radius: number;
}

/** How cut material is hatched. */
export interface Hatching {
  /** +1 climbs to the right on the sheet, −1 falls. */
  readonly rise: 1 | -1;
  /** Distance between lines, square to them, mm. */
  readonly spacing: number;
  /** Where the family of lines is anchored, so that it moves with the part. */
  readonly origin: Point;
  readonly pen: number;
}

/** Hatched cut faces. */
export interface Hatch extends Look, Hatching {
  readonly kind: 'hatch';
  readonly polygons: readonly (readonly Point[])[];
  readonly pen: number;
}

/** How words are set, beside their colour; a stroke runs round the letters, under them. */
export interface Type extends Look {
  readonly anchor?: 'middle' | 'end' | undefined;
  readonly weight?: number | undefined;
  readonly isItalic?: boolean | undefined;
  /** Added between letters, mm. */
  readonly spacing?: number | undefined;
  /** The whole of it, where the words are cut short. */
  readonly title?: string | undefined;
}

/** Words on a base line. */
export interface Text extends Type {
  readonly kind: 'text';
  readonly text: string;
  readonly at: Point;
  /** Height of the type, mm. */
  readonly size: number;
}

/** What a piece of a sheet is to whoever has it read out: in a tagged file each stands in the order it is drawn in. */
export type Tag = 'H1' | 'H2' | 'P' | 'L' | 'LI' | 'Table' | 'TR' | 'TH' | 'TD' | 'Figure';

/** Shapes that belong together. */
export interface Group extends Look {
  readonly kind: 'group';
  readonly shapes: readonly Shape[];
  readonly tag?: Tag | undefined;
  /** A figure in words. */
  readonly alt?: string | undefined;
  /** What a screen reader calls it. */
  readonly title?: string | undefined;
  /** Where its own origin stands, mm. */
  readonly at?: Point | undefined;
  /** What is seen of it, under an id of the drawing's own. */
  readonly clip?: { readonly id: string; readonly to: Rect } | undefined;
  /** Room it keeps for itself: left, top, right, bottom, mm. */
  readonly box?: readonly number[] | undefined;
}

/** Anything drawn. */
export type Shape = Path | Rect | Circle | Hatch | Text | Group;

/** A whole drawing. */
export interface Drawing {
  readonly class?: string;
  readonly data?: Readonly<Record<string, string>>;
  /** What a screen reader says; without it the drawing is left to the words beside it. */
  readonly label?: string | undefined;
  readonly title?: string;
  /** The drawing in sentences. */
  readonly description?: string;
  /** What the page does to its classes on its own. */
  readonly style?: string;
  /** Upper left corner and size of the sheet, mm. */
  readonly from: Point;
  readonly width_mm: number;
  readonly height_mm: number;
  /** What a screen counts its shapes in: px for what was arranged for one. */
  readonly unit: 'mm' | 'px';
  /** How large a mm is shown; without it the drawing fills its place. */
  readonly shown?: { readonly scale: number; readonly unit: 'mm' | 'px' };
  readonly shapes: readonly Shape[];
}

/** CSS px to a mm: 96 an inch (CSS Values and Units 4, section 6.2). */
export const PX_PER_MM = 96 / 25.4;

/** Corners from x, y, x, y … */
export const corners = (...flat: readonly number[]): Point[] =>
  Array.from({ length: flat.length / 2 }, (_, k) => [flat[2 * k]!, flat[2 * k + 1]!]);

/** Lines through points. */
export const lines = (runs: readonly Run[], look: Look): Path => ({ kind: 'path', runs, isClosed: false, ...look });

/** Areas within outlines. */
export const areas = (runs: readonly Run[], look: Look): Path => ({ kind: 'path', runs, isClosed: true, ...look });

/** A rectangle from its upper left corner. */
export const rect = (x: number, y: number, width: number, height: number, look: Look): Rect => ({
  kind: 'rect',
  x,
  y,
  width,
  height,
  ...look,
});

/** A circle about its middle. */
export const circle = (middle: Point, radius: number, look: Look): Circle => ({
  kind: 'circle',
  middle,
  radius,
  ...look,
});

/** Words from a place on their base line. */
export const words = (text: string, x: number, y: number, size: number, type: Type): Text => ({
  kind: 'text',
  text,
  at: [x, y],
  size,
  ...type,
});

/** Shapes under one name. */
export const group = (shapes: readonly Shape[], more: Omit<Group, 'kind' | 'shapes'>): Group => ({
  kind: 'group',
  shapes,
  ...more,
});

/** The only numbers in a shape that are no lengths. */
const COUNTS = new Set(['rise', 'weight']);

/** The same shape `by` times as large: px to mm and back. */
export function scaled<S>(shape: S, by: number): S;
export function scaled(value: unknown, by: number): unknown {
  if (typeof value === 'number') return value * by;
  if (Array.isArray(value)) return value.map((each) => scaled(each, by));
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value);
  return Object.fromEntries(entries.map(([key, inner]) => [key, COUNTS.has(key) ? inner : scaled(inner, by)]));
}

/** A drawing of `width_px` by `height_px`, arranged for a screen in px, handed over in mm. */
export function arranged(
  shapes: readonly Shape[],
  width_px: number,
  height_px: number,
): Pick<Drawing, 'from' | 'width_mm' | 'height_mm' | 'unit' | 'shapes'> {
  return {
    from: [0, 0],
    width_mm: width_px / PX_PER_MM,
    height_mm: height_px / PX_PER_MM,
    unit: 'px',
    shapes: scaled(shapes, 1 / PX_PER_MM),
  };
}

// Advance widths in em, measured once in Inter at weight 500 and taken a little wide, so that a stand-in font fits too.
const WIDTHS: readonly (readonly [string, number])[] = [
  ["ijlI.,:;'|!", 0.3],
  ['ft()[]r-/ ', 0.41],
  ['mwMW@%', 0.94],
  ['ABCDEFGHKNOPQRSTUVXYZ&', 0.74],
];
const EM = new Map(WIDTHS.flatMap(([letters, em]) => [...letters].map((letter) => [letter, em] as const)));
const USUAL_EM = 0.63;
// Anything beyond Latin may come from another font; East Asian letters fill a whole em.
const WIDE_EM = 1.05;

/** Width that `text` needs at `size`, in the unit of that, estimated from above. */
export function textWidth(text: string, size: number): number {
  let em = 0;
  for (const letter of text) em += EM.get(letter) ?? ((letter.codePointAt(0) ?? 0) > 0x2e7f ? WIDE_EM : USUAL_EM);
  return em * size;
}

/** `text` cut with an ellipsis so that it needs no more than `width`. */
export function fitText(text: string, size: number, width: number): string {
  if (textWidth(text, size) <= width) return text;
  const letters = [...text];
  while (letters.length > 1 && textWidth(`${letters.join('')}…`, size) > width) letters.pop();
  return `${letters.join('').trimEnd()}…`;
}
