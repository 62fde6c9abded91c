import { type Alteration, flipped, inside, LAST, noteOf, path } from './alter.js';
import { events, makerOf, ORIGIN, stranger } from './maker.js';

export const alteredProofs: Alteration[] = [
  // The proofs.
  [
    'a flipped hash',
    ['inclusion'],
    inside((c) =>
      path(c, 2, (p) => {
        p[0] = flipped(p[0]!, 3);
      }),
    ),
  ],
  [
    'a shorter proof',
    ['inclusion'],
    inside((c) =>
      path(c, 2, (p) => {
        p.pop();
      }),
    ),
  ],
  [
    'no proof',
    ['inclusion'],
    inside((c) =>
      path(c, 2, (p) => {
        p.splice(0);
      }),
    ),
  ],
  [
    'a longer proof',
    ['inclusion'],
    inside((c) =>
      path(c, 2, (p) => {
        p.push(p[0]!);
      }),
    ),
  ],
  [
    'a proof in another order',
    ['inclusion'],
    inside((c) =>
      path(c, 2, (p) => {
        p.reverse();
      }),
    ),
  ],
  [
    'another place',
    ['inclusion'],
    inside((c) => {
      c.events[2]!.seq += 1;
    }),
  ],
  [
    'a place past the end',
    ['inclusion'],
    inside((c) => {
      c.events[LAST]!.seq = events.length;
    }),
  ],
  // The checkpoint.
  [
    'another root, signed',
    ['inclusion'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace(/\n(.)(.{42}=)/, (_, a, b) => `\n${a === 'A' ? 'B' : 'A'}${b}`));
    }),
  ],
  [
    'another root, not signed',
    ['checkpoint signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(/\n(.)(.{42}=)/, (_, a, b) => `\n${a === 'A' ? 'B' : 'A'}${b}`);
    }),
  ],
  [
    'another size, not signed',
    ['checkpoint signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace('\n200\n', '\n201\n');
    }),
  ],
  [
    'a size that is none',
    ['checkpoint'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace('\n200\n', '\n0200\n'));
    }),
  ],
  [
    'another origin, signed',
    ['origin'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t.replace(ORIGIN, 'elsewhere.example'));
    }),
  ],
  [
    'another origin, not signed',
    ['checkpoint signature'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(ORIGIN, 'elsewhere.example');
    }),
  ],
  [
    'a flipped signature of the checkpoint',
    ['checkpoint signature'],
    inside((c) => {
      c.checkpoint = flipped(c.checkpoint, c.checkpoint.length - 30);
    }),
  ],
  [
    'a checkpoint of a stranger',
    ['signer'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t, stranger);
    }),
  ],
  [
    'a wrong hash of the key',
    ['signer'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(
        /(register )(.)(\S+\n)$/,
        (_, a, b, d) => `${a}${b === 'A' ? 'B' : 'A'}${d}`,
      );
    }),
  ],
  [
    'no empty line in the checkpoint',
    ['checkpoint'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace('\n\n', '\n');
    }),
  ],
  [
    'only the signatures of others',
    ['signer'],
    inside((c) => {
      c.checkpoint = noteOf((t) => t, makerOf('witness.example', 9));
    }),
  ],
  [
    'no signature line',
    ['checkpoint'],
    inside((c) => {
      c.checkpoint = c.checkpoint.replace(/\u2014.*\n$/, '');
    }),
  ],
  [
    'a signature line that is none',
    ['checkpoint'],
    inside((c) => {
      c.checkpoint += 'seen and approved\n';
    }),
  ],
];
