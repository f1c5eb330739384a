/**
 * The one writer of DXF: a drawing's shapes as text for a drawing program, in mm, one unit a mm.
 *
 * The form is that of release 12, which every reader takes. A sheet's y runs down and that of the format up, so all is
 * turned over about the sheet's foot; an arc is the bulge of its line, a fill is left out, and each class is a layer.
 */
import { hatchLines } from './hatch.ts';
import type { Drawing, Look, Point, Run, Shape } from './shapes.ts';

type Pair = readonly [code: number, value: string | number];

/** A drawing as a file. */
export function dxf(drawing: Drawing): string {
  const { from, width_mm, height_mm, shapes } = drawing;
  const layers = new Set<string>(['0']);
  const entities = shapes.flatMap((shape) => entitiesOf(shape, [-from[0], from[1] + height_mm], '0', layers));
  const pairs: Pair[] = [
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, 'AC1009'],
    [9, '$INSUNITS'],
    [70, 4],
    [9, '$EXTMIN'],
    [10, 0],
    [20, 0],
    [9, '$EXTMAX'],
    [10, width_mm],
    [20, height_mm],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'TABLES'],
    [0, 'TABLE'],
    [2, 'LAYER'],
    [70, layers.size],
    ...[...layers].flatMap((name): Pair[] => [
      [0, 'LAYER'],
      [2, name],
      [70, 0],
      [62, 7],
      [6, 'CONTINUOUS'],
    ]),
    [0, 'ENDTAB'],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return pairs.map(([code, value]) => `${code}\n${typeof value === 'number' ? figure(value, code) : value}\n`).join('');
}

/** Codes below 60 are lengths and angles, from there on whole numbers. */
function figure(value: number, code: number): string {
  if (!Number.isFinite(value)) throw new Error(`dxf: ${code} met ${value}`);
  return code >= 60 ? String(value) : (Math.round(value * 1e6) / 1e6 + 0).toFixed(6);
}

type Origin = readonly [x: number, foot: number];

function entitiesOf(shape: Shape, origin: Origin, within: string, layers: Set<string>): Pair[] {
  const layer = layerOf(shape, within);
  const at = ([x, y]: Point): Point => [x + origin[0], origin[1] - y];
  const put = (pairs: Pair[]): Pair[] => {
    layers.add(layer);
    return pairs;
  };
  switch (shape.kind) {
    case 'group': {
      const [x, y] = shape.at ?? [0, 0];
      const inner: Origin = [origin[0] + x, origin[1] - y];
      return shape.shapes.flatMap((each) => entitiesOf(each, inner, layer, layers));
    }
    case 'path':
      return put(shape.runs.flatMap((run) => polyline(run, shape.isClosed, at, layer)));
    case 'rect': {
      const { x, y, width, height } = shape;
      const run: Run = [
        [x, y],
        [x + width, y],
        [x + width, y + height],
        [x, y + height],
      ];
      return put(polyline(run, true, at, layer));
    }
    case 'circle':
      return put([[0, 'CIRCLE'], [8, layer], ...place(at(shape.middle)), [40, shape.radius]]);
    case 'hatch': {
      const runs = shape.polygons.flatMap((polygon) => hatchLines(polygon, shape));
      return put(runs.flatMap((run) => polyline(run as Run, false, at, layer)));
    }
    case 'text': {
      const across = shape.anchor === 'middle' ? 1 : shape.anchor === 'end' ? 2 : 0;
      return put([
        [0, 'TEXT'],
        [8, layer],
        ...place(at(shape.at)),
        // Height of a capital, which the format asks for, of a type's size.
        [40, shape.size * 0.72],
        [1, inAscii(shape.text)],
        ...(across === 0 ? [] : ([[72, across], ...place(at(shape.at), 11)] as Pair[])),
      ]);
    }
  }
}

const place = ([x, y]: Point, code = 10): Pair[] => [
  [code, x],
  [code + 10, y],
];

/** A layer's name: letters, figures and dashes. */
function layerOf({ class: name }: Look, within: string): string {
  const first = name?.split(' ')[0]?.replace(/[^A-Za-z0-9-]/g, '-');
  return first === undefined || first === '' ? within : first;
}

function polyline(run: Run, isClosed: boolean, at: (point: Point) => Point, layer: string): Pair[] {
  const ends = run.map((step) => ('to' in step ? step.to : step));
  return [
    [0, 'POLYLINE'],
    [8, layer],
    [66, 1],
    [10, 0],
    [20, 0],
    [70, isClosed ? 1 : 0],
    ...run.flatMap((_, k): Pair[] => {
      const next = run[k + 1];
      const bulge = next && 'to' in next ? bulgeOf(ends[k]!, next) : 0;
      return [[0, 'VERTEX'], [8, layer], ...place(at(ends[k]!)), ...(bulge === 0 ? [] : ([[42, bulge]] as Pair[]))];
    }),
    [0, 'SEQEND'],
    [8, layer],
  ];
}

/** The tangent of a quarter of what an arc turns by, > 0 against the clock, which is the same way up on both sheets. */
function bulgeOf(from: Point, { to, radius, isLong, isClockwise }: Exclude<Run[number], Point>): number {
  const half = Math.asin(Math.min(1, Math.hypot(to[0] - from[0], to[1] - from[1]) / 2 / radius));
  const turn = isLong ? 2 * Math.PI - 2 * half : 2 * half;
  return Math.tan(turn / 4) * (isClockwise ? -1 : 1);
}

/** The format's own letters; others by their number, as its readers write them. */
function inAscii(text: string): string {
  return [...text.replace(/[\r\n]/g, ' ')]
    .map((letter) => {
      const code = letter.codePointAt(0)!;
      return code >= 0x20 && code < 0x7f ? letter : `\\U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
    })
    .join('');
}
