import type { Command } from 'commander';
import { contextOf } from './context.js';

export const newCommand = (program: Command): Command =>
  program
    .command('new')
    .argument('<dir>')
    .option('--from <template>', 'the template to start from', 'first-bench')
    .description('make a workshop folder to start from')
    .action(async (dir: string, options: { from: string }, command: Command) => {
      const context = contextOf(command);
      const { newWorkshop } = await import('../app/workshop-folder.js');
      await newWorkshop(dir, options.from);
      context.answer({ ok: true, dir, template: options.from }, [
        `${dir} is a workshop. Next: burin check --workshop ${dir}`,
      ]);
    });
