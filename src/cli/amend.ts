import type { Command } from 'commander';
import { contextOf } from './context.js';

interface Options {
  readonly by: string;
  readonly why: string;
  readonly dryRun?: boolean;
}

export const amendCommand = (program: Command): Command =>
  program
    .command('amend')
    .argument('<edition>')
    .requiredOption('--by <who>', 'who amends')
    .requiredOption('--why <text>', 'the reason, which the statement of edition shows')
    .option('--dry-run', 'only show what would change')
    .description('enter a change of the terms of an edition that is meant, as its documents now have them')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { amendTerms } = await import('../app/amend.js');
      const { by, why, dryRun = false } = options;
      const changes = await amendTerms(workshop, { edition, by, why, dryRun }, (one) =>
        context.tell('Not signed', one),
      );
      context.answer({ ok: true, edition, dryRun, changes }, [
        ...changes.map(({ what, before, now }) => `${what}: ${now}, before: ${before}`),
        dryRun ? 'Nothing was entered.' : `Entered as the terms of edition ${edition} from now on.`,
      ]);
    });
