import type { Command } from 'commander';
import { RECORDABLE } from '../register/transitions.js';
import { contextOf } from './context.js';
import { partsLine } from './register.js';

interface Options {
  readonly by: string;
  readonly why?: string;
  readonly part?: string;
  readonly witness?: string;
  readonly to?: string;
  readonly on?: string;
  readonly key?: string;
}

export const recordCommand = (program: Command): Command =>
  program
    .command('record')
    .argument('<edition>')
    .argument('<label>', 'as `burin register` lists it, or its ticket')
    .argument('<event>', RECORDABLE.join(', '))
    .requiredOption('--by <who>', 'who records it')
    .option('--why <text>', 'the reason')
    .option('--part <id>', 'the part it happened to; every part when left out')
    .option('--witness <who>', 'who saw the destruction, not the one who records it')
    .option('--to <who>', 'whom it was delivered to')
    .option('--on <day>', 'when it happened, where that is not now: 2031-03-01')
    .option('--key <text>', 'asking again with the same key records it once')
    .description('record what became of a number')
    .action(async (edition: string, label: string, event: string, options: Options, command: Command) => {
      const context = contextOf(command);
      const { by, why, part, witness, to, on, key } = options;
      const order = { edition, label, event, by, why, part, witness, to, on, key };
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      const { recordEvent } = await import('../app/record.js');
      const status = await recordEvent(workshop, order, (one) => context.tell('Not signed', one));
      context.answer({ ok: true, edition, number: status }, [
        `${status.label} is ${[status.state, partsLine(status)].filter(Boolean).join(': ')}`,
      ]);
    });
