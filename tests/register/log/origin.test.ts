import { createPublicKey, generateKeyPairSync } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readVerifier, verifierLine, verifierOf } from '../../../src/register/log/note.js';
import { originOf, slugIn, slugOf } from '../../../src/register/log/origin.js';

test.each([
  ['Lantern Coast', 'burin/lantern-coast'],
  ['  Lantern   Coast, makers & sons ', 'burin/lantern-coast-makers-sons'],
  ['Ørsted & Łucja', 'burin/ørsted-łucja'],
  ['Évêque', 'burin/eveque'],
  ['灯台工房', 'burin/灯台工房'],
  ['한글', 'burin/한글'],
  ['हिन्दी', 'burin/हिन्दी'],
  ['../../etc', 'burin/etc'],
  ['!!!', 'burin/workshop'],
  ['IV+XII', 'burin/iv-xii'],
])('the origin of "%s" is %s', (name, origin) => {
  expect(originOf(name)).toBe(origin);
});

test('is the same for a name however its accents are coded', () => {
  expect(originOf('E\u0301ve\u0302que')).toBe(originOf('\u00c9v\u00eaque'));
});

test('any name gives a slug that names a file of the folder, a key and nothing else', () => {
  const key = createPublicKey(generateKeyPairSync('ed25519').privateKey);
  fc.assert(
    fc.property(fc.string({ unit: 'binary', minLength: 1, maxLength: 120 }), (name) => {
      const slug = slugOf(name);
      expect(slug).not.toMatch(/[\s/\\.:+\p{C}]/u);
      expect(Buffer.byteLength(slug)).toBeLessThanOrEqual(240);
      expect(slugOf(slug)).toBe(slug);
      expect(slugIn(originOf(name))).toBe(slug);
      expect(readVerifier(verifierLine(verifierOf(originOf(name), key))).ok).toBe(true);
    }),
    { numRuns: 500 },
  );
});

test.each([
  'lantern-coast',
  'other/lantern-coast',
  'burin/',
  'burin/../secret',
  'burin/Lantern',
  'burin/a/b',
])('an origin of another form names no file: %s', (origin) => {
  expect(slugIn(origin)).toBeUndefined();
});
