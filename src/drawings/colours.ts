/**
 * Colours of the section drawing for the dark stage, the light stage and paper.
 *
 * The hues that carry meaning are of the Okabe-Ito set (M. Okabe and K. Ito, 'Color Universal Design', 2008: colours
 * that people with the common colour deficiencies tell apart); no meaning rests on a hue alone. Fills are mixed toward
 * the ground so that lines and hatching stay the strongest marks. All are opaque: a print or a converter needs no blending.
 */
import type { PlacedItem } from '../../shared/index.ts';

export type SectionTheme = 'dark' | 'light' | 'print';

/** How one part is painted: its body, its hatching, its outline, and the wall seen behind the cut. */
export interface Paint {
  readonly fill: string;
  readonly hatch: string;
  readonly line: string;
  readonly behind: string;
}

/** One theme's colours. */
export interface Palette {
  readonly isDark: boolean;
  readonly ground: string;
  /** Text and marks. */
  readonly ink: string;
  /** Second-rank text and leader lines; at least 4.5:1 on the ground. */
  readonly muted: string;
  /** Outlines of parts. */
  readonly line: string;
  readonly trouble: string;
  /** Words about trouble; at least 4.5:1 on the ground. */
  readonly troubleText: string;
  readonly select: string;
  readonly active: string;
  readonly column: string;
  readonly columnText: string;
  readonly seal: string;
  readonly ball: string;
  readonly axle: Paint;
  readonly innerRing: Paint;
  readonly outerRing: Paint;
}

/** Where a ring's small face looks, as a hue. */
export const FACING_HUES = { 'non-drive': '#E69F00', drive: '#56B4E9', equal: '#009E73' } as const;
const VERMILLION = '#D55E00';

/** Two colours mixed: `share` of the second in sRGB. */
export function mix(first: string, second: string, share: number): string {
  const channel = (hex: string, k: number) => Number.parseInt(hex.slice(1 + 2 * k, 3 + 2 * k), 16);
  const mixed = [0, 1, 2].map((k) => Math.round(channel(first, k) * (1 - share) + channel(second, k) * share));
  return `#${mixed.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}

function paint(fill: string, hatch: string, line: string, ground: string): Paint {
  return { fill, hatch, line, behind: mix(fill, ground, 0.62) };
}

function palette(
  base: Omit<Palette, 'axle' | 'innerRing' | 'outerRing'>,
  axle: string,
  inner: string,
  outer: string,
  hatch: string,
): Palette {
  const { line, ground } = base;
  return {
    ...base,
    axle: paint(axle, hatch, line, ground),
    innerRing: paint(inner, hatch, line, ground),
    outerRing: paint(outer, hatch, line, ground),
  };
}

export const PALETTES: Readonly<Record<SectionTheme, Palette>> = {
  dark: palette(
    {
      isDark: true,
      ground: '#14181c',
      ink: '#eef1f4',
      muted: '#a3adb7',
      line: '#d3dae0',
      trouble: VERMILLION,
      troubleText: '#ff8a4c',
      select: '#8fd0ff',
      active: '#ffffff',
      column: '#CC79A7',
      columnText: '#e3a5c6',
      seal: '#05070a',
      ball: '#dfe5ea',
    },
    '#5b6772',
    '#707b86',
    '#5f6a75',
    '#161b20',
  ),
  light: palette(
    {
      isDark: false,
      ground: '#f3f1ec',
      ink: '#1b2025',
      muted: '#565f68',
      line: '#262c32',
      trouble: VERMILLION,
      troubleText: '#a34700',
      select: '#0072B2',
      active: '#1b2025',
      column: '#b0568b',
      columnText: '#8a3567',
      seal: '#22262a',
      ball: '#fbfcfd',
    },
    '#d5dadf',
    '#eceff2',
    '#d2d8dd',
    '#5d666f',
  ),
  print: palette(
    {
      isDark: false,
      ground: '#ffffff',
      ink: '#000000',
      muted: '#454b51',
      line: '#111111',
      trouble: VERMILLION,
      troubleText: '#9a4300',
      select: '#0072B2',
      active: '#000000',
      column: '#b0568b',
      columnText: '#7d2f5d',
      seal: '#000000',
      ball: '#ffffff',
    },
    '#eceef0',
    '#fafafa',
    '#eef0f2',
    '#555b61',
  ),
};

// Greys and muted anodised tints, one a kind of member; none near a facing hue.
const MEMBER_TINTS: Readonly<Record<string, readonly [dark: string, light: string]>> = {
  frame: ['#2f363d', '#bfc5ca'],
  swingarm: ['#413c46', '#cdc4cf'],
  chainstay: ['#413c46', '#cdc4cf'],
  seatstay: ['#463f3b', '#d3cac2'],
  rocker: ['#4a3b3b', '#d9c6c2'],
  link: ['#39413c', '#c8cec4'],
  'shock-body': ['#33364a', '#c6c8d8'],
  'shock-shaft': ['#3d404f', '#d0d2dc'],
};
const OTHER_TINT = ['#3a4046', '#c9ced2'] as const;

/** The hue of a loose ring: where its small face looks, or that it is the same both ways. */
export function facingHue(item: PlacedItem): string | undefined {
  if (item.role !== 'ring') return undefined;
  return FACING_HUES[item.smallFace ?? 'equal'];
}

/** How the body of `item` is painted in `theme`. */
export function itemPaint(item: PlacedItem, theme: SectionTheme): Paint {
  const colours = PALETTES[theme];
  const hue = facingHue(item);
  if (hue !== undefined) {
    if (theme === 'dark')
      return paint(mix(hue, colours.ground, 0.5), mix(hue, '#ffffff', 0.25), colours.line, colours.ground);
    const fill = mix(hue, '#ffffff', theme === 'light' ? 0.45 : 0.62);
    return paint(fill, mix(hue, '#000000', 0.55), colours.line, colours.ground);
  }
  if (item.role === 'boss' || item.member !== undefined) {
    const [dark, light] = MEMBER_TINTS[item.kind] ?? OTHER_TINT;
    if (theme === 'dark') return paint(dark, mix(dark, colours.line, 0.52), colours.line, colours.ground);
    const fill = theme === 'light' ? light : mix(light, '#ffffff', 0.55);
    return paint(fill, mix(fill, '#000000', 0.58), colours.line, colours.ground);
  }
  return colours.axle;
}
