import type { Command } from 'commander';
import { contextOf } from './context.js';

export const fitCommand = (program: Command): Command =>
  program
    .command('fit')
    .argument('<edition>')
    .description('the one size all labels of an edition share, what limits it, and proof that larger fails')
    .action(async (edition: string, _options, command: Command) => {
      const context = contextOf(command);
      const { openWorkshop } = await import('../app/workshop.js');
      const workshop = await openWorkshop(context.workshop, context.environment);
      const { fitEdition } = await import('../app/fit.js');
      const { fitAnswer, fitLines } = await import('../app/fit-report.js');
      const found = fitEdition(workshop, edition, undefined, context.progress);
      context.answer(fitAnswer(found), fitLines(found));
      if (!found.ok) context.end(1);
    });
