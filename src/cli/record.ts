import type { Command } from 'commander';
import { RECORDABLE } from '../register/transitions.js';
import { contextOf } from './context.js';
import { refuse } from './messages.js';
import { statusLine } from './status-line.js';

interface Options {
  readonly list?: string;
  readonly by: string;
  readonly why?: string;
  readonly part?: string;
  readonly witness?: string;
  readonly to?: string;
  readonly on?: string;
  readonly key?: string;
  readonly dryRun?: boolean;
}

export const recordCommand = (program: Command): Command =>
  program
    .command('record')
    .usage('[options] <edition> <label...> <event>')
    .argument('<edition>')
    .argument(
      '[words...]',
      `labels or tickets as \`burin register\` lists them, or ranges such as 12/90..20/90; then the event: ${RECORDABLE.join(', ')}`,
    )
    .requiredOption('--by <who>', 'who records it')
    .option('--list <file>', 'CSV in place of labels: label; also event, on, why, part, witness, to')
    .option('--why <text>', 'the reason; needed for withheld, scrapped, void, lost, stolen and noted')
    .option('--part <id>', 'the part it happened to; every part when left out')
    .option('--witness <who>', 'who saw the destruction, not the one who records it')
    .option('--to <who>', 'whom it was delivered to')
    .option('--on <day>', 'the day it happened, if not today, such as 2031-03-01')
    .option('--key <text>', 'asking again with the same key records it once')
    .option('--dry-run', 'only show what would be entered')
    .description('record what happened to numbers, all of it or nothing')
    .action(async (edition: string, words: readonly string[], options: Options, command: Command) => {
      const context = contextOf(command);
      const { list, by, why, part, witness, to, on, key, dryRun = false } = options;
      const labels = list === undefined ? words.slice(0, -1) : undefined;
      if (list !== undefined && words.length > 1) throw refuse('cli.list-and-labels', 'burin record', {});
      const order = {
        edition,
        labels,
        list,
        event: words.at(-1),
        by,
        why,
        part,
        witness,
        to,
        on,
        key,
        dryRun,
      };
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { recordEvents } = await import('../app/record.js');
      const numbers = await recordEvents(workshop, order, (one) => context.tell('Not signed', one));
      context.answer({ ok: true, edition, dryRun, numbers }, [
        ...numbers.map((status) => statusLine(status, dryRun)),
        ...(dryRun ? ['Nothing was entered.'] : []),
      ]);
    });
