import type { Command } from 'commander';
import { contextOf } from './context.js';

interface Options {
  readonly by: string;
  readonly why?: string;
  readonly out?: string;
}

export const closeCommand = (program: Command): Command =>
  program
    .command('close')
    .argument('<edition>')
    .requiredOption('--by <who>', 'who closes it')
    .option('--why <text>', 'the reason')
    .option('--out <file>', 'where the statement goes; out/<edition>/statement-of-edition when left out')
    .description('close an edition: its statement is written, and nothing is issued after')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, why, out } = options;
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { closeEdition } = await import('../app/close.js');
      const done = await closeEdition(
        workshop,
        { edition, by, why, out },
        (one) => context.tell('Not signed', one),
        context.progress,
      );
      for (const remark of done.statement.remarks) context.say(`Remark: ${remark}`);
      for (const remark of done.remarks) await context.tell('Remark', remark);
      const { describeProblem } = await import('./describe-problem.js');
      context.answer({ ...done, remarks: done.remarks.map(describeProblem) }, [
        `Edition ${edition} is closed. Print ${done.text}; keep ${done.json} with it.`,
      ]);
    });
