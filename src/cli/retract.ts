import type { Command } from 'commander';
import { contextOf } from './context.js';
import { statusLine } from './status-line.js';

interface Options {
  readonly by: string;
  readonly why: string;
  readonly instead?: string;
  readonly meant?: string;
  readonly part?: string;
  readonly to?: string;
  readonly on?: string;
  readonly witness?: string;
  readonly key?: string;
  readonly dryRun?: boolean;
}

export const retractCommand = (program: Command): Command =>
  program
    .command('retract')
    .argument('<edition>')
    .argument('<label>', 'as `burin register` lists it, or its ticket')
    .requiredOption('--by <who>', 'who takes it back')
    .requiredOption('--why <text>', 'how it came to be entered')
    .option('--instead <event>', 'the event that happened instead, recorded with it')
    .option('--meant <label>', 'the number that was meant: the same is recorded of it')
    .option('--part <id>', 'the part to which that happened')
    .option('--to <who>', 'whom it was really delivered to')
    .option('--on <day>', 'the day it really happened, such as 2031-03-01')
    .option('--witness <who>', 'a second person who confirms it, after the piece has left the maker')
    .option('--key <text>', 'asking again with the same key takes it back once')
    .option('--dry-run', 'only show what would be entered')
    .description('take back the last event of a number, which did not happen; it stays visible')
    .action(async (edition: string, label: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, why, instead, meant, part, to, on, witness, key, dryRun = false } = options;
      const order = { edition, label, by, why, instead, meant, part, to, on, witness, key, dryRun };
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { retractEvent } = await import('../app/correct.js');
      const done = await retractEvent(workshop, order, (one) => context.tell('Not signed', one));
      context.answer({ ...done, dryRun }, [
        `${done.number.label}, event ${done.retracts}, ${done.event}: ${dryRun ? 'would be' : 'is'} retracted`,
        `${done.number.label} was ${done.before.state}`,
        statusLine(done.number, dryRun),
        ...(done.instead ? [statusLine(done.instead.number, dryRun)] : []),
        ...(dryRun ? ['Nothing was entered.'] : []),
      ]);
    });
