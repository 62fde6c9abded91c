import { join } from 'node:path';
import type { Command } from 'commander';
import { contextOf } from './context.js';

interface Options {
  readonly out?: string;
  readonly withDelivery?: boolean;
  readonly by?: string;
}

export const certificateCommand = (program: Command): Command =>
  program
    .command('certificate')
    .argument('<edition>')
    .argument('<label...>', 'the pieces, by label')
    .option('--out <dir>', 'where they go; out/certificates in the workshop when left out')
    .option('--with-delivery', 'show the day of delivery, and to whom')
    .option('--by <name>', 'who makes them; entered in the register')
    .description('write certificates of engraved pieces: a page to print and a file anyone can verify')
    .action(async (edition: string, labels: string[], options: Options, command: Command) => {
      const context = contextOf(command);
      const out = options.out ?? join(context.workshop, 'out', 'certificates');
      // Brought in only here: what draws pages takes longer to start than most commands take in all.
      const { openWorkshop } = await import('../app/workshop.js');
      const { writeCertificates } = await import('../app/certificate.js');
      const workshop = await openWorkshop(context.workshop, context.environment);
      const { withDelivery, by } = options;
      const done = await writeCertificates(workshop, { edition, labels, out, withDelivery, by }, (one) =>
        context.tell('Not signed', one),
      );
      context.answer(
        done,
        done.certificates.map(({ label, pdf, json }) => `${label}: ${join(out, pdf)}, ${json}`),
      );
    });
