import type { Command } from 'commander';
import { contextOf } from './context.js';

export const unrollCommand = (program: Command): Command =>
  program
    .command('unroll')
    .argument('<part>', 'a part of the workshop')
    .requiredOption('--surface <id>', 'the surface of the part')
    .option('--inverse', 'from the sheet back to the surface: x,y to z,angle')
    .description('unroll points of a surface: CSV z,angle on stdin to CSV x,y on stdout (mm, degrees)')
    .action(async (part: string, options: { surface: string; inverse?: boolean }, command: Command) => {
      const context = contextOf(command);
      const way = options.inverse ? 'inverse' : 'forward';
      const { unroll } = await import('../app/unroll.js');
      const { columns, rows, lines } = await unroll(
        context.workshop,
        context.environment,
        part,
        options.surface,
        way,
        await context.input(),
      );
      context.answer({ ok: true, columns, rows }, lines);
    });
