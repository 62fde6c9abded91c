import type { Command } from 'commander';
import { contextOf } from './context.js';

export const rolesCommand = (program: Command): Command =>
  program
    .command('roles')
    .description('make the roles for benches, keepers and readers of a register on a server; for its owner')
    .action(async (_options: object, command: Command) => {
      const context = contextOf(command);
      const { makeRoles } = await import('../app/roles.js');
      const roles = await makeRoles(context.workshop, context.environment);
      context.answer({ ok: true, roles }, [
        `${roles.bench} reads and enters events.`,
        `${roles.keeper} also keeps signed checkpoints.`,
        `${roles.reader} only reads: enough for audit and export.`,
        'Make each user a member of one, such as: GRANT burin_bench TO moss;',
      ]);
    });
