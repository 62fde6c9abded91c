import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { contextOf } from './context.js';

export const moveCommand = (program: Command): Command =>
  program
    .command('move')
    .requiredOption('--to <url>', 'postgres://host/database; its password comes from the environment')
    .description('move the register from its file to a server, for several machines')
    .action(async ({ to }: { to: string }, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { moveRegister } = await import('../app/move.js');
      const moved = await moveRegister(workshop, to);
      context.answer({ ok: true, ...moved }, [
        `${counted(moved.events, 'event')} and ${counted(moved.checkpoints, 'checkpoint')} are at ${moved.to}, hash for hash.`,
        `${moved.from} takes no more entries and must not be used any more; keep it.`,
        'Write `register: postgres://host/database` in workshop.yaml on every machine, without the password.',
      ]);
    });
