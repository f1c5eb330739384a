/**
 * Days as a shop writes them, by the clock of the device.
 */
const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

/** `1 Dec 2026`. */
export function dayWords(at_ms: number): string {
  return DAY.format(at_ms);
}

/** The day of the device, `2026-12-01`, as a field of the kind holds it; or a number of days from it. */
export function today(more_d = 0): string {
  const now = new Date();
  const day = new Date(now.getFullYear(), now.getMonth(), now.getDate() + more_d);
  return [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
