import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { contextOf } from './context.js';

export const backupCommand = (program: Command): Command =>
  program
    .command('backup')
    .argument('<file>', 'a new file, best on another disk')
    .description('copy the register into one file, while others go on working')
    .action(async (file: string, _options: object, command: Command) => {
      const context = contextOf(command);
      const { findRegister } = await import('../app/kept-register.js');
      const kept = await findRegister(context.workshop, context.environment);
      const { backUpRegister } = await import('../app/backup.js');
      const copied = await backUpRegister(kept, file);
      context.answer({ ok: true, ...copied }, [
        `${copied.file} holds the register: ${counted(copied.events, 'event')} when the copy began`,
      ]);
    });
