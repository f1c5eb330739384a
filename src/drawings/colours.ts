/**
 * How each part of the section drawing is painted, on the dark ground, the light one and paper, in the colours of
 * `look.ts`. Fills are mixed toward the ground so that lines and hatching stay the strongest marks.
 */
import type { PlacedItem } from '../../shared/index.ts';
import { BLACK, FACING, GROUND, MEMBERS, mix, PLAIN, SECTION, TROUBLE, WHITE } from '../look.ts';

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

function paint(fill: string, hatch: string, line: string, ground: string): Paint {
  return { fill, hatch, line, behind: mix(fill, ground, 0.62) };
}

function palette(theme: SectionTheme): Palette {
  const { fills, ...inks } = SECTION[theme];
  const ground = GROUND[theme];
  const solid = (fill: string): Paint => paint(fill, fills.hatch, inks.line, ground);
  return {
    isDark: theme === 'dark',
    ground,
    trouble: TROUBLE,
    ...inks,
    axle: solid(fills.axle),
    innerRing: solid(fills.innerRing),
    outerRing: solid(fills.outerRing),
  };
}

export const PALETTES: Readonly<Record<SectionTheme, Palette>> = {
  dark: palette('dark'),
  light: palette('light'),
  print: palette('print'),
};

/** The hue of a loose spacer: where its small face looks, or that it is the same both ways. */
export function facingHue(item: PlacedItem): string | undefined {
  if (item.role !== 'spacer') return undefined;
  return FACING[item.smallFace ?? 'equal'];
}

/** How the body of `item` is painted in `theme`. */
export function itemPaint(item: PlacedItem, theme: SectionTheme): Paint {
  const colours = PALETTES[theme];
  const hue = facingHue(item);
  if (hue !== undefined) {
    if (theme === 'dark')
      return paint(mix(hue, colours.ground, 0.5), mix(hue, WHITE, 0.25), colours.line, colours.ground);
    const fill = mix(hue, WHITE, theme === 'light' ? 0.45 : 0.62);
    return paint(fill, mix(hue, BLACK, 0.55), colours.line, colours.ground);
  }
  if (item.role === 'boss' || item.member !== undefined) {
    const [dark, light] = (MEMBERS[item.kind] ?? PLAIN).section;
    if (theme === 'dark') return paint(dark, mix(dark, colours.line, 0.52), colours.line, colours.ground);
    const fill = theme === 'light' ? light : mix(light, WHITE, 0.55);
    return paint(fill, mix(fill, BLACK, 0.58), colours.line, colours.ground);
  }
  return colours.axle;
}
