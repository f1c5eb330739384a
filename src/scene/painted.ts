/**
 * Surfaces with their coat: colour, metal, pattern or ink at every corner, so that a whole part is one mesh and one
 * draw.
 *
 * A coat is four numbers a corner, read by the shader of `materials.ts`: two that depend on the kind, the kind, and the
 * pattern. Colours are linear. Ranges of the index keep apart what is touched by a hand, what is only drawn on it, and
 * the shell that leaves its rim of ink.
 */
import type { Finish, Look } from '../look.ts';
import type { Surface } from './surface.ts';

/** Patterns of flat coats: hatching that rises or falls, the bold one, dots, single diagonals. */
export type Pattern = 'rising' | 'falling' | 'bold' | 'dots' | 'diagonal';

const PATTERN_CODE: Readonly<Record<Pattern, number>> = { rising: 1, falling: 2, bold: 3, dots: 4, diagonal: 5 };
/** What a pattern is drawn with. */
type Ink = 'ink' | 'trouble' | 'darker';
const INK_CODE: Readonly<Record<Ink, number>> = { ink: 0, trouble: 1, darker: 2 };

/** How a surface is drawn: lit as a material, flat as a mark, or inside out as ink round a silhouette. */
export type Coat =
  | { readonly kind: 'lit'; readonly look: Look }
  | {
      readonly kind: 'flat';
      readonly colour: string;
      readonly pattern?: Pattern;
      readonly size_mm?: number;
      readonly ink?: Ink;
    }
  | { readonly kind: 'shell'; readonly isBlack?: boolean };

const FINISH_CODE: Readonly<Record<Finish, number>> = { woven: 1, turned: 2, ground: 3, blasted: 4 };
const KIND_CODE = { lit: 0, flat: 1, shell: 2 } as const;

/** Several surfaces with their coats, as plain arrays. */
export class Painted {
  readonly positions: number[] = [];
  readonly normals: number[] = [];
  readonly uvs: number[] = [];
  readonly index: number[] = [];
  readonly colours: number[] = [];
  readonly coats: number[] = [];
  private readonly marks = new Map<string, number>();

  /** Adds a surface under a coat, moved by `at`. */
  add(surface: Surface, coat: Coat, at: readonly [x: number, y: number, z: number] = [0, 0, 0]): this {
    const base = this.positions.length / 3;
    const corners = surface.positions.length / 3;
    const [r, g, b] = coat.kind === 'shell' ? [0, 0, 0] : linear(coat.kind === 'lit' ? coat.look.colour : coat.colour);
    const code = codeOf(coat);
    for (let k = 0; k < corners; k += 1) {
      for (let c = 0; c < 3; c += 1) {
        this.positions.push(surface.positions[3 * k + c]! + at[c]!);
        this.normals.push(surface.normals[3 * k + c]!);
      }
      this.uvs.push(surface.uvs[2 * k]!, surface.uvs[2 * k + 1]!);
      const shade = surface.shades?.[k] ?? 1;
      this.colours.push(r! * shade, g! * shade, b! * shade);
      this.coats.push(...code);
    }
    for (const corner of surface.index) this.index.push(base + corner);
    return this;
  }

  /** Names the end of the index as it is now. */
  mark(name: string): this {
    this.marks.set(name, this.index.length);
    return this;
  }

  /** The end of the index when it was named; the whole of it where the name is unknown. */
  endOf(name: string): number {
    return this.marks.get(name) ?? this.index.length;
  }
}

function codeOf(coat: Coat): readonly [number, number, number, number] {
  if (coat.kind === 'lit')
    return [coat.look.metal, coat.look.rough, KIND_CODE.lit, coat.look.finish ? FINISH_CODE[coat.look.finish] : 0];
  if (coat.kind === 'shell') return [coat.isBlack ? 1 : 0, 0, KIND_CODE.shell, 0];
  return [
    INK_CODE[coat.ink ?? 'ink'],
    coat.size_mm ?? 1,
    KIND_CODE.flat,
    coat.pattern === undefined ? 0 : PATTERN_CODE[coat.pattern],
  ];
}

/** A colour `#rrggbb` as linear parts, 0 to 1 (IEC 61966-2-1). */
function linear(hex: string): readonly [number, number, number] {
  const part = (k: number): number => {
    const value = Number.parseInt(hex.slice(k, k + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [part(1), part(3), part(5)];
}
