import type { Command } from 'commander';
import { doorOf } from './door.js';

export const moveCommand = (program: Command): Command =>
  program
    .command('move')
    .requiredOption('--to <url>', 'postgres://host/database; its password comes from the environment')
    .description('move the register from its file to a server, for several machines')
    .action(async ({ to }: { to: string }, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { moveRegister } = await import('../app/move.js');
      const moved = await moveRegister(bench, to);
      door.answer({ ok: true, ...moved }, [
        `${moved.events} events and ${moved.checkpoints} checkpoints are at ${moved.to}, hash for hash.`,
        `${moved.from} takes no more entries and must not be used any more; keep it.`,
        'Write `register: postgres://host/database` in workshop.yaml on every machine, without the password.',
      ]);
    });
