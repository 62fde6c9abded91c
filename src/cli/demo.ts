import type { Command } from 'commander';
import { contextOf } from './context.js';

export const demoCommand = (program: Command): Command =>
  program
    .command('demo')
    .option('--out <dir>', 'where the sample workshop and its output go', 'out/nine-lights')
    .description('the whole job on the sample workshop: check, fit, issue, cut, read back')
    .action(async (options: { out: string }, command: Command) => {
      const context = contextOf(command);
      const { demo } = await import('../app/demo.js');
      const done = await demo(options.out, context.say);
      context.answer(done, done.summary);
    });
