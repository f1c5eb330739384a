/**
 * The one writer of PDF: drawings in mm as the pages of a file.
 *
 * Vector throughout, its two weights of type embedded, and tagged: what carries a `tag` is in the file's structure in
 * the order it is drawn, a figure with its words, and the rest is decoration, so that a reader reads it out as a person
 * would. Its type writes Latin, Greek and Cyrillic; any other letter is told at the foot of its page, and stays in what
 * a reader reads out and a search finds. No clock and no chance: the same pages give the same bytes. Loaded when a
 * sheet is asked for, since the library is larger than the whole first picture.
 */
import PDFDocument from 'pdfkit';
import { SHEET_WORDS } from '../../shared/index.ts';
import { BLACK } from '../look.ts';
import fonts from './fonts/inter.json' with { type: 'json' };
import { hatchLines } from './hatch.ts';
import { group, words, type Drawing, type Look, type Point, type Shape, type Tag, type Text } from './shapes.ts';
import { pathData } from './svg.ts';

/** Points to a mm. */
const PT_PER_MM = 72 / 25.4;
/** What the type has under another number. */
const SAME_LETTER: Readonly<Record<string, string>> = { μ: 'µ', '‑': '-' };
/** From this weight on the bold is nearer. */
const BOLD = 550;
/** Tags that hold tags and nothing that is drawn. */
const HOLDERS: ReadonlySet<Tag> = new Set(['L', 'Table', 'TR']);

/** What stands for letters that the type lacks, and where that is told: from the left and from the foot, and how large. */
const LACKING = '[?]';
const LACKING_AT_mm = { left: 12, foot: 4.2, size: 2.8 } as const;
/** What is never seen: marks of direction, joiners. */
const UNSEEN = /[\p{Cf}\p{Cc}]/u;

/** What a file says of itself. */
export interface PdfAbout {
  readonly title: string;
  /** The day it is about; a file without one has the first of this century, so that it says nothing of its making. */
  readonly dated?: Date;
}

type Writer = InstanceType<typeof PDFDocument>;
type Element = ReturnType<Writer['struct']>;

/** Pages as a file. */
export function pdf(pages: readonly Drawing[], { title, dated }: PdfAbout): Promise<Uint8Array<ArrayBuffer>> {
  const out = new PDFDocument({
    autoFirstPage: false,
    tagged: true,
    lang: 'en-GB',
    displayTitle: true,
    pdfVersion: '1.7',
    // None but those below: the library would open one of its own.
    font: '',
    info: {
      Title: title,
      Creator: 'Axlewright',
      Producer: 'Axlewright',
      CreationDate: dated ?? new Date(Date.UTC(2000)),
    },
  });
  out.registerFont('regular', bytesOf(fonts.regular));
  out.registerFont('bold', bytesOf(fonts.bold));
  const chunks: Uint8Array[] = [];
  const written = new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    out.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    out.on('end', () => resolve(joined(chunks)));
    out.on('error', reject);
  });
  const root = out.struct('Document');
  out.addStructure(root);
  for (const page of pages) {
    const [left, top] = page.from;
    out.addPage({ size: [page.width_mm * PT_PER_MM, page.height_mm * PT_PER_MM], margin: 0 });
    out.scale(PT_PER_MM);
    out.translate(-left, -top);
    for (const shape of page.shapes) tagged(shape, root, out);
    if (textsOf(page.shapes).some((text) => printed(text).includes(LACKING) && !text.includes(LACKING)))
      tagged(lackingLine(page), root, out);
  }
  root.end();
  out.end();
  return written;
}

const isPrinted = (letter: string): boolean => {
  const code = letter.codePointAt(0)!;
  return fonts.letters.some(([first, last]) => code >= first! && code <= last!);
};

/** A text in letters that the type has; a run of others is one sign. */
function printed(text: string): string {
  let said = '';
  for (const letter of text.normalize('NFC')) {
    const own = SAME_LETTER[letter] ?? letter;
    if (isPrinted(own)) said += own;
    else if (!UNSEEN.test(own) && !said.endsWith(LACKING)) said += LACKING;
  }
  return said;
}

function textsOf(shapes: readonly Shape[]): string[] {
  return shapes.flatMap((shape) =>
    shape.kind === 'text' ? [shape.text] : shape.kind === 'group' ? textsOf(shape.shapes) : [],
  );
}

function lackingLine({ from: [left, top], height_mm }: Drawing): Shape {
  const { left: right_mm, foot, size } = LACKING_AT_mm;
  const line = words(`${LACKING} ${SHEET_WORDS.lacking}`, left + right_mm, top + height_mm - foot, size, {
    fill: BLACK,
  });
  return group([line], { tag: 'P' });
}

function bytesOf(base64: string): ArrayBuffer {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)).buffer;
}

function joined(chunks: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}

/** A shape with its place in what is read out; what has no tag is decoration. */
function tagged(shape: Shape, parent: Element, out: Writer): void {
  if (shape.kind === 'group' && shape.tag === undefined) {
    within(shape, out, () => {
      for (const inner of shape.shapes) tagged(inner, parent, out);
    });
    return;
  }
  if (shape.kind !== 'group') {
    out.markContent('Artifact', { type: 'Layout' });
    paint(shape, out);
    out.endMarkedContent();
    return;
  }
  const tag = shape.tag!;
  const element = out.struct(tag, { ...(shape.alt !== undefined && { alt: shape.alt }) });
  parent.add(element);
  if (HOLDERS.has(tag))
    within(shape, out, () => {
      for (const inner of shape.shapes) tagged(inner, element, out);
    });
  else {
    const content = out.markStructureContent(tag);
    paint({ ...shape, tag: undefined }, out);
    out.endMarkedContent();
    // A list's item holds its words in a body of its own (ISO 32000-1, table 336).
    element.add(tag === 'LI' ? out.struct('LBody', {}, [content]) : content);
  }
  element.end();
}

/** What is drawn in a group's own place, and through its window. */
function within({ at, clip }: Extract<Shape, { kind: 'group' }>, out: Writer, draw: () => void): void {
  if (!at && !clip) return draw();
  out.save();
  if (at) out.translate(...at);
  if (clip) out.rect(clip.to.x, clip.to.y, clip.to.width, clip.to.height).clip();
  draw();
  out.restore();
}

function paint(shape: Shape, out: Writer): void {
  switch (shape.kind) {
    case 'path':
      if (shape.runs.length > 0) painted(shape, out, () => out.path(pathData(shape)));
      return;
    case 'rect': {
      const { x, y, width, height, radius } = shape;
      painted(shape, out, () =>
        radius ? out.roundedRect(x, y, width, height, radius) : out.rect(x, y, width, height),
      );
      return;
    }
    case 'circle':
      painted(shape, out, () => out.circle(...shape.middle, shape.radius));
      return;
    case 'hatch': {
      const runs = shape.polygons.flatMap((polygon) => hatchLines(polygon, shape));
      if (runs.length > 0) painted(shape, out, () => out.path(pathData({ runs, isClosed: false })));
      return;
    }
    case 'text':
      type(shape, out);
      return;
    case 'group':
      within(shape, out, () => {
        for (const inner of shape.shapes) paint(inner, out);
      });
  }
}

function painted({ fill, stroke, pen, dash, cap, join }: Look, out: Writer, draw: () => void): void {
  const isFilled = fill !== undefined && fill !== 'none';
  const isDrawn = stroke !== undefined && stroke !== 'none';
  if (!isFilled && !isDrawn) return;
  if (isDrawn) {
    out
      .lineWidth(pen ?? 1)
      .lineCap(cap ?? 'butt')
      .lineJoin(join ?? 'miter')
      .strokeColor(stroke);
    if (dash) out.dash(dash[0]!, { space: dash[1] ?? dash[0]! });
    else out.undash();
  }
  if (isFilled) out.fillColor(fill);
  draw();
  if (isFilled && isDrawn) out.fillAndStroke();
  else if (isFilled) out.fill();
  else out.stroke();
}

function type({ text, at, size, anchor, weight = 400, spacing, fill }: Text, out: Writer): void {
  const said = printed(text);
  out
    .font(weight >= BOLD ? 'bold' : 'regular')
    .fontSize(size)
    .fillColor(fill ?? 'black');
  const how = {
    lineBreak: false,
    baseline: 'alphabetic',
    ...(spacing !== undefined && { characterSpacing: spacing }),
  } as const;
  const width = anchor === undefined ? 0 : out.widthOfString(said, how);
  const [x, y]: Point = [at[0] - (anchor === 'end' ? width : width / 2), at[1]];
  const isWhole = said === text;
  if (!isWhole) out.markContent('Span', { actual: text });
  out.text(said, x, y, how);
  if (!isWhole) out.endMarkedContent();
}
