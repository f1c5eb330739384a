/**
 * A sheet as plain text: what the pages say, without their drawings.
 */
import type { Block, Line, Mark, SheetText } from './blocks.ts';

const MARKS: Readonly<Record<Mark, string>> = {
  box: '[ ] ',
  ticked: '[x] ',
  dot: '· ',
  caution: '! ',
  stop: 'STOP ',
  look: 'LOOK ',
  note: 'NOTE ',
  'non-drive': '<< ',
  drive: '>> ',
  same: '|| ',
};

const WRITE = '________';

/** The text of a sheet, its foot at the end. */
export function sheetText({ blocks, foot }: SheetText): string {
  return [...blocks.flatMap(linesOf), '', foot, ''].join('\n');
}

function linesOf(block: Block): string[] {
  switch (block.kind) {
    case 'title':
      return [block.text, ...block.under];
    case 'heading':
      return ['', block.text];
    case 'cut':
      return ['', `- - - ${block.text} - - -`];
    case 'lines':
      return block.lines.map((line) => `  ${said(line)}`);
    case 'fields':
      return ['', ...block.fields.map(({ name, value }) => `  ${name}: ${value ?? WRITE}`)];
    case 'table':
      return block.rows.flatMap(({ cells, isAcross }) => {
        if (isAcross) return ['', `  ${cells.flat().map(said).join(' ')}`];
        const [head, ...more] = cells.flatMap((lines, k) => {
          const { name } = block.columns[k]!;
          if (lines.length === 0) return block.written?.includes(k) ? [`${name}: ${WRITE}`] : [];
          if (lines.every(({ text }) => text === '')) return [];
          return k < 2 ? lines.map(said) : [`${name}: ${lines.map(said).join('; ')}`];
        });
        return [`  ${head}`, ...more.map((line) => `      ${line}`)];
      });
    case 'together':
      return block.blocks.flatMap(linesOf);
    case 'drawing':
      return [];
  }
}

function said({ mark, text }: Line): string {
  return `${mark === undefined ? '' : MARKS[mark]}${text}`;
}
