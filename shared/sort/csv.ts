/**
 * Readings from a table: a header row that names the columns and their units, then one row a reading.
 *
 * Tabs, semicolons or commas part the cells (what a spreadsheet copies, what it saves); decimals are written with a
 * point or a comma, also mixed; a length column is in mm or in inches by its header, and a cell may say its own unit.
 * Nothing is guessed: a length column without a unit is refused, because 0.6 mm and 0.6 inch are both spacers. Words in
 * headers are ours: label, kind, outside, bore, length, small face, large face, head, thread, pitch, turns in 10 mm,
 * socket, alike.
 */
import { harmless } from '../numbers/harmless.ts';
import { showName } from '../model/problems.ts';
import { noText } from '../model/text.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';
import {
  DEFAULT_SETTING,
  DRIVE_TOOLS,
  gather,
  LONGEST_READINGS,
  MOST_READINGS,
  readReading,
  readReadingsJson,
  type ReadingProblem,
  type ReadingsResult,
} from './reading.ts';

/** Millimetres in an inch, exact by definition. */
const INCH_mm = 25.4;

type Field = SizeName | 'label' | 'kind' | 'count' | 'turns_in_inch' | 'drive' | 'slides_on';

/** Header words, in small letters with single spaces, without their unit. */
const COLUMNS: Readonly<Record<string, Field>> = {
  label: 'label',
  mark: 'label',
  name: 'label',
  no: 'label',
  kind: 'kind',
  part: 'kind',
  count: 'count',
  alike: 'count',
  'how many': 'count',
  'how many alike': 'count',
  length: 'length_mm',
  width: 'length_mm',
  outside: 'outside_mm',
  'outside diameter': 'outside_mm',
  bore: 'bore_mm',
  'bore diameter': 'bore_mm',
  head: 'head_mm',
  'head diameter': 'head_mm',
  large: 'large_mm',
  'large face': 'large_mm',
  small: 'small_mm',
  'small face': 'small_mm',
  land: 'small_mm',
  thread: 'thread_mm',
  'thread size': 'thread_mm',
  pitch: 'pitch_mm',
  turns: 'turns_in_10mm',
  'turns in 10': 'turns_in_10mm',
  'turns in 10 mm': 'turns_in_10mm',
  'turns over 10 mm': 'turns_in_10mm',
  'turns in inch': 'turns_in_inch',
  'turns in an inch': 'turns_in_inch',
  'turns per inch': 'turns_in_inch',
  drive: 'drive',
  socket: 'drive',
  'drive socket': 'drive',
  tool: 'drive',
  'slides on': 'slides_on',
};

/** Columns that are lengths, and so need a unit. */
const LENGTHS: ReadonlySet<Field> = new Set(SIZE_NAMES.filter((name) => name.endsWith('_mm')));
type Unit = 'mm' | 'in';

interface Column {
  readonly field: Field;
  readonly header: string;
  readonly unit?: Unit;
}

/**
 * Readings from a text of at most `LONGEST_READINGS` characters, JSON or table by its first sign. Never throws;
 * problems are told in the result. O(characters).
 */
export function readReadings(text: string): ReadingsResult {
  if (text.length > LONGEST_READINGS)
    return {
      ok: false,
      problems: [
        { code: 'not-readings', met: `${text.length} characters`, allowed: `at most ${LONGEST_READINGS} characters` },
      ],
    };
  const bytes = noText(text);
  if (bytes !== undefined)
    return { ok: false, problems: [{ code: 'not-readings', met: bytes, allowed: 'a text saved as UTF-8' }] };
  return /^[\uFEFF\s]*[[{]/.test(text) ? readReadingsJson(text) : readReadingsCsv(text);
}

/** Readings from a table; the accuracy is the default, since a table cannot state it. */
function readReadingsCsv(text: string): ReadingsResult {
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const parting = partingOf(body);
  const rows = cellsOf(body, parting).filter(
    (cells) => cells.some((cell) => cell !== '') && !cells[0]!.startsWith('#'),
  );
  const [header, ...lines] = rows;
  if (!header || lines.length === 0) {
    return {
      ok: false,
      problems: [
        {
          code: 'not-readings',
          met: header ? 'a header row alone' : 'an empty table',
          allowed: 'a header row and one row for each reading',
        },
      ],
    };
  }
  if (lines.length > MOST_READINGS)
    return {
      ok: false,
      problems: [{ code: 'too-many', met: `${lines.length} rows`, allowed: `at most ${MOST_READINGS} readings` }],
    };
  const { columns, problems } = readHeader(header);
  if (problems.length > 0) return { ok: false, problems };
  return gather(
    lines.map((cells, index) => readLine(cells, columns, index + 1)),
    DEFAULT_SETTING,
  );
}

function partingOf(text: string): string {
  const header = text.split(/\r?\n|\r/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  return header.includes('\t') ? '\t' : header.includes(';') ? ';' : ',';
}

/** Rows of trimmed cells; a cell in double quotes may hold the parting sign, a line break, or a doubled quote. */
function cellsOf(text: string, parting: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let isQuoted = false;
  const endCell = (): void => {
    row.push(cell.trim());
    cell = '';
  };
  for (let i = 0; i < text.length; i++) {
    const sign = text[i]!;
    if (isQuoted) {
      if (sign !== '"') cell += sign;
      else if (text[i + 1] === '"') cell += text[++i]!;
      else isQuoted = false;
    } else if (sign === '"' && cell.trim() === '') {
      isQuoted = true;
      cell = '';
    } else if (sign === parting) endCell();
    else if (sign === '\n' || sign === '\r') {
      if (sign === '\r' && text[i + 1] === '\n') i++;
      endCell();
      rows.push(row);
      row = [];
    } else cell += sign;
  }
  endCell();
  rows.push(row);
  return rows;
}

function readHeader(header: readonly string[]): { columns: (Column | undefined)[]; problems: ReadingProblem[] } {
  const problems: ReadingProblem[] = [];
  const seen = new Set<Field>();
  const columns = header.map((cell): Column | undefined => {
    if (cell === '') return undefined;
    const { words, unit } = headerWords(cell);
    const field = Object.hasOwn(COLUMNS, words) ? COLUMNS[words] : undefined;
    if (!field) {
      problems.push({ code: 'unknown-column', field: showName(cell), met: showName(cell), allowed: COLUMN_WORDS });
      return undefined;
    }
    if (seen.has(field))
      problems.push({ code: 'column-twice', field: showName(cell), met: showName(cell), allowed: 'each column once' });
    seen.add(field);
    // A thread may be written by its name, which says its own unit.
    if (LENGTHS.has(field) && unit === undefined && field !== 'thread_mm') {
      problems.push({
        code: 'unit-missing',
        field: showName(cell),
        met: showName(cell),
        allowed: `a unit in the header: “${words} mm” or “${words} in”`,
      });
    }
    return { field, header: showName(cell), ...(unit === undefined ? {} : { unit }) };
  });
  return { columns, problems };
}

const COLUMN_WORDS =
  'label, kind, outside mm, bore mm, length mm, small face mm, large face mm, head mm, thread mm, pitch mm, turns in 10 mm, socket, slides on, alike';

/** The words of a header and its unit: `Outside (mm)`, `outside_mm`, `bore [in]`. */
function headerWords(cell: string): { words: string; unit?: Unit } {
  const plain = cell
    .toLowerCase()
    .replace(/[_()[\],:.]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  if (Object.hasOwn(COLUMNS, plain)) return { words: plain };
  const match = /^(.*?)\s*(mm|millimetres?|in|inch|inches|")$/.exec(plain);
  if (!match) return { words: plain };
  return { words: match[1]!, unit: match[2]!.startsWith('m') ? 'mm' : 'in' };
}

function readLine(
  cells: readonly string[],
  columns: readonly (Column | undefined)[],
  row: number,
): ReturnType<typeof readReading> {
  const problems: ReadingProblem[] = [];
  const data: Record<string, unknown> = {};
  const label = cells[columns.findIndex((column) => column?.field === 'label')];
  const say = (code: ReadingProblem['code'], column: Column | undefined, met: string, allowed: string): void => {
    problems.push({
      code,
      row,
      ...(label ? { label: harmless(label.slice(0, 40)) } : {}),
      ...(column ? { field: column.header } : {}),
      met: showName(met),
      allowed,
    });
  };
  cells.forEach((cell, index) => {
    if (cell === '' || cell === '-' || cell === '–') return;
    const column = columns[index];
    if (!column) {
      say('unknown-column', undefined, cell, 'nothing in a column without a header');
      return;
    }
    const refuse = (allowed: string): void => say('not-a-number', column, cell, allowed);
    switch (column.field) {
      case 'label':
        data['label'] = cell;
        return;
      case 'kind':
        data['kind'] = cell.toLowerCase().replace(/[\s_]+/g, '-');
        return;
      case 'slides_on':
        data['slides_on'] = cell;
        return;
      case 'drive': {
        const drive = readDrive(cell);
        if (drive) data['drive'] = drive;
        else say('unknown-drive', column, cell, 'a tool and its size, as in “hex 6”, “star 30” or “spanner 20”');
        return;
      }
      case 'thread_mm': {
        const named = readThread(cell);
        if (named) {
          data['thread_mm'] = named.size_mm;
          if (named.pitch_mm !== undefined) data['pitch_mm'] = named.pitch_mm;
        } else setLength(column, cell, refuse);
        return;
      }
      case 'bore_mm': {
        const axle = /^slides\s+on\s+(.+)$/i.exec(cell)?.[1];
        if (axle !== undefined) data['slides_on'] = axle;
        else setLength(column, cell, refuse);
        return;
      }
      case 'turns_in_inch': {
        const turns = readNumber(cell);
        if (turns === undefined) refuse('a number of turns');
        else data['turns_in_10mm'] = (turns * 10) / INCH_mm;
        return;
      }
      case 'count':
      case 'turns_in_10mm': {
        const number = readNumber(cell);
        if (number === undefined) refuse('a number');
        else data[column.field] = number;
        return;
      }
      default:
        setLength(column, cell, refuse);
    }
  });
  function setLength(column: Column, cell: string, refuse: (allowed: string) => void): void {
    const length = readLength(cell, column.unit);
    if (length === undefined)
      refuse(
        column.unit === undefined
          ? 'a number with its unit, or a thread such as M12×1'
          : 'a number with a point or a comma',
      );
    // A pitch that a thread's name gave already is kept when the pitch column repeats it.
    else data[column.field] = length;
  }
  if (problems.length > 0) return { problems };
  return readReading(data, row);
}

/** A number with a decimal point or comma, no thousands; undefined for anything else. */
export function readNumber(text: string): number | undefined {
  const plain = text.trim().replace(/\u2212/g, '-');
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(plain)) return undefined;
  return Number(plain.replace(',', '.'));
}

/**
 * A length, mm: in the column's unit, unless the text says its own; undefined where it is no number, or neither names a
 * unit.
 */
export function readLength(text: string, unit: Unit | undefined): number | undefined {
  const match = /^(.*?)\s*(mm|in|inch|")?$/i.exec(text.trim());
  const number = match ? readNumber(match[1]!) : undefined;
  const own = match?.[2]?.toLowerCase();
  const taken = own === undefined ? unit : own === 'mm' ? 'mm' : 'in';
  if (number === undefined || taken === undefined) return undefined;
  return taken === 'in' ? number * INCH_mm : number;
}

/**
 * A thread by its name, mm: `M12`, `M12x1`, `m10 × 1,25`. A bare size leaves the pitch open; undefined for anything
 * else.
 */
export function readThread(text: string): { size_mm: number; pitch_mm?: number } | undefined {
  const match = /^m\s*(\d+(?:[.,]\d+)?)(?:\s*[x×*]\s*(\d+(?:[.,]\d+)?))?$/i.exec(text.trim());
  if (!match) return undefined;
  const size_mm = Number(match[1]!.replace(',', '.'));
  return match[2] === undefined ? { size_mm } : { size_mm, pitch_mm: Number(match[2].replace(',', '.')) };
}

/** A drive by tool and size in mm: `hex 6`, `hex-key 6 mm`, `star 30`, `spanner 20`; undefined for anything else. */
export function readDrive(text: string): { tool: (typeof DRIVE_TOOLS)[number]; size_mm: number } | undefined {
  const match = /^([a-z][a-z\s-]*?)\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?$/i.exec(text.trim());
  if (!match) return undefined;
  const word = match[1]!.toLowerCase().trim().replace(/\s+/g, '-');
  const tool = DRIVE_TOOLS.find((known) => known === word || known === `${word}-key`);
  return tool && { tool, size_mm: Number(match[2]!.replace(',', '.')) };
}
