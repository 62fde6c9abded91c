import type { Command } from 'commander';
import { problemLine } from '../problem.js';
import { contextOf } from './context.js';

export const checkCommand = (program: Command): Command =>
  program
    .command('check')
    .description('check every document of the workshop, all errors at once')
    .action(async (_options, command: Command) => {
      const context = contextOf(command);
      const { checkWorkshop, counted } = await import('../app/check.js');
      const found = await checkWorkshop(context.workshop, context.environment);
      for (const remark of found.remarks) context.say(`remark: ${problemLine(remark)}`);
      context.answer(found, [`Sound: ${counted(found.counts)}.`]);
    });
