// Types for the oracles used only in tests, where the package brings none that the compiler finds.

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
