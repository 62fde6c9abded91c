import type { Command } from 'commander';
import { count, doorOf } from './door.js';

interface Options {
  readonly series: string;
  readonly count: number;
  readonly by: string;
  readonly why?: string;
  readonly key?: string;
}

export const issueCommand = (program: Command): Command =>
  program
    .command('issue')
    .argument('<edition>')
    .requiredOption('--series <id>', 'the series to take numbers from')
    .requiredOption('--count <n>', 'how many', count)
    .requiredOption('--by <who>', 'who answers for the issue')
    .option('--why <text>', 'what they are for')
    .option('--key <text>', 'asking again with the same key gives the same numbers')
    .description('take the next free numbers of a series and print their labels')
    .action(async (edition: string, options: Options, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { issueNumbers } = await import('../app/issue.js');
      const issued = await issueNumbers(bench, { edition, ...options }, door.say);
      door.answer(
        { ok: true, edition, issued },
        issued.map((n) => n.label),
      );
    });
