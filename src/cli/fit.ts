import type { Command } from 'commander';
import { openBench } from '../jobs/bench.js';
import { fitEdition } from '../jobs/fit.js';
import { fitAnswer, fitLines } from '../jobs/fit-report.js';
import { doorOf } from './door.js';

export const fitCommand = (program: Command): Command =>
  program
    .command('fit')
    .argument('<edition>')
    .description('the one size all labels of an edition share, what limits it, and proof that larger fails')
    .action(async (edition: string, _options, command: Command) => {
      const door = doorOf(command);
      const found = fitEdition(await openBench(door.workshop), edition);
      door.answer(fitAnswer(found), fitLines(found));
      if (!found.ok) door.end(1);
    });
