import type { Command } from 'commander';
import type { ResumeResult } from '../register/register.js';
import { contextOf } from './context.js';
import { wholeNumber } from './whole-number.js';

interface Options {
  readonly by: string;
  readonly witness: string;
  readonly why: string;
  readonly checkpoint?: number;
  readonly key?: string;
  readonly dryRun?: boolean;
}

export const resumeCommand = (program: Command): Command =>
  program
    .command('resume')
    .argument(
      '[event]',
      'the place of the bad entry in the sequence, as `burin audit` names it',
      wholeNumber('Give the number of an event.'),
    )
    .option(
      '--checkpoint <size>',
      'in its place: a bad checkpoint that is kept beside the events',
      wholeNumber('Give a number of events.'),
    )
    .requiredOption('--by <who>', 'who goes on past it')
    .requiredOption('--witness <who>', 'a second person who confirms it')
    .requiredOption('--why <text>', 'how it came to be there')
    .option('--key <file>', "the maker's public key or history of keys, where this machine has none")
    .option('--dry-run', 'only show what would be entered')
    .description(
      'go on past an entry that stops the register: unreadable, against the rules, or ahead of the clock',
    )
    .action(async (entry: number | undefined, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, witness, why, checkpoint, key, dryRun = false } = options;
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { resumeRegister } = await import('../app/resume.js');
      const order = { entry, checkpoint, by, witness, why, key, dryRun };
      const done = await resumeRegister(workshop, order, (one) => context.tell('Not signed', one));
      const { describeProblem } = await import('./describe-problem.js');
      const { message } = done.reason ? describeProblem(done.reason) : { message: '' };
      const what = entry === undefined ? `The kept checkpoint of ${checkpoint} events` : `Event ${entry}`;
      context.answer({ ok: true, entry, checkpoint, dryRun, ...done, ...(message && { reason: message }) }, [
        `${what}: ${message}`,
        ...linesOf(done, what, dryRun),
        ...(dryRun ? ['Nothing was entered.'] : []),
      ]);
    });

function linesOf({ seq, at, fault, withheld }: ResumeResult, what: string, dryRun: boolean): string[] {
  const outcome =
    fault === 'time'
      ? 'stands, and times begin anew'
      : fault === 'checkpoint'
        ? 'is passed over'
        : 'is passed over';
  const numbers = withheld.map(
    ({ edition, label }) =>
      `${label} of ${edition} ${dryRun ? 'would be' : 'is'} withheld: the entry may be about it. Find out what happened to it.`,
  );
  return [`${what} ${outcome}, by event ${seq} at ${at}.`, ...numbers];
}
