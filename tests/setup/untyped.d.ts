// Types for what is used in tests and brings none that the compiler finds: oracles, and what plain node runs.

declare module 'quadprog' {
  interface QuadraticSolution {
    solution: number[];
    Lagrangian: number[];
    value: number[];
    unconstrained_solution: number[];
    iterations: number[];
    iact: number[];
    message: string;
  }
  /** Minimises ½bᵀDb − dᵀb subject to Aᵀb ≥ b0. Every array starts at index 1; D and d are overwritten. */
  export function solveQP(
    D: number[][],
    d: number[],
    A: number[][],
    b0?: number[],
    equalities?: number,
    factorised?: [number, number],
  ): QuadraticSolution;
  const quadprog: { solveQP: typeof solveQP };
  export default quadprog;
}

declare module 'toposort' {
  interface Toposort {
    /** Sorts the nodes of the edges [before, after]; throws on a cycle. */
    <Node>(edges: ReadonlyArray<readonly [Node, Node]>): Node[];
    array<Node>(nodes: readonly Node[], edges: ReadonlyArray<readonly [Node, Node]>): Node[];
  }
  const toposort: Toposort;
  export default toposort;
}

declare module '*/bundle.mjs' {
  /** The built command line. */
  export const COMMAND_LINE: string;
  /** Builds it where there is none as new as the sources. */
  export function makeCommandLine(): Promise<void>;
}

declare module '*/serving.mjs' {
  /** One address of this machine to serve a class at; throws for any other. */
  export function shareAddress(
    text: string,
    own?: readonly { readonly family: string; readonly address: string }[],
  ): string;
  /** Serves a built folder on 127.0.0.1, or on the address given; `origin` ends in a slash. */
  export function serveFolder(asked: {
    folder: string;
    port?: number;
    base?: string;
    isStrict?: boolean;
    host?: string | undefined;
  }): Promise<{ origin: string; close: () => Promise<void> }>;
}

declare module 'fontkit' {
  export interface Point {
    x: number;
    y: number;
    endContour: boolean;
    copy(): Point;
  }
  interface Component {
    readonly glyphID: number;
    readonly dx: number;
    readonly dy: number;
    readonly scaleX: number;
    readonly scaleY: number;
    readonly scale01: number;
    readonly scale10: number;
  }
  interface Outline {
    readonly points?: readonly { readonly x: number; readonly y: number; onCurve: boolean; endContour: boolean }[];
    readonly components?: readonly Component[];
  }
  /** Of a font that came as WOFF2; what has an underscore is no part of what the library promises. */
  export interface Part {
    variationCoords: readonly number[];
    readonly characterSet: readonly number[];
    readonly stream: { readonly buffer: Uint8Array };
    readonly directory: {
      readonly tables: Readonly<Record<string, { readonly offset: number; readonly length: number }>>;
    };
    readonly hmtx: {
      readonly metrics: { readonly length: number; get(id: number): { readonly advance: number } };
    };
    readonly HVAR: unknown;
    readonly _transformedGlyphs: readonly Outline[];
    readonly _variationProcessor: {
      transformPoints(id: number, points: readonly Point[]): void;
      getAdvanceAdjustment(id: number, table: unknown): number;
    };
    getGlyph(id: number): unknown;
    glyphForCodePoint(code: number): { readonly id: number };
  }
  export function create(file: Uint8Array): Part;
}
