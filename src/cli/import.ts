import type { Command } from 'commander';
import { problemLine } from '../problem.js';
import { doorOf } from './door.js';

interface Options {
  readonly by: string;
  readonly dryRun?: boolean;
}

export const importCommand = (program: Command): Command =>
  program
    .command('import')
    .argument('<edition>')
    .argument('<file>', 'CSV: series, number, label, state; also on, by, why, part, witness, to')
    .requiredOption('--by <who>', 'who brings it in')
    .option('--dry-run', 'only say what would be entered and what stands against it')
    .description('bring an older register in, all of it or nothing')
    .action(async (edition: string, file: string, options: Options, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { clashProblem, importPast } = await import('../app/import.js');
      const { by, dryRun } = options;
      const done = await importPast(bench, { edition, file, by, dryRun }, door.say);
      const { rows, numbers, events, already, clashes } = done;
      const lines = [
        ...clashes.map((clash) => problemLine(clashProblem(file, clash))),
        `Rows: ${rows}. Numbers ${dryRun ? 'to enter' : 'entered'}: ${numbers}, by ${events} events. Rows there already: ${already}. Rows that clash: ${clashes.length}.`,
      ];
      if (numbers === 0 && clashes.length === 0) lines.push('Nothing is new.');
      door.answer(done, lines);
      if (!done.ok) door.end(1);
    });
