import type { Command } from 'commander';
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
    .option('--dry-run', 'only show what would be entered and what is wrong')
    .description('import an older register, all of it or nothing')
    .action(async (edition: string, file: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { importPast } = await import('../app/import.js');
      const { by, dryRun } = options;
      const done = await importPast(
        workshop,
        { edition, file, by, dryRun },
        (one) => context.tell('Not signed', one),
        context.progress,
      );
      const { rows, numbers, events, already, wrong } = done;
      const { describeProblem, toUserLine } = await import('./describe-problem.js');
      const lines = [
        ...wrong.flatMap(({ problems }) => problems.map(toUserLine)),
        `Rows: ${rows}. Numbers ${dryRun ? 'to enter' : 'entered'}: ${numbers}, by ${events} ${events === 1 ? 'event' : 'events'}. Rows there already: ${already}. Wrong rows: ${wrong.length}.`,
      ];
      if (numbers === 0 && wrong.length === 0) lines.push('Nothing is new.');
      const rowsWrong = wrong.map((row) => ({ ...row, problems: row.problems.map(describeProblem) }));
      context.answer({ ...done, wrong: rowsWrong }, lines);
      if (!done.ok) context.end(1);
    });
