/**
 * The latest value of a prop for what outlives a render: listeners, frames, functions that keep their identity.
 */
import { useEffect, useRef } from 'react';

/** A box that holds the value of the last render. */
export function useLatest<T>(value: T): { readonly current: T } {
  const latest = useRef(value);
  useEffect(() => {
    latest.current = value;
  });
  return latest;
}
