import type { Command } from 'commander';
import type { EventFacts } from '../app/correct.js';
import { contextOf } from './context.js';
import { wholeNumber } from './whole-number.js';

interface Options {
  readonly by: string;
  readonly why: string;
  readonly to?: string;
  readonly on?: string;
  readonly event?: number;
  readonly witness?: string;
  readonly key?: string;
  readonly dryRun?: boolean;
}

export const correctCommand = (program: Command): Command =>
  program
    .command('correct')
    .argument('<edition>')
    .argument('<label>', 'as `burin register` lists it, or its ticket')
    .requiredOption('--by <who>', 'who corrects it')
    .requiredOption('--why <text>', 'how it came to be wrong')
    .option('--to <who>', 'the right buyer')
    .option('--on <day>', 'the right day, such as 2031-03-01')
    .option(
      '--event <n>',
      'the event that was wrong, by its number in `burin register EDITION LABEL`; when left out, the last delivery, or the last event where only a day is given',
      wholeNumber('Give the number of an event.'),
    )
    .option('--witness <who>', 'a second person who confirms it, after the piece has left the maker')
    .option('--key <text>', 'asking again with the same key corrects it once')
    .option('--dry-run', 'only show what would be entered')
    .description('correct a wrong buyer or day; the wrong one stays visible')
    .action(async (edition: string, label: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, why, to, on: day, event, witness, key, dryRun = false } = options;
      const order = { edition, label, by, why, to, day, event, witness, key, dryRun };
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { correctEvent } = await import('../app/correct.js');
      const done = await correctEvent(workshop, order, (one) => context.tell('Not signed', one));
      context.answer({ ...done, dryRun }, [
        `${done.number.label}, event ${done.corrects}, ${done.event}: ${factsLine(done.before)} ${dryRun ? 'would become' : 'is corrected:'} ${factsLine(done.after)}`,
        ...(dryRun ? ['Nothing was entered.'] : []),
      ]);
    });

/** A moment is cut to its day. */
const factsLine = ({ to, on }: EventFacts): string =>
  `${to === undefined ? '' : `to ${to}, `}on ${on.slice(0, 10)}`;
