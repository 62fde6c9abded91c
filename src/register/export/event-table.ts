import type { CsvCell } from '../../documents/csv/write-csv.js';
import { fromLeaf } from '../event.js';
import type { RawEvent } from '../register.js';
import { readableMembers } from '../resumption/claims.js';
import type { Resumptions } from '../resumption/resumptions.js';

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
  'corrects',
  'day',
  'station',
  'digest',
  'serial',
  'fault',
  'missing',
  'passed over by',
  'leaf',
] as const;

/** The cells of one event; those it does not have are empty. Of one that is passed over, what can be read of it. */
export function eventRow({ seq, body, leaf }: RawEvent, resumptions: Resumptions): CsvCell[] {
  const passedBy = resumptions.passes(seq) ? resumptions.of(seq)?.seq : undefined;
  const event = passedBy === undefined ? fromLeaf(seq, { body, leaf }) : readableMembers(body);
  const { parts, terms, ...own } = event as Readonly<Record<string, string | number | undefined>> & {
    parts?: readonly string[];
    terms?: object;
  };
  const { at, on, edition, series, number, label, type, part, by, witness, to, why, key, nth } = own;
  return [
    ...[seq, at, on, edition, series, number, label, type, part, parts?.join(' '), by, witness, to, why],
    ...[key, nth, own.statement, own.name, terms && JSON.stringify(terms)],
    ...[own.corrects, own.day, own.station, own.digest, own.serial, own.fault, own.missing, passedBy],
    leaf.toString('hex'),
  ];
}
