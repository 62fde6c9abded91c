import type { Command } from 'commander';
import { problemLine } from '../problem.js';
import { contextOf } from './context.js';

interface Options {
  readonly by: string;
  readonly dryRun?: boolean;
}

export const importCommand = (program: Command): Command =>
  program
    .command('import')
    .argument('<edition>')
    .argument('<file>', 'CSV: series, number, label, state; also on, by, why, part, witness, to')
    .requiredOption('--by <who>', 'who imports it')
    .option('--dry-run', 'only say what would be entered and what is wrong')
    .description('import an older register, all of it or nothing')
    .action(async (edition: string, file: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { openWorkshop } = await import('../app/workshop.js');
      const workshop = await openWorkshop(context.workshop, context.environment);
      const { importPast } = await import('../app/import.js');
      const { by, dryRun } = options;
      const done = await importPast(workshop, { edition, file, by, dryRun }, context.say);
      const { rows, numbers, events, already, wrong } = done;
      const lines = [
        ...wrong.flatMap(({ problems }) => problems.map(problemLine)),
        `Rows: ${rows}. Numbers ${dryRun ? 'to enter' : 'entered'}: ${numbers}, by ${events} ${events === 1 ? 'event' : 'events'}. Rows there already: ${already}. Wrong rows: ${wrong.length}.`,
      ];
      if (numbers === 0 && wrong.length === 0) lines.push('Nothing is new.');
      context.answer(done, lines);
      if (!done.ok) context.end(1);
    });
