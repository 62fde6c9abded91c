import type { Command } from 'commander';
import { contextOf } from './context.js';

export const withdrawalsCommand = (program: Command): Command =>
  program
    .command('withdrawals')
    .option('--out <file>', 'write it to a file as well, to publish')
    .description('sign the list of the certificates that are withdrawn by now, and print it')
    .action(async ({ out }: { out?: string }, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { listWithdrawals } = await import('../app/withdrawals.js');
      const { note, ...done } = await listWithdrawals(workshop, out);
      context.answer({ ok: true, ...done, note }, note.split('\n').slice(0, -1));
    });
