import type { CsvCell } from '../../documents/csv/write-csv.js';
import type { RegisterEvent } from '../event.js';

/** The columns of events as a table, for people. */
export const EVENT_COLUMNS = [
  'seq',
  'at',
  'on',
  'edition',
  'series',
  'number',
  'label',
  'event',
  'part',
  'parts',
  'by',
  'witness',
  'to',
  'why',
  'key',
  'nth',
  'statement',
  'name',
  'terms',
  'leaf',
] as const;

/** The cells of one event; those it does not have are empty. */
export function eventRow(seq: number, event: RegisterEvent, leaf: Buffer): CsvCell[] {
  const { series, number, label, part, parts, witness, to, statement, name } = event as Partial<
    Record<'series' | 'label' | 'part' | 'witness' | 'to' | 'statement' | 'name', string>
  > & { number?: number; parts?: readonly string[] };
  const { at, on, edition, type, by, why, key, nth } = event;
  return [
    ...[seq, at, on, edition, series, number, label, type, part, parts?.join(' '), by, witness, to, why],
    ...[key, nth, statement, name, 'terms' in event ? JSON.stringify(event.terms) : undefined],
    leaf.toString('hex'),
  ];
}
