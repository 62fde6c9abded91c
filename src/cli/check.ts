import type { Command } from 'commander';
import { contextOf } from './context.js';

/** Remarks that a person reads at one go. */
const MOST_REMARKS = 8;

export const checkCommand = (program: Command): Command =>
  program
    .command('check')
    .description('check every document of the workshop, all errors at once')
    .action(async (_options, command: Command) => {
      const context = contextOf(command);
      const { checkWorkshop, formatCounts } = await import('../app/check.js');
      const found = await checkWorkshop(context.workshop, context.environment, context.progress);
      const { describeProblem } = await import('./describe-problem.js');
      context.answer({ ...found, remarks: found.remarks.map(describeProblem) }, [
        `Sound: ${formatCounts(found.counts)}.`,
      ]);
      for (const remark of found.remarks.slice(0, MOST_REMARKS)) await context.tell('Remark', remark);
      const more = found.remarks.length - MOST_REMARKS;
      if (more > 0) context.say(`${more} more remarks: \`burin check --json\` lists them all.`);
    });
