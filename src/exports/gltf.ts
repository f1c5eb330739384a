/**
 * The picture of a bike as binary glTF 2.0: metres, y up, every member and part a node under its own name.
 *
 * Our own short writer: what is painted for the screen is written as it is, its colours at its corners, one material for
 * each metal and roughness. No textures, no clock: the same bike gives the same bytes.
 */
import type { Analysis, PlacedItem } from '../../shared/index.ts';
import { nameOf } from '../../shared/index.ts';
import { FACETS, paintItems } from '../scene/item.ts';
import { memberSurface } from '../scene/members.ts';
import { obstacleShape } from '../scene/obstacles.ts';
import { Painted } from '../scene/painted.ts';
import { memberLook } from '../scene/palette.ts';
import { anchorsOf, itemsOf } from '../scene/placement.ts';
import { paintShockBody, paintShockShaft, shockShape } from '../scene/shock.ts';

const M_PER_MM = 0.001;
/** Numbers that the format gives to kinds of data. */
const FLOAT = 5126;
const WHOLE = 5125;
const CORNERS = 34962;
const TRIANGLES = 34963;
const NO_RUBS: ReadonlySet<string> = new Set();

type Triple = readonly [x: number, y: number, z: number];

interface Node {
  readonly name: string;
  readonly painted?: Painted;
  readonly at_mm?: Triple;
  readonly rotation?: readonly [x: number, y: number, z: number, w: number];
  readonly children?: readonly Node[];
  /** What it is in words. */
  readonly about?: string;
}

/** A bike, tight, as a file. */
export function gltf(analysis: Analysis): Uint8Array<ArrayBuffer> {
  const { model } = analysis;
  const anchors = anchorsOf(model);
  const materialOf = ({ member }: PlacedItem): string | undefined =>
    member === undefined ? undefined : model.members[member]?.material;
  const itemNode = (item: PlacedItem): Node => ({
    name: item.id,
    about: nameOf(item.id, analysis),
    painted: paintItems([item], { facets: FACETS.rest, rubs: NO_RUBS, hasBands: false }, materialOf),
  });
  const pivots = analysis.pivots.map((pivot): Node => {
    const parts = itemsOf(pivot).filter(({ role }) => role !== 'boss');
    return { name: pivot.id, about: pivot.name, at_mm: [pivot.x_mm, pivot.y_mm, 0], children: parts.map(itemNode) };
  });
  const members = Object.entries(model.members).map(([id, member]): Node => {
    const bosses = analysis.pivots.flatMap((pivot) =>
      itemsOf(pivot)
        .filter((item) => item.role === 'boss' && item.member === id)
        .map((item): Node => ({ ...itemNode(item), at_mm: [pivot.x_mm, pivot.y_mm, 0] })),
    );
    const surface = memberSurface(member, anchors[id] ?? {});
    const painted = new Painted()
      .add(surface, { kind: 'lit', look: memberLook(member.kind, member.material) })
      .mark('marked');
    return { name: `member ${id}`, painted, children: bosses };
  });
  const shock = shockShape(model, anchors);
  const shocks: Node[] = shock
    ? [
        {
          name: 'shock',
          at_mm: shock.from,
          rotation: turnTo(shock.from, shock.to),
          children: [
            {
              name: 'shock body',
              painted: paintShockBody(shock, model.members[model.shock!.body]?.material ?? 'aluminium-6061'),
            },
            { name: 'shock shaft', painted: paintShockShaft(shock) },
          ],
        },
      ]
    : [];
  const obstacles = (model.obstacles ?? []).map((obstacle): Node => {
    const { painted } = obstacleShape(obstacle);
    return { name: obstacle.id, at_mm: [obstacle.x_mm, obstacle.y_mm, 0], painted };
  });
  return written({ name: model.id, about: model.name, children: [...members, ...pivots, ...shocks, ...obstacles] });
}

/** The turn that lays z along the line between two places. */
function turnTo(from: Triple, to: Triple): [number, number, number, number] {
  const [x, y, z] = to.map((value, k) => value - from[k]!) as [number, number, number];
  const length = Math.hypot(x, y, z);
  const w = 1 + z / length;
  // Straight back: half a turn about x.
  if (w < 1e-9) return [1, 0, 0, 0];
  const by = Math.hypot(x / length, y / length, w);
  return [-y / length / by, x / length / by, 0, w / by];
}

function written(root: Node): Uint8Array<ArrayBuffer> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  const bufferViews: object[] = [];
  const accessors: object[] = [];
  const meshes: object[] = [];
  const nodes: object[] = [];
  const materials: object[] = [];
  const known = new Map<string, number>();

  const put = (data: Float32Array | Uint32Array, type: 'VEC3' | 'SCALAR', more: object): number => {
    chunks.push(new Uint8Array(data.buffer));
    const target = type === 'VEC3' ? CORNERS : TRIANGLES;
    bufferViews.push({ buffer: 0, byteOffset: size, byteLength: data.byteLength, target });
    size += data.byteLength;
    const count = data.length / (type === 'VEC3' ? 3 : 1);
    const componentType = type === 'VEC3' ? FLOAT : WHOLE;
    return accessors.push({ bufferView: bufferViews.length - 1, componentType, count, type, ...more }) - 1;
  };
  const materialOf = ([a, b, kind]: readonly number[]): number => {
    const [metal, rough] = kind === 0 ? [a!, b!] : [0, 1];
    const name = `metal ${metal.toFixed(2)}, rough ${rough.toFixed(2)}`;
    const own =
      known.get(name) ??
      materials.push({ name, pbrMetallicRoughness: { metallicFactor: metal, roughnessFactor: rough } }) - 1;
    known.set(name, own);
    return own;
  };
  const meshOf = (name: string, painted: Painted): number | undefined => {
    const byMaterial = new Map<number, number[]>();
    const end = painted.endOf('marked');
    for (let k = 0; k < end; k += 3) {
      const first = painted.index[k]!;
      const material = materialOf(painted.coats.slice(4 * first, 4 * first + 3));
      const own = byMaterial.get(material) ?? [];
      byMaterial.set(material, own);
      own.push(first, painted.index[k + 1]!, painted.index[k + 2]!);
    }
    const primitives = [...byMaterial].map(([material, index]) => {
      const used = [...new Set(index)];
      const places = new Map(used.map((corner, k) => [corner, k] as const));
      const of = (from: readonly number[], by: (value: number) => number): Float32Array =>
        Float32Array.from(
          used.flatMap((corner) => [by(from[3 * corner]!), by(from[3 * corner + 1]!), by(from[3 * corner + 2]!)]),
        );
      const positions = of(painted.positions, (value) => value * M_PER_MM + 0);
      const [min, max] = rangeOf(positions);
      return {
        attributes: {
          POSITION: put(positions, 'VEC3', { min, max }),
          NORMAL: put(unitOf(of(painted.normals, (value) => value)), 'VEC3', {}),
          COLOR_0: put(
            of(painted.colours, (value) => Math.min(1, Math.max(0, value))),
            'VEC3',
            {},
          ),
        },
        indices: put(Uint32Array.from(index.map((corner) => places.get(corner)!)), 'SCALAR', {}),
        material,
      };
    });
    return primitives.length === 0 ? undefined : meshes.push({ name, primitives }) - 1;
  };
  const nodeOf = ({ name, painted, at_mm, rotation, children = [], about }: Node): number => {
    const inner = children.map(nodeOf);
    const mesh = painted && meshOf(name, painted);
    return (
      nodes.push({
        name,
        ...(at_mm && { translation: at_mm.map((value) => value * M_PER_MM) }),
        ...(rotation && { rotation }),
        ...(mesh !== undefined && { mesh }),
        ...(inner.length > 0 && { children: inner }),
        ...(about !== undefined && { extras: { about } }),
      }) - 1
    );
  };
  const scene = nodeOf(root);
  const text = JSON.stringify({
    asset: { version: '2.0', generator: 'Axlewright' },
    scene: 0,
    scenes: [{ nodes: [scene] }],
    nodes,
    meshes,
    materials,
    accessors,
    bufferViews,
    buffers: [{ byteLength: size }],
  });
  return packed(text, chunks, size);
}

function rangeOf(positions: Float32Array): [min: number[], max: number[]] {
  const [min, max] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ];
  positions.forEach((value, k) => {
    min[k % 3] = Math.min(min[k % 3]!, value);
    max[k % 3] = Math.max(max[k % 3]!, value);
  });
  return [min, max];
}

/** Of the length that the format asks for; one without a direction points along z. */
function unitOf(normals: Float32Array): Float32Array {
  for (let k = 0; k < normals.length; k += 3) {
    const length = Math.hypot(normals[k]!, normals[k + 1]!, normals[k + 2]!);
    if (length > 1e-6) for (let c = 0; c < 3; c++) normals[k + c]! /= length;
    else normals.set([0, 0, 1], k);
  }
  return normals;
}

/** Text and data in the one file of the binary form, each filled up to four bytes. */
function packed(text: string, chunks: readonly Uint8Array[], size: number): Uint8Array<ArrayBuffer> {
  const words = new TextEncoder().encode(text);
  const wide = Math.ceil(words.length / 4) * 4;
  const out = new Uint8Array(12 + 8 + wide + 8 + size);
  const view = new DataView(out.buffer);
  // 'glTF', version, whole; then 'JSON' and 'BIN' with their lengths.
  [0x46546c67, 2, out.length, wide, 0x4e4f534a].forEach((value, k) => view.setUint32(4 * k, value, true));
  out.fill(0x20, 20, 20 + wide);
  out.set(words, 20);
  view.setUint32(20 + wide, size, true);
  view.setUint32(24 + wide, 0x4e4942, true);
  let at = 28 + wide;
  for (const chunk of chunks) {
    out.set(chunk, at);
    at += chunk.length;
  }
  return out;
}
