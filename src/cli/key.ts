import { Argument, type Command } from 'commander';
import { contextOf } from './context.js';

interface Options {
  readonly name?: string;
  readonly out?: string;
}

export const keyCommand = (program: Command): Command =>
  program
    .command('key')
    .addArgument(
      new Argument('<what>', 'make a key, or print its public part for others').choices(['new', 'show']),
    )
    .option('--name <maker>', 'whose key; that of the workshop when left out')
    .option('--out <file>', 'write the public part to a file as well, such as maker.pub')
    .description('the key that signs the log of the register')
    .action(async (what: 'new' | 'show', { name, out }: Options, command: Command) => {
      const context = contextOf(command);
      const { newKey, showKey } = await import('../app/key.js');
      const whose = { name, workshop: context.workshop, environment: context.environment };
      const { origin, line, folder } = await (what === 'new' ? newKey : showKey)(whose, out);
      if (what === 'new') {
        context.say(
          `The key of ${origin} is in ${folder}. Copy it now to a place that will outlast this disk:`,
        );
        context.say('nothing can be signed without it, and whoever has it signs as you.');
      }
      context.answer({ ok: true, origin, key: line }, [line]);
    });
