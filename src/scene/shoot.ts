/**
 * The picture as an image: what the graphics drew, on its ground, with the labels that lie over it.
 *
 * The frame is read in the moment after it was drawn: the browser keeps it no longer. Labels are HTML and are painted
 * again from where they stand, box by box and word by word.
 */
import { addAfterEffect, invalidate } from '@react-three/fiber';
import { PICTURE, type Theme } from '../look.ts';

/** Labels are as crisp as on a fine screen, whatever the graphics drew. */
const LEAST_SCALE = 2;
/** Controls lie over the picture, but are no part of it. */
const CONTROLS = '.scene-closer, .scene-cut-handle';
/** The corner that the arrow of a side is cut to, in shares of its box; as in the style sheet. */
const ARROW = [
  [0, 0.36],
  [0.52, 0.36],
  [0.52, 0],
  [1, 0.5],
  [0.52, 1],
  [0.52, 0.64],
  [0, 0.64],
] as const;

/** The picture on the page now; undefined where there is none. */
export async function shootPicture(theme: Theme): Promise<Blob | undefined> {
  const scene = document.querySelector<HTMLElement>('.scene');
  const drawn = scene?.querySelector('canvas');
  if (!scene || !drawn) return undefined;
  const sheet = await new Promise<HTMLCanvasElement>((resolve) => {
    const stop = addAfterEffect(() => {
      stop();
      resolve(compose(scene, drawn, theme));
    });
    invalidate();
  });
  return new Promise((resolve) => {
    sheet.toBlob((blob) => resolve(blob ?? undefined), 'image/png');
  });
}

function compose(scene: HTMLElement, drawn: HTMLCanvasElement, theme: Theme): HTMLCanvasElement {
  const { left, top, width, height } = scene.getBoundingClientRect();
  const scale = Math.max(LEAST_SCALE, drawn.width / Math.max(1, width));
  const sheet = document.createElement('canvas');
  sheet.width = Math.round(width * scale);
  sheet.height = Math.round(height * scale);
  const pen = sheet.getContext('2d');
  if (!pen) return sheet;
  const { inner, outer } = PICTURE[theme];
  const ground = pen.createRadialGradient(
    sheet.width / 2,
    sheet.height * 0.45,
    0,
    sheet.width / 2,
    sheet.height * 0.45,
    Math.hypot(sheet.width, sheet.height) / 2,
  );
  ground.addColorStop(0, inner);
  ground.addColorStop(1, outer);
  pen.fillStyle = ground;
  pen.fillRect(0, 0, sheet.width, sheet.height);
  pen.drawImage(drawn, 0, 0, sheet.width, sheet.height);
  const place = new DOMMatrix([scale, 0, 0, scale, -left * scale, -top * scale]);
  for (const element of scene.querySelectorAll('*')) {
    if (element.closest(CONTROLS) || getComputedStyle(element).visibility === 'hidden') continue;
    if (element instanceof SVGGeometryElement) paintShape(pen, element, place);
    else if (element instanceof HTMLElement && element !== drawn && !element.contains(drawn))
      paintBox(pen, element, place);
  }
  return sheet;
}

function paintShape(pen: CanvasRenderingContext2D, shape: SVGGeometryElement, place: DOMMatrix): void {
  const at = shape.getScreenCTM();
  const length = shape.getTotalLength();
  if (!at || !Number.isFinite(length) || length === 0) return;
  const { fill, stroke, strokeWidth, opacity } = getComputedStyle(shape);
  pen.setTransform(place.multiply(at));
  pen.globalAlpha = Number(opacity);
  const path = pathOf(shape);
  if (fill !== 'none' && !(shape instanceof SVGLineElement)) {
    pen.fillStyle = fill;
    pen.fill(path);
  }
  if (stroke !== 'none') {
    pen.strokeStyle = stroke;
    pen.lineWidth = Number.parseFloat(strokeWidth);
    pen.stroke(path);
  }
  pen.globalAlpha = 1;
}

function pathOf(shape: SVGGeometryElement): Path2D {
  const path = new Path2D(shape.getAttribute('d') ?? undefined);
  if (shape instanceof SVGLineElement) {
    path.moveTo(shape.x1.baseVal.value, shape.y1.baseVal.value);
    path.lineTo(shape.x2.baseVal.value, shape.y2.baseVal.value);
  } else if (shape instanceof SVGCircleElement) {
    path.arc(shape.cx.baseVal.value, shape.cy.baseVal.value, shape.r.baseVal.value, 0, 2 * Math.PI);
  }
  return path;
}

function paintBox(pen: CanvasRenderingContext2D, element: HTMLElement, place: DOMMatrix): void {
  const box = element.getBoundingClientRect();
  if (box.width === 0 || box.height === 0) return;
  const style = getComputedStyle(element);
  pen.setTransform(place);
  pen.beginPath();
  pen.roundRect(
    box.x,
    box.y,
    box.width,
    box.height,
    Math.min(Number.parseFloat(style.borderRadius) || 0, box.height / 2),
  );
  pen.fillStyle = style.backgroundColor;
  pen.fill();
  const border = Number.parseFloat(style.borderTopWidth);
  if (border > 0 && style.borderTopStyle !== 'none') {
    pen.strokeStyle = style.borderTopColor;
    pen.lineWidth = border;
    pen.stroke();
  }
  if (element.classList.contains('scene-side')) paintArrow(pen, element, box, place);
  pen.setTransform(place);
  pen.fillStyle = style.color;
  pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  pen.letterSpacing = style.letterSpacing === 'normal' ? '0px' : style.letterSpacing;
  pen.textBaseline = 'middle';
  for (const node of element.childNodes) {
    if (node.nodeType !== Node.TEXT_NODE) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const at = range.getBoundingClientRect();
    pen.fillText(node.textContent ?? '', at.x, at.y + at.height / 2);
  }
}

function paintArrow(pen: CanvasRenderingContext2D, element: HTMLElement, box: DOMRect, place: DOMMatrix): void {
  const style = getComputedStyle(element, '::before');
  const [width, height] = [Number.parseFloat(style.width), Number.parseFloat(style.height)];
  const left = box.x + Number.parseFloat(getComputedStyle(element).paddingLeft);
  const turned = new DOMMatrix(style.transform === 'none' ? undefined : style.transform);
  pen.setTransform(
    place.multiply(new DOMMatrix([1, 0, 0, 1, left + width / 2, box.y + box.height / 2])).multiply(turned),
  );
  pen.beginPath();
  for (const [x, y] of ARROW) pen.lineTo((x - 0.5) * width, (y - 0.5) * height);
  pen.closePath();
  pen.fillStyle = style.backgroundColor;
  pen.fill();
}
