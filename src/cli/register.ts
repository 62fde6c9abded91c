import type { Command } from 'commander';
import type { ListedEvent, ListedNumber, NumberFilter, NumberLife } from '../app/register.js';
import { contextOf } from './context.js';
import { refuse } from './messages.js';
import { partsLine } from './status-line.js';

interface Options extends NumberFilter {
  readonly csv?: boolean;
}

export const registerCommand = (program: Command): Command =>
  program
    .command('register')
    .argument('<edition>')
    .argument('[label]', 'a label or ticket, for the events of that one number')
    .option('--state <state>', 'only numbers in this state')
    .option('--to <who>', 'only numbers that were delivered to this buyer, in any spelling')
    .option(
      '--search <text>',
      'only numbers with this text in a label, a name or a reason, or with a certificate of this digest',
    )
    .option('--csv', 'as CSV')
    .description('the state of every number of an edition, or the events of one')
    .action(async (edition: string, label: string | undefined, options: Options, command: Command) => {
      const context = contextOf(command);
      const { csv, state, to, search } = options;
      const filtered = [csv, state, to, search].some((one) => one !== undefined);
      if (label !== undefined && filtered) throw refuse('cli.one-number-or-list', 'burin register', {});
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { lifeOf, registerOf } = await import('../app/register.js');
      if (label !== undefined) {
        const life = await lifeOf(workshop, edition, label);
        context.answer({ ok: true, edition, ...life }, lifeLines(life));
        return;
      }
      const rows = await registerOf(workshop, edition, { state, to, search });
      const linesOf = csv
        ? await csvLines(to !== undefined)
        : (some: readonly ListedNumber[]) => some.flatMap(textLines);
      await context.answerList({ ok: true, edition }, 'numbers', rows, linesOf);
    });

/** Gives the rows of some numbers, the first time under the names of their columns. */
async function csvLines(withBuyers: boolean): Promise<(some: readonly ListedNumber[]) => string[]> {
  const { formatCsv } = await import('../documents/csv/write-csv.js');
  const columns = withBuyers ? [...COLUMNS, ...BUYER_COLUMNS] : COLUMNS;
  let begun = false;
  return (some) => {
    const rows = withBuyers ? some.flatMap(buyerCells) : some.map(cellsOf);
    if (!begun) rows.unshift(columns);
    begun = true;
    return rows.length > 0 ? formatCsv(rows).split('\n') : [];
  };
}

const COLUMNS = ['series', 'number', 'label', 'state', 'since', 'pieces', 'parts', 'ticket'];

const cellsOf = (row: ListedNumber): (string | number | undefined)[] => [
  ...[row.series, row.number, row.label, row.state, row.since, row.pieces],
  ...[partsLine(row), row.ticket],
];

const BUYER_COLUMNS = ['to', 'buyer', 'event'];

const buyerCells = (row: ListedNumber) =>
  row.buyers!.map(({ to, holds, seq }) => [...cellsOf(row), to, holds, seq]);

function textLines(row: ListedNumber): string[] {
  const second = row.pieces > 1 ? ` piece ${row.pieces}` : '';
  const parts = partsLine(row);
  const line = `${row.label.padEnd(16)} ${row.series.padEnd(12)} ${row.state.padEnd(9)}${second}`;
  return [
    (parts === '' ? line : `${line} ${parts}`).trimEnd(),
    ...(row.buyers ?? []).map(({ to, holds, seq }) => `  event ${seq}, ${holds}: ${to}`),
    ...(row.found ?? []).map(({ seq, member, text }) => `  event ${seq}, ${member}: ${text}`),
  ];
}

function lifeLines({ number, events }: NumberLife): string[] {
  const { label, series, ticket, state, since, pieces } = number;
  const head = [
    `${label}: number ${number.number} of series ${series}, ticket ${ticket}`,
    ...[`${state}${since ? ` since ${since.slice(0, 10)}` : ''}`, pieces > 1 ? `piece ${pieces}` : ''],
    partsLine(number),
  ];
  const width = Math.max(...events.map(({ seq }) => String(seq).length), 1);
  return [head.filter(Boolean).join('; '), ...events.map((event) => eventLine(event, width))];
}

function eventLine(listed: ListedEvent, width: number): string {
  const { seq, at, by, why, type, correctedBy, retractedBy } = listed;
  const event: Readonly<Record<string, unknown>> = listed;
  const { part, parts, to, day, witness, on, corrects, station, serial, digest } = event;
  const phrases = [
    type,
    part,
    Array.isArray(parts) && `for ${parts.join(', ')}`,
    corrects !== undefined && `event ${corrects}`,
    to !== undefined && `to ${to}`,
    day !== undefined && `on ${day}`,
    station !== undefined && `on ${station}`,
    serial !== undefined && `number ${serial}`,
    digest !== undefined && `digest ${digest}`,
    on !== undefined && `(on ${on})`,
    witness !== undefined && `${corrects === undefined ? 'before' : 'confirmed by'} ${witness}`,
  ];
  const marks = [
    ...correctedBy.map((place) => ` [corrected by event ${place}]`),
    retractedBy === undefined ? '' : ` [retracted by event ${retractedBy}]`,
  ];
  const place = String(seq).padStart(width);
  const when = at.slice(0, 16).replace('T', ' ');
  return `${place}  ${when}  ${phrases.filter(Boolean).join(' ')}; by ${by}: ${why}${marks.join('')}`;
}
