/**
 * What makes items of the opened pivot stand out.
 */

/** By scene id; `rubs` holds pairs that touch although they must not, as `a b`. */
export interface Emphasis {
  readonly litId?: string | undefined;
  readonly selectedId?: string | undefined;
  readonly active: ReadonlySet<string>;
  readonly troubled: ReadonlySet<string>;
  readonly rubs: ReadonlySet<string>;
}
