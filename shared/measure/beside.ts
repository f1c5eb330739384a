/**
 * What a size may be before anybody has read it: what such parts come in, and what stands beside it in the row.
 *
 * Parts that a hand has in front of it on one axle go onto one another: a spacer slips over the shank, a bearing sits in
 * its seat, a thread turns in its nut. Each such pair bounds one size by the other (a difference between two bounds) and
 * names the usual one. Common practice, no source; our own rule where it is only the width of what we have met. mm.
 */
import { isSizeKey, type DraftModel, type SizePath } from '../envelope/draft.ts';
import { pathText } from './path.ts';

/** Least, usual and most of a size. */
export type Usual = readonly [least: number, usual: number, most: number];

/** One size less another lies between two bounds, and usually is the middle one. */
export interface Beside {
  readonly size: string;
  readonly of: string;
  readonly less: Usual;
  /** True where it holds whatever was read: a band is cut to it, if that leaves any. */
  readonly binds?: true;
}

const PART_SIZES: Readonly<Record<string, Usual>> = {
  'head.diameter_mm': [6, 20, 50],
  'head.height_mm': [0.8, 4, 14],
  'head.land_mm': [5, 16, 46],
  'head.land_height_mm': [0.2, 0.8, 5],
  'shank.diameter_mm': [4, 12, 32],
  'shank.length_mm': [2, 40, 160],
  'thread.size_mm': [5, 12, 20],
  'thread.pitch_mm': [0.8, 1, 2.5],
  'thread.length_mm': [2, 12, 60],
  'tip_thread.size_mm': [3, 8, 18],
  'tip_thread.pitch_mm': [0.5, 1, 2.5],
  'tip_thread.length_mm': [2, 8, 40],
  'groove.diameter_mm': [4, 11, 31],
  'groove.width_mm': [0.5, 1.1, 4],
  'groove.margin_mm': [0.5, 1.5, 12],
  bore_mm: [2, 12, 45],
  outside_mm: [5, 20, 70],
  length_mm: [0.2, 8, 140],
  width_mm: [4, 7, 16],
  small_mm: [5, 16, 60],
  large_mm: [6, 22, 70],
  land_mm: [5, 16, 60],
  land_height_mm: [0.2, 0.8, 5],
  flange_mm: [6, 22, 70],
  flange_length_mm: [0.3, 2, 10],
  small_land_mm: [0, 1, 12],
  large_land_mm: [0, 1, 12],
  thickness_mm: [0.1, 0.6, 3],
  lip_mm: [0.1, 0.8, 5],
  slot_mm: [0.3, 1.5, 6],
  free_mm: [5, 22, 75],
  chamfer_mm: [0, 0.2, 1],
  inner_shoulder_mm: [8, 18, 45],
  outer_shoulder_mm: [10, 24, 50],
  axial_play_mm: [0, 0.1, 0.5],
};

const BOSS_SIZES: Readonly<Record<string, Usual>> = {
  width_mm: [2, 12, 140],
  gap_mm: [0, 40, 170],
  z_from_mm: [-300, 0, 300],
  z_to_mm: [-300, 0, 300],
  bore_mm: [3, 12, 50],
  boss_mm: [8, 32, 100],
  'seats.diameter_mm': [14, 28, 55],
  'seats.depth_mm': [1.5, 7, 25],
  'seats.groove.diameter_mm': [14, 29, 58],
  'seats.groove.width_mm': [0.5, 1.3, 4],
  'seats.groove.margin_mm': [0.5, 1.5, 12],
  'thread.size_mm': PART_SIZES['thread.size_mm']!,
  'thread.pitch_mm': PART_SIZES['thread.pitch_mm']!,
  'thread.length_mm': PART_SIZES['thread.length_mm']!,
  'thread.sleeve.outside_mm': [7, 18, 40],
  'thread.sleeve.pitch_mm': PART_SIZES['thread.pitch_mm']!,
  slot_mm: PART_SIZES['slot_mm']!,
};

const STACK_SIZES: Readonly<Record<string, Usual>> = {
  torque_Nm: [2, 12, 80],
  'row.proud_mm': [0, 0, 2],
  'row.torque_Nm': [1, 5, 80],
  'row.drive.size_mm': [2, 5, 45],
  'thread.size_mm': PART_SIZES['thread.size_mm']!,
  'thread.pitch_mm': PART_SIZES['thread.pitch_mm']!,
  'drives.head.size_mm': [2, 6, 45],
  'drives.tip.size_mm': [2, 6, 45],
  'drives.receiver.size_mm': [2, 19, 45],
};

/** A place by what it belongs to: its keys without names and numbers, `shank.diameter_mm`. */
export function keyOf(path: SizePath): string {
  const skipped = path[0] === 'parts' ? 2 : path[0] === 'members' ? 4 : 4;
  return path
    .slice(skipped)
    .filter((step) => typeof step === 'string')
    .join('.');
}

/** What a size comes in by its kind alone. */
export function usualOf(path: SizePath): Usual {
  const table = path[0] === 'parts' ? PART_SIZES : path[0] === 'members' ? BOSS_SIZES : STACK_SIZES;
  const own = table[keyOf(path)];
  if (!own) throw new Error(`usualOf: ${pathText(path)}: no such size`);
  return own;
}

type Any = Readonly<Record<string, unknown>>;

const SLIDES: Usual = [0, 0.2, 0.6];
const BEARS: Usual = [-0.03, 0.02, 0.15];
const HOLDS: Usual = [0, 0.05, 0.4];
const SEATED: Usual = [-0.06, 0, 0.06];
const SAME: Usual = [0, 0, 0];

/** The pairs of sizes of a draft that stand beside one another. */
export function besideOf(model: DraftModel): Beside[] {
  const found: Beside[] = [];
  const add: Add = (size, of, less, binds) => {
    found.push({ size: pathText(size), of: pathText(of), less, ...(binds ? { binds } : {}) });
  };
  for (const [id, part] of Object.entries(model.parts)) partPairs(['parts', id], part as unknown as Any, add);
  for (const [member, { bores }] of Object.entries(model.members))
    for (const [id, bore] of Object.entries(bores)) {
      const at = ['members', member, 'bores', id];
      (bore.seats ?? []).forEach((_, k) => {
        add([...at, 'seats', k, 'diameter_mm'], [...at, 'bore_mm'], [1.5, 4, 10]);
        add([...at, 'boss_mm'], [...at, 'seats', k, 'diameter_mm'], [3, 12, 30]);
        add([...at, 'width_mm'], [...at, 'seats', k, 'depth_mm'], [0.8, 2, 120]);
      });
      if (bore.thread) {
        add([...at, 'bore_mm'], [...at, 'thread', 'size_mm'], [-1.5, 0, 0.35]);
        add([...at, 'boss_mm'], [...at, 'thread', 'size_mm'], [6, 18, 40]);
        add([...at, 'thread', 'length_mm'], [...at, 'thread', 'size_mm'], [-5, 2, 20]);
        add([...at, 'width_mm'], [...at, 'thread', 'length_mm'], [0, 0, 20]);
        if (bore.thread.sleeve) {
          const outside = [...at, 'thread', 'sleeve', 'outside_mm'];
          add(outside, [...at, 'thread', 'size_mm'], [1.5, 4, 10]);
          add([...at, 'boss_mm'], outside, [3, 12, 30]);
        }
      } else if (!bore.seats) {
        add([...at, 'boss_mm'], [...at, 'bore_mm'], [6, 18, 40]);
        add([...at, 'width_mm'], [...at, 'bore_mm'], [-16, -4, 40]);
      }
    }
  model.pivots.forEach((pivot, p) =>
    pivot.stacks.forEach((_, s) => stackPairs(model, ['pivots', p, 'stacks', s], add)),
  );
  return found;
}

type Add = (size: SizePath, of: SizePath, less: Usual, binds?: true) => void;

function partPairs(at: SizePath, part: Any, add: Add): void {
  const has = (key: string): boolean => part[key] !== undefined;
  switch (part['kind']) {
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve': {
      const last = (part['shank'] as readonly unknown[]).length - 1;
      const first = [...at, 'shank', 0, 'diameter_mm'];
      const thread = [...at, 'thread', 'size_mm'];
      const isTube = part['kind'] === 'sleeve';
      add([...at, 'head', 'diameter_mm'], first, [2, 8, 20]);
      if ((part['head'] as Any)['land_mm'] !== undefined) {
        add([...at, 'head', 'land_mm'], first, [1.5, 3, 12]);
        add([...at, 'head', 'diameter_mm'], [...at, 'head', 'land_mm'], [0.5, 4, 16]);
      }
      // No crest stands above the name of its thread.
      if (isTube) add([...at, 'shank', last, 'diameter_mm'], thread, [1, 4, 20]);
      else if (last > 0) add([...at, 'shank', last, 'diameter_mm'], thread, [-0.3, 0, 0], true);
      else add([...at, 'shank', last, 'diameter_mm'], thread, [-0.3, 0, 0.1]);
      if (last > 0 && !isTube) add([...at, 'shank', last, 'length_mm'], [...at, 'thread', 'length_mm'], [0, 0, 40]);
      if (last === 0 && !isTube) add([...at, 'shank', last, 'length_mm'], [...at, 'thread', 'length_mm'], [0, 40, 150]);
      if (has('groove')) add([...at, 'groove', 'diameter_mm'], [...at, 'shank', last, 'diameter_mm'], [-3, -0.7, -0.1]);
      if (has('bore_mm')) add([...at, 'bore_mm'], thread, isTube ? [-12, -2, 0] : [-20, -6, -4]);
      if (!isTube) add([...at, 'thread', 'length_mm'], thread, [-5, 2, 30]);
      return;
    }
    case 'nut':
      add([...at, 'outside_mm'], [...at, 'thread', 'size_mm'], [4, 10, 25]);
      if (has('land_mm')) {
        add([...at, 'land_mm'], [...at, 'thread', 'size_mm'], [2, 5, 16]);
        add([...at, 'outside_mm'], [...at, 'land_mm'], [0.5, 4, 16]);
      }
      add([...at, 'length_mm'], [...at, 'thread', 'length_mm'], [0, 0, 6]);
      add([...at, 'thread', 'length_mm'], [...at, 'thread', 'size_mm'], [-6, -2, 10]);
      return;
    case 'bearing':
      add([...at, 'outside_mm'], [...at, 'bore_mm'], [7, 14, 20]);
      return;
    case 'tapered-spacer':
      add([...at, 'small_mm'], [...at, 'bore_mm'], [1.6, 3, 10]);
      add([...at, 'large_mm'], [...at, 'small_mm'], [1, 6, 20]);
      // A land never takes the whole length: the taper has some of it.
      for (const land of ['small_land_mm', 'large_land_mm'])
        if (has(land)) add([...at, land], [...at, 'length_mm'], [-140, -4, -0.5]);
      return;
    case 'bush':
    case 'reducer':
    case 'eye-bush':
      add([...at, 'outside_mm'], [...at, 'bore_mm'], [0.6, 3, 12]);
      return;
    case 'circlip':
      add([...at, 'outside_mm'], [...at, 'bore_mm'], [1, 5, 14]);
      add([...at, 'free_mm'], [...at, 'outside_mm'], [0.05, 0.7, 4]);
      return;
    case 'shaft-circlip':
      add([...at, 'outside_mm'], [...at, 'bore_mm'], [1, 5, 14]);
      add([...at, 'free_mm'], [...at, 'bore_mm'], [-4, -0.5, -0.05]);
      return;
    default:
      if (isSizeKey('outside_mm') && has('outside_mm')) add([...at, 'outside_mm'], [...at, 'bore_mm'], [1.6, 3, 20]);
  }
}

function stackPairs(model: DraftModel, at: SizePath, add: Add): void {
  const stack = model.pivots[at[1] as number]!.stacks[at[3] as number]!;
  const axle = model.parts[stack.axle] as unknown as Any | undefined;
  if (!axle || !Array.isArray(axle['shank'])) return;
  const thread = ['parts', stack.axle, 'thread'];
  const [member, bore] = stack.receiver.split('/');
  const other =
    bore === undefined ? ['parts', stack.receiver, 'thread'] : ['members', member!, 'bores', bore, 'thread'];
  for (const key of ['size_mm', 'pitch_mm']) {
    add([...thread, key], [...other, key], SAME);
    if (stack.thread) add([...at, 'thread', key], [...thread, key], SAME);
  }
  const cylinders = (axle['shank'] as readonly unknown[]).length;
  // Under a row stands the first cylinder of a shank with one step; of a stepped one only the ends are sure.
  const shankAt = (k: number): SizePath | undefined => {
    if (cylinders <= 2) return ['parts', stack.axle, 'shank', 0, 'diameter_mm'];
    const isFirst = stack.from === 'non-drive' ? k === 0 : k === stack.row.length - 1;
    const isLast = stack.from === 'non-drive' ? k === stack.row.length - 1 : k === 0;
    if (isFirst) return ['parts', stack.axle, 'shank', 0, 'diameter_mm'];
    return isLast ? ['parts', stack.axle, 'shank', cylinders - 2, 'diameter_mm'] : undefined;
  };
  const carried = stack.row.map((entry, k) => seatBeside(model, stack.row, k));
  const inners: { readonly k: number; readonly bore: SizePath; readonly isBearing: boolean }[] = [];
  stack.row.forEach((entry, k) => {
    const shank = shankAt(k);
    if (entry.part !== undefined) {
      const part = model.parts[entry.part] as unknown as Any | undefined;
      if (!part || (part['bore_mm'] === undefined && part['kind'] !== 'bearing')) return;
      // A ring that snaps in goes by its groove, a lining by its bore.
      if (part['free_mm'] !== undefined || part['kind'] === 'eye-bush') return;
      const own = ['parts', entry.part, 'bore_mm'];
      const isBearing = part['kind'] === 'bearing';
      if (shank) add(own, shank, isBearing ? BEARS : SLIDES);
      const last = inners.at(-1);
      if (last && !shank && last.isBearing !== isBearing)
        add(isBearing ? last.bore : own, isBearing ? own : last.bore, SLIDES);
      inners.push({ k, bore: own, isBearing });
      const seat = carried[k];
      if (isBearing && seat) {
        add([...seat, 'diameter_mm'], ['parts', entry.part, 'outside_mm'], SEATED);
        add([...seat, 'depth_mm'], ['parts', entry.part, 'width_mm'], [-1.5, 0, 10]);
      }
    } else if (entry.member !== undefined && entry.bore !== undefined && shank) {
      const own = model.members[entry.member]?.bores[entry.bore];
      if (own && !own.seats && !own.thread)
        add(['members', entry.member, 'bores', entry.bore, 'bore_mm'], shank, HOLDS);
    }
  });
}

/** The seat next to a bearing of a row, as `seatsOf` finds it for a model: the nearest boss with one on that side. */
function seatBeside(
  model: DraftModel,
  row: DraftModel['pivots'][number]['stacks'][number]['row'],
  k: number,
): SizePath | undefined {
  const entry = row[k]!;
  if (entry.part === undefined || model.parts[entry.part]?.kind !== 'bearing') return undefined;
  for (let reach = 1; reach < row.length; reach++)
    for (const [at, side] of [
      [k - reach, 'drive'],
      [k + reach, 'non-drive'],
    ] as const) {
      const { member, bore } = row[at] ?? {};
      if (member === undefined || bore === undefined) continue;
      const seat = model.members[member]?.bores[bore]?.seats?.findIndex((own) => own.side === side) ?? -1;
      if (seat >= 0) return ['members', member, 'bores', bore, 'seats', seat];
    }
  return undefined;
}
