import { join } from 'node:path';
import type { Command } from 'commander';
import { doorOf } from './door.js';

interface Options {
  readonly labels?: string[];
  readonly series?: string;
  readonly numbers?: string;
  readonly station: string;
  readonly out?: string;
}

export const cutCommand = (program: Command): Command =>
  program
    .command('cut')
    .argument('<edition>')
    .option('--labels <label...>', 'the pieces, by label')
    .option('--series <id>', 'the pieces, by series')
    .option('--numbers <list>', 'which of the series, such as 1-5,9; all when left out')
    .requiredOption('--station <id>', 'the station they are cut on')
    .option('--out <dir>', 'where the sheets and programs go; out/<edition> in the workshop when left out')
    .description('write sheets, proved programs and the run sheet for issued numbers')
    .action(async (edition: string, options: Options, command: Command) => {
      const door = doorOf(command);
      const { labels, series, numbers, station } = options;
      const out = options.out ?? join(door.workshop, 'out', edition);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { cutEdition } = await import('../app/cut.js');
      const done = await cutEdition(bench, { edition, wanted: { labels, series, numbers }, station, out });
      door.answer(done, [
        `${done.pieces.length} pieces in ${out}: about ${Math.ceil(done.minutes)} minutes at the station.`,
        `Start with ${join(out, done.runSheet)}; check ${join(out, done.proof)}.`,
      ]);
    });
