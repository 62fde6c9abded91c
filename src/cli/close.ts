import type { Command } from 'commander';
import { contextOf } from './context.js';

interface Options {
  readonly by?: string;
  readonly rewrite?: boolean;
  readonly why?: string;
  readonly out?: string;
  readonly leaveOpen?: boolean;
  readonly dryRun?: boolean;
}

export const closeCommand = (program: Command): Command =>
  program
    .command('close')
    .argument('<edition>')
    .option('--by <who>', 'who closes it')
    .option('--why <text>', 'the reason')
    .option('--out <file>', 'where the statement goes; out/<edition>/statement-of-edition when left out')
    .option('--leave-open', 'close it although numbers are not issued, withheld, lost or not finished')
    .option('--dry-run', 'only say what is still open')
    .option('--rewrite', 'of a closed edition: write its statement again from the register')
    .description('close an edition: its statement is written, and nothing is issued after')
    .action(async (edition: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, why, out, leaveOpen } = options;
      if (options.rewrite) {
        const { findRegister } = await import('../app/kept-register.js');
        const kept = await findRegister(context.workshop, context.environment);
        const { rewriteStatement } = await import('../app/close.js');
        const done = await rewriteStatement(kept, context.workshop, { edition, out });
        context.answer(done, [`Written: ${done.text} and ${done.json}.`]);
        return;
      }
      if (by === undefined) {
        const { personMissing } = await import('../app/close.js');
        throw personMissing(edition);
      }
      const order = { edition, by, why, out, leaveOpen };
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { checkClosing, closeEdition } = await import('../app/close.js');
      if (options.dryRun) {
        const { describeProblem, toUserLine } = await import('./describe-problem.js');
        const check = await checkClosing(workshop, order);
        context.answer({ ...check, open: check.open.map(describeProblem) }, [
          ...check.open.map(toUserLine),
          ...(check.open.length === 0 ? ['Nothing is open.'] : []),
          'Nothing was entered.',
        ]);
        if (!check.ok) context.end(1);
        return;
      }
      const done = await closeEdition(
        workshop,
        order,
        (one) => context.tell('Not signed', one),
        context.progress,
      );
      for (const remark of done.statement.remarks) context.say(`Remark: ${remark}`);
      for (const remark of done.remarks) await context.tell('Remark', remark);
      const { describeProblem } = await import('./describe-problem.js');
      context.answer({ ...done, remarks: done.remarks.map(describeProblem) }, [
        `Edition ${edition} is closed. Print ${done.text}; keep ${done.json} with it.`,
      ]);
    });
