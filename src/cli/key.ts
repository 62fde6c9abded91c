import { Argument, type Command, Option } from 'commander';
import { counted } from '../app/counted.js';
import type { KeyOwner } from '../app/key.js';
import { refuse } from '../app/messages.js';
import { type CliContext, contextOf } from './context.js';
import { wholeNumber } from './whole-number.js';

interface Options {
  readonly name?: string;
  readonly out?: string;
  readonly history?: boolean;
  readonly reason?: 'planned' | 'lost' | 'stolen';
  readonly at?: number;
  readonly key?: string;
}

/** Which options each of the three takes. */
const TAKES = {
  new: ['name', 'out'],
  show: ['name', 'out', 'history'],
  retire: ['out', 'reason', 'at', 'key'],
} as const;

type What = keyof typeof TAKES;

export const keyCommand = (program: Command): Command =>
  program
    .command('key')
    .addArgument(
      new Argument('<what>', 'make a key, print its public part for others, or end it').choices([
        'new',
        'show',
        'retire',
      ]),
    )
    .option('--name <maker>', 'whose key; that of the workshop when left out')
    .option('--history', 'show the history of all keys of the log, to publish')
    .addOption(
      new Option(
        '--reason <why>',
        'why the key ends: the old one signs the handover, or cannot, or must not',
      ).choices(['planned', 'lost', 'stolen']),
    )
    .option(
      '--at <size>',
      'the last size of the log for which the signature of a lost or stolen key counts',
      wholeNumber('Give a number of events.'),
    )
    .option(
      '--key <file>',
      'the public key or the history that was published, where this machine has lost it',
    )
    .option('--out <file>', 'write the public part or the history to a file as well, such as maker.pub')
    .description('the keys that sign the log of the register')
    .action(async (what: What, options: Options, command: Command) => {
      const context = contextOf(command);
      const taken: readonly string[] = TAKES[what];
      for (const option of ['name', 'history', 'reason', 'at', 'key', 'out'] as const)
        if (options[option] !== undefined && !taken.includes(option))
          throw refuse('key.not-for-this', 'burin key', { option: `--${option}`, what });
      const owner = { name: options.name, workshop: context.workshop, environment: context.environment };
      if (what === 'retire') await retire(context, owner, options);
      else if (options.history) await history(context, owner, options.out);
      else await publicLine(context, owner, what, options.out);
    });

async function publicLine(
  context: CliContext,
  owner: KeyOwner,
  what: 'new' | 'show',
  out: string | undefined,
): Promise<void> {
  const { newKey, showKey } = await import('../app/key.js');
  const { origin, line, folder } = await (what === 'new' ? newKey : showKey)(owner, out);
  if (what === 'new') {
    context.say(`The key of ${origin} is in ${folder}. Copy it now to a place that will outlast this disk:`);
    context.say('nothing can be signed without it, and whoever has it signs as you.');
  }
  context.answer({ ok: true, origin, key: line }, [line]);
}

async function history(context: CliContext, owner: KeyOwner, out: string | undefined): Promise<void> {
  const { historyAnswer, showHistory } = await import('../app/key.js');
  const { history, text } = await showHistory(owner, out);
  context.answer({ ok: true, ...historyAnswer(history), text }, text.slice(0, -1).split('\n'));
}

async function retire(context: CliContext, owner: KeyOwner, options: Options): Promise<void> {
  const { reason, at, key, out } = options;
  if (!reason) throw refuse('key.no-reason', 'burin key retire', {});
  const { historyAnswer, retireKeyOf, showHistory } = await import('../app/key.js');
  const { origin, last, line, aside } = await retireKeyOf(owner, { reason, at, key });
  const { history, text } = await showHistory(owner, out);
  context.say(
    `The key of ${origin} has ended (${reason}): it counts up to ${counted(last, 'event')}, and not after.`,
  );
  if (aside) context.say(`It is in ${aside} now. Keep it, and let nobody sign with it.`);
  context.say('Next: burin key new, then burin checkpoint, and publish burin key show --history.');
  context.answer(
    { ok: true, key: line, last, reason, ...(aside && { aside }), ...historyAnswer(history), text },
    text.slice(0, -1).split('\n'),
  );
}

/** How many events. */
