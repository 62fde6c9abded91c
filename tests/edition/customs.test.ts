import { describe, expect, test } from 'vitest';
import { customRemarks, nameRemarks } from '../../src/edition/customs.js';
import { lineOf } from '../words-of.js';
import { editionOf, nineLights } from './nine-lights.js';

const remarks = (...series: Parameters<typeof editionOf>) => customRemarks(editionOf(...series)).map(lineOf);
const proofs = (to: number) => ({ id: 'ap', title: "artist's proofs", to, before: 'AP ' });

// Proofs are customarily 5 to 10 % of the edition: MoMA glossary, "edition"; Tate glossary, "edition" (from memory).
describe('custom', () => {
  test('nine proofs to ninety pieces is at its upper edge', () => {
    expect(customRemarks(nineLights())).toEqual([]);
  });

  test.each([
    [100, 4, 1],
    [100, 5, 0],
    [100, 10, 0],
    [100, 11, 1],
    [15, 1, 0],
    [15, 2, 0],
    [15, 3, 1],
  ])('of %i pieces, %i proofs: %i remarks', (pieces, kept, count) => {
    const lines = remarks({ id: 'main', to: pieces }, proofs(kept));
    expect(lines).toHaveLength(count);
    if (count > 0) expect(lines[0]).toMatch(/^series ap: .*5 to 10 %/);
  });

  test('an edition without proofs is not remarked on', () => {
    expect(remarks({ id: 'main', to: 50 })).toEqual([]);
    expect(remarks(proofs(5))).toEqual([]);
  });

  // Common practice, no source: the figure after the stroke is the number of pieces made.
  test('a total that is not the number of pieces is remarked on', () => {
    const exclude = [{ numbers: [13], why: 'thought unlucky' }];
    const lines = remarks({ id: 'main', to: 90, total: { joiner: '/' }, exclude });
    expect(lines).toEqual([
      expect.stringMatching(/^series main: The labels state 90, and 89 numbers are planned/),
    ]);
  });
});

test('editions of one workshop whose names are taken for one another are remarked on', () => {
  const names = {
    lights: 'Nine Lights',
    blank: 'Nine Lights\u2800',
    two: 'Nine Lights II',
    typed: 'N1ne Llghts',
  };
  const remarks = nameRemarks(Object.entries(names).map(([id, name]) => [id, { name }] as const));
  expect(remarks.map(({ code, where, values }) => [code, where, values])).toEqual(
    (['blank', 'typed'] as const).map((id) => [
      'edition.name-reads-alike',
      `editions/${id}.yaml: name`,
      { name: names[id], holder: 'lights', other: 'Nine Lights' },
    ]),
  );
});
