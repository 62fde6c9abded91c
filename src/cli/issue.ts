import type { Command } from 'commander';
import { contextOf, count } from './context.js';

interface Options {
  readonly series: string;
  readonly count: number;
  readonly by: string;
  readonly why?: string;
  readonly key?: string;
}

export const issueCommand = (program: Command): Command =>
  program
    .command('issue')
    .argument('<edition>')
    .requiredOption('--series <id>', 'the series to take numbers from')
    .requiredOption('--count <n>', 'how many', count)
    .requiredOption('--by <who>', 'who answers for the issue')
    .option('--why <text>', 'what they are for')
    .option('--key <text>', 'asking again with the same key gives the same numbers')
    .description('take the next free numbers of a series and print their labels')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { issueNumbers } = await import('../app/issue.js');
      const issued = await issueNumbers(workshop, { edition, ...options }, (one) =>
        context.tell('Not signed', one),
      );
      context.answer(
        { ok: true, edition, issued },
        issued.map((n) => n.label),
      );
    });
