/**
 * Whether the tools a stack names go with its parts, carry its torque and get there.
 *
 * Each end that has a tool is judged by itself: the size must be one that is made; flats must be wider than the thread
 * they surround and no wider than the part; a key must find metal round it and behind it; the key must carry the
 * setting, and be long enough where the end lies deep. Of the wrenches at hand one must reach the setting. Parts that
 * fit are none the worse for a wrong tool: nothing here is a stop. Tables: `standards/drive-tools.ts`. mm, N·m.
 */
import type { JointItem } from '../joint/joint.ts';
import type { DriveTool } from '../model/schema.ts';
import type { Shanked } from '../parts/shanked.ts';
import { zRange } from '../profile/polygon.ts';
import {
  hexKey,
  HEX_KEY_SOURCE,
  isSpanner,
  leastFlats_mm,
  LEAST_SOCKET_SHARE,
  starKey,
  STAR_KEY_SOURCE,
} from '../standards/drive-tools.ts';
import { metricThread } from '../standards/index.ts';
import type { Measure } from '../types.ts';
import { TORQUE_LIMITS, WORKSHOP_WRENCHES_Nm } from './limits.ts';
import { socketOf } from './sections.ts';
import type { TorqueStack } from './setup.ts';
import { judgeWrench } from './wrench.ts';

/** What may be wrong with a tool. */
export type ToolFault =
  | 'no-such-size'
  | 'wider-than-part'
  | 'flats-in-thread'
  | 'flats-thin'
  | 'key-in-bore'
  | 'socket-shallow'
  | 'key-weak'
  | 'too-deep'
  | 'no-wrench';

/** One fault of a tool at one end of a stack. */
export interface ToolTrouble {
  readonly why: ToolFault;
  readonly item: JointItem;
  readonly end: 'head' | 'tip' | 'receiver';
  /** No tool where it is the wrench that does not reach. */
  readonly tool?: DriveTool;
  readonly numbers: Readonly<Record<string, Measure>>;
  readonly limit?: Measure & { readonly source: string };
}

type Range_Nm = readonly [number, number];
type Found = Omit<ToolTrouble, 'item' | 'end' | 'tool'>;

const mm = (value: number): Measure => ({ value, unit: 'mm' });
const Nm = (value: number): Measure => ({ value, unit: 'N·m' });
const HEAD_OFF = 'a hexagon has its flats within what it is cut from: geometry';

/** Every trouble with the tools of a stack. */
export function toolTroubles(
  bench: TorqueStack,
  wrenches_Nm: readonly Range_Nm[] = WORKSHOP_WRENCHES_Nm,
): ToolTrouble[] {
  const { own, tightening } = bench;
  const ends = (['head', 'tip', 'receiver'] as const).flatMap((end) => {
    const tool = own.stack.drives[end];
    const item = end === 'receiver' ? own.receiver : own.axle;
    return tool && item.made ? [{ end, tool, item }] : [];
  });
  const found = ends.flatMap(({ end, tool, item }) => {
    const fits = tool.tool === 'spanner' ? flatsTroubles(bench, tool, end, item) : keyTroubles(bench, tool, end, item);
    return [
      ...fits,
      // A size that cannot be right here need not be made either.
      ...(fits.length > 0 ? [] : sizeTroubles(tool)),
      // What only holds still takes the torque as well, less what the turning face rubs: the setting is on the careful
      // side.
      ...strengthTroubles(tool, tightening.torque_Nm),
      ...depthTroubles(bench, tool, end, item),
    ].map((trouble): ToolTrouble => ({ ...trouble, end, item, tool }));
  });
  return [...found, ...wrenchTroubles(bench, wrenches_Nm)];
}

function sizeTroubles({ tool, size_mm }: DriveTool): Found[] {
  const isMade =
    tool === 'hex-key'
      ? hexKey(size_mm) !== undefined
      : tool === 'star-key'
        ? starKey(size_mm) !== undefined
        : tool !== 'spanner' || isSpanner(size_mm);
  return isMade ? [] : [{ why: 'no-such-size', numbers: {} }];
}

/** Flats round a head, a tip or a nut. */
function flatsTroubles(
  { own }: TorqueStack,
  { size_mm }: DriveTool,
  end: ToolTrouble['end'],
  item: JointItem,
): Found[] {
  const part = item.made!;
  const outside = end === 'tip' ? own.thread.axle.size_mm : 'head' in part ? part.head.diameter_mm : outside_mm(part);
  if (outside !== undefined && size_mm > outside)
    return [
      {
        why: 'wider-than-part',
        numbers: { across_mm: mm(outside) },
        limit: { ...mm(outside), source: HEAD_OFF },
      },
    ];
  if (part.kind !== 'nut') return [];
  const thread = part.thread.size_mm;
  if (size_mm <= thread)
    return [
      {
        why: 'flats-in-thread',
        numbers: { thread_mm: mm(thread) },
        limit: { ...mm(thread), source: 'flats lie outside the thread: geometry' },
      },
    ];
  const least = leastFlats_mm(thread);
  return size_mm >= least
    ? []
    : [
        {
          why: 'flats-thin',
          numbers: { thread_mm: mm(thread) },
          limit: { ...mm(least), source: 'ISO 272: across flats of 1.5 times the thread and more, less a tenth' },
        },
      ];
}

function outside_mm(part: object): number | undefined {
  return 'outside_mm' in part && typeof part.outside_mm === 'number' ? part.outside_mm : undefined;
}

/** A socket in a head, a tip or a nut: metal round it, and no bore wider than the key. */
function keyTroubles({ own }: TorqueStack, tool: DriveTool, end: ToolTrouble['end'], item: JointItem): Found[] {
  const socket = socketOf(tool);
  const part = item.made!;
  if (!socket || !('head' in part)) return [];
  const { corner_mm } = socket;
  const round = end === 'tip' ? metricThread(own.thread.axle).rootDiameter_mm : part.head.diameter_mm;
  if (corner_mm >= round)
    return [
      {
        why: 'wider-than-part',
        numbers: { across_mm: mm(round), corner_mm: mm(corner_mm) },
        limit: { ...mm(round), source: HEAD_OFF },
      },
    ];
  const bore = part.bore_mm ?? 0;
  if (bore >= corner_mm)
    return [
      {
        why: 'key-in-bore',
        numbers: { bore_mm: mm(bore), corner_mm: mm(corner_mm) },
        limit: { ...mm(corner_mm), source: TORQUE_LIMITS.hexCorner.source },
      },
    ];
  return end === 'tip' ? [] : shallowTroubles(part, tool, corner_mm);
}

/** A socket that the shank is too thin to take on must find its depth in the head. */
function shallowTroubles(part: Shanked, { tool, size_mm }: DriveTool, corner_mm: number): Found[] {
  const height = part.head.height_mm + (part.head.land_height_mm ?? 0);
  const least = LEAST_SOCKET_SHARE * (tool === 'hex-key' ? size_mm : corner_mm);
  if (corner_mm < part.shank[0]!.diameter_mm || height >= least) return [];
  return [
    {
      why: 'socket-shallow',
      numbers: { height_mm: mm(height) },
      limit: { ...mm(least), source: 'ISO 7380-1 (OCT): the shallowest standard socket is 0.52 of its key deep' },
    },
  ];
}

function strengthTroubles({ tool, size_mm }: DriveTool, torque_Nm: number): Found[] {
  const most_Nm =
    tool === 'hex-key' ? hexKey(size_mm)?.torque_Nm : tool === 'star-key' ? starKey(size_mm)?.torque_Nm : undefined;
  if (most_Nm === undefined || torque_Nm <= most_Nm) return [];
  return [
    {
      why: 'key-weak',
      numbers: { torque_Nm: Nm(torque_Nm) },
      limit: { ...Nm(most_Nm), source: tool === 'hex-key' ? HEX_KEY_SOURCE : STAR_KEY_SOURCE },
    },
  ];
}

/** How far an end lies behind what surrounds it, against the tool's own length. */
function depthTroubles(
  { own, joint }: TorqueStack,
  tool: DriveTool,
  end: ToolTrouble['end'],
  item: JointItem,
): Found[] {
  const outward = (own.stack.from === 'drive') === (end === 'head') ? 1 : -1;
  const reaches = (isOwn: boolean): number =>
    Math.max(
      ...joint.pieces
        .filter((piece) => piece.item.stack === own.stack && (piece.item === item) === isOwn)
        .flatMap(({ solid }) => zRange([solid.polygon]).map((z) => outward * z)),
    );
  const depth = reaches(false) - reaches(true);
  const key = tool.tool === 'hex-key' ? hexKey(tool.size_mm) : undefined;
  const most = key ? { value: key.arm_mm, source: HEX_KEY_SOURCE } : TORQUE_LIMITS.toolReach_mm;
  if (!(depth > most.value)) return [];
  return [
    {
      why: 'too-deep',
      numbers: { depth_mm: mm(depth) },
      limit: { ...mm(most.value), source: most.source },
    },
  ];
}

/** No wrench at hand reaches the setting. */
function wrenchTroubles({ own, tightening }: TorqueStack, wrenches_Nm: readonly Range_Nm[]): ToolTrouble[] {
  const { torque_Nm, turned } = tightening;
  const choices = wrenches_Nm.map((range) => judgeWrench(torque_Nm, range));
  if (choices.some(({ fit }) => fit === 'good' || fit === 'lowest-fifth')) return [];
  const ends = choices.flatMap(({ from_Nm, to_Nm }) => [from_Nm, to_Nm]);
  const nearest = ends.reduce((a, b) => (Math.abs(b - torque_Nm) < Math.abs(a - torque_Nm) ? b : a), Infinity);
  return [
    {
      why: 'no-wrench',
      item: turned === 'receiver' ? own.receiver : own.axle,
      end: turned,
      numbers: { torque_Nm: Nm(torque_Nm) },
      ...(Number.isFinite(nearest)
        ? { limit: { ...Nm(nearest), source: 'the ranges of the wrenches at hand, ISO 6789' } }
        : {}),
    },
  ];
}
