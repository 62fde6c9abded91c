import { type Problem, Refusal } from '../problem.js';
import { type CsvRow, readCsv } from './csv/read-csv.js';
import { problem } from './messages.js';
import { codePointName, plainText } from './quote.js';

/** The words one piece bears. */
export interface Dedication {
  /** The series its number belongs to; left out where the edition has one series. */
  readonly series?: string;
  readonly number: number;
  /** One row of words, or several with `\n` between. Composed (Unicode NFC). */
  readonly text: string;
  /** The row of the list it stands in, as a spreadsheet counts them: the heading is row 1. */
  readonly line: number;
}

export type DedicationList =
  | { readonly ok: true; readonly rows: readonly Dedication[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const COLUMNS = { needed: ['number', 'text'], known: ['number', 'text', 'series'] };
const LONGEST = 200;
const MOST_ROWS = 20;
const MOST_DEDICATIONS = 100_000;
const MOST_PROBLEMS = 50;

/**
 * Reads a list of dedications: CSV in UTF-8 (RFC 4180) with the columns `number` and `text`, and `series` where the
 * edition has several. A text of several rows stands between quotes, with line ends in it. Every fault names its row.
 */
export function readDedications(bytes: Uint8Array, file: string): DedicationList {
  let rows: CsvRow[];
  try {
    rows = readCsv(file, bytes, COLUMNS);
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, problems: error.problems };
    throw error;
  }
  if (rows.length > MOST_DEDICATIONS) {
    return {
      ok: false,
      problems: [problem('documents.dedications-too-many', file, { most: MOST_DEDICATIONS })],
    };
  }
  const list = rows.map(dedicationOf);
  const problems = [
    ...list.flatMap(({ row, number, text }) => [
      ...numberFaults(`${file}: row ${row}`, number),
      ...textFaults(`${file}: row ${row}`, text),
    ]),
    ...repeatProblems(file, list),
    ...withoutSeries(file, list),
  ];
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) };
  return {
    ok: true,
    rows: list.map(({ row, number, series, text }) => ({
      ...(series ? { series } : {}),
      number: Number(number),
      text,
      line: row,
    })),
  };
}

/** A row as it is written. */
interface Written {
  readonly row: number;
  readonly series: string;
  readonly number: string;
  readonly text: string;
}

const dedicationOf = ({ row, cells: { number = '', text = '', series = '' } }: CsvRow): Written => ({
  row,
  series: series.trim(),
  number: number.trim(),
  text: text
    .normalize('NFC')
    .split(/\r\n?|\n/)
    .map(withoutEdges)
    .join('\n')
    .replace(/^\n+|\n+$/g, ''),
});

/** Without the spaces at its ends; anything else that nobody sees is left, to be refused. */
const withoutEdges = (row: string): string => row.replace(/^[\p{Zs}\t]+|[\p{Zs}\t]+$/gu, '');

const WHOLE = /^[1-9][0-9]{0,4}$/;

const numberFaults = (where: string, number: string): Problem[] =>
  WHOLE.test(number) ? [] : [problem('documents.dedication-number', where, { number: plainText(number) })];

function repeatProblems(file: string, list: readonly Written[]): Problem[] {
  const seen = new Map<string, number>();
  return list.flatMap(({ row, series, number }) => {
    if (!WHOLE.test(number)) return [];
    const key = `${number} ${series}`;
    const before = seen.get(key);
    if (before === undefined) {
      seen.set(key, row);
      return [];
    }
    return [problem('documents.dedication-twice', `${file}: row ${row}`, { number, row: before })];
  });
}

/** A row that leaves its series out could stand for a number that another row names. */
const withoutSeries = (file: string, list: readonly Written[]): Problem[] =>
  list.some((d) => d.series !== '')
    ? list
        .filter((d) => d.series === '')
        .map(({ row }) => problem('documents.dedication-no-series', `${file}: row ${row}`, {}))
    : [];

/** Text nobody sees, or that turns other text about: control characters, directions, what takes no room. */
const UNSEEN = /(?!\n)[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u;

function textFaults(where: string, text: string): Problem[] {
  if (text === '') return [problem('documents.dedication-empty', where, {})];
  const unseen = UNSEEN.exec(text)?.[0];
  if (unseen !== undefined) {
    return [problem('documents.dedication-invisible', where, { character: codePointName(unseen) })];
  }
  if ([...text].length > LONGEST) return [problem('documents.dedication-too-long', where, { most: LONGEST })];
  if (text.split('\n').length > MOST_ROWS)
    return [problem('documents.dedication-rows', where, { most: MOST_ROWS })];
  return [];
}
