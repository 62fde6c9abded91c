import { Argument, type Command } from 'commander';
import { refuse } from '../app/messages.js';
import { contextOf } from './context.js';

interface Options {
  readonly name?: string;
  readonly out?: string;
}

type What = 'new' | 'show' | 'add' | 'cosign';

export const witnessCommand = (program: Command): Command =>
  program
    .command('witness')
    .addArgument(
      new Argument(
        '<what>',
        'make your key, print its public part, take a log by its public key, or cosign what its keeper sent',
      ).choices(['new', 'show', 'add', 'cosign']),
    )
    .argument(
      '[file]',
      "for add, the maker's public key or history of keys; for cosign, the file from the keeper",
    )
    .option('--name <witness>', 'for new: who you are')
    .option('--out <file>', 'write the public part or the cosigned note to a file as well')
    .description("witness another's log, from outside: no workshop, no register, no network")
    .action(async (what: What, file: string | undefined, { name, out }: Options, command: Command) => {
      const context = contextOf(command);
      const { environment } = context;
      const { addLog, cosignRequest, newWitness, showWitness } = await import('../app/witness.js');
      if ((file !== undefined) !== (what === 'add' || what === 'cosign'))
        throw refuse('witness.file', `burin witness ${what}`, { wanted: file === undefined ? 'yes' : 'no' });
      if ((name !== undefined) !== (what === 'new'))
        throw refuse('witness.name', `burin witness ${what}`, { wanted: name === undefined ? 'yes' : 'no' });
      if (what === 'new' || what === 'show') {
        const { folder, line, ...made } = await (what === 'new'
          ? newWitness(environment, name!, out)
          : showWitness(environment, out));
        if (what === 'new')
          context.say(`Your key is in ${folder}, with what you cosign. Copy the folder; give the line away.`);
        context.answer({ ok: true, name: made.name, key: line }, [line]);
      } else if (what === 'add') {
        const origin = await addLog(environment, file!);
        context.answer({ ok: true, origin }, [`${origin} is taken. Compare its key with another source.`]);
      } else {
        const { origin, size, note } = await cosignRequest(environment, file!, out);
        context.answer({ ok: true, origin, size, note }, note.slice(0, -1).split('\n'));
      }
    });
