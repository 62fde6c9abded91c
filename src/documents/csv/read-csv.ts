import { isUtf8 } from 'node:buffer';
import { CsvError, parse } from 'csv-parse/sync';
import { type Problem, Refusal } from '../../problem.js';
import { problem, refuse } from './messages.js';

/** A row of a table, with its number as a spreadsheet counts it: the heading is row 1. */
export interface CsvRow {
  readonly row: number;
  readonly cells: Readonly<Record<string, string>>;
}

/** Lists that people keep by hand are far smaller; the limit keeps a wrong file from filling the memory. */
const LARGEST_MB = 64;
export const LARGEST_CSV_BYTES = LARGEST_MB * 1024 * 1024;
/** As many problems are reported. */
const MOST_PROBLEMS = 50;

/**
 * Reads a table in CSV (RFC 4180) with a heading: UTF-8, with or without a byte order mark; comma, semicolon or tab
 * between cells; lines ended in any way. Throws a Refusal (exit 2) that names the row when the table cannot be read, or
 * a column is missing or not known.
 */
export function readCsv(
  where: string,
  bytes: Uint8Array,
  columns: { readonly needed: readonly string[]; readonly known: readonly string[] },
): CsvRow[] {
  const text = textOf(where, bytes);
  const separator = separatorOf(text);
  const [heading, ...rows] = recordsOf(where, text, separator);
  const names = (heading?.cells ?? []).map((name) => name.trim().toLowerCase());
  const problems: Problem[] = [];
  const missing = columns.needed.filter((name) => !names.includes(name));
  const { known } = columns;
  if (missing.length > 0)
    problems.push(problem('csv.column-missing', `${where}: row 1`, { names: missing, known }));
  else
    for (const [i, name] of names.entries()) {
      const values = { name: name.slice(0, 40), known };
      if (names.indexOf(name) < i) problems.push(problem('csv.column-twice', `${where}: row 1`, values));
      else if (!known.includes(name)) problems.push(problem('csv.column-unknown', `${where}: row 1`, values));
    }
  for (const { row, cells } of rows) {
    if (cells.length === names.length) continue;
    const values = { cells: cells.length, columns: names.length };
    problems.push(problem('csv.cell-count', `${where}: row ${row}`, values));
  }
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));
  return rows.map(({ row, cells }) => ({
    row,
    cells: Object.fromEntries(names.map((name, i) => [name, cells[i]!])),
  }));
}

function textOf(where: string, bytes: Uint8Array): string {
  if (bytes.length > LARGEST_CSV_BYTES) throw refuse('csv.too-large', where, { most: LARGEST_MB });
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff))
    throw refuse('csv.utf16', where, {});
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const at = badByte(bytes);
    const line = bytes.subarray(0, at).reduce((n, byte) => n + Number(byte === 0x0a), 1);
    throw refuse('csv.not-utf8', where, { byte: at + 1, line });
  }
}

/** Where UTF-8 ends and something else begins, counted from 0. */
function badByte(bytes: Uint8Array): number {
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const again = new TextEncoder().encode(text);
  let at = again.findIndex((byte, i) => byte !== bytes[i]);
  // The replacement character may begin as the bad bytes do.
  while (!isUtf8(bytes.subarray(0, at))) at--;
  return at;
}

/** The one that the heading has: spreadsheets of many countries write a semicolon. */
function separatorOf(text: string): string {
  const heading = /^[^\r\n]*/.exec(text)![0];
  return [',', ';', '\t'].find((sign) => heading.includes(sign)) ?? ',';
}

interface CsvRecord {
  readonly row: number;
  readonly cells: string[];
}

function recordsOf(where: string, text: string, separator: string): CsvRecord[] {
  try {
    const records: string[][] = parse(text, {
      delimiter: separator,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
    });
    // An empty line is a row of the spreadsheet too, and has nothing in it.
    return records
      .map((cells, i) => ({ row: i + 1, cells }))
      .filter(({ cells }) => cells.length > 1 || (cells[0] ?? '') !== '');
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const row = Number(error.records) + 1;
    const inCell = error.code === 'INVALID_OPENING_QUOTE';
    throw refuse(inCell ? 'csv.quote-in-cell' : 'csv.quotes', `${where}: row ${row}`, {});
  }
}
