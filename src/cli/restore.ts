import type { Command } from 'commander';
import { doorOf } from './door.js';

export const restoreCommand = (program: Command): Command =>
  program
    .command('restore')
    .argument('<file>', 'written by `burin export --jsonl`')
    .description('take an exported register into a workshop that has none yet')
    .action(async (file: string, _options: object, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { restoreRegister } = await import('../app/restore.js');
      const done = await restoreRegister(bench, file);
      const { events, checkpoints, edition } = done;
      const what =
        edition === undefined
          ? `${checkpoints} checkpoints`
          : `of edition ${edition} alone: its log is a new one`;
      door.answer({ ok: true, ...done }, [`${events} events taken over, ${what}.`]);
    });
