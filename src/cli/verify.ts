import type { Command } from 'commander';
import { counted } from '../app/counted.js';
import { contextOf } from './context.js';

export const verifyCommand = (program: Command): Command =>
  program
    .command('verify')
    .argument('<file>', 'a certificate, or the text of its codes, one a line')
    .requiredOption(
      '--key <file>',
      "the maker's public key, such as maker.pub, or the history of the maker's keys",
    )
    .option('--witness <file...>', 'the public key of each witness that must have seen its checkpoint')
    .option('--withdrawals <file>', "the maker's list of withdrawn certificates; the newest you can get")
    .description('check a certificate with nothing but the public key: no workshop, no register, no network')
    .action(async (file: string, { key, witness: witnesses, withdrawals }: Options, command: Command) => {
      const context = contextOf(command);
      const { certificateEvents, verifyFile } = await import('../app/verify.js');
      const verified = await verifyFile({ file, key, witnesses, withdrawals });
      const { certificate, state, checkpoint, notWithdrawnAsOf, digest } = verified;
      const { maker, edition, series, number, label, serial, parts, dates, owner } = certificate;
      const { origin, size } = checkpoint;
      const root = checkpoint.root.toString('hex');
      const events = certificateEvents(verified);
      context.answer(
        {
          ok: true,
          ...{ maker, edition, series, number, label, serial, parts, dates, owner, state, events },
          ...{ amendments: verified.amendments.map(amendmentLine), digest },
          ...(notWithdrawnAsOf !== undefined && { notWithdrawnAsOf }),
          checkpoint: { origin, size, root },
          ...(witnesses && { seen: verified.seen }),
          ...(verified.key.end && { keyEnded: verified.key.end }),
        },
        [
          `Genuine: ${label} of ${edition.name}, ${series.title}, by ${maker}.`,
          ...parts.map(({ name, material }) => `  ${name}: ${material}`),
          ...events.map(({ day, type, part }) => `  ${day} ${type}${part ? ` (${part})` : ''}`),
          ...(owner === undefined ? [] : [`  to ${owner}`]),
          ...verified.amendments.map((one) => `Terms of the edition amended ${amendmentLine(one)}`),
          notWithdrawnAsOf === undefined
            ? 'Not known here: whether the maker withdrew it since. Ask the maker for a list of withdrawals, and give it with --withdrawals.'
            : `Not withdrawn, as of ${counted(notWithdrawnAsOf, 'event')}.`,
          `Signed by ${origin} at ${counted(size, 'event')}, root ${root}.`,
          ...verified.seen.map(({ name, at }) => `Seen by ${name} at ${at}, for the same events.`),
          ...(verified.key.end?.reason === 'stolen'
            ? [
                `Its key was stolen later: ask the maker whether the register has this certificate, SHA-256 ${digest}.`,
              ]
            : []),
          `Proved: ${certificate.proves}`,
          `Not proved: ${certificate.doesNotProve}`,
        ].map(plain),
      );
    });

interface Options {
  readonly key: string;
  readonly witness?: string[];
  readonly withdrawals?: string;
}

const amendmentLine = ({ at, by, why }: { at: string; by: string; why: string }): string =>
  `${at.slice(0, 10)} by ${by}: ${why}`;

/** Names cannot move the cursor or turn the reading direction. */
const plain = (line: string): string => line.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, ' ');
