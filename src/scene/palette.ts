/**
 * Colours and surfaces of the picture: one row a look, for the dark and the light stage.
 *
 * Facing colours are of the Okabe-Ito set and are kept for rings alone; frames and arms take greys and muted tints that
 * no facing colour can be mistaken for. `metal` and `rough` are 0 to 1.
 */
import type { PlacedItem, Solid } from '../../shared/index.ts';

/** The stage's two grounds. */
export type Theme = 'dark' | 'light';

/** A surface: its colour and how it throws light back. */
export interface Look {
  readonly colour: string;
  readonly metal: number;
  readonly rough: number;
  readonly isWoven?: boolean;
}

/** Facing, trouble, picking and ink: the colours that mean something. */
export const SIGNAL = {
  smallToNonDrive: '#e69f00',
  smallToDrive: '#56b4e9',
  sameBothWays: '#009e73',
  trouble: '#d55e00',
  clamp: '#cc79a7',
  ink: '#0f1316',
  plate: '#f2eee4',
} as const;

/** What differs between the two stages. */
export const STAGE = {
  dark: {
    inner: '#2a323a',
    outer: '#12161a',
    edge: '#05070a',
    ghost: '#a9b7c4',
    line: '#c9d3dc',
    pick: '#7cc7f2',
    axis: '#e8edf2',
    edgeOpacity: 0.55,
    ghostOpacity: 0.13,
  },
  light: {
    inner: '#fffefb',
    outer: '#e6e1d6',
    edge: '#15181c',
    ghost: '#6f7a86',
    line: '#39424b',
    pick: '#0072b2',
    axis: '#23282d',
    edgeOpacity: 0.5,
    ghostOpacity: 0.13,
  },
} as const;

const METALS: Readonly<Record<string, Look>> = {
  steel: { colour: '#a9afb5', metal: 0.85, rough: 0.34 },
  'steel-quenched': { colour: '#8b9198', metal: 0.85, rough: 0.36 },
  'bearing-steel': { colour: '#c3c8cc', metal: 0.88, rough: 0.27 },
  'stainless-304': { colour: '#bcc0c3', metal: 0.9, rough: 0.28 },
  'aluminium-7075': { colour: '#8d949c', metal: 0.75, rough: 0.38 },
  'aluminium-6061': { colour: '#a0a6ac', metal: 0.7, rough: 0.42 },
  'titanium-6al4v': { colour: '#9a948b', metal: 0.85, rough: 0.38 },
  'carbon-laminate': { colour: '#40474e', metal: 0.2, rough: 0.36, isWoven: true },
  acetal: { colour: '#dad5c8', metal: 0, rough: 0.55 },
  'nitrile-rubber': { colour: '#1d2023', metal: 0, rough: 0.72 },
};

const MEMBERS: Readonly<Record<string, Look>> = {
  frame: { colour: '#4e5862', metal: 0.25, rough: 0.5 },
  swingarm: { colour: '#8b8f98', metal: 0.5, rough: 0.4 },
  chainstay: { colour: '#7f858e', metal: 0.5, rough: 0.4 },
  seatstay: { colour: '#989ba3', metal: 0.5, rough: 0.4 },
  rocker: { colour: '#77707f', metal: 0.55, rough: 0.4 },
  link: { colour: '#8f8579', metal: 0.55, rough: 0.4 },
  'shock-body': { colour: '#3b4147', metal: 0.55, rough: 0.34 },
  'shock-shaft': { colour: '#b3b8bd', metal: 0.85, rough: 0.22 },
};

const PLAIN: Look = { colour: '#9aa0a6', metal: 0.5, rough: 0.45 };

/** The look of a member's webs and bosses. */
export function memberLook(kind: string, material: string): Look {
  const own = MEMBERS[kind] ?? PLAIN;
  if (material === 'carbon-laminate') return { ...METALS['carbon-laminate']!, colour: mix(own.colour, '#3c434a', 0.7) };
  if (material === 'titanium-6al4v') return { ...METALS[material]!, rough: 0.46 };
  return own;
}

/** The look of one solid of an item. */
export function solidLook(item: PlacedItem, solid: Solid, memberMaterial?: string): Look {
  if (item.role === 'boss') return memberLook(item.kind, memberMaterial ?? solid.material);
  if (solid.role === 'seal') return METALS['nitrile-rubber']!;
  if (item.role === 'bearing') return METALS['bearing-steel']!;
  if (item.role === 'ring') return { colour: facingColour(item), metal: 0.25, rough: 0.4 };
  return METALS[solid.material] ?? PLAIN;
}

/** The colour that tells which way a ring's small face looks. */
export function facingColour(item: PlacedItem): string {
  if (item.smallFace === undefined) return SIGNAL.sameBothWays;
  return item.smallFace === 'drive' ? SIGNAL.smallToDrive : SIGNAL.smallToNonDrive;
}

/** The look of a bearing's balls. */
export const BALL_LOOK: Look = { colour: '#e8ebed', metal: 0.95, rough: 0.08 };

/** The look of the cage that holds them: pressed sheet, a little dark. */
export const CAGE_LOOK: Look = { colour: '#8f8470', metal: 0.75, rough: 0.4 };

/** A colour between two, `share` of the second. */
export function mix(first: string, second: string, share: number): string {
  const parse = (hex: string): number[] => [1, 3, 5].map((k) => Number.parseInt(hex.slice(k, k + 2), 16));
  const b = parse(second);
  const parts = parse(first).map((value, k) => Math.round(value + ((b[k] ?? 0) - value) * share));
  return `#${parts.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}
