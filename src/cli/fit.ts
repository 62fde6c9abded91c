import type { Command } from 'commander';
import { doorOf } from './door.js';

export const fitCommand = (program: Command): Command =>
  program
    .command('fit')
    .argument('<edition>')
    .description('the one size all labels of an edition share, what limits it, and proof that larger fails')
    .action(async (edition: string, _options, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { fitEdition } = await import('../app/fit.js');
      const { fitAnswer, fitLines } = await import('../app/fit-report.js');
      const found = fitEdition(bench, edition);
      door.answer(fitAnswer(found), fitLines(found));
      if (!found.ok) door.end(1);
    });
