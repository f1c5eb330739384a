/**
 * A member's body as one surface: its webs, bridges, plain points, and the bosses no pivot draws.
 *
 * Frames and stays are tubes, rockers and links are forged plates with a shallow recess and, where there is room, a
 * cut-out. A web whose ends stand over one
 * another in the side plane is a bridge: a tube along z from boss to boss, bored where they are. mm, bike axes.
 */
import type { Member, Polygon, Web } from '../../shared/index.ts';
import type { Anchor } from './placement.ts';
import { joinSurfaces, revolve, type Surface } from './surface.ts';
import { isBridge, loftWeb, type WebShape, type WebSize } from './web.ts';
import { windowOf, type Keep } from './window.ts';

type Anchors = Readonly<Record<string, Anchor>>;

const FACETS = 32;
const BURIED_mm = 0.6;

/** Everything of a member but the bosses that items draw. */
export function memberSurface(member: Member, given: Anchors): Surface {
  const anchors = widen(member, given);
  const parts: Surface[] = [];
  for (const web of member.webs ?? []) {
    const a = anchors[web.from];
    const b = anchors[web.to];
    if (!a || !b) continue;
    if (isBridge(a, b)) parts.push(...bridge(a, b, web));
    else parts.push(loftWeb(a, b, shapeOf(member, anchors, web)));
  }
  for (const [id, anchor] of Object.entries(anchors)) {
    if (anchor.isItem) continue;
    const thickness = thicknessAt(member, anchors, id);
    if (anchor.bore_mm === 0 && thickness === 0) continue;
    const polygon = anchor.bore_mm > 0 ? boss(anchor) : knob(anchor, thickness);
    parts.push(moved(revolve(polygon, FACETS), anchor.x_mm, anchor.y_mm));
  }
  return joinSurfaces(parts);
}

/** A plain point is as wide as the tallest web that meets there: webs flow into one another, no knob stands out. */
function widen(member: Member, given: Anchors): Anchors {
  return Object.fromEntries(
    Object.entries(given).map(([id, anchor]): [string, Anchor] => {
      const tallest = Math.max(
        0,
        ...(member.webs ?? []).filter((web) => web.from === id || web.to === id).map((web) => web.height_mm ?? 0),
      );
      const isPlain = anchor.bore_mm === 0 && tallest > 0;
      return [id, isPlain ? { ...anchor, radius_mm: tallest / 2 + BURIED_mm } : anchor];
    }),
  );
}

/** At a plain point a web takes the size of the joint there, unless that is much more than its own. */
const LARGEST_FLARE = 1.4;

function shapeOf(member: Member, anchors: Anchors, web: Web): WebShape {
  const isPlate = member.kind === 'rocker' || member.kind === 'link';
  const isShock = member.kind === 'shock-body' || member.kind === 'shock-shaft';
  const sizeAt = (id: string): WebSize => {
    const anchor = anchors[id];
    const isJoint = anchor !== undefined && anchor.bore_mm === 0;
    const flared = (own: number, joint: number): number =>
      isJoint && joint <= own * LARGEST_FLARE ? Math.max(own, joint) : own;
    return {
      thickness_mm: flared(web.thickness_mm, thicknessAt(member, anchors, id)),
      ...(web.height_mm === undefined
        ? {}
        : { height_mm: flared(web.height_mm, 2 * ((anchor?.radius_mm ?? 0) - BURIED_mm)) }),
    };
  };
  const window = isPlate ? cutOut(member, anchors, web) : undefined;
  return {
    start: sizeAt(web.from),
    end: sizeAt(web.to),
    ...(web.z_mm === undefined ? {} : { z_mm: web.z_mm }),
    rounding: isPlate ? 0.14 : isShock ? 0.4 : 0.8,
    recess_mm: isPlate ? Math.min(2, web.thickness_mm * 0.17) : 0,
    ...(window ? { window } : {}),
  };
}

/** The window of a plate, clear of the member's other webs and of bosses that only stand in it. */
function cutOut(member: Member, anchors: Anchors, web: Web) {
  const [a, b] = [anchors[web.from], anchors[web.to]];
  if (!a || !b) return undefined;
  const webs = (member.webs ?? []).flatMap((other): Keep[] => {
    const [from, to] = [anchors[other.from], anchors[other.to]];
    return other !== web && from && to
      ? [{ a: from, b: to, thickness_mm: isBridge(from, to) ? Math.abs(to.z_mm - from.z_mm) : other.thickness_mm }]
      : [];
  });
  const lone = Object.entries(anchors).flatMap(([id, anchor]): Keep[] =>
    id === web.from || id === web.to ? [] : [{ a: anchor, b: anchor, thickness_mm: anchor.to_mm - anchor.from_mm }],
  );
  return windowOf(a, b, web.height_mm, web.thickness_mm, [...webs, ...lone]);
}

function bridge(a: Anchor, b: Anchor, web: Web): Surface[] {
  const [low, high] = a.z_mm <= b.z_mm ? [a, b] : [b, a];
  const from = low.to_mm - BURIED_mm;
  const to = high.from_mm + BURIED_mm;
  if (to - from < 1) return [];
  const outer = web.height_mm === undefined ? Math.min(a.radius_mm, b.radius_mm) * 0.86 : web.height_mm / 2;
  const bore = Math.max(a.bore_mm, b.bore_mm) / 2;
  const inner = bore > 0 ? Math.min(bore + 0.5, outer - 1) : 0;
  const polygon: Polygon = [
    [inner, from],
    [outer, from],
    [outer, to],
    [inner, to],
  ];
  return [moved(revolve(polygon, FACETS), a.x_mm, a.y_mm)];
}

function boss(anchor: Anchor): Polygon {
  const edge = Math.min(0.6, (anchor.to_mm - anchor.from_mm) / 6);
  const r = anchor.radius_mm;
  return [
    [anchor.bore_mm / 2, anchor.from_mm],
    [r - edge, anchor.from_mm],
    [r, anchor.from_mm + edge],
    [r, anchor.to_mm - edge],
    [r - edge, anchor.to_mm],
    [anchor.bore_mm / 2, anchor.to_mm],
  ];
}

/** A rounded puck that lets webs flow into one another. */
function knob(anchor: Anchor, thickness_mm: number): Polygon {
  const r = anchor.radius_mm - BURIED_mm;
  const half = thickness_mm / 2;
  const round = Math.min(half, r) * 0.82;
  const arc = (from: number, cz: number): [number, number][] =>
    Array.from({ length: 9 }, (_, k) => {
      const t = from + ((Math.PI / 2) * k) / 8;
      return [r - round + round * Math.cos(t), anchor.z_mm + cz + round * Math.sin(t)];
    });
  return [
    [0, anchor.z_mm - half],
    ...arc(-Math.PI / 2, -half + round),
    ...arc(0, half - round),
    [0, anchor.z_mm + half],
  ];
}

/** Of the thickest web that meets at a point, mm; 0 where only bridges end, which need no joint. */
function thicknessAt(member: Member, anchors: Anchors, id: string): number {
  const webs = (member.webs ?? []).filter((web) => {
    const [a, b] = [anchors[web.from], anchors[web.to]];
    return (web.from === id || web.to === id) && a && b && !isBridge(a, b);
  });
  return Math.max(0, ...webs.map((web) => web.thickness_mm));
}

function moved(surface: Surface, x_mm: number, y_mm: number): Surface {
  for (let k = 0; k < surface.positions.length; k += 3) {
    surface.positions[k]! += x_mm;
    surface.positions[k + 1]! += y_mm;
  }
  return surface;
}
