import type { CsvRow } from '../../documents/csv/read-csv.js';
import type { Problem } from '../../problem.js';
import { dateProblems, textProblems } from './cells.js';
import { whereOfRow } from './row.js';

/** A list of what happened: the columns that an older register has too, of one event each. */
export const EVENT_LIST_COLUMNS = {
  needed: ['label'],
  known: ['label', 'event', 'on', 'why', 'part', 'witness', 'to'],
};

/** A row: a label, and what happened; what it leaves empty is left out. */
export interface ListedEvent {
  /** The row, for messages. */
  readonly where: string;
  readonly label: string;
  readonly occurrence: Readonly<Record<string, string>>;
  /** Everything that is wrong with its cells by themselves. */
  readonly problems: readonly Problem[];
}

export function readListedEvent({ row, cells }: CsvRow, file: string, now: Date): ListedEvent {
  const where = whereOfRow(file, row);
  const cell = (name: string): string => (cells[name] ?? '').trim();
  const given = ['event', 'on', 'why', 'part', 'witness', 'to'].filter((name) => cell(name) !== '');
  const problems = [
    ...dateProblems(cell('on'), now, where),
    ...['why', 'witness', 'to'].flatMap((column) => textProblems(column, cells[column] ?? '', where)),
  ];
  const occurrence = Object.fromEntries(given.map((name) => [name, cell(name)]));
  return { where, label: cell('label'), occurrence, problems };
}
