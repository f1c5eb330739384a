/**
 * The manners of a pivot: the few ways in which makers hold one together, each as a complete pivot of usual sizes to
 * start a measuring from.
 *
 * Every size here is a guess of no bike, chosen so that the parts fit one another, and stands until it is measured;
 * bearings and threads are of the standard series. Common practice, no source. mm, N·m; z to the drive side.
 */
import type { LinkageModel, Member, MemberBore, Part, PartOf, RowEntry, Stack } from '../model/schema.ts';

/** Every manner, by the name a command line knows it by. */
const MANNER_KEYS = [
  'axle-and-nut',
  'bearings-outside',
  'axle-into-frame',
  'two-piece-axle',
  'stepped-axle',
  'two-bolts',
  'shock-eye',
] as const;
/** One of `MANNER_KEYS`. */
export type MannerKey = (typeof MANNER_KEYS)[number];

/** A way to hold a pivot together. */
export interface Manner {
  readonly key: MannerKey;
  /** What it is called on a list. */
  readonly name: string;
  /** How a hand sees that it is this one. */
  readonly when: string;
  /** A sound pivot of it, made anew each time; every size is a guess. */
  readonly make: () => LinkageModel;
}

const LIGHT = 'aluminium-7075';
const TOUGH = 'steel-quenched';

/** What differs from one manner to the next. */
interface Own {
  readonly name: string;
  readonly parts: Readonly<Record<string, Part>>;
  readonly members: Readonly<Record<string, Member>>;
  readonly stacks: readonly Stack[];
}

function modelOf(key: MannerKey, { name, parts, members, stacks }: Own): LinkageModel {
  return {
    schema: 1,
    id: key,
    name,
    units: 'mm, N, N·m, deg',
    parts: { ...parts },
    members: { ...members },
    pivots: [{ id: 'pivot', name: 'Pivot', x_mm: 0, y_mm: 0, stacks: [...stacks] }],
  };
}

function bearing(designation: string, count: number, name = 'Bearing'): PartOf<'bearing'> {
  return { kind: 'bearing', name, count, designation };
}

function spacer(name: string, count: number, [bore, outside, length]: Triple): PartOf<'spacer'> {
  return { kind: 'spacer', name, count, outside_mm: outside, bore_mm: bore, length_mm: length, material: LIGHT };
}

type Triple = readonly [bore_mm: number, outside_mm: number, length_mm: number];
type Cylinder = readonly [diameter_mm: number, length_mm: number];
type Threaded = readonly [size_mm: number, length_mm: number];

const PITCH_mm = 1;
const LAND_HEIGHT_mm = 0.8;

function threadOf([size_mm, length_mm]: Threaded): PartOf<'nut'>['thread'] {
  return { size_mm, pitch_mm: PITCH_mm, hand: 'right', length_mm };
}

interface Shank {
  readonly head: readonly [diameter_mm: number, height_mm: number, land_mm?: number];
  readonly shank: readonly Cylinder[];
  readonly thread: Threaded;
  readonly bore_mm?: number;
  readonly count?: number;
  readonly material?: 'aluminium-7075';
}

function shanked<K extends 'axle' | 'bolt' | 'screw' | 'sleeve'>(kind: K, name: string, own: Shank) {
  const [diameter_mm, height_mm, land_mm] = own.head;
  return {
    kind,
    name,
    count: own.count ?? 1,
    head: { diameter_mm, height_mm, ...(land_mm === undefined ? {} : { land_mm, land_height_mm: LAND_HEIGHT_mm }) },
    shank: own.shank.map(([across_mm, length_mm]) => ({ diameter_mm: across_mm, length_mm })),
    thread: threadOf(own.thread),
    ...(own.bore_mm === undefined ? {} : { bore_mm: own.bore_mm }),
    material: own.material ?? TOUGH,
  } as const;
}

function nut([outside_mm, length_mm]: readonly [number, number], size_mm: number, land_mm?: number): PartOf<'nut'> {
  return {
    kind: 'nut',
    name: 'Nut',
    count: 1,
    outside_mm,
    length_mm,
    ...(land_mm === undefined ? {} : { land_mm, land_height_mm: LAND_HEIGHT_mm }),
    thread: threadOf([size_mm, length_mm]),
    material: 'steel',
  };
}

function member(kind: Member['kind'], name: string, bores: Readonly<Record<string, MemberBore>>): Member {
  return { kind, name, material: kind === 'rocker' ? LIGHT : 'aluminium-6061', bores: { ...bores } };
}

type Ends = readonly [from_mm: number, to_mm: number];

function boss([z_from_mm, z_to_mm]: Ends, bore_mm: number, boss_mm: number): MemberBore {
  return { z_from_mm, z_to_mm, bore_mm, boss_mm };
}

type SeatSize = readonly [diameter_mm: number, depth_mm: number];

function seated(own: MemberBore, [diameter_mm, depth_mm]: SeatSize, ...sides: Stack['from'][]): MemberBore {
  return { ...own, seats: sides.map((side) => ({ side, diameter_mm, depth_mm })) };
}

/** A row from words: a part, `part:turned`, or `member/bore`; each place is called by what stands there. */
function rowOf(...words: readonly string[]): RowEntry[] {
  return words.map((word, k) => {
    const [place, bore] = word.split('/') as [string, string?];
    if (bore !== undefined) return { id: `${place}-${bore}`, member: place, bore };
    const [part, turned] = place.split(':') as [string, string?];
    const isTwice = words.filter((other) => other.split(':')[0] === part).length > 1;
    const id = !isTwice ? part : k < words.length / 2 ? `${part}-left` : `${part}-right`;
    return { id, part, ...(turned === undefined ? {} : { turned: true }), greased: true };
  });
}

type Tool = NonNullable<Stack['drives']['head']>;

function tool(of: Tool['tool'], size_mm: number): Tool {
  return { tool: of, size_mm };
}

const threadlocked = { thread_treatment: 'threadlocked', threadlocker: 'medium strength' } as const;
const greasedNut = { thread_treatment: 'greased', greased: ['axle', 'receiver'] } satisfies Partial<Stack>;

function axleAndNut(): Own {
  return {
    name: 'Pivot with axle and nut',
    parts: {
      bearing: bearing('61901-2RS', 2),
      spacer: {
        kind: 'tapered-spacer',
        name: 'Tapered spacer',
        count: 2,
        small_mm: 15,
        large_mm: 22,
        bore_mm: 12.2,
        length_mm: 5,
        small_land_mm: 1.4,
        large_land_mm: 1.2,
        material: LIGHT,
      },
      tube: spacer('Inner tube', 1, [12.2, 15, 20]),
      axle: shanked('axle', 'Axle', { head: [22, 4], shank: [[11.98, 70]], thread: [12, 20], bore_mm: 5 }),
      nut: nut([21, 10], 12),
    },
    members: {
      frame: member('frame', 'Frame', {
        shell: seated(boss([-16, 16], 20.5, 36), [24, 6], 'non-drive', 'drive'),
      }),
      arm: member('swingarm', 'Moving arm', {
        left: boss([-29, -21], 12.05, 30),
        right: boss([21, 29], 12.05, 30),
      }),
    },
    stacks: [
      {
        id: 'axle',
        name: 'Axle',
        axle: 'axle',
        receiver: 'nut',
        from: 'drive',
        row: rowOf('arm/left', 'spacer:turned', 'bearing', 'frame/shell', 'tube', 'bearing', 'spacer', 'arm/right'),
        torque_Nm: 12,
        drives: { head: tool('hex-key', 6), receiver: tool('spanner', 19) },
        turned: 'head',
        ...greasedNut,
      },
    ],
  };
}

function bearingsOutside(): Own {
  return {
    name: 'Pivot with its bearings outside',
    parts: {
      bearing: bearing('61902-2RS', 2),
      spacer: spacer('Spacer', 2, [15.2, 18.2, 9]),
      axle: shanked('axle', 'Axle', {
        head: [24, 4.5, 18.2],
        shank: [
          [14.98, 65.3],
          [12, 13.7],
        ],
        thread: [12, 13.7],
        bore_mm: 5,
      }),
      nut: nut([23, 12], 12, 18.2),
    },
    members: {
      frame: member('frame', 'Frame', { boss: boss([-17, 17], 15.05, 36) }),
      rocker: member('rocker', 'Rocker', {
        left: seated(boss([-33, -23.5], 24, 40), [28, 7], 'non-drive'),
        right: seated(boss([23.5, 33], 24, 40), [28, 7], 'drive'),
      }),
    },
    stacks: [
      {
        id: 'axle',
        name: 'Axle',
        axle: 'axle',
        receiver: 'nut',
        from: 'drive',
        row: rowOf('bearing', 'rocker/left', 'spacer', 'frame/boss', 'spacer', 'rocker/right', 'bearing'),
        torque_Nm: 19,
        drives: { head: tool('hex-key', 6), receiver: tool('spanner', 20) },
        turned: 'receiver',
        greased: ['axle'],
        ...threadlocked,
      },
    ],
  };
}

function axleIntoFrame(): Own {
  return {
    name: 'Pivot with its axle screwed into the frame',
    parts: {
      bearing: bearing('61804-2RS', 2),
      spacer: spacer('Spacer', 2, [20.2, 23.4, 6]),
      tube: spacer('Inner tube', 1, [20.2, 23.4, 26]),
      axle: shanked('axle', 'Axle', {
        head: [28, 5],
        shank: [
          [19.98, 64.5],
          [18, 19.5],
        ],
        thread: [18, 19.5],
        bore_mm: 8,
        material: LIGHT,
      }),
    },
    members: {
      frame: member('frame', 'Frame', {
        left: {
          ...boss([-46, -26], 18, 40),
          thread: { ...threadOf([18, 20]), opens: 'drive' },
          arm_stiffness_N_per_mm: 6000,
        },
        right: { ...boss([26, 39], 20.05, 40), arm_stiffness_N_per_mm: 6000 },
      }),
      arm: member('swingarm', 'Moving arm', {
        shell: seated(boss([-20, 20], 25, 42), [32, 7], 'non-drive', 'drive'),
      }),
    },
    stacks: [
      {
        id: 'axle',
        name: 'Axle',
        axle: 'axle',
        receiver: 'frame/left',
        from: 'drive',
        row: rowOf('spacer', 'bearing', 'arm/shell', 'tube', 'bearing', 'spacer', 'frame/right'),
        torque_Nm: 18,
        drives: { head: tool('hex-key', 10) },
        turned: 'head',
        greased: ['axle'],
        ...threadlocked,
      },
    ],
  };
}

function twoPieceAxle(): Own {
  return {
    name: 'Pivot with a two-piece axle',
    parts: {
      bearing: bearing('61902-2RS', 2),
      spacer: spacer('Spacer', 2, [15.2, 18.2, 7]),
      sleeve: shanked('sleeve', 'Sleeve', {
        head: [24, 3.5, 18.2],
        shank: [[14.98, 69]],
        thread: [10, 20],
        bore_mm: 7,
      }),
      screw: shanked('screw', 'Screw', { head: [22, 6, 18.2], shank: [[10, 16]], thread: [10, 16] }),
    },
    members: {
      frame: member('frame', 'Frame', { shell: boss([-21, 21], 15.05, 40) }),
      arm: member('chainstay', 'Moving arm', {
        left: seated(boss([-35, -25.5], 24, 38), [28, 7], 'non-drive'),
        right: seated(boss([25.5, 35], 24, 38), [28, 7], 'drive'),
      }),
    },
    stacks: [
      {
        id: 'axle',
        name: 'Axle',
        axle: 'sleeve',
        receiver: 'screw',
        from: 'non-drive',
        row: rowOf('bearing', 'arm/left', 'spacer', 'frame/shell', 'spacer', 'arm/right', 'bearing'),
        torque_Nm: 15,
        drives: { head: tool('hex-key', 8), receiver: tool('hex-key', 6) },
        turned: 'receiver',
        greased: ['axle'],
        ...threadlocked,
      },
    ],
  };
}

function steppedAxle(): Own {
  return {
    name: 'Pivot with a stepped axle',
    parts: {
      'bearing-left': bearing('61804-2RS', 1, 'Bearing, non-drive side'),
      'bearing-right': bearing('61902-2RS', 1, 'Bearing, drive side'),
      'spacer-left': spacer('Spacer, non-drive side', 1, [20.2, 23.4, 10]),
      'spacer-right': spacer('Spacer, drive side', 1, [15.2, 18.2, 10]),
      axle: shanked('axle', 'Axle', {
        head: [28, 4, 23.4],
        shank: [
          [19.98, 37],
          [14.98, 30.3],
          [12, 13.7],
        ],
        thread: [12, 13.7],
        bore_mm: 5,
      }),
      nut: nut([23, 12], 12, 18.2),
    },
    members: {
      frame: member('frame', 'Frame', {
        left: { ...boss([-17, 4], 20.05, 36), rigid: true },
        right: { ...boss([4, 17], 15.05, 36), rigid: true },
      }),
      rocker: member('rocker', 'Rocker', {
        left: seated(boss([-34, -24.5], 27, 44), [32, 7], 'non-drive'),
        right: seated(boss([24.5, 34], 24, 44), [28, 7], 'drive'),
      }),
    },
    stacks: [
      {
        id: 'axle',
        name: 'Axle',
        axle: 'axle',
        receiver: 'nut',
        from: 'non-drive',
        row: rowOf(
          'bearing-left',
          'rocker/left',
          'spacer-left',
          'frame/left',
          'frame/right',
          'spacer-right',
          'rocker/right',
          'bearing-right',
        ),
        torque_Nm: 19,
        drives: { head: tool('hex-key', 8), receiver: tool('spanner', 20) },
        turned: 'receiver',
        greased: ['axle'],
        ...threadlocked,
      },
    ],
  };
}

function twoBolts(): Own {
  const boltOn = (side: 'left' | 'right', row: readonly string[]): Stack => ({
    id: `bolt-${side}`,
    name: side === 'left' ? 'Bolt, non-drive side' : 'Bolt, drive side',
    axle: 'bolt',
    receiver: `frame/${side}`,
    from: side === 'left' ? 'non-drive' : 'drive',
    row: rowOf(...row),
    torque_Nm: 8,
    drives: { head: tool('hex-key', 6) },
    turned: 'head',
    greased: ['axle'],
    ...threadlocked,
  });
  const lug = (ends: Ends, opens: Stack['from']): MemberBore => ({
    ...boss(ends, 10, 28),
    thread: { ...threadOf([10, 13]), opens, blind: true },
  });
  return {
    name: 'Pivot with two short bolts',
    parts: {
      bearing: bearing('61901-2RS', 2),
      spacer: spacer('Spacer', 2, [12.2, 15, 2.5]),
      bolt: shanked('bolt', 'Bolt', {
        head: [19, 4, 15],
        shank: [
          [11.98, 8],
          [10, 12.5],
        ],
        thread: [10, 12.5],
        bore_mm: 4,
        count: 2,
      }),
    },
    members: {
      frame: member('frame', 'Frame', {
        left: lug([-25.5, -11.5], 'non-drive'),
        right: lug([11.5, 25.5], 'drive'),
      }),
      link: member('rocker', 'Link', {
        left: seated(boss([-36, -28], 20.5, 34), [24, 6], 'drive'),
        right: seated(boss([28, 36], 20.5, 34), [24, 6], 'non-drive'),
      }),
    },
    stacks: [boltOn('left', ['link/left', 'bearing', 'spacer']), boltOn('right', ['spacer', 'bearing', 'link/right'])],
  };
}

function shockEye(): Own {
  return {
    name: 'Shock eye on a through bolt',
    parts: {
      bearing: bearing('61901-2RS', 2),
      spacer: {
        kind: 'tapered-spacer',
        name: 'Mounting spacer',
        count: 2,
        small_mm: 15,
        large_mm: 24,
        bore_mm: 12.2,
        length_mm: 10,
        small_land_mm: 2.5,
        large_land_mm: 2,
        material: LIGHT,
      },
      tube: spacer('Tube in the eye', 1, [12.2, 15, 10]),
      bolt: shanked('bolt', 'Through bolt', {
        head: [22, 4.5],
        shank: [
          [11.98, 57.4],
          [10, 12.6],
        ],
        thread: [10, 12.6],
      }),
      nut: nut([19, 11], 10),
    },
    members: {
      frame: member('frame', 'Frame', {
        left: { ...boss([-29, -21], 12.05, 30), arm_stiffness_N_per_mm: 5000 },
        right: { ...boss([21, 29], 12.05, 30), arm_stiffness_N_per_mm: 5000 },
      }),
      shock: member('shock-body', 'Shock', {
        eye: seated(boss([-11, 11], 20.5, 34), [24, 6], 'non-drive', 'drive'),
      }),
    },
    stacks: [
      {
        id: 'bolt',
        name: 'Through bolt',
        axle: 'bolt',
        receiver: 'nut',
        from: 'drive',
        row: rowOf('frame/left', 'spacer:turned', 'bearing', 'shock/eye', 'tube', 'bearing', 'spacer', 'frame/right'),
        torque_Nm: 10,
        drives: { head: tool('hex-key', 6), receiver: tool('spanner', 17) },
        turned: 'receiver',
        ...greasedNut,
      },
    ],
  };
}

const ABOUT: Readonly<Record<MannerKey, Omit<Manner, 'key' | 'make'> & { readonly own: () => Own }>> = {
  'axle-and-nut': {
    name: 'Axle and nut, bearings in the middle',
    when: 'One axle goes right through, with a head on one side and a nut on the other. The bearings sit in the middle.',
    own: axleAndNut,
  },
  'bearings-outside': {
    name: 'Axle and nut, bearings outside',
    when: 'One axle goes right through. Its head and its nut each bear on a bearing in the outer arms.',
    own: bearingsOutside,
  },
  'axle-into-frame': {
    name: 'Axle screwed into the frame',
    when: 'The axle has a head on one side and screws into the far lug. There is no nut.',
    own: axleIntoFrame,
  },
  'two-piece-axle': {
    name: 'Two-piece axle',
    when: 'A sleeve goes in from one side and a screw goes into it from the other.',
    own: twoPieceAxle,
  },
  'stepped-axle': {
    name: 'Stepped axle',
    when: 'The axle is thicker at one end, so it goes in from one side only. The two bearings differ.',
    own: steppedAxle,
  },
  'two-bolts': {
    name: 'Two short bolts',
    when: 'Each side has a bolt of its own, and nothing goes through the middle.',
    own: twoBolts,
  },
  'shock-eye': {
    name: 'Shock eye on a through bolt',
    when: 'The eye of the shock stands between two lugs, with a spacer on each side of it.',
    own: shockEye,
  },
};

/** The manners there are, in the order in which a list shows them. */
export const MANNERS: readonly Manner[] = MANNER_KEYS.map((key) => {
  const { name, when, own } = ABOUT[key];
  return { key, name, when, make: () => modelOf(key, own()) };
});
