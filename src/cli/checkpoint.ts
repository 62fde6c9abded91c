import type { Command } from 'commander';
import { doorOf } from './door.js';

export const checkpointCommand = (program: Command): Command =>
  program
    .command('checkpoint')
    .option('--out <file>', 'write it to a file as well, to give away or publish')
    .description('sign the log of the register as it stands, and print the signed note')
    .action(async ({ out }: { out?: string }, command: Command) => {
      const door = doorOf(command);
      const { openBench } = await import('../app/bench.js');
      const bench = await openBench(door.workshop);
      const { checkpointOf } = await import('../app/checkpoint.js');
      const { origin, size, root, note, made } = await checkpointOf(bench, out);
      door.answer(
        { ok: true, origin, size, root: root.toString('base64'), made, note },
        note.split('\n').slice(0, -1),
      );
    });
