import type { Command } from 'commander';
import { doorOf } from './door.js';

export const backupCommand = (program: Command): Command =>
  program
    .command('backup')
    .argument('<file>', 'a new file, best on another disk')
    .description('copy the register into one file while benches go on')
    .action(async (file: string, _options: object, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { backUpRegister } = await import('../app/backup.js');
      const copied = await backUpRegister(bench, file);
      door.answer({ ok: true, ...copied }, [
        `${copied.file} holds the register: ${copied.events} events when the copy began`,
      ]);
    });
