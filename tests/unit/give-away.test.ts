// What is given away: glTF by the format's own validator, DXF read back by another reader, STL watertight by a solid
// kernel, the table of parts.
import { spawnSync } from 'node:child_process';
import DxfParser, {
  type ICircleEntity,
  type ILwpolylineEntity,
  type IPolylineEntity,
  type ITextEntity,
} from 'dxf-parser';
import { beforeAll, describe, expect, test } from 'vitest';
import { analyse, revolvedVolume_mm3, type Analysis } from '../../shared/index.ts';
import { dxf } from '../../src/drawings/dxf.ts';
import type { Drawing } from '../../src/drawings/shapes.ts';
import { svg } from '../../src/drawings/svg.ts';
import { trueSection } from '../../src/drawings/trueSize.ts';
import { exported, exportName } from '../../src/exports/files.ts';
import { gltf } from '../../src/exports/gltf.ts';
import { partsCsv } from '../../src/exports/parts.ts';
import { stl } from '../../src/exports/stl.ts';
import { solidKernel } from '../bench/oracles.ts';
import { demoModels } from '../bench/models.ts';
import { someOf } from '../setup/series.ts';
import { parseXml } from './section-reading.ts';

const bikes: Analysis[] = someOf(demoModels(), 3).map((model) => analyse(model));
const itemsOf = ({ pivots }: Analysis) => pivots.flatMap(({ stacks }) => stacks.flatMap(({ items }) => items));

interface Gltf {
  readonly nodes: readonly {
    readonly name: string;
    readonly translation?: readonly number[];
    readonly children?: readonly number[];
    readonly mesh?: number;
  }[];
  readonly meshes: readonly {
    readonly primitives: readonly { readonly attributes: { readonly POSITION: number } }[];
  }[];
  readonly accessors: readonly { readonly min?: readonly number[]; readonly max?: readonly number[] }[];
}

function read(bytes: Uint8Array): Gltf {
  const length = new DataView(bytes.buffer).getUint32(12, true);
  return JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + length))) as Gltf;
}

describe.each(bikes)('the picture of $model.id as glTF', (analysis) => {
  let bytes: Uint8Array;
  beforeAll(() => {
    bytes = gltf(analysis);
  });

  test('passes the validator of the format without an error or a warning', () => {
    const { stdout } = spawnSync(process.execPath, ['tests/setup/check-gltf.mjs'], { input: bytes });
    const { issues, mimeType, info } = JSON.parse(stdout.toString()) as GltfReport;
    expect(issues.messages.slice(0, 3)).toEqual([]);
    expect([mimeType, issues.numErrors, issues.numWarnings]).toEqual(['model/gltf-binary', 0, 0]);
    expect(info.totalTriangleCount).toBeGreaterThan(5000);
  });

  test('names every member, pivot and part, each in its place in metres', () => {
    const { nodes, meshes, accessors } = read(bytes);
    const byName = new Map(nodes.map((node) => [node.name, node]));
    for (const id of Object.keys(analysis.model.members)) expect(byName.has(`member ${id}`), id).toBe(true);
    for (const pivot of analysis.pivots) {
      const [x, y] = byName.get(pivot.id)!.translation!;
      expect([x! * 1000, y! * 1000]).toEqual([expect.closeTo(pivot.x_mm, 6), expect.closeTo(pivot.y_mm, 6)]);
    }
    for (const item of itemsOf(analysis)) {
      const mesh = meshes[byName.get(item.id)!.mesh!]!;
      const tops = mesh.primitives.map(({ attributes }) => accessors[attributes.POSITION]!.max![2]! * 1000);
      const [from, to] = [item.from_mm, item.to_mm];
      // A seal's lip and a rounded edge stand a little off the profile.
      expect(Math.max(...tops), item.id).toBeGreaterThan(from);
      expect(Math.max(...tops), item.id).toBeLessThan(to + 6);
    }
  });
});

interface GltfReport {
  readonly mimeType: string;
  readonly issues: { readonly numErrors: number; readonly numWarnings: number; readonly messages: readonly unknown[] };
  readonly info: { readonly totalTriangleCount: number };
}

describe('a row at its own size', () => {
  const analysis = bikes[0]!;
  const stack = analysis.pivots[0]!.stacks[0]!;
  const drawing = trueSection(stack, analysis);

  test('as DXF is read back with every outline where the model puts it, one unit a mm', () => {
    const file = new DxfParser().parseSync(dxf(drawing))!;
    expect(file.header['$INSUNITS']).toBe(4);
    const outlines = file.entities.filter(({ type }) => type === 'POLYLINE') as IPolylineEntity[];
    for (const role of new Set(stack.items.map((item) => item.role))) {
      const own = outlines.filter(({ layer }) => layer === role);
      const solids = stack.items.filter((item) => item.role === role).flatMap((item) => item.solids);
      expect(own.length, role).toBe(2 * solids.length);
      const zs = solids.flatMap(({ polygon }) => polygon.map(([, z]) => z));
      const xs = own.flatMap(({ vertices }) => vertices.map(({ x }) => x));
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(Math.max(...zs) - Math.min(...zs), 4);
      const rs = solids.flatMap(({ polygon }) => polygon.map(([r]) => r));
      const ys = own.flatMap(({ vertices }) => vertices.map(({ y }) => y));
      expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(2 * Math.max(...rs), 4);
    }
    const texts = file.entities.filter(({ type }) => type === 'TEXT') as ITextEntity[];
    expect(texts.map(({ text }) => text)).toContain('50 mm');
  });

  test('as SVG is as many mm wide as it says', () => {
    const { name, attributes } = parseXml(svg(drawing));
    expect(name).toBe('svg');
    expect(attributes['width']).toBe(`${Math.round(drawing.width_mm * 100) / 100}mm`);
    const box = attributes['viewBox']!.split(' ').map(Number);
    expect(box[2]).toBeCloseTo(drawing.width_mm, 1);
  });

  test('arcs keep radius and ends, clockwise or not, short or long, on a sheet whose y runs down', () => {
    const arcs = [
      { from: [10, 10], to: [20, 20], radius: 10, isLong: false, isClockwise: true, middle: [10, 20] },
      { from: [10, 10], to: [20, 20], radius: 10, isLong: false, isClockwise: false, middle: [20, 10] },
      { from: [10, 10], to: [20, 20], radius: 10, isLong: true, isClockwise: true, middle: [20, 10] },
    ] as const;
    const sheet: Drawing = {
      from: [0, 0],
      width_mm: 40,
      height_mm: 30,
      unit: 'mm',
      shapes: [
        ...arcs.map(({ from, to, radius, isLong, isClockwise }) => ({
          kind: 'path' as const,
          isClosed: false,
          runs: [[from, { to, radius, isLong, isClockwise }]],
        })),
        { kind: 'circle', middle: [5, 6], radius: 2 },
      ],
    };
    const file = new DxfParser().parseSync(dxf(sheet))!;
    const read = file.entities.filter(({ type }) => type === 'POLYLINE') as (IPolylineEntity & ILwpolylineEntity)[];
    arcs.forEach(({ from, to, radius, middle }, k) => {
      const [a, b] = read[k]!.vertices as unknown as { x: number; y: number; bulge?: number }[];
      expect([a!.x, 30 - a!.y, b!.x, 30 - b!.y]).toEqual([...from, ...to]);
      // Middle and radius of the bulge, worked out the way a reader does.
      const bulge = a!.bulge!;
      const [dx, dy] = [b!.x - a!.x, b!.y - a!.y];
      const turn = 4 * Math.atan(bulge);
      const off = Math.hypot(dx, dy) / 2 / Math.tan(turn / 2);
      const [nx, ny] = [-dy / Math.hypot(dx, dy), dx / Math.hypot(dx, dy)];
      const [cx, cy] = [(a!.x + b!.x) / 2 + nx * off, (a!.y + b!.y) / 2 + ny * off];
      expect([cx, 30 - cy]).toEqual([expect.closeTo(middle[0], 4), expect.closeTo(middle[1], 4)]);
      expect(Math.hypot(a!.x - cx, a!.y - cy)).toBeCloseTo(radius, 4);
    });
    const [circle] = file.entities.filter(({ type }) => type === 'CIRCLE') as ICircleEntity[];
    expect(circle).toMatchObject({ center: { x: 5, y: 24 }, radius: 2 });
  });
});

test('every part as STL is watertight, as large as it is told and outward, by a solid kernel', async () => {
  const kernel = await solidKernel();
  for (const analysis of bikes)
    for (const item of itemsOf(analysis).filter(({ role }) => role !== 'boss')) {
      const bytes = stl(item, 2);
      const view = new DataView(bytes.buffer);
      const count = view.getUint32(80, true);
      expect(bytes.length).toBe(84 + 50 * count);
      const places = new Map<string, number>();
      const vertProperties: number[] = [];
      const triVerts: number[] = [];
      for (let k = 0; k < count; k++)
        for (let c = 1; c <= 3; c++) {
          const corner = [0, 4, 8].map((off) => view.getFloat32(84 + 50 * k + 12 * c + off, true));
          // Solids that touch share corners in the file: each stands alone, so that the kernel sees what a slicer does.
          const key = `${solidOf(k, item)} ${corner.join(' ')}`;
          const known = places.get(key) ?? vertProperties.push(...corner) / 3 - 1;
          places.set(key, known);
          triVerts.push(known);
        }
      const mesh = new kernel.Mesh({
        numProp: 3,
        vertProperties: Float32Array.from(vertProperties),
        triVerts: Uint32Array.from(triVerts),
      });
      const solid = new kernel.Manifold(mesh);
      expect(solid.status(), item.id).toBe('NoError');
      const wanted = item.solids.reduce((sum, { polygon }) => sum + revolvedVolume_mm3(polygon), 0) * 8;
      // Facets stand inside their circle: 96 of them lose 0.07 %.
      expect(solid.volume() / wanted, item.id).toBeGreaterThan(0.998);
      expect(solid.volume() / wanted, item.id).toBeLessThan(1.0001);
      solid.delete();
    }
});

/** Of which solid of an item a triangle is: each has as many as its profile gives it. */
function solidOf(
  triangle: number,
  { solids }: { readonly solids: readonly { readonly polygon: readonly (readonly [number, number])[] }[] },
): number {
  let left = triangle;
  for (const [k, { polygon }] of solids.entries()) {
    const count = polygon.reduce((sum, [r], j) => {
      const [next] = polygon[(j + 1) % polygon.length]!;
      return sum + (r < 1e-6 ? 0 : 96) + (next < 1e-6 ? 0 : 96);
    }, 0);
    if (left < count) return k;
    left -= count;
  }
  return solids.length;
}

test('the table has every part once, with its sizes, and no formula', () => {
  const analysis = bikes[0]!;
  const lines = partsCsv(analysis).trimEnd().split('\r\n');
  const parts = itemsOf(analysis).filter(({ role }) => role !== 'boss');
  expect(lines.length).toBe(1 + parts.length);
  for (const { id } of parts) expect(lines.filter((line) => line.split(',').includes(id))).toHaveLength(1);
  const renamed = { ...analysis, pivots: analysis.pivots.map((pivot) => ({ ...pivot, name: '=1+1' })) };
  expect(partsCsv(renamed)).not.toMatch(/(^|\n)=/);
});

test('each file is called by its model and what it shows', () => {
  const analysis = bikes[0]!;
  const stack = analysis.pivots[0]!.stacks[0]!;
  const item = stack.items.find(({ role }) => role === 'axle')!;
  expect(exportName(analysis, { form: 'glb' })).toBe(`${analysis.model.id}.glb`);
  expect(exportName(analysis, { form: 'dxf', stack })).toBe(`${analysis.model.id}-${stack.id}.dxf`);
  expect(exportName(analysis, { form: 'stl', item })).toMatch(/-axle\.stl$/);
  expect(exported(analysis, { form: 'stl', item, scale: 1 })).toEqual(stl(item, 1));
});
