import { isUtf8 } from 'node:buffer';
import { type Problem, problem, Refusal, refuse } from '../problem.js';

/** A line of a table, with its number as a spreadsheet counts it: the heading is row 1. */
export interface CsvRow {
  readonly row: number;
  readonly cells: Readonly<Record<string, string>>;
}

/** Lists people keep by hand are far smaller; the limit keeps a wrong file from filling the memory. */
const LARGEST = 64 * 1024 * 1024;

/**
 * Reads a table in CSV (RFC 4180) with a heading: UTF-8, with or without its mark; comma, semicolon or tab between;
 * lines ended any way. Throws a Refusal (exit 2) that names the row when it cannot be read, or a column is missing or
 * not known.
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
  if (missing.length > 0) {
    const what = `The heading has no column ${missing.join(', ')}.`;
    problems.push(problem(`${where}: row 1`, what, `Its columns may be: ${columns.known.join(', ')}.`));
  } else {
    for (const [i, name] of names.entries()) {
      const twice = names.indexOf(name) < i;
      if (!twice && columns.known.includes(name)) continue;
      const what = twice
        ? `The column ${name} stands twice.`
        : `The column "${name.slice(0, 40)}" is not known.`;
      problems.push(problem(`${where}: row 1`, what, `Its columns may be: ${columns.known.join(', ')}.`));
    }
  }
  for (const { row, cells } of rows) {
    if (cells.length === names.length) continue;
    const what = `It has ${cells.length} cells, and the heading ${names.length}.`;
    problems.push(
      problem(`${where}: row ${row}`, what, 'Put text that holds a comma or a quote between quotes.'),
    );
  }
  if (problems.length > 0) throw new Refusal(2, problems.slice(0, 50));
  return rows.map(({ row, cells }) => ({
    row,
    cells: Object.fromEntries(names.map((name, i) => [name, cells[i]!])),
  }));
}

function textOf(where: string, bytes: Uint8Array): string {
  if (bytes.length > LARGEST)
    throw refuse(2, where, 'It is larger than any such list.', 'Name the right file.');
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff))
    throw refuse(2, where, 'It is UTF-16 text.', 'Save it as CSV in UTF-8.');
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const at = badByte(bytes);
    const row = bytes.subarray(0, at).reduce((n, byte) => n + Number(byte === 0x0a), 1);
    const what = `It is not UTF-8 text: byte ${at + 1}, in line ${row}.`;
    throw refuse(2, where, what, 'Save it as CSV in UTF-8.');
  }
}

/** Where UTF-8 ends and something else begins, counted from 0. */
function badByte(bytes: Uint8Array): number {
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const again = new TextEncoder().encode(text);
  let at = again.findIndex((byte, i) => byte !== bytes[i]);
  // The sign for what cannot be read may begin as the bad bytes do.
  while (!isUtf8(bytes.subarray(0, at))) at--;
  return at;
}

/** As the heading has it: spreadsheets of many countries put a semicolon. */
function separatorOf(text: string): string {
  const heading = /^[^\r\n]*/.exec(text)![0];
  return [',', ';', '\t'].find((sign) => heading.includes(sign)) ?? ',';
}

interface Cells {
  readonly row: number;
  readonly cells: string[];
}

function recordsOf(where: string, text: string, separator: string): Cells[] {
  const records: Cells[] = [];
  // A cell: between quotes, a quote in it doubled, or plain up to the next separator or line end; then what ends it.
  const cell = new RegExp(
    `(?:"([^"]*(?:""[^"]*)*)"|([^"${separator}\\r\\n][^${separator}\\r\\n]*|))(${separator}|\\r\\n|\\r|\\n|$)`,
    'y',
  );
  let cells: string[] = [];
  let row = 1;
  while (cell.lastIndex < text.length || cells.length > 0) {
    const at = cell.lastIndex;
    const match = cell.exec(text);
    if (!match) {
      const lost = text.slice(at).trimStart().startsWith('"');
      const what = lost
        ? 'A quote is opened and not closed, or text follows the closed one.'
        : 'It cannot be read.';
      throw refuse(2, `${where}: row ${row}`, what, 'Write a quote within quotes twice.');
    }
    cells.push(match[1]?.replaceAll('""', '"') ?? match[2] ?? '');
    if (match[3] === separator) continue;
    // An empty line is a row of the spreadsheet all the same, and says nothing.
    if (cells.length > 1 || cells[0] !== '') records.push({ row, cells });
    cells = [];
    row++;
    if (match[3] === '') break;
  }
  return records;
}
