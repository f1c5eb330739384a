/**
 * The one writer of SVG: a drawing's shapes as text, to put on a page or keep as a file.
 *
 * Plain text, so that a drawing can be stored, compared and made without a browser; no ids but those of clips, colours
 * as attributes, so that many drawings can share a page and converters need no style sheet. Numbers keep two decimals
 * (far below what a screen or a printer shows), so that stored drawings do not change with the last bits of a
 * computation.
 */
import { hatchLines } from './hatch.ts';
import { PX_PER_MM, scaled, type Drawing, type Look, type Path, type Run, type Shape } from './shapes.ts';

const FONT = "'Inter Variable', Inter, system-ui, sans-serif";

/** A drawing as the text of an SVG element. */
export function svg(drawing: Drawing): string {
  const { unit, shown, label, title, description, style } = drawing;
  const by = unit === 'px' ? PX_PER_MM : 1;
  const [left, top] = drawing.from;
  const size = (length_mm: number) => shown && `${px(length_mm * shown.scale)}${shown.unit === 'mm' ? 'mm' : ''}`;
  return tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: drawing.class,
      viewBox: numbers([left, top, drawing.width_mm, drawing.height_mm].map((length) => length * by)),
      width: size(drawing.width_mm),
      height: size(drawing.height_mm),
      ...(label === undefined ? { 'aria-hidden': 'true' } : { role: 'img', 'aria-label': label }),
      'font-family': FONT,
      ...dataOf(drawing.data),
    },
    titleOf(title),
    description === undefined ? '' : tag('desc', {}, escapeText(description)),
    style === undefined ? '' : tag('style', {}, style),
    ...(by === 1 ? drawing.shapes : scaled(drawing.shapes, by)).map(write),
  );
}

function write(shape: Shape): string {
  switch (shape.kind) {
    case 'path':
      return shape.runs.length === 0 ? '' : painted('path', shape, { d: pathData(shape) });
    case 'rect': {
      const { x, y, width, height, radius } = shape;
      return painted('rect', shape, { x, y, width, height, rx: radius });
    }
    case 'circle': {
      const [cx, cy] = shape.middle;
      return painted('circle', shape, { cx, cy, r: shape.radius });
    }
    case 'hatch': {
      const runs = shape.polygons.flatMap((polygon) => hatchLines(polygon, shape));
      return runs.length === 0 ? '' : painted('path', shape, { d: pathData({ runs, isClosed: false }) });
    }
    case 'text': {
      const [x, y] = shape.at;
      const type = {
        'font-size': shape.size,
        'font-weight': shape.weight,
        'font-style': shape.isItalic ? 'italic' : undefined,
        'text-anchor': shape.anchor,
        'letter-spacing': shape.spacing,
        'paint-order': shape.stroke === undefined ? undefined : 'stroke',
      };
      return painted('text', shape, { x, y, ...type }, titleOf(shape.title), escapeText(shape.text));
    }
    case 'group': {
      const { at, box, clip, title, alt } = shape;
      return tag(
        'g',
        {
          class: shape.class,
          ...(alt !== undefined && { role: 'img', 'aria-label': alt }),
          ...dataOf(shape.data),
          'data-box': box && numbers(box),
          transform: at && `translate(${numbers(at)})`,
          'clip-path': clip && `url(#${clip.id})`,
        },
        titleOf(title),
        clip ? tag('clipPath', { id: clip.id }, write(clip.to)) : '',
        ...shape.shapes.map(write),
      );
    }
  }
}

function painted(name: string, look: Look, place: Attributes, ...inside: readonly string[]): string {
  return tag(
    name,
    {
      class: look.class,
      ...dataOf(look.data),
      ...place,
      // SVG fills with black what says nothing.
      fill: look.fill ?? (look.class === undefined || look.stroke !== undefined || look.hits ? 'none' : undefined),
      stroke: look.stroke,
      'stroke-width': look.pen,
      'stroke-dasharray': look.dash && numbers(look.dash),
      'stroke-linecap': look.cap,
      'stroke-linejoin': look.join,
      'pointer-events': look.hits,
    },
    ...inside,
  );
}

/** Lines or outlines as the data of an SVG path, at most two decimals. */
export function pathData({ runs, isClosed }: Pick<Path, 'runs' | 'isClosed'>): string {
  const draw = (run: Run) =>
    run.map((step, k) => {
      if (!('to' in step)) return `${k === 0 ? 'M' : 'L'}${numbers(step)}`;
      const { to, radius, isLong, isClockwise } = step;
      return `A${numbers([radius, radius])} 0 ${isLong ? 1 : 0} ${isClockwise ? 1 : 0} ${numbers(to)}`;
    });
  return runs.map((run) => `${draw(run).join('')}${isClosed ? 'Z' : ''}`).join('');
}

function dataOf(data: Look['data']): Attributes {
  return Object.fromEntries(Object.entries(data ?? {}).map(([name, value]) => [`data-${name}`, value]));
}

function titleOf(title: string | undefined): string {
  return title === undefined ? '' : tag('title', {}, escapeText(title));
}

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; `inside` is SVG text already, not yet escaped words; what is undefined is left out. */
export function tag(name: string, attributes: Attributes, ...inside: readonly string[]): string {
  let open = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    open += ` ${key}="${typeof value === 'number' ? px(value) : escapeText(value)}"`;
  }
  const content = inside.join('');
  return content === '' ? `${open}/>` : `${open}>${content}</${name}>`;
}

/** A number as the drawing writes it: at most two decimals, never `-0`. */
export function px(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`svg: px met ${value}`);
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

const numbers = (values: readonly number[]): string => values.map(px).join(' ');

// XML 1.0 section 2.2 forbids these even as character references.
const FORBIDDEN = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/g;
const LONE_SURROGATE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;

function escapeText(text: string): string {
  return text
    .replace(FORBIDDEN, '')
    .replace(LONE_SURROGATE, '\uFFFD')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}
