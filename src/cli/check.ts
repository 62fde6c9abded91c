import type { Command } from 'commander';
import { problemLine } from '../problem.js';
import { doorOf } from './door.js';

export const checkCommand = (program: Command): Command =>
  program
    .command('check')
    .description('check every document of the workshop, all errors at once')
    .action(async (_options, command: Command) => {
      const door = doorOf(command);
      const { checkWorkshop, counted } = await import('../app/check.js');
      const found = await checkWorkshop(door.workshop);
      for (const remark of found.remarks) door.say(`remark: ${problemLine(remark)}`);
      door.answer(found, [`Sound: ${counted(found.counts)}.`]);
    });
