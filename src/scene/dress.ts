/**
 * An item as it is drawn: each solid with its rounded edges, thread ridges, drive sockets, flats, knurls and seal lips.
 *
 * Two profiles a solid: `turned` for the lathe, with the pocket as wide as the tool's hole is at its widest, and `cut`
 * for the section, with the pocket as wide as the hole at its narrowest, where the cutting plane meets its flats. mm.
 */
import { kindNamed, type PlacedItem, type Polygon, type Solid } from '../../shared/index.ts';
import {
  extent,
  flatsOf,
  knurlOf,
  openingAt,
  rounded,
  socketOf,
  withLip,
  withNutChamfer,
  withPocket,
  withThread,
  type Socket,
} from './detail.ts';
import type { Flats, Knurl } from './surface.ts';

/** A socket's lining and the end it opens at; `sign` +1 opens to the drive side. */
interface Lining {
  readonly socket: Socket;
  readonly end_mm: number;
  readonly sign: 1 | -1;
  /** Radius of the plug that holds the hole. */
  readonly plug_mm: number;
}

/** One solid ready to be drawn. */
export interface DressedSolid {
  readonly solid: Solid;
  readonly turned: Polygon;
  /** As `turned`, without thread ridges. */
  readonly plain: Polygon;
  readonly cut: Polygon;
  readonly flats?: Flats;
  readonly knurl?: Knurl;
  readonly linings: readonly Lining[];
}

/** By identity, since an item never changes and its solids are long to spell out; a copy is only dressed again. */
const dressed = new WeakMap<PlacedItem, readonly DressedSolid[]>();

/** The solids of an item, dressed; computed once for each item. */
export function dressItem(item: PlacedItem): readonly DressedSolid[] {
  const known = dressed.get(item);
  if (known) return known;
  const fresh = item.solids.map((solid) => dressSolid(item, solid));
  dressed.set(item, fresh);
  return fresh;
}

function dressSolid(item: PlacedItem, solid: Solid): DressedSolid {
  const ends = extent(solid.polygon);
  if (solid.role === 'seal' && item.role === 'bearing') {
    const lipped = withLip(solid.polygon, ends.from_mm + ends.to_mm > item.from_mm + item.to_mm ? 1 : -1);
    return { solid, turned: lipped, plain: lipped, cut: lipped, linings: [] };
  }
  let turned = solid.polygon;
  let cut = solid.polygon;
  let flats: Flats | undefined;
  let knurl: Knurl | undefined;
  const linings: Lining[] = [];
  for (const drive of item.drives) {
    const sign = drive.side === 'drive' ? 1 : -1;
    const end_mm = sign > 0 ? ends.to_mm : ends.from_mm;
    const socket = socketOf(drive.tool);
    if (!socket) {
      flats = flatsOf(solid.polygon, end_mm, drive.tool.size_mm) ?? flats;
      if (flats) turned = withNutChamfer(turned, end_mm, flats);
      continue;
    }
    if (kindNamed(item.kind)?.isKnurled) knurl = knurlOf(solid.polygon, end_mm) ?? knurl;
    const depth_mm = Math.min(socket.depth_mm, (ends.to_mm - ends.from_mm) * 0.6);
    const opening = openingAt(solid.polygon, end_mm);
    if (opening < socket.around_mm) {
      turned = withPocket(turned, end_mm, socket.around_mm, depth_mm);
      cut = withPocket(cut, end_mm, socket.within_mm, depth_mm);
    }
    // A hollow axle as wide as its key has the hole's flats in its bore.
    linings.push({ socket: { ...socket, depth_mm }, end_mm, sign, plug_mm: Math.max(opening, socket.around_mm) });
  }
  turned = rounded(turned);
  cut = rounded(cut);
  const plain = turned;
  if (item.thread) {
    turned = withThread(turned, item.thread);
    if (item.tip_thread) turned = withThread(turned, item.tip_thread);
    // In a section the ridges of the axle alone are drawn: two facing rows of grooves would read as holes.
    if (!item.thread.inner) cut = withThread(cut, item.thread);
    if (item.tip_thread) cut = withThread(cut, item.tip_thread);
  }
  return { solid, turned, plain, cut, ...(flats ? { flats } : {}), ...(knurl ? { knurl } : {}), linings };
}
