import type { Command } from 'commander';
import { refuse } from '../app/messages.js';
import { contextOf } from './context.js';

interface Options {
  readonly seen?: string;
  readonly checkpoint?: string[];
  readonly key?: string;
  readonly witness?: string[];
  readonly csv?: boolean;
}

export const auditCommand = (program: Command): Command =>
  program
    .command('audit')
    .argument('[edition]', 'check only the rules and gaps of this one; the log is always checked as a whole')
    .option('--seen <file>', 'labels seen on the shelves, as CSV: label, place, part')
    .option('--checkpoint <file...>', 'checkpoints kept elsewhere')
    .option('--key <file>', "the maker's public key or history of keys, to check signatures")
    .option('--witness <file...>', 'the public keys of witnesses that must have cosigned those checkpoints')
    .option('--csv', 'findings as CSV')
    .description('check every event of the register, and the shelves if asked')
    .action(async (edition: string | undefined, options: Options, command: Command) => {
      const context = contextOf(command);
      const { findRegister } = await import('../app/kept-register.js');
      const kept = await findRegister(context.workshop, context.environment);
      const { auditRegister } = await import('../app/audit.js');
      const { auditAnswer, auditCsv, auditLines } = await import('../app/audit-report.js');
      const stop = new AbortController();
      const interrupt = () => stop.abort();
      process.once('SIGINT', interrupt);
      const { seen, checkpoint: checkpoints, key, witness: witnesses } = options;
      try {
        const request = {
          edition,
          seen,
          checkpoints,
          key,
          witnesses,
          progress: context.progress,
          signal: stop.signal,
        };
        const done = await auditRegister(kept, request);
        context.answer(auditAnswer(done), options.csv ? auditCsv(done) : auditLines(done));
        if (!done.ok) context.end(1);
      } catch (error) {
        if (stop.signal.aborted) throw refuse('audit.called-off', 'audit', {});
        throw error;
      } finally {
        process.off('SIGINT', interrupt);
      }
    });
