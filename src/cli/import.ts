import type { Command } from 'commander';
import { openBench } from '../jobs/bench.js';
import { clashProblem, importPast } from '../jobs/import.js';
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
      const { by, dryRun } = options;
      const done = await importPast(await openBench(door.workshop), { edition, file, by, dryRun }, door.say);
      const { rows, numbers, events, already, clashes } = done;
      const would = dryRun ? 'would be ' : '';
      const lines = [
        ...clashes.map((clash) => problemLine(clashProblem(file, clash))),
        `${rows} rows: ${numbers} numbers ${would}entered (${events} events), ${already} rows there already, ${clashes.length} clash.`,
      ];
      if (numbers === 0 && clashes.length === 0) lines.push('Nothing is new.');
      door.answer(done, lines);
      if (!done.ok) door.end(1);
    });
