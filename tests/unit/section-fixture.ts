/**
 * A stack written by hand for the tests of the section drawing: no solver behind it, so that a change in the analysis
 * cannot change these pictures. An axle from the non-drive side through a rocker's two bearings, with a tapered spacer
 * each side of a frame boss and a nut at the drive side. Invented sizes (bearing boundaries 15 × 28 × 7 mm), mm and N.
 */
import { resolveModel } from '../../shared/index.ts';
import type {
  Analysis,
  Bears,
  ColumnLink,
  FaceReading,
  Finding,
  LinkageModel,
  PlacedItem,
  Polygon,
  Solid,
  StackAnalysis,
  Touch,
} from '../../shared/index.ts';

const STACK = 'rocker-axle';

function ring(r0: number, r1: number, z0: number, z1: number): Polygon {
  return [
    [r0, z0],
    [r1, z0],
    [r1, z1],
    [r0, z1],
  ];
}

function body(polygon: Polygon, role: Solid['role'] = 'body'): Solid {
  return { role, material: role === 'seal' ? 'nitrile-rubber' : 'steel', polygon };
}

const NOTHING: FaceReading = { bears: 'nothing', force_N: 0, touches: [] };

function bearing(onto: string, bears: Exclude<Bears, 'nothing'>, r0: number, r1: number, force_N: number): FaceReading {
  const touch: Touch = {
    with: `${STACK}/${onto}`,
    own: 'body',
    bears,
    force_N,
    gap_mm: 0,
    bands_mm: [[r0, r1]],
    pressure_MPa: force_N / (Math.PI * (r1 * r1 - r0 * r0)),
  };
  return { bears, force_N, touches: [touch] };
}

type Draft = Pick<PlacedItem, 'rowId' | 'role' | 'kind' | 'name' | 'solids' | 'inColumn'> & Partial<PlacedItem>;

function item(draft: Draft): PlacedItem {
  const places = draft.solids.flatMap((solid) => solid.polygon.map(([, z]) => z));
  return {
    id: `${STACK}/${draft.rowId}`,
    stackId: STACK,
    pivotId: 'rocker',
    turned: false,
    drives: [],
    from_mm: Math.min(...places),
    to_mm: Math.max(...places),
    shift_mm: 0,
    nonDrive: NOTHING,
    drive: NOTHING,
    ...draft,
  };
}

function bearingAt(rowId: string, name: string, z: number): PlacedItem {
  return item({
    rowId,
    role: 'bearing',
    kind: 'bearing',
    name,
    inColumn: true,
    solids: [
      body(ring(7.5, 9.2, z, z + 7), 'inner-ring'),
      body(ring(12.3, 14, z, z + 7), 'outer-ring'),
      body(ring(9.2, 12.3, z + 0.1, z + 0.8), 'seal'),
      body(ring(9.2, 12.3, z + 6.2, z + 6.9), 'seal'),
    ],
    balls: { count: 12, diameter_mm: 3.8, circle_mm: 21.5, z_mm: z + 3.5 },
  });
}

function taper(rowId: string, name: string, z: number, smallFace: 'drive' | 'non-drive', force_N: number): PlacedItem {
  const toDrive = smallFace === 'drive';
  const polygon: Polygon = toDrive
    ? [
        [7.6, z],
        [13, z],
        [9, z + 5],
        [7.6, z + 5],
      ]
    : [
        [7.6, z],
        [9, z],
        [13, z + 5],
        [7.6, z + 5],
      ];
  const small = bearing(toDrive ? 'bearing-drive' : 'bearing-non-drive', 'inner-ring', 7.6, 9, force_N);
  const large = bearing('frame', 'arm', 7.6, 13, force_N);
  return item({
    rowId,
    role: 'spacer',
    kind: 'tapered-spacer',
    name,
    inColumn: true,
    turned: toDrive,
    smallFace,
    solids: [body(polygon)],
    nonDrive: toDrive ? large : small,
    drive: toDrive ? small : large,
  });
}

/** What the fixture may be asked for. */
export interface FixtureOptions {
  /** Both spacers the other way round. */
  readonly turned?: boolean;
  /** A gap in the column between the drive-side spacer and its bearing, mm. */
  readonly gap_mm?: number;
  /** Name of the frame boss. */
  readonly frameName?: string;
}

/** The stack by itself. */
export function fixtureStack(options: FixtureOptions = {}): StackAnalysis {
  const force_N = options.gap_mm ? 0 : 7600;
  const inner: 'drive' | 'non-drive' = options.turned ? 'drive' : 'non-drive';
  const outer: 'drive' | 'non-drive' = options.turned ? 'non-drive' : 'drive';
  const boss = (rowId: string, name: string, kind: string, polygon: Polygon, inColumn: boolean) =>
    item({ rowId, role: 'boss', kind, name, member: kind, bore: rowId, inColumn, solids: [body(polygon)] });
  const items: PlacedItem[] = [
    item({
      rowId: 'axle',
      role: 'axle',
      kind: 'axle',
      name: 'Rocker axle',
      inColumn: true,
      solids: [
        body(
          [
            [0, -37],
            [12, -37],
            [12, -33],
            [9.2, -33],
            [9.2, -32],
            [7.5, -32],
            [7.5, 20],
            [7, 20],
            [7, 39.5],
            [6.5, 40],
            [0, 40],
          ],
          'land',
        ),
      ],
      thread: { size_mm: 14, pitch_mm: 1, hand: 'right', length_mm: 14, from_mm: 26, to_mm: 40, inner: false },
      drives: [{ tool: { tool: 'hex-key', size_mm: 8 }, side: 'non-drive', turned: true }],
      drive: bearing('bearing-non-drive', 'inner-ring', 7.5, 9.2, force_N),
    }),
    bearingAt('bearing-non-drive', 'Bearing 15 × 28 × 7', -32),
    boss(
      'rocker-non-drive',
      'Rocker',
      'rocker',
      [
        [14, -32.5],
        [18, -32.5],
        [18, -22.5],
        [12, -22.5],
        [12, -25],
        [14, -25],
      ],
      false,
    ),
    taper('spacer-non-drive', 'Tapered spacer', -25, inner, force_N),
    boss('frame', options.frameName ?? 'Frame', 'frame', ring(7.55, 16, -20, 20), true),
    taper('spacer-drive', 'Tapered spacer', 20, outer, force_N),
    bearingAt('bearing-drive', 'Bearing 15 × 28 × 7', 25 + (options.gap_mm ?? 0)),
    boss(
      'rocker-drive',
      'Rocker',
      'rocker',
      [
        [12, 22.5],
        [18, 22.5],
        [18, 32.5],
        [14, 32.5],
        [14, 25],
        [12, 25],
      ],
      false,
    ),
    item({
      rowId: 'receiver',
      role: 'receiver',
      kind: 'nut',
      name: 'Pivot nut',
      inColumn: true,
      solids: [
        body(
          [
            [7, 32],
            [9.2, 32],
            [9.2, 33],
            [12, 33],
            [12, 39],
            [7, 39],
          ],
          'land',
        ),
      ],
      thread: { size_mm: 14, pitch_mm: 1, hand: 'right', length_mm: 7, from_mm: 32, to_mm: 39, inner: true },
      drives: [{ tool: { tool: 'spanner', size_mm: 22 }, side: 'drive', turned: false }],
      nonDrive: bearing('bearing-drive', 'inner-ring', 7.5, 9.2, force_N),
    }),
  ];
  const column = [
    'axle',
    'bearing-non-drive',
    'spacer-non-drive',
    'frame',
    'spacer-drive',
    'bearing-drive',
    'receiver',
  ];
  const places = [-32, -25, -20, 20, 25, 32];
  const links = places.map((z_mm, k): ColumnLink => {
    const gap_mm = column[k] === 'spacer-drive' ? (options.gap_mm ?? 0) : 0;
    return {
      from: `${STACK}/${column[k]!}`,
      to: `${STACK}/${column[k + 1]!}`,
      z_mm: z_mm + gap_mm / 2,
      force_N,
      gap_mm,
    };
  });
  return {
    id: STACK,
    name: 'Rocker pivot',
    pivotId: 'rocker',
    from: 'non-drive',
    clamp_N: force_N,
    items,
    column: links,
    tightening: {
      torque_Nm: 14,
      preload_N: { low: 6200, spec: 7600, high: 9400 },
      threadFriction: { low: 0.1, nominal: 0.12, high: 0.16 },
      rubbing_mm: 16,
      turned: 'head',
      axle: 'axle',
      receiver: 'nut',
      stand: 'non-drive',
      turn: 'clockwise',
      tool: { tool: 'hex-key', size_mm: 8 },
      held: { what: 'receiver', side: 'drive', tool: { tool: 'spanner', size_mm: 22 } },
      engagement_mm: 7,
      engagementNeeded_mm: 6,
      axleStress_MPa: 120,
      axleYield_MPa: 430,
    },
    passage: {
      nonDrive: { from: 'non-drive', passes: true, blocks: [] },
      drive: { from: 'drive', passes: false, blocks: [], reason: 'receiver-is-here' },
    },
  };
}

/** An analysis that holds `stack` alone, with findings if asked. */
export function fixtureAnalysis(stack: StackAnalysis, findings: readonly Finding[] = []): Analysis {
  const model: LinkageModel = {
    schema: 1,
    id: 'bench-rig',
    name: 'Bench rig',
    units: 'mm, N, N·m, deg',
    parts: {},
    members: {},
    pivots: [],
  };
  return {
    key: model.id,
    model,
    resolved: resolveModel(model),
    verdict: findings.length > 0 ? 'faulty' : 'sound',
    pivots: [
      {
        id: stack.pivotId,
        name: 'Rocker pivot',
        x_mm: 0,
        y_mm: 0,
        verdict: findings.length > 0 ? 'faulty' : 'sound',
        stacks: [stack],
        findings,
        check: { steps: 3, residual_N: 0, complementarity: 0, balance_N: 0 },
      },
    ],
    findings: [],
  };
}
