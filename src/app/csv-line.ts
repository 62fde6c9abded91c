import { shown } from '../edition/look-alike.js';

/** Whether a spreadsheet would take the cell for a formula. */
export const isFormula = (text: string): boolean => /^\s*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/.test(text);

/** A line of CSV (RFC 4180): no cell is taken for a formula, and what nobody sees is shown. */
export const csvLine = (cells: readonly (string | number | undefined)[]): string =>
  cells.map(cellOf).join(',');

function cellOf(value: string | number | undefined): string {
  if (value === undefined) return '';
  const text = shown(String(value));
  const inert = typeof value === 'string' && isFormula(text) ? `'${text}` : text;
  return inert !== text || /[",\n\r;]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
