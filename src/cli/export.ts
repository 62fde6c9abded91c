import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { contextOf } from './context.js';
import { refuse } from './messages.js';

interface Options {
  readonly csv?: boolean;
  readonly jsonl?: boolean;
  readonly out?: string;
}

export const exportCommand = (program: Command): Command =>
  program
    .command('export')
    .argument('[edition]', 'only its events; every event when left out')
    .option('--csv', 'a table for people')
    .option('--jsonl', 'everything, for `burin restore`: one JSON document in each line')
    .option('--out <file>', 'the file to write; stdout when left out')
    .description('write out the events of the register')
    .action(async (edition: string | undefined, options: Options, command: Command) => {
      const context = contextOf(command);
      const { csv, jsonl, out } = options;
      if (!csv === !jsonl) throw refuse('cli.one-form', 'burin export', {});
      const form = csv ? 'csv' : 'jsonl';
      const { findRegister } = await import('../app/kept-register.js');
      const kept = await findRegister(context.workshop, context.environment);
      const { exportEvents, exportTo } = await import('../app/export.js');
      if (out === undefined) {
        if (context.json) throw refuse('cli.json-needs-file', 'burin export', {});
        await exportTo(kept, edition, form, (line) => context.outPaced(`${line}\n`));
        return;
      }
      const events = await exportEvents(kept, { edition, form, out }, context.progress);
      context.answer({ ok: true, edition, form, out, events }, [`${out} holds ${counted(events, 'event')}.`]);
    });
