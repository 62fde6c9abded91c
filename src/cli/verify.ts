import type { Command } from 'commander';
import { contextOf } from './context.js';

export const verifyCommand = (program: Command): Command =>
  program
    .command('verify')
    .argument('<file>', 'a certificate, or the text of its codes, one a line')
    .requiredOption('--key <file>', "the maker's public key, such as maker.pub")
    .description('check a certificate with nothing but the public key: no workshop, no register, no network')
    .action(async (file: string, { key }: { key: string }, command: Command) => {
      const context = contextOf(command);
      const { certificateEvents, verifyFile } = await import('../app/verify.js');
      const verified = await verifyFile({ file, key });
      const { certificate, state, checkpoint } = verified;
      const { maker, edition, series, number, label, parts, dates, owner } = certificate;
      const { origin, size } = checkpoint;
      const root = checkpoint.root.toString('hex');
      const events = certificateEvents(verified);
      context.answer(
        {
          ok: true,
          ...{ maker, edition, series, number, label, parts, dates, owner, state, events },
          checkpoint: { origin, size, root },
        },
        [
          `Genuine: ${label} of ${edition.name}, ${series.title}, by ${maker}.`,
          ...parts.map(({ name, material }) => `  ${name}: ${material}`),
          ...events.map(({ day, type, part }) => `  ${day} ${type}${part ? ` (${part})` : ''}`),
          ...(owner === undefined ? [] : [`  to ${owner}`]),
          `Signed by ${origin} at ${size} events, root ${root}.`,
          `Proved: ${certificate.proves}`,
          `Not proved: ${certificate.doesNotProve}`,
        ].map(plain),
      );
    });

/** Names cannot move the cursor or turn the reading direction. */
const plain = (line: string): string => line.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, ' ');
