/**
 * Reading a section drawing back for the tests: a small strict XML reader, and the boxes and leaders of its names.
 *
 * The reader accepts the subset the drawing uses (elements, attributes in double quotes, text, the five entities) and
 * throws on everything else, so that a drawing that passes is well-formed.
 */

/** An element with its attributes, its text, and its children. */
export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Element[];
  readonly text: string;
}

const NAME = /^[A-Za-z][A-Za-z0-9-]*/;
const ATTRIBUTE = /^\s+([A-Za-z][A-Za-z0-9:-]*)="([^"<]*)"/;
const ENTITY = /&(amp|lt|gt|quot|apos|#\d+);/g;
const MEANT: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function decode(text: string): string {
  if (text.replace(ENTITY, '').includes('&')) throw new Error(`bare ampersand in ${text.slice(0, 60)}`);
  if (/[\u0000-\u0008\u000B\u000C\u000E-\u001F]/.test(text)) throw new Error('forbidden control character');
  return text.replace(ENTITY, (_, name: string) => MEANT[name] ?? String.fromCodePoint(Number(name.slice(1))));
}

/** Parses a whole document of one root element; throws where it is not well-formed. */
export function parseXml(source: string): Element {
  let at = 0;
  const readElement = (): Element => {
    if (source[at] !== '<') throw new Error(`expected < at ${at}`);
    at += 1;
    const name = NAME.exec(source.slice(at, at + 40))?.[0];
    if (!name) throw new Error(`bad element name at ${at}`);
    at += name.length;
    const attributes: Record<string, string> = {};
    for (;;) {
      const found = ATTRIBUTE.exec(source.slice(at, source.indexOf('>', at) + 1));
      if (!found) break;
      if (found[1]! in attributes) throw new Error(`attribute ${found[1]} twice at ${at}`);
      attributes[found[1]!] = decode(found[2]!);
      at += found[0].length;
    }
    if (source.startsWith('/>', at)) {
      at += 2;
      return { name, attributes, children: [], text: '' };
    }
    if (source[at] !== '>') throw new Error(`bad tag <${name}> at ${at}: ${source.slice(at, at + 30)}`);
    at += 1;
    const children: Element[] = [];
    let text = '';
    while (!source.startsWith('</', at)) {
      if (at >= source.length) throw new Error(`<${name}> never ends`);
      if (source[at] === '<') {
        children.push(readElement());
        continue;
      }
      const end = source.indexOf('<', at);
      const piece = source.slice(at, end < 0 ? source.length : end);
      if (piece.includes('>')) throw new Error(`bare > in text at ${at}`);
      text += decode(piece);
      at += piece.length;
    }
    if (!source.startsWith(`</${name}>`, at)) throw new Error(`<${name}> ended by ${source.slice(at, at + 20)}`);
    at += name.length + 3;
    return { name, attributes, children, text };
  };
  const root = readElement();
  if (source.slice(at).trim() !== '') throw new Error('text after the root element');
  return root;
}

/** All elements of a tree, the root included, that pass. */
export function findAll(root: Element, passes: (element: Element) => boolean): Element[] {
  return [...(passes(root) ? [root] : []), ...root.children.flatMap((child) => findAll(child, passes))];
}

/** True when the element has the class. */
export function hasClass(element: Element, name: string): boolean {
  return (element.attributes['class'] ?? '').split(' ').includes(name);
}

/** Points of a path made of absolute moves and lines. */
export function pointsOf(d: string): (readonly [x: number, y: number])[] {
  return [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
}

/** Box of a name, px. */
export interface Box {
  readonly id: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Boxes of all names or numbers over the parts. */
export function nameBoxes(root: Element): readonly Box[] {
  return findAll(root, (element) => hasClass(element, 'aws-name')).map((element) => {
    const [left, top, right, bottom] = element.attributes['data-box']!.split(' ').map(Number);
    return { id: element.attributes['data-item']!, left: left!, top: top!, right: right!, bottom: bottom! };
  });
}

/** Leader lines as points, in drawing order. */
export function leaders(root: Element): readonly (readonly (readonly [number, number])[])[] {
  const group = findAll(root, (element) => hasClass(element, 'aws-leaders'))[0]!;
  return findAll(group, (element) => element.name === 'path' && element.attributes['fill'] === 'none').map((element) =>
    pointsOf(element.attributes['d']!),
  );
}

type Segment = readonly [readonly [number, number], readonly [number, number]];

/** Straight pieces of a line. */
export function segments(points: readonly (readonly [number, number])[]): readonly Segment[] {
  return points.slice(1).map((to, k) => [points[k]!, to] as const);
}

/** True when two segments cross or touch. */
export function doCross([a, b]: Segment, [c, d]: Segment): boolean {
  const turn = (p: readonly [number, number], q: readonly [number, number], r: readonly [number, number]) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  const isApart =
    Math.max(a[0], b[0]) < Math.min(c[0], d[0]) ||
    Math.max(c[0], d[0]) < Math.min(a[0], b[0]) ||
    Math.max(a[1], b[1]) < Math.min(c[1], d[1]) ||
    Math.max(c[1], d[1]) < Math.min(a[1], b[1]);
  return !isApart && turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0;
}
