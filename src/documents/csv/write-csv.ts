import { stringify } from 'csv-stringify/sync';
import { showInvisible } from '../invisible.js';

export type CsvCell = string | number | undefined;

/** Whether a spreadsheet would take the cell for a formula. */
export const isFormula = (text: string): boolean => /^\s*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/.test(text);

/**
 * Rows as CSV (RFC 4180), with a line feed between rows and none after the last. A text that a spreadsheet would take for
 * a formula gets an apostrophe in front, and invisible characters are written out.
 */
export const formatCsv = (rows: readonly (readonly CsvCell[])[]): string =>
  stringify(rows as CsvCell[][], {
    record_delimiter: '\n',
    eof: false,
    quoted_match: /[",\r\n;]/,
    cast: { string: safeText },
  });

/** One row, without a line end. */
export const formatCsvRow = (cells: readonly CsvCell[]): string => formatCsv([cells]);

function safeText(text: string) {
  const visible = showInvisible(text);
  return isFormula(visible) ? { value: `'${visible}`, quoted: true } : visible;
}
