/**
 * The README as the program makes it now: what its commands print where it shows that, and the figures of its worked
 * pivot. The test compares it with the file; `npm run golden` writes it.
 *
 * A fenced block that starts with `$ npm run …` shows one command and what it prints. Other lines of fenced blocks that
 * call the program are run too, in a folder of their own.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  analyse,
  figure,
  wordForce,
  wordVerdict,
  type Analysis,
  type FaceReading,
  type LinkageModel,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { said } from './said.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const FILE = `${ROOT}README.md`;
const CALL = 'npm run -s axlewright -- ';

/** The file as it stands. */
export const readmeText = (): string => readFileSync(FILE, 'utf8');

/** Writes the file as the program makes it now. */
export async function storeReadme(): Promise<void> {
  writeFileSync(FILE, await readmeNow(readmeText()));
}

/** One command of the README: its words as a shell would part them. */
export interface Shown {
  readonly line: string;
  readonly words: readonly string[];
}

/** Every command of the program in the fenced blocks of a text, the commands of its outputs among them. */
export function commandsIn(text: string): Shown[] {
  return [...text.matchAll(/^```\n([\s\S]*?)^```$/gm)].flatMap(([, block = '']) =>
    block
      .split('\n')
      .map((line) => line.replace(/^\$ /, ''))
      .filter((line) => line.startsWith(CALL))
      .map((line) => ({ line, words: shellWords(line.slice(CALL.length)) })),
  );
}

/** Words of a line: parted by spaces outside double quotes, up to a comment. */
export function shellWords(line: string): string[] {
  const words: string[] = [];
  for (const [, quoted, bare] of line.matchAll(/"([^"]*)"|(\S+)/g)) {
    if (bare?.startsWith('#')) break;
    words.push(quoted ?? bare!);
  }
  return words;
}

/** A text with its printed outputs and its table of the worked pivot as the program makes them now. */
export async function readmeNow(text: string): Promise<string> {
  let now = text;
  for (const [block, line = ''] of text.matchAll(/^```\n\$ (npm run .*)\n[\s\S]*?^```$/gm)) {
    const { out } = await said(shellWords(line.slice(CALL.length)), ROOT);
    now = now.replace(block, () => `\`\`\`\n$ ${line}\n${out}\`\`\``);
  }
  return now.replace(/^\|[^\n]*as written[^\n]*\n(?:\|[^\n]*\n)+/m, () => table(workedPivot()));
}

const PIVOT = 'shock-frame';
const PART = 'mount-right';

/** The rows of the worked pivot: a demo's pivot as written, and with its drive-side spacer turned round. */
function workedPivot(): string[][] {
  const model = demoModels().find(({ id }) => id === 'skarn-140')!;
  const [written, turned] = [analyse(model), analyse(turnedRound(model))];
  const seal = finding(turned, 'seal-rubbed');
  const crushed = finding(turned, 'face-crushed');
  return [
    ['', 'as written', 'drive-side spacer turned round'],
    ['verdict', wordVerdict(pivotOf(written)), wordVerdict(pivotOf(turned))],
    [
      'what the spacer bears on',
      `the inner ring only, ${wordForce(bearsOnly(written, 'inner-ring').force_N)}`,
      `the inner ring, and its flange covers ${figure(seal.numbers['cover_mm']!.value, 1)} mm of the seal`,
    ],
    [
      'between flange and seal',
      `${figure(sealGap_mm(written), 1)} mm`,
      `${figure(seal.numbers['gap_mm']!.value, 2)} mm: it drags as soon as the bearing uses its play`,
    ],
    [
      'pressure on the lug (6061)',
      pivotOf(written).findings.some(({ code }) => code === 'face-crushed') ? 'too high' : 'spread by the flange',
      `${figure(crushed.numbers['pressure_MPa']!.value, 0)} MPa under the land, of ${figure(crushed.limit!.value, 0)} MPa`,
    ],
  ];
}

const pivotOf = (analysis: Analysis) => analysis.pivots.find(({ id }) => id === PIVOT)!;

function finding(analysis: Analysis, code: string) {
  const found = pivotOf(analysis).findings.find((candidate) => candidate.code === code);
  if (!found) throw new Error(`readme: ${code}: met nothing at ${PIVOT}, allowed: a finding of the turned spacer`);
  return found;
}

function faceOf(analysis: Analysis): FaceReading {
  return pivotOf(analysis)
    .stacks.flatMap(({ items }) => items)
    .find(({ rowId }) => rowId === PART)!.nonDrive;
}

function bearsOnly(analysis: Analysis, bears: FaceReading['bears']): FaceReading {
  const face = faceOf(analysis);
  if (face.bears !== bears || face.touches.length !== 1)
    throw new Error(`readme: ${PART}: met ${face.bears}, allowed: ${bears} alone`);
  return face;
}

/** Along the axle from the spacer's flange to the bearing's face, beside which its seal lies. */
function sealGap_mm(analysis: Analysis): number {
  const part = analysis.model.parts[stackOf(analysis.model).row.find(({ id }) => id === PART)!.part!]!;
  if (!('land_height_mm' in part) || part.land_height_mm === undefined)
    throw new Error(`readme: ${PART}: met a spacer without a land, allowed: one with a land`);
  return part.land_height_mm;
}

const stackOf = (model: LinkageModel) => model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === PIVOT)!;

function turnedRound(model: LinkageModel): LinkageModel {
  return {
    ...model,
    pivots: model.pivots.map((pivot) => ({
      ...pivot,
      stacks: pivot.stacks.map((stack) => ({
        ...stack,
        row: stack.row.map((entry) =>
          stack.id === PIVOT && entry.id === PART ? { ...entry, turned: entry.turned !== true } : entry,
        ),
      })),
    })),
  };
}

function table(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |\n`;
  const padded = rows.map((row) => line(row.map((cell, column) => cell.padEnd(widths[column]!))));
  return [padded[0], line(widths.map((width) => '-'.repeat(width))), ...padded.slice(1)].join('');
}
