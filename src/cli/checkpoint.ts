import type { Command } from 'commander';
import { contextOf } from './context.js';

export const checkpointCommand = (program: Command): Command =>
  program
    .command('checkpoint')
    .option('--out <file>', 'write it to a file as well, to give away or publish')
    .description('sign the log of the register as it stands, and print the signed note')
    .action(async ({ out }: { out?: string }, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { checkpointOf } = await import('../app/checkpoint.js');
      const { origin, size, root, note, made } = await checkpointOf(workshop, out);
      context.answer(
        { ok: true, origin, size, root: root.toString('base64'), made, note },
        note.split('\n').slice(0, -1),
      );
    });
