/**
 * The board of labels over the picture: HTML elements moved by hand, frame by frame, without React.
 *
 * React puts the elements on the board; a frame projects their anchors, asks `layout.ts` for free places and writes
 * transforms and leader lines. Reading all sizes before writing anything keeps the browser from laying out twice.
 */
import { placeCallouts } from './callouts.ts';
import { placeNames } from './rail.ts';
import { placeOnDots } from './dots.ts';
import { BETWEEN_px, overlaps, within, type Box, type LabelField, type LabelPlace, type LabelWish } from './layout.ts';

/** A projected label: its anchor and reach on the screen, px; `isSeen` false behind the camera. */
export interface Projected {
  readonly id: string;
  readonly kind: 'part' | 'pivot' | 'drive' | 'non-drive';
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** Access of a part along the axis on the screen, px. */
  readonly half?: number;
  readonly isFirst: boolean;
  /** Place of a part in its row. */
  readonly rank?: number;
  /** What the parts of a pivot cover. */
  readonly hardware?: Box;
  readonly isSeen: boolean;
  /** Distance from the camera, mm. */
  readonly depth_mm: number;
}

/** Space the app keeps for its own controls, px from the edges of the picture. */
export interface Clear {
  readonly top: number;
  readonly bottom: number;
}

/** Share of the picture under which the two side markers, seen end-on, leave their ends and stand over and under it. */
const TOO_CLOSE = 0.24;

/** The elements of one picture. */
export class Board {
  private readonly boxes = new Map<string, HTMLElement>();
  private readonly lines = new Map<string, SVGPolylineElement>();
  private readonly dots = new Map<string, SVGGElement>();

  private readonly keepers = new Map<string, HTMLElement>();

  /** Puts a label's element on the board; call it as a ref. */
  box = (id: string) => ref(this.boxes, id);
  /** Puts a label's leader line on the board. */
  line = (id: string) => ref(this.lines, id);
  /** Puts a pivot's dot on the board. */
  dot = (id: string) => ref(this.dots, id);

  /** An element that no label may cover. */
  keep = (id: string) => ref(this.keepers, id);

  /**
   * Moves every label to its place. `axis` is the direction of the row of parts on the screen; `isTight` leaves out
   * pivots' names.
   */
  place(
    all: readonly Projected[],
    size: { readonly width: number; readonly height: number },
    clear: Clear,
    axis: readonly [number, number],
    isTight: boolean,
  ): void {
    const sizes = new Map(
      [...this.boxes].map(
        ([id, element]) => [id, { width: element.offsetWidth, height: element.offsetHeight }] as const,
      ),
    );
    const inner = { width: size.width, height: Math.max(60, size.height - clear.top - clear.bottom) };
    const lifted = all
      .filter((one) => one.isSeen)
      .map((one) => ({
        ...one,
        y: one.y - clear.top,
        ...(one.hardware ? { hardware: { ...one.hardware, top: one.hardware.top - clear.top } } : {}),
      }));
    const kept = this.keptBoxes(clear);
    const sides = placeSides(lifted, sizes, inner, kept);
    const field: LabelField = { ...inner, axis, taken: [...sides.values(), ...kept] };
    const wishes = lifted.flatMap((one): LabelWish[] => {
      const own = sizes.get(one.id);
      return own && (one.kind === 'part' || one.kind === 'pivot') ? [{ ...one, ...own }] : [];
    });
    const isPivots = lifted.some((one) => one.kind === 'pivot');
    const places = isTight
      ? placeOnDots(wishes, field)
      : isPivots
        ? placeCallouts(wishes, field)
        : placeNames(wishes, field, size.width / Math.max(1, size.height));
    const placed = new Map(places.map((place) => [place.id, place] as const));
    for (const [id, element] of this.boxes) {
      const box: SideBox | LabelPlace | undefined = placed.get(id) ?? sides.get(id);
      show(element, box !== undefined);
      if (box && 'turn_deg' in box) element.style.setProperty('--turn', `${box.turn_deg.toFixed(0)}deg`);
      // Whole pixels: a browser draws a moved layer's words as sharp as where they first stood, and softer between
      // pixels.
      if (box) element.style.transform = `translate(${Math.round(box.left)}px, ${Math.round(box.top + clear.top)}px)`;
    }
    for (const [id, line] of this.lines) drawLine(line, placed.get(id), clear.top);
    for (const one of lifted) {
      const [x, y] = (isTight ? placed.get(one.id)?.from : undefined) ?? [one.x, one.y];
      this.dots.get(one.id)?.setAttribute('transform', `translate(${x.toFixed(1)} ${(y + clear.top).toFixed(1)})`);
    }
  }

  private keptBoxes(clear: Clear): Box[] {
    return [...this.keepers.values()].map((element) => {
      const own = element.getBoundingClientRect();
      const around = element.closest('.scene')!.getBoundingClientRect();
      return {
        left: own.left - around.left,
        top: own.top - around.top - clear.top,
        width: own.width,
        height: own.height,
      };
    });
  }
}

type Sizes = ReadonlyMap<string, { readonly width: number; readonly height: number }>;

interface SideBox extends Box {
  /** Where the arrow points, degrees clockwise from the right. */
  readonly turn_deg: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** A picture no wider is that of an upright phone. */
const NARROW_px = 480;

/**
 * The side markers. Of the whole bike they stand at the border of the picture, where their side lies; of an opened
 * pivot (whose end parts have a radius) beside the last part of the row. Seen end-on, the near one stands below, the
 * far one above.
 */
function placeSides(all: readonly Projected[], sizes: Sizes, inner: Size, kept: readonly Box[]): Map<string, SideBox> {
  const boxes = new Map<string, SideBox>();
  const non = all.find((one) => one.kind === 'non-drive');
  const drive = all.find((one) => one.kind === 'drive');
  if (!non || !drive) return boxes;
  const [dx, dy] = [drive.x - non.x, drive.y - non.y];
  const length = Math.hypot(dx, dy);
  const isEndOn = length < TOO_CLOSE * Math.min(inner.width, inner.height);
  for (const one of [non, drive]) {
    const own = sizes.get(one.id);
    if (!own) continue;
    const sign = one === drive ? 1 : -1;
    const out: readonly [number, number] = [(sign * dx) / (length || 1), (sign * dy) / (length || 1)];
    const isNear = one.depth_mm === Math.min(non.depth_mm, drive.depth_mm);
    const [x, y] = isEndOn
      ? [inner.width / 2, isNear ? inner.height : 0]
      : one.r > 0
        ? besideEnd(one, out, own, inner)
        : atBorder([inner.width / 2, inner.height / 2], out, own, inner);
    const turn_deg = isEndOn ? (isNear ? 90 : -90) : (Math.atan2(out[1], out[0]) * 180) / Math.PI;
    const box = within({ left: x - own.width / 2, top: y - own.height / 2, ...own }, inner);
    const clear = besideKept(box, kept, inner);
    if (clear) boxes.set(one.id, { ...clear, turn_deg });
  }
  return boxes;
}

/**
 * Clear of what no label may cover, toward the middle of the picture. Nowhere on a narrow picture: there the room beside
 * it is that of the part in the hand and its name, and the line above says the side.
 */
function besideKept(box: Box, kept: readonly Box[], inner: Size): Box | undefined {
  const over = kept.find((one) => overlaps(one, box));
  if (!over) return box;
  if (inner.width < NARROW_px) return undefined;
  const isLeft = over.left + over.width / 2 < inner.width / 2;
  return within(
    { ...box, left: isLeft ? over.left + over.width + BETWEEN_px : over.left - box.width - BETWEEN_px },
    inner,
  );
}

/**
 * In the corner beside the last part that lies farther from it, where the row runs across; beyond it where it runs
 * upright.
 */
function besideEnd(end: Projected, out: readonly [number, number], own: Size, inner: Size): [number, number] {
  if (Math.abs(out[1]) > 0.8) return [end.x, end.y + Math.sign(out[1]) * (end.r * 0.8 + own.height / 2 + 12)];
  return [out[0] > 0 ? inner.width : 0, end.y > inner.height / 2 ? 0 : inner.height];
}

/** Where a ray from the middle meets the border, the box just inside it. */
function atBorder(
  middle: readonly [number, number],
  out: readonly [number, number],
  own: Size,
  inner: Size,
): [number, number] {
  const across = (inner.width - own.width) / 2 / Math.max(1e-6, Math.abs(out[0]));
  const upward = (inner.height - own.height) / 2 / Math.max(1e-6, Math.abs(out[1]));
  const reach = Math.min(across, upward);
  return [middle[0] + out[0] * reach, middle[1] + out[1] * reach];
}

function drawLine(line: SVGPolylineElement, place: LabelPlace | undefined, top: number): void {
  show(line, place !== undefined);
  if (!place) return;
  const points = [place.from, ...(place.via ?? []), place.to];
  line.setAttribute('points', points.map(([x, y]) => `${x.toFixed(1)},${(y + top).toFixed(1)}`).join(' '));
}

function show(element: HTMLElement | SVGElement, isShown: boolean): void {
  const wanted = isShown ? 'visible' : 'hidden';
  if (element.style.visibility !== wanted) element.style.visibility = wanted;
}

function ref<E>(map: Map<string, E>, id: string): (element: E | null) => (() => void) | undefined {
  return (element) => {
    if (!element) return undefined;
    map.set(id, element);
    return () => {
      if (map.get(id) === element) map.delete(id);
    };
  };
}
