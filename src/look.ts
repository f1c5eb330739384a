/**
 * The look: the one place where a colour stands, for the page, the picture, the section drawing and paper.
 *
 * Ink on a warm ground, few lines, strong type; colour is kept for what it means: which way a spacer faces, trouble,
 * and what is picked. Hues with a meaning are of the Okabe-Ito set (M. Okabe and K. Ito, 'Color Universal Design',
 * 2008: colours that people with the common colour deficiencies tell apart), and no meaning rests on a hue alone.
 * Contrast of every pair used for words is at least 4.5:1, of marks 3:1, on every ground.
 *
 * `lookSheet` writes what style sheets read as custom properties; the build puts it into the head of the page.
 */

/** The screen's two grounds. */
export type Theme = 'dark' | 'light';

/**
 * What a tool or a bath has left on a surface: `ground` and `turned` carry fine rings round the axis, a `blasted` one
 * is even, `woven` is laminate.
 */
export type Finish = 'ground' | 'turned' | 'blasted' | 'woven';

/** A surface of the picture: its colour and how it throws light back; `metal` and `rough` are 0 to 1. */
export interface Look {
  readonly colour: string;
  readonly metal: number;
  readonly rough: number;
  readonly finish?: Finish;
  /** So dark that on a dark ground its outline is light. */
  readonly isBlack?: boolean;
}

/** Where a spacer's small face looks; `equal` is a spacer that is the same both ways. */
export const FACING = { 'non-drive': '#E69F00', drive: '#56B4E9', equal: '#009E73' } as const;
/** Every mark of trouble, wherever it stands. */
export const TROUBLE = '#D55E00';
/** Clamp force: the picture's bands, the section's column. */
export const CLAMP = '#CC79A7';
const PICK = '#0072B2';
export const BLACK = '#000000';
export const WHITE = '#ffffff';

/** What section drawing, strip and row of parts lie on. */
export const GROUND = { dark: '#14181c', light: '#f3f1ec', print: WHITE } as const;
/** Words about trouble. */
const TROUBLE_WORDS = { dark: '#ff8a4c', light: '#a34700', print: '#9a4300' } as const;

/** What a sheet prints besides black: words of the second rank, rules, the ground of a row that heads others. */
export const PAPER_INK = { soft: '#4a4a4a', line: '#8a8a8a', ground: '#e9e9e9' } as const;

/** Marks on the parts of the picture, on either ground. */
export const MARK = { ink: '#0f1316', plate: '#f2eee4' } as const;

/** What differs between the picture's two grounds. */
export const PICTURE = {
  dark: {
    inner: '#2a323a',
    outer: '#12161a',
    edge: '#05070a',
    edgeOfBlack: '#a3adb7',
    crease: '#171c22',
    ghost: '#a9b7c4',
    line: '#c9d3dc',
    pick: '#7cc7f2',
    axis: '#e8edf2',
    edgeOpacity: 0.55,
    ghostOpacity: 0.1,
  },
  light: {
    inner: '#fffefb',
    outer: '#e6e1d6',
    edge: '#15181c',
    edgeOfBlack: '#15181c',
    crease: '#34393f',
    ghost: '#6f7a86',
    line: '#39424b',
    pick: PICK,
    axis: '#23282d',
    edgeOpacity: 0.5,
    ghostOpacity: 0.1,
  },
} as const;

/** The picture's lamp, and the rim round a cut face. */
export const LIGHT = { key: '#fffaf2', rim: '#0b0d0f' } as const;

/**
 * The photographer's room that metal mirrors, linear and without unit: its wall, its floor, and how bright its panels
 * are. A dark room leaves metal dark between the panels.
 */
export const ROOM = {
  dark: { wall: [0.44, 0.48, 0.54], floor: [0.11, 0.12, 0.14], panels: 1.3 },
  light: { wall: [0.86, 0.85, 0.82], floor: [0.36, 0.35, 0.335], panels: 1.15 },
} as const satisfies Record<Theme, Room>;

/** See `ROOM`. */
export interface Room {
  readonly wall: readonly [number, number, number];
  readonly floor: readonly [number, number, number];
  readonly panels: number;
}

/** By the core's name of the material. */
export const METALS: Readonly<Record<string, Look>> = {
  steel: { colour: '#b4b9be', metal: 1, rough: 0.27, finish: 'turned' },
  'steel-quenched': { colour: '#6d727a', metal: 0.9, rough: 0.3, finish: 'turned', isBlack: true },
  'bearing-steel': { colour: '#d3d6d8', metal: 1, rough: 0.16, finish: 'ground' },
  'stainless-304': { colour: '#c9cbcc', metal: 1, rough: 0.24, finish: 'turned' },
  'aluminium-7075': { colour: '#8a929b', metal: 0.9, rough: 0.34, finish: 'turned' },
  'aluminium-6061': { colour: '#9aa1a8', metal: 0.85, rough: 0.46, finish: 'blasted' },
  'titanium-6al4v': { colour: '#a89d8e', metal: 1, rough: 0.36, finish: 'turned' },
  'carbon-laminate': { colour: '#40474e', metal: 0.2, rough: 0.3, finish: 'woven' },
  acetal: { colour: '#dad5c8', metal: 0, rough: 0.5 },
  'nitrile-rubber': { colour: '#16181a', metal: 0, rough: 0.62 },
};

/** Carbon's own dark under a member's tint. */
export const WEAVE = '#3c434a';

/** Greys and muted tints by the kind of member, in the picture and in the section; none near a facing colour. */
export const MEMBERS: Readonly<Record<string, Look & { readonly section: readonly [dark: string, light: string] }>> = {
  frame: { colour: '#57636f', metal: 0.3, rough: 0.33, section: ['#2f363d', '#bfc5ca'] },
  swingarm: { colour: '#9a9ea6', metal: 0.6, rough: 0.38, section: ['#413c46', '#cdc4cf'] },
  chainstay: { colour: '#8d939c', metal: 0.6, rough: 0.38, section: ['#413c46', '#cdc4cf'] },
  seatstay: { colour: '#a8abb2', metal: 0.6, rough: 0.38, section: ['#463f3b', '#d3cac2'] },
  rocker: { colour: '#897f92', metal: 0.6, rough: 0.34, section: ['#4a3b3b', '#d9c6c2'] },
  link: { colour: '#a1968a', metal: 0.6, rough: 0.34, section: ['#39413c', '#c8cec4'] },
  'shock-body': { colour: '#434a51', metal: 0.5, rough: 0.26, section: ['#33364a', '#c6c8d8'] },
  'shock-shaft': { colour: '#c6cacd', metal: 1, rough: 0.14, section: ['#3d404f', '#d0d2dc'] },
};
/** A member of any other kind, and what is of no known material. */
export const PLAIN = { colour: '#9aa0a6', metal: 0.6, rough: 0.4, section: ['#3a4046', '#c9ced2'] } as const;

/** What is of no material of the model: balls and their cage, the shock's small parts, tools, wheel and chain. */
export const SURFACE = {
  ball: { colour: '#e8ebed', metal: 0.95, rough: 0.08 },
  /** Pressed sheet, a little dark. */
  cage: { colour: '#8f8470', metal: 0.75, rough: 0.4 },
  wiper: { colour: '#16181a', metal: 0, rough: 0.6 },
  wire: { colour: '#d4d8da', metal: 0.9, rough: 0.25 },
  chrome: { colour: '#b9bfc4', metal: 0.9, rough: 0.24 },
  darkSteel: { colour: '#5c6369', metal: 0.8, rough: 0.4 },
  grip: { colour: '#22262a', metal: 0, rough: 0.7 },
  tyre: { colour: '#202326', metal: 0, rough: 0.7 },
  alloy: { colour: '#5a636b', metal: 0.5, rough: 0.45 },
} as const satisfies Record<string, Look>;

/** Inks and fills of the section drawing. All are opaque: a print or a converter needs no blending. */
export const SECTION = {
  dark: {
    ink: '#eef1f4',
    muted: '#a3adb7',
    line: '#d3dae0',
    troubleText: TROUBLE_WORDS.dark,
    select: '#8fd0ff',
    active: WHITE,
    column: CLAMP,
    columnText: '#e3a5c6',
    seal: '#05070a',
    ball: '#dfe5ea',
    fills: { axle: '#5b6772', innerRing: '#707b86', outerRing: '#5f6a75', hatch: '#161b20' },
  },
  light: {
    ink: '#1b2025',
    muted: '#565f68',
    line: '#262c32',
    troubleText: TROUBLE_WORDS.light,
    select: PICK,
    active: '#1b2025',
    column: '#b0568b',
    columnText: '#8a3567',
    seal: '#22262a',
    ball: '#fbfcfd',
    fills: { axle: '#d5dadf', innerRing: '#eceff2', outerRing: '#d2d8dd', hatch: '#5d666f' },
  },
  print: {
    ink: BLACK,
    muted: '#454b51',
    line: '#111111',
    troubleText: TROUBLE_WORDS.print,
    select: PICK,
    active: BLACK,
    column: '#b0568b',
    columnText: '#7d2f5d',
    seal: BLACK,
    ball: WHITE,
    fills: { axle: '#eceef0', innerRing: '#fafafa', outerRing: '#eef0f2', hatch: '#555b61' },
  },
} as const;

/** Inks and members of the strip of poses. */
export const POSES = {
  dark: {
    ink: '#f2f0ea',
    muted: '#a9b0b8',
    frame: '#2a3138',
    stay: '#1f4a63',
    link: '#6b4c10',
    shock: '#3b434b',
    line: '#c3c9cf',
  },
  light: {
    ink: '#1b1f24',
    muted: '#555a61',
    frame: '#dedbd3',
    stay: '#b9d7ea',
    link: '#f0d39b',
    shock: '#c9c6be',
    line: '#3a3f46',
  },
  print: {
    ink: '#111111',
    muted: '#555555',
    frame: '#e4e4e4',
    stay: '#c3ddee',
    link: '#f3d9a8',
    shock: '#cfcfcf',
    line: '#333333',
  },
} as const;

/** The page's own, by the name of the custom property. */
export const PAGE = {
  light: {
    ground: '#e7e2d8',
    paper: '#f9f7f2',
    picture: GROUND.light,
    ink: '#1c1a17',
    soft: '#575147',
    line: '#cdc6b8',
    edge: '#7d7565',
    float: '#f9f7f2',
    fill: '#ebe6db',
    'fill-strong': '#ddd6c8',
    main: '#1c1a17',
    'on-main': WHITE,
    pick: PICK,
    sound: '#007a58',
    'trouble-words': TROUBLE_WORDS.light,
    'trouble-fill': '#fbe6d8',
    warn: '#8a6100',
    'warn-fill': '#f8edcd',
    clamp: '#b0568b',
    'on-mark': WHITE,
  },
  dark: {
    ground: '#0e0f10',
    paper: '#1d1c1a',
    picture: GROUND.dark,
    ink: '#f4f1ea',
    soft: '#b9b2a5',
    line: '#3a3732',
    edge: '#8d8677',
    float: '#2b2e31',
    fill: '#2c2a27',
    'fill-strong': '#3d3a35',
    main: '#f4f1ea',
    'on-main': '#16140f',
    pick: FACING.drive,
    sound: '#2bc596',
    'trouble-words': TROUBLE_WORDS.dark,
    'trouble-fill': '#3a2417',
    warn: '#e6b53c',
    'warn-fill': '#332a14',
    clamp: CLAMP,
    'on-mark': '#14120e',
  },
} as const;

/** Labels over the picture, by the name of the custom property. */
export const LABELS = {
  dark: {
    label: 'rgb(24 29 34 / 92%)',
    panel: '#181d22',
    'label-words': '#f1f4f6',
    'label-edge': '#5d6872',
    leader: '#9aa7b2',
    pick: PICTURE.dark.pick,
    'on-pick': '#06222f',
    side: '#e8edf1',
  },
  light: {
    label: 'rgb(255 255 253 / 94%)',
    panel: '#fffffd',
    'label-words': '#1a1e22',
    'label-edge': '#8d959c',
    leader: '#5a646d',
    pick: PICK,
    'on-pick': WHITE,
    side: '#23292f',
  },
} as const;

/** The same on every ground. */
export const ALWAYS = {
  'facing-non-drive': FACING['non-drive'],
  'facing-drive': FACING.drive,
  'facing-same': FACING.equal,
  trouble: TROUBLE,
  /** Under white words, which the mark itself is too light for. */
  'trouble-deep': '#b84c00',
  'on-facing': PAGE.dark['on-mark'],
  white: WHITE,
  /** What a blank class screen shows. */
  blank: BLACK,
  black: BLACK,
  shadow: 'rgb(0 0 0 / 40%)',
  'shadow-near': 'rgb(0 0 0 / 35%)',
  veil: 'rgb(10 10 8 / 62%)',
  'inset-solid': '#aeb6bd',
  'inset-seal': '#24282c',
  'inset-inner-ring': '#d6dade',
  'inset-ball': '#f1f3f4',
  'inset-ink': MARK.ink,
};

/** Paper, black on white whatever the theme. */
const PAPER = {
  paper: WHITE,
  ink: BLACK,
  soft: '#333333',
  line: '#999999',
  edge: '#555555',
  faint: '#777777',
  fill: '#f2f2f2',
  'fill-strong': '#e8e8e8',
  'trouble-words': BLACK,
};

const rule = (selector: string, values: Readonly<Record<string, string>>, first = ''): string =>
  `${selector}{${first}${Object.entries(values)
    .map(([name, value]) => `--${name}:${value}`)
    .join(';')}}`;

/** Every colour a style sheet may name, as custom properties. */
export function lookSheet(): string {
  return [
    rule(':root', ALWAYS),
    rule(":root,:root[data-theme='light']", PAGE.light, 'color-scheme:light;'),
    rule(":root[data-theme='dark']", PAGE.dark, 'color-scheme:dark;'),
    rule('.scene', LABELS.dark),
    rule(".scene[data-theme='light']", LABELS.light),
    rule('.on-paper', PAPER),
    `@media print{${rule('.print-on-paper', PAPER)}}`,
  ].join('\n');
}

/** Two colours mixed in sRGB: `share` of the second, 0 to 1. */
export function mix(first: string, second: string, share: number): string {
  const channel = (hex: string, k: number) => Number.parseInt(hex.slice(1 + 2 * k, 3 + 2 * k), 16);
  const mixed = [0, 1, 2].map((k) => Math.round(channel(first, k) * (1 - share) + channel(second, k) * share));
  return `#${mixed.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}
