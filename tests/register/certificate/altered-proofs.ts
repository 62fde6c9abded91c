import { type Alteration, flipped, inside, LAST, noteOf, path } from './alter.js';
import { events, makerOf, ORIGIN, stranger } from './maker.js';

export const alteredProofs: Alteration[] = [
  // The proofs.
  [
    'a flipped hash',
    ['not-included'],
    inside((c) =>
      path(c, 2, (p) => {
        p[0] = flipped(p[0]!, 3);
      }),
    ),
  ],
  [
    'a shorter proof',
    ['not-included'],
    inside((c) =>
      path(c, 2, (p) => {
        p.pop();
      }),
    ),
  ],
  [
    'no proof',
    ['not-included'],
    inside((c) =>
      path(c, 2, (p) => {
        p.splice(0);
      }),
    ),
  ],
  [
    'a longer proof',
    ['not-included'],
    inside((c) =>
      path(c, 2, (p) => {
        p.push(p[0]!);
      }),
    ),
  ],
  [
    'a proof in another order',
    ['not-included'],
    inside((c) =>
      path(c, 2, (p) => {
        p.reverse();
      }),
    ),
  ],
  [
    'another place',
    ['not-included'],
    inside((c) => {
      c.events[2]!.seq += 1;
    }),
  ],
  [
    'a place past the end',
    ['not-included'],
    inside((c) => {
      c.events[LAST]!.seq = events.length;
    }),
  ],
  // The checkpoint.
  [
    'another root, signed',
    ['not-included'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace(/\n(.)(.{42}=)/, (_, a, b) => `\n${a === 'A' ? 'B' : 'A'}${b}`));
    }),
  ],
  [
    'another root, not signed',
    ['checkpoint-signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(/\n(.)(.{42}=)/, (_, a, b) => `\n${a === 'A' ? 'B' : 'A'}${b}`);
    }),
  ],
  [
    'another size, not signed',
    ['checkpoint-signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace('\n200\n', '\n201\n');
    }),
  ],
  [
    'a size that is none',
    ['checkpoint-unreadable'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace('\n200\n', '\n0200\n'));
    }),
  ],
  [
    'another origin, signed',
    ['other-log'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace(ORIGIN, 'elsewhere.example'));
    }),
  ],
  [
    'another origin, not signed',
    ['checkpoint-signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(ORIGIN, 'elsewhere.example');
    }),
  ],
  [
    'a flipped signature of the checkpoint',
    ['checkpoint-signature'],
    inside((c) => {
      c.checkpoint = flipped(c.checkpoint, c.checkpoint.length - 30);
    }),
  ],
  [
    'a checkpoint of a stranger',
    ['other-signer'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t, stranger);
    }),
  ],
  [
    'a wrong hash of the key',
    ['other-signer'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(
        /(register )(.)(\S+\n)$/,
        (_, a, b, d) => `${a}${b === 'A' ? 'B' : 'A'}${d}`,
      );
    }),
  ],
  [
    'no empty line in the checkpoint',
    ['checkpoint-unreadable'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace('\n\n', '\n');
    }),
  ],
  [
    'only the signatures of others',
    ['other-signer'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t, makerOf('witness.example', 9));
    }),
  ],
  [
    'no signature line',
    ['checkpoint-unreadable'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(/\u2014.*\n$/, '');
    }),
  ],
  [
    'a signature line that is none',
    ['checkpoint-unreadable'],
    inside((c) => {
      c.checkpoint += 'seen and approved\n';
    }),
  ],
];
