import { expect, test } from 'vitest';
import { amendmentBy } from '../../../src/register/statement/edition-at-closing.js';
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
  expect(statementDigest(statement)).toMatchInlineSnapshot(
    `"4d0e49399d66654e813a605055e7bfb82bdd6827aceed631a30f16727f9a621b"`,
  );
});

test('what an amendment changed is said in the same words for ever', () => {
  const { terms } = WAS.terms;
  const changed = {
    series: [
      { ...SERIES, id: 'proofs', title: 'Proofs', figures: 'roman' as const, before: 'A.P. ', exclude: [] },
      { ...SERIES, to: 7, total: { joiner: '/', of: 9 }, exclude: [{ containing: '4', why: 'custom' }] },
    ],
    parts: [{ part: 'cap', material: 'silver', numbered: true }],
    approvers: ['A. Moss', 'E. Marrow'],
  };
  const common = { edition: 'nine-lights', by: 'E. Marrow', at: '2031-01-01T00:00:00.000Z', why: 'a slip' };
  const event = { type: 'amended' as const, ...common, name: 'Ten Lights', terms: changed };
  expect(
    amendmentBy(event, { name: 'Nine Lights', terms }).changes.map((one) => Object.values(one).join(' | ')),
  ).toMatchInlineSnapshot(`
    [
      "approvers | nothing | A. Moss, E. Marrow",
      "name | Nine Lights | Ten Lights",
      "part cap: bears the number | nothing | yes",
      "part cap: material | nothing | silver",
      "series main | number 1 of the series | number 2 of the series",
      "series main: exclude[0] | 4 (thought unlucky) | containing 4 (custom)",
      "series main: to | 6 | 7",
      "series main: total: joiner | nothing | /",
      "series main: total: of | nothing | 9",
      "series proofs | nothing | number 1 of the series",
      "series proofs: before | nothing | A.P. ",
      "series proofs: figures | nothing | roman",
      "series proofs: from | nothing | 1",
      "series proofs: pad | nothing | 1",
      "series proofs: title | nothing | Proofs",
      "series proofs: to | nothing | 6",
    ]
  `);
});
