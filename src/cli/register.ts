import type { Command } from 'commander';
import type { NumberState } from '../app/register.js';
import { contextOf } from './context.js';
import { partsLine } from './status-line.js';

export const registerCommand = (program: Command): Command =>
  program
    .command('register')
    .argument('<edition>')
    .option('--csv', 'as CSV')
    .description('the state of every number of an edition')
    .action(async (edition: string, options: { csv?: boolean }, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { registerOf } = await import('../app/register.js');
      const rows = await registerOf(workshop, edition);
      const lines = options.csv ? [await csvOf(rows)] : rows.map(textLine);
      context.answer({ ok: true, edition, numbers: rows }, lines);
    });

async function csvOf(rows: readonly NumberState[]): Promise<string> {
  const { formatCsv } = await import('../documents/csv/write.js');
  return formatCsv([COLUMNS, ...rows.map(cellsOf)]);
}

const COLUMNS = ['series', 'number', 'label', 'state', 'since', 'pieces', 'parts', 'ticket'];

const cellsOf = (row: NumberState): (string | number | undefined)[] => [
  ...[row.series, row.number, row.label, row.state, row.since, row.pieces],
  ...[partsLine(row), row.ticket],
];

const textLine = (row: NumberState): string => {
  const second = row.pieces > 1 ? `piece ${row.pieces}` : '';
  return [row.label.padEnd(16), row.series.padEnd(12), row.state.padEnd(9), second, partsLine(row)]
    .filter(Boolean)
    .join(' ')
    .trimEnd();
};
