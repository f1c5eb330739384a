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
