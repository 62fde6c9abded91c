import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { refuse } from '../app/messages.js';
import { contextOf } from './context.js';

interface Options {
  readonly out?: string;
  /** The file of the last note that the witness cosigned; true when there is none. */
  readonly forWitness?: string | true;
  readonly cosigned?: string;
  readonly witness?: string[];
}

export const checkpointCommand = (program: Command): Command =>
  program
    .command('checkpoint')
    .option('--out <file>', 'write it to a file as well, to give away or publish')
    .option(
      '--for-witness [note]',
      'print what a witness is to cosign, with the proof that it continues the last note of that witness',
    )
    .option('--cosigned <file>', 'keep the note that witnesses cosigned, for certificates')
    .option('--witness <file...>', 'the public key of each witness that cosigned it')
    .description('sign the log of the register as it stands, and print the signed note')
    .action(async (options: Options, command: Command) => {
      const context = contextOf(command);
      const { out, forWitness, cosigned, witness } = options;
      const keeps = cosigned !== undefined;
      if (keeps !== (witness !== undefined) || (keeps && (forWitness !== undefined || out !== undefined)))
        throw refuse('checkpoint.options', 'burin checkpoint', {});
      const { openDocuments } = await import('../app/open-documents.js');
      const workshop = await openDocuments(context.workshop, context.environment);
      if (forWitness !== undefined || keeps) {
        const { keepCosigned, requestFor } = await import('../app/cosigned.js');
        const { witnessesIn } = await import('../app/witnesses.js');
        if (keeps) {
          const kept = await keepCosigned(workshop, cosigned, await witnessesIn(witness!));
          const seen = kept.seen.map(
            ({ name, at }) => `Seen by ${name} at ${at}, for ${counted(kept.size, 'event')}.`,
          );
          context.answer({ ok: true, ...kept }, [...seen, `Kept in ${kept.file}.`]);
          return;
        }
        const last = forWitness === true ? undefined : forWitness;
        const { request, ...made } = await requestFor(workshop, last, out);
        context.answer({ ok: true, ...made, request }, request.slice(0, -1).split('\n'));
        return;
      }
      const { checkpointOf } = await import('../app/checkpoint.js');
      const { origin, size, root, note, made } = await checkpointOf(workshop, out);
      context.answer(
        { ok: true, origin, size, root: root.toString('base64'), made, note },
        note.split('\n').slice(0, -1),
      );
    });
