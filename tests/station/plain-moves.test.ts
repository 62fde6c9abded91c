import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readPlainMove, readWords } from '../../src/station/reader-words.js';

const digits = (minLength: number, maxLength: number) =>
  fc.string({ unit: fc.constantFrom(...'0123456789'), minLength, maxLength });
const number = fc
  .tuple(fc.constantFrom('', '', '-'), digits(1, 13), fc.constantFrom('.', '.', '.', '', '..'), digits(0, 16))
  .map((parts) => parts.join(''));
const word = fc.oneof(
  { weight: 9, arbitrary: fc.tuple(fc.constantFrom(...'XAZF'), number).map((parts) => parts.join('')) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', 'X', 'Y1', 'X-0', 'A-0.00', 'Z1e3', 'x1', 'X 1', 'F.5', 'Z+1', 'A1,5'),
  },
);
const line = fc
  .tuple(
    fc.constantFrom('G0', 'G0', 'G1', 'G1', 'G1', 'G01', 'G00', 'G1.0', 'G2', 'M3', ''),
    fc.array(word, { maxLength: 5 }),
  )
  .map(([first, words]) => [first, ...words].join(' '));

test('a plain move is read as word by word, wherever it stands in a text', () => {
  let plain = 0;
  fc.assert(
    fc.property(
      line,
      fc.constantFrom('', '\n', 'G0 X1\n'),
      fc.constantFrom('', '\n', '\n1', ' 1'),
      (one, before, after) => {
        const found = readPlainMove(before + one + after, before.length, before.length + one.length);
        const faults: number[] = [];
        const read = readWords(one, 1, (n) => faults.push(n));
        if (found) {
          plain++;
          expect(faults).toEqual([]);
          expect(found).toEqual(read);
        }
      },
    ),
    { numRuns: 20_000, seed: 11 },
  );
  expect(plain).toBeGreaterThan(500);
});

test.each([
  ['G1 X19.6134 A-166.0624 Z0.5 F2127.99', { rapid: false, x: 19.6134, a: -166.0624, z: 0.5, f: 2127.99 }],
  ['G0 Z30.0000', { rapid: true, x: undefined, a: undefined, z: 30, f: undefined }],
])('%s is plain', (text, move) => {
  expect(readPlainMove(text, 0, text.length)).toEqual({ kind: 'move', ...move });
});
