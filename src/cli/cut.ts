import { join } from 'node:path';
import type { Command } from 'commander';
import { formatCount } from '../sheets/readable-numbers.js';
import { contextOf } from './context.js';

interface Options {
  readonly labels?: string[];
  readonly series?: string;
  readonly numbers?: string;
  readonly parts?: string[];
  readonly station: string;
  readonly out?: string;
  readonly by?: string;
}

export const cutCommand = (program: Command): Command =>
  program
    .command('cut')
    .argument('<edition>')
    .option('--labels <label...>', 'the pieces, by label')
    .option('--series <id>', 'the pieces, by series')
    .option('--numbers <list>', 'which of the series, such as 1-5,9; all when left out')
    .option('--parts <id...>', 'which parts of each piece; all that are not done when left out')
    .requiredOption('--station <id>', 'the station they are cut on')
    .option('--out <dir>', 'where the sheets and programs go; out/<edition> in the workshop when left out')
    .option('--by <name>', 'who cuts; entered in the register')
    .description('write sheets, proved programs and the run sheet for issued numbers')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { labels, series, numbers, parts, station, by } = options;
      const out = options.out ?? join(context.workshop, 'out', edition);
      const { openWorkshop } = await import('../app/workshop.js');
      const workshop = await openWorkshop(context.workshop, context.environment);
      const { cutEdition } = await import('../app/cut.js');
      const done = await cutEdition(
        workshop,
        { edition, wanted: { labels, series, numbers }, parts, station, out, by },
        context.progress,
        (one) => context.tell('Not signed', one),
      );
      context.answer(done, [
        `${formatCount(done.pieces.length, 'piece')} in ${out}: about ${formatCount(Math.ceil(done.minutes), 'minute')} at the station.`,
        `Start with ${join(out, done.runSheet)}; check ${join(out, done.proof)}.`,
      ]);
    });
