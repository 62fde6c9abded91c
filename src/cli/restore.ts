import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { contextOf } from './context.js';

interface Options {
  readonly key?: string[];
  readonly by?: string;
  readonly why?: string;
  readonly dryRun?: boolean;
}

const collect = (file: string, before: string[] = []): string[] => [...before, file];

export const restoreCommand = (program: Command): Command =>
  program
    .command('restore')
    .argument('[papers...]', 'exports (`burin export --jsonl`), certificates, checkpoints, run sheets')
    .option(
      '--key <file>',
      "the maker's public key or history of keys, once for each; that of this machine when left out",
      collect,
    )
    .option('--by <who>', 'who takes responsibility for going on after a loss')
    .option('--why <text>', 'what happened')
    .option('--dry-run', 'only show what would be entered')
    .description('restore a register from an export, or after a loss from what papers prove')
    .action(async (files: string[], options: Options, command: Command) => {
      const context = contextOf(command);
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { restoreRegister } = await import('../app/restore.js');
      const { key: keys, ...rest } = options;
      const done = await restoreRegister(workshop, { files, ...(keys && { keys }), ...rest });
      const { describeProblem, toUserLine } = await import('./describe-problem.js');
      const { edition, recovered, twice, missing, remarks } = done;
      const what =
        edition === undefined
          ? counted(done.checkpoints, 'checkpoint')
          : `of edition ${edition} alone: its log is a new one`;
      const numbers = recovered.map(({ label, events }) => `${label} (${events.join(', ')})`).join('; ');
      const lines = done.complete
        ? [
            `Nothing is missing: the register has ${counted(done.events, 'event')}, and all that is known of. Nothing was entered.`,
          ]
        : [
            `${options.dryRun ? 'Would restore' : 'Restored'}: ${counted(done.restored, 'event')} word for word. The register has ${counted(done.events, 'event')}, ${what}.`,
            ...(recovered.length > 0 ? [`Entered from papers: ${numbers}.`] : []),
            ...(missing > 0 ? [`Nobody accounts for ${counted(missing, 'event')}.`] : []),
            ...twice.map(({ label }) => `${label} was given out twice: recall the pieces.`),
            ...remarks.map(toUserLine),
            ...(done.keyEnded ? ['The log of the key ends here. `burin key new` makes the next one.'] : []),
          ];
      context.answer({ ...done, remarks: remarks.map(describeProblem) }, lines);
      if (!done.ok) context.end(1);
    });
