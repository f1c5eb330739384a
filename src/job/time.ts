/**
 * Time as a shop reads it, by the clock of the device.
 */
import { useEffect, useState } from 'react';

const CLOCK = new Intl.DateTimeFormat('en-GB', {
  weekday: 'short',
  day: 'numeric',
  month: 'short',
  hour: '2-digit',
  minute: '2-digit',
});
const TICK_ms = 20_000;

/** `Tue 1 Dec, 22:15`. */
export function clockWords(at_ms: number): string {
  return CLOCK.format(at_ms);
}

/** How long until a moment, and when that is. */
export function remainingWords(until_ms: number, now_ms: number): string {
  const minutes = Math.ceil((until_ms - now_ms) / 60_000);
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return `Setting until ${clockWords(until_ms)}: ${hours > 0 ? `${hours} h ` : ''}${rest} min to go.`;
}

/** The clock of the device, looked at again and again. */
export function useNow(): number {
  const [now_ms, setNow] = useState(() => Date.now());
  useEffect(() => {
    const timer = window.setInterval(() => setNow(Date.now()), TICK_ms);
    return () => window.clearInterval(timer);
  }, []);
  return now_ms;
}
