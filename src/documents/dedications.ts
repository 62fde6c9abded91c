import { type Problem, problem, Refusal } from '../problem.js';
import { type CsvRow, readCsv } from './csv.js';
import { quoted } from './quote.js';

/** The words one piece bears. */
export interface Dedication {
  /** The series its number belongs to; left out where the edition has one series. */
  readonly series?: string;
  readonly number: number;
  /** One row of words, or several with `\n` between. Composed (Unicode NFC). */
  readonly text: string;
  /** The line of the list it stands in. */
  readonly line: number;
}

export type DedicationList =
  | { readonly ok: true; readonly rows: readonly Dedication[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const COLUMNS = { needed: ['number', 'text'], known: ['number', 'text', 'series'] };
const LONGEST = 200;
const MOST_ROWS = 20;
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
  const problems: Problem[] = [];
  const seen = new Map<string, number>();
  const list = rows.map(({ row, cells }): Dedication => {
    const where = `${file}: row ${row}`;
    const { number = '', text = '', series } = cells;
    if (!/^[1-9][0-9]{0,4}$/.test(number.trim()))
      problems.push(
        problem(where, `${quoted(number)} is not a number of a piece.`, 'Give a whole number from 1.'),
      );
    const words = text.normalize('NFC').replace(/\r\n?/g, '\n').trim();
    problems.push(...textFaults(where, words));
    const key = `${series?.trim() ?? ''} ${Number(number)}`;
    const before = seen.get(key);
    if (before !== undefined)
      problems.push(
        problem(where, `Number ${number.trim()} stands in row ${before} already.`, 'Keep one of them.'),
      );
    seen.set(key, row);
    const named = series?.trim() ? { series: series.trim() } : {};
    return { ...named, number: Number(number), text: words, line: row };
  });
  return problems.length > 0
    ? { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
    : { ok: true, rows: list };
}

/** Text nobody sees, or that turns other text about: control characters, directions, what takes no room. */
const UNSEEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/u;

function textFaults(where: string, text: string): Problem[] {
  if (text === '') return [problem(where, 'It has no words.', 'Give them, or take the row out.')];
  const unseen = UNSEEN.exec(text)?.[0];
  if (unseen !== undefined) {
    const code = unseen.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0');
    return [problem(where, `It holds U+${code}, which nobody sees.`, 'Type the words again.')];
  }
  if ([...text].length > LONGEST)
    return [problem(where, `It is longer than ${LONGEST} characters.`, 'Shorten it.')];
  if (text.split('\n').length > MOST_ROWS)
    return [problem(where, `It has more than ${MOST_ROWS} rows.`, 'Shorten it.')];
  return [];
}
