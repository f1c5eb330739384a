/**
 * Minutes since a drill was begun.
 */
import { useRef } from 'react';

const MINUTE_ms = 60_000;

/** What says how many minutes have gone since the piece that asks came up. */
export function useMinutes(): () => number {
  const begun = useRef(Date.now());
  return () => (Date.now() - begun.current) / MINUTE_ms;
}
