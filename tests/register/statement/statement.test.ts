import { expect, test } from 'vitest';
import { statementDigest, statementJson, statementOf } from '../../../src/register/statement/statement.js';

const SERIES = {
  ...{ id: 'main', title: 'Numbered edition', from: 1, to: 6, figures: 'arabic' as const, pad: 1 },
  exclude: [{ numbers: '4', why: 'thought unlucky' }],
};
const WAS = {
  terms: { name: 'Nine Lights', terms: { series: [SERIES], parts: [], approvers: [] } },
  amendments: [
    ...[{ at: '2031-01-01T00:00:00.000Z', by: 'E. Marrow', why: 'a slip' }].map((one) => ({
      ...one,
      changes: [{ what: 'series main: to', before: '5', now: '6' }],
    })),
  ],
  numbersOf: () => [
    { number: 3, state: 'void' as const, pieces: 0, why: 'flaw in the resin' },
    { number: 2, state: 'delivered' as const, pieces: 2 },
    { number: 1, state: 'engraved' as const, pieces: 1 },
  ],
};
const FACTS = {
  ...{ edition: 'nine-lights', by: 'E. Marrow' },
  stated: {
    ...{ at: '2031-03-01T12:00:00.000Z', document: 'd0'.repeat(32), maker: 'Lantern Coast' },
    ...{ remarks: ['as the maker chose'], size: 7, root: 'e0'.repeat(32) },
    signature: '\u2014 burin/lantern-coast AAAAAAAA',
  },
};

// A register has the hash of these bytes for ever. What would change them is a statement of another version, beside this.
test('a statement of version 2 has the same bytes for ever', () => {
  const statement = statementOf(FACTS, WAS);
  expect(statementJson(statement)).toMatchInlineSnapshot(`
    "{
      "kind": "statement of edition",
      "version": 2,
      "edition": {
        "id": "nine-lights",
        "name": "Nine Lights"
      },
      "document": "d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0d0",
      "maker": "Lantern Coast",
      "by": "E. Marrow",
      "at": "2031-03-01T12:00:00.000Z",
      "series": [
        {
          "id": "main",
          "title": "Numbered edition",
          "planned": 5,
          "issued": 2,
          "states": {
            "engraved": 1,
            "delivered": 1,
            "void": 1
          },
          "delivered": 1,
          "withheld": 0,
          "void": 1,
          "destroyed": 0,
          "recut": 1,
          "excluded": [
            {
              "numbers": "4",
              "why": "thought unlucky"
            }
          ],
          "voids": [
            {
              "label": "3",
              "why": "flaw in the resin"
            }
          ],
          "never": "5-6"
        }
      ],
      "amendments": [
        {
          "at": "2031-01-01T00:00:00.000Z",
          "by": "E. Marrow",
          "why": "a slip",
          "changes": [
            {
              "what": "series main: to",
              "before": "5",
              "now": "6"
            }
          ]
        }
      ],
      "remarks": [
        "as the maker chose"
      ],
      "log": {
        "size": 7,
        "root": "4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4OA="
      },
      "checkpoint": "burin/lantern-coast\\n7\\n4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4ODg4OA=\\n\\n— burin/lantern-coast AAAAAAAA\\n"
    }
    "
  `);
  expect(statementDigest(statement)).toMatchInlineSnapshot(`"4d0e49399d66654e813a605055e7bfb82bdd6827aceed631a30f16727f9a621b"`);
});
