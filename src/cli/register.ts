import type { Command } from 'commander';
import { openBench } from '../jobs/bench.js';
import { registerOf } from '../jobs/register.js';
import { doorOf } from './door.js';

export const registerCommand = (program: Command): Command =>
  program
    .command('register')
    .argument('<edition>')
    .option('--csv', 'as CSV')
    .description('the state of every number of an edition')
    .action(async (edition: string, options: { csv?: boolean }, command: Command) => {
      const door = doorOf(command);
      const rows = await registerOf(await openBench(door.workshop), edition);
      const lines = options.csv
        ? [
            'series,number,label,state',
            ...rows.map((r) => [r.series, r.number, cell(r.label), r.state].join(',')),
          ]
        : rows.map((r) => `${r.label.padEnd(16)} ${r.series.padEnd(12)} ${r.state}`);
      door.answer({ ok: true, edition, numbers: rows }, lines);
    });

/** A CSV cell that no spreadsheet takes for a formula. */
function cell(text: string): string {
  const inert = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\n\r]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
