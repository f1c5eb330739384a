/**
 * A calendar file (RFC 5545) of what a job leaves open: one event each, told again by an alarm at its time.
 *
 * Our own short writer. Lines end in CR LF and are folded so that none is longer than 75 octets, never inside a
 * character; backslash, comma, semicolon and line break of a text are escaped. Times are universal time.
 */
import { dayAt_ms } from './view.ts';

/** One entry of a calendar. */
export interface CalendarEntry {
  /** Unique, and the same when the file is written again, so that a calendar replaces its entry. */
  readonly uid: string;
  readonly at_ms: number;
  readonly title: string;
  readonly text: string;
}

const LONGEST_LINE = 75;
const MINUTE_ms = 60_000;
const DAY_ms = 24 * 60 * MINUTE_ms;
/** How long an entry lasts. */
const LASTS_ms = 15 * MINUTE_ms;

/** A calendar file; `made_ms` is when it is written. */
export function calendar(entries: readonly CalendarEntry[], made_ms: number): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Axlewright//Job//EN',
    'CALSCALE:GREGORIAN',
    ...entries.flatMap(({ uid, at_ms, title, text }) => [
      'BEGIN:VEVENT',
      `UID:${escaped(uid)}`,
      `DTSTAMP:${stamp(made_ms)}`,
      `DTSTART:${stamp(at_ms)}`,
      `DTEND:${stamp(at_ms + LASTS_ms)}`,
      `SUMMARY:${escaped(title)}`,
      `DESCRIPTION:${escaped(text)}`,
      'BEGIN:VALARM',
      'ACTION:DISPLAY',
      `DESCRIPTION:${escaped(title)}`,
      'TRIGGER:PT0M',
      'END:VALARM',
      'END:VEVENT',
    ]),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

function escaped(text: string): string {
  return text.replace(/[\\;,]/g, '\\$&').replace(/\r\n|\r|\n/g, '\\n');
}

/** Octets of a character in UTF-8. */
function octetsOf(character: string): number {
  const code = character.codePointAt(0)!;
  return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
}

/** A line broken after at most 75 octets; each further one begins with a space, which counts. */
function folded(line: string): string {
  let out = '';
  let octets = 0;
  for (const character of line) {
    const more = octetsOf(character);
    if (octets + more > LONGEST_LINE) {
      out += '\r\n ';
      octets = 1;
    }
    out += character;
    octets += more;
  }
  return out;
}

/** A moment as a calendar writes it: `20261130T231500Z`. */
function stamp(at_ms: number): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const minutes = Math.floor((((at_ms % DAY_ms) + DAY_ms) % DAY_ms) / MINUTE_ms);
  const seconds = Math.floor((at_ms % MINUTE_ms) / 1000);
  return `${dayOf(at_ms).replaceAll('-', '')}T${two(Math.floor(minutes / 60))}${two(minutes % 60)}${two(seconds)}Z`;
}

/** The day of a moment by universal time, `2026-11-30`. */
export function dayOf(at_ms: number): string {
  const days = Math.floor(at_ms / DAY_ms);
  let year = 1970 + Math.floor(days / 365.2425);
  while (dayAt_ms(`${year + 1}-01-01`)! <= days * DAY_ms) year++;
  while (dayAt_ms(`${year}-01-01`)! > days * DAY_ms) year--;
  let month = 12;
  while (dayAt_ms(`${year}-${month}-01`)! > days * DAY_ms) month--;
  const date = days - dayAt_ms(`${year}-${month}-01`)! / DAY_ms + 1;
  return [String(year).padStart(4, '0'), String(month).padStart(2, '0'), String(date).padStart(2, '0')].join('-');
}
