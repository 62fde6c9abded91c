import Database from 'better-sqlite3';
import canonicalizeModule from 'canonicalize';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fromLeaf, leafHash } from '../../src/register/event.js';
import { migrate } from '../../src/register/postgres/connect.js';
import { NOON, STATED } from './ask.js';
import { unusedFile } from './folder.js';
import { onServer } from './postgres-open.js';

const canonicalize = canonicalizeModule as unknown as (value: unknown) => string;

const AT = '2021-03-01T12:00:00.000Z';
const HASH = '0f'.repeat(32);
const NAMED = {
  edition: 'nine-lights',
  series: 'main',
  number: 1,
  label: '1/90',
  at: AT,
  by: 'A. Moss',
  why: 'w',
};
const SERIES = {
  ...{ id: 'main', title: 'Main', from: 1, to: 90, figures: 'arabic', pad: 2 },
  total: { joiner: '/', of: 90 },
  ...{
    before: 'No ',
    after: ' ',
    exclude: [
      { numbers: '4, 13-14', why: 'custom' },
      { containing: '13', why: 'w' },
    ],
  },
};
const TERMS = {
  series: [SERIES, { ...SERIES, id: 'proofs', figures: 'roman', exclude: [] }],
  parts: [{ part: 'cap', material: 'silver', numbered: true }],
  approvers: ['E. Marrow'],
};

/** Between them, every member that an event may have; issues as nearly all are have a way of their own on a server. */
const EVENTS: object[] = [
  { type: 'issued', ...NAMED },
  { type: 'issued', ...NAMED, parts: ['cap', 'barrel'], key: 'k', nth: 1, salt: `${'A'.repeat(21)}w` },
  {
    type: 'issued',
    ...NAMED,
    parts: ['cap', 'barrel'],
    key: 'k',
    nth: 1,
    on: '2021-02-28',
    salt: `${'A'.repeat(21)}w`,
  },
  { type: 'corrected', ...NAMED, corrects: 0, to: 'J. Lind', day: AT, witness: 'E. Marrow' },
  { type: 'programmed', ...NAMED, part: 'cap', station: 'level', digest: HASH },
  { type: 'certified', ...NAMED, serial: 1, digest: HASH },
  { type: 'noted', ...NAMED, missing: 7 },
  {
    type: 'opened',
    edition: 'nine-lights',
    name: 'Nine Lights',
    terms: TERMS,
    at: AT,
    by: 'A. Moss',
    why: 'w',
  },
  {
    type: 'resumed',
    ...{ edition: 'nine-lights', corrects: 0, digest: HASH, fault: 'rule', witness: 'E. Marrow' },
    ...{ at: AT, by: 'A. Moss', why: 'w' },
  },
  {
    type: 'closed',
    edition: 'nine-lights',
    statement: HASH,
    stated: { ...STATED, remarks: ['a remark'], signature: '— log AAAA' },
    at: AT,
    by: 'Ä. Møss',
    why: 'a "quoted" \\ word',
  },
];

/** In place of a value, wherever there is one. */
const VALUES: readonly unknown[] = [
  ...[
    '',
    ' ',
    '\u00a0',
    '\ufeff \u3000',
    ' a ',
    'a\u0000',
    'a\nb',
    'a\u007fb',
    'a\u0085b',
    'a\u2028b',
    'ü',
    '"',
    '\\',
  ],
  ...[40, 41, 63, 64, 120, 121, 200, 201].map((n) => 'x'.repeat(n)),
  ...[20, 21, 60, 61, 100, 101].map((n) => '😀'.repeat(n)),
  ...[
    'Cap',
    '-cap',
    'a_b',
    'cap-',
    '0',
    HASH,
    HASH.toUpperCase(),
    'arabic',
    'roman',
    'greek',
    'B'.repeat(22),
  ],
  ...[
    '2021-02-29',
    '2028-02-29',
    '2100-02-29',
    '2000-02-29',
    '2021-4-01',
    '2021-04-31',
    '2021-13-01',
    '2021-00-10',
  ],
  ...[
    AT,
    '2021-03-01T24:00:00.000Z',
    '2021-03-01T23:59:60.000Z',
    '2021-03-01T12:00:00Z',
    '2021-03-01T12:00:00.000',
  ],
  ...['2021-02-29T12:00:00.000Z', '2021-03-01 12:00:00.000Z', '2021-19-39T29:59:59.000Z'],
  ...['4', '4, 13-14', '4,13', '04', '100000', '4-', '-', '4, ', '1-2-3', '12345', '123456'],
  ...[0, 1, 6, 7, -1, 1.5, 99_999, 100_000, 2_147_483_647, 2_147_483_648, 2 ** 53 - 1, 2 ** 53, 1e21],
  ...[true, false, null, [], {}, ['cap'], ['cap', 'cap'], [1], [['cap']], { cap: 1 }],
  Array.from({ length: 21 }, (_, i) => `part-${i}`),
];

type Path = readonly (string | number)[];

function* pathsIn(value: unknown, path: Path = []): Generator<Path> {
  if (typeof value !== 'object' || value === null) return;
  for (const [name, inner] of Object.entries(value)) {
    const at = [...path, Array.isArray(value) ? Number(name) : name];
    yield at;
    yield* pathsIn(inner, at);
  }
}

function altered(
  value: unknown,
  [name, ...rest]: Path,
  change: (parent: Record<string, unknown>, name: string) => void,
) {
  const copy = structuredClone(value) as Record<string, unknown>;
  let parent = copy;
  for (const next of [name!, ...rest].slice(0, -1)) parent = parent[next] as Record<string, unknown>;
  change(parent, String([name!, ...rest].at(-1)));
  return copy;
}

/** Other ways to write the same, or nearly. */
const REWRITTEN: readonly ((text: string) => string)[] = [
  (t) => `${t} `,
  (t) => ` ${t}`,
  (t) => `${t}\n`,
  (t) => t.replace(':', ': '),
  (t) => t.replace(',"', ', "'),
  (t) => t.replace('A. Moss', 'A\\u002e Moss'),
  (t) => t.replace('A. Moss', '\\u00c4. Moss'),
  (t) => t.replace('A. Moss', 'A.\\/Moss'),
  (t) => t.replace('A. Moss', 'A.\\nMoss'),
  (t) => t.replace('A. Moss', '\\ud83d\\ude00'),
  (t) => t.replace('"by"', '"b\\u0079"'),
  (t) => t.replace(/"why":"[^"]*"/, '"why":"w","why":"w"'),
  (t) => t.replace(/^\{("at":"[^"]*"),("by":"[^"]*")/, '{$2,$1'),
  (t) => t.replace(/("from":1),("pad":2)/, '$2,$1'),
  (t) => t.replace('"from":1', '"from":1,"from":1'),
  (t) => t.replace('"number":1', '"number":1.0'),
  (t) => t.replace('"number":1', '"number":1e0'),
  (t) => t.replace('"corrects":0', '"corrects":-0'),
  (t) => t.replace('"pad":2', '"pad":2.0'),
  (t) => t.replace('{', '{"colour":"red",'),
  (t) => `[${t}]`,
  (t) => t.slice(0, -1),
];

/** Texts to try; of the values in place of another, every so-manieth in each place, another one from place to place. */
const textsOf = (every: number): readonly string[] => [
  ...new Set(
    EVENTS.flatMap((event) => [
      canonicalize(event),
      ...REWRITTEN.map((rewrite) => rewrite(canonicalize(event))),
      ...[...pathsIn(event)].flatMap((path, place) => [
        ...VALUES.filter((_, i) => (i + place) % every === 0).map((value) =>
          canonicalize(altered(event, path, (parent, name) => Object.assign(parent, { [name]: value }))),
        ),
        // Below the top, where which members there are does not hang on the kind of event.
        ...(path.length > 1
          ? [canonicalize(altered(event, path, (parent, name) => void delete parent[name]))]
          : []),
      ]),
    ]),
  ),
];

/** Whether the program reads it. What kinds of events have which members is asked elsewhere. */
function isRead(body: string): boolean {
  try {
    fromLeaf(0, { body, leaf: leafHash(body) });
    return true;
  } catch {
    return false;
  }
}

/** What the databases take by hand is what the program reads, to the letter. */
export function formRules({ every }: { readonly every: number }): void {
  const server = onServer();
  const texts = textsOf(every);
  const read = new Set(texts.filter(isRead));

  test('the texts to try are many of both kinds', () => {
    expect(read.size).toBeGreaterThan(300 / every);
    expect(texts.length - read.size).toBeGreaterThan(3000 / every);
  });

  describe('by the rules of form alone', () => {
    const differing = (taken: ReadonlySet<string>) =>
      texts
        .filter((text) => taken.has(text) !== read.has(text))
        .map((text) => `${taken.has(text) ? 'taken' : 'refused'}: ${text}`);

    test('SQLite takes what the program reads, and nothing else', () => {
      const db = new Database(unusedFile());
      const others = db
        .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'trigger' AND name <> 'event_form'")
        .pluck()
        .all();
      for (const name of others) db.exec(`DROP TRIGGER ${name}`);
      const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (0, ?, ?)');
      const taken = new Set<string>();
      for (const text of texts) {
        db.exec('BEGIN');
        try {
          insert.run(text, leafHash(text));
          taken.add(text);
        } catch (error) {
          expect(error).toBeInstanceOf(Database.SqliteError);
        }
        if (db.inTransaction) db.exec('ROLLBACK');
      }
      db.close();
      expect(differing(taken)).toEqual([]);
    });

    describe('PostgreSQL', () => {
      let hand: Awaited<ReturnType<typeof server.raw>>;
      beforeAll(async () => {
        hand = await server.raw(await server.fresh());
        await migrate(hand, 'hand', false, 60_000, () => NOON);
        for (const name of ['event_2_sequence', 'event_3_allowed'])
          await hand.query(`ALTER TABLE burin.event DISABLE TRIGGER ${name}`);
      });
      afterAll(() => hand.end());

      test('takes what the program reads, and nothing else', async () => {
        // Each is tried in a transaction of its own that is taken back, all by one call.
        await hand.query(`CREATE FUNCTION pg_temp.takes(body text) RETURNS text LANGUAGE plpgsql AS $$
        BEGIN
          INSERT INTO burin.event (seq, body, leaf)
            VALUES (0, body, sha256('\\x00'::bytea || convert_to(body, 'UTF8')));
          RAISE EXCEPTION USING ERRCODE = 'P9999';
        EXCEPTION WHEN OTHERS THEN RETURN SQLSTATE;
        END $$`);
        const { rows } = await hand.query<{ text: string; state: string }>(
          'SELECT text, pg_temp.takes(text) AS state FROM unnest($1::text[]) AS text',
          [texts.filter((text) => !text.includes('\u0000'))],
        );
        // Integrity, or a value that is of no such kind.
        expect(rows.filter(({ state }) => !/^(P9999|2[23])/.test(state))).toEqual([]);
        const taken = new Set(rows.filter(({ state }) => state === 'P9999').map(({ text }) => text));
        expect(differing(taken)).toEqual([]);
      });
    });
  });
}
