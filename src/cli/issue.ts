import type { Command } from 'commander';
import { contextOf, count } from './context.js';

interface Options {
  readonly series?: string;
  readonly count?: number;
  readonly labels?: string[];
  readonly by: string;
  readonly why?: string;
  readonly key?: string;
}

export const issueCommand = (program: Command): Command =>
  program
    .command('issue')
    .argument('<edition>')
    .option('--series <id>', 'the series to take numbers from')
    .option('--count <n>', 'how many', count)
    .option(
      '--labels <label...>',
      'chosen numbers, or ranges such as 12/90..20/90, in place of the next free ones',
    )
    .requiredOption('--by <who>', 'who issues them')
    .option('--why <text>', 'what they are for; needed for chosen numbers')
    .option('--key <text>', 'asking again with the same key gives the same numbers')
    .description('take the next free numbers of a series, or chosen ones, and print their labels')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { issueNumbers } = await import('../app/issue.js');
      const issued = await issueNumbers(workshop, { edition, ...options }, (one) =>
        context.tell('Not signed', one),
      );
      for (const { label, reserved } of issued)
        if (reserved !== undefined) context.say(`${label} was withheld (${reserved}) and is released.`);
      context.answer(
        { ok: true, edition, issued },
        issued.map((n) => n.label),
      );
    });
