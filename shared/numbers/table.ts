/**
 * Tables as text (RFC 4180): lines end in CR LF, and no cell is a formula to a table program.
 */

/** Rows as a table. */
export function csv(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** A cell: in quotes where it must be, and never a formula. */
function cell(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) && !/^-?\d+(\.\d+)?$/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
