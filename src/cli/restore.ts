import type { Command } from 'commander';
import { contextOf } from './context.js';

export const restoreCommand = (program: Command): Command =>
  program
    .command('restore')
    .argument('<file>', 'written by `burin export --jsonl`')
    .description('take an exported register into a workshop that has none yet')
    .action(async (file: string, _options: object, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { restoreRegister } = await import('../app/restore.js');
      const done = await restoreRegister(workshop, file);
      const { events, checkpoints, edition } = done;
      const what =
        edition === undefined
          ? `${checkpoints} checkpoints`
          : `of edition ${edition} alone: its log is a new one`;
      context.answer({ ok: true, ...done }, [`${events} events taken over, ${what}.`]);
    });
