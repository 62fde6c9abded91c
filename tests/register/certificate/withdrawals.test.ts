import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { withdrawalsOf } from '../../../src/register/certificate/withdrawals.js';
import { leafHash } from '../../../src/register/event.js';
import { bodyOf, type Put } from '../by-hand.js';
import { cleanAfterEach, newFile, open } from '../folder.js';
import { asking, live } from '../life-rules.js';

cleanAfterEach();

const DIGEST = 'ab'.repeat(32);
const corrected = (more: object): Put => [
  'corrected',
  { corrects: 3, witness: 'B. Fern', label: '1/90', ...more },
];

// An older burin took corrections to what stood there already; so does a hand at the database.
test.each<[string, Put[], readonly string[]]>([
  ['that says what stands there', [corrected({ to: 'Ann' }), corrected({ day: '2021-03-01' })], []],
  ['that says something else', [corrected({ to: 'Bea' })], ['corrected']],
  ['and what it says once more', [corrected({ to: 'Bea' }), corrected({ to: 'Bea' })], ['corrected']],
  ['of the day alone', [corrected({ to: 'Ann', day: '2021-03-02' })], ['corrected']],
])('a correction %s withdraws %j', async (_what, puts, reasons) => {
  const file = newFile();
  const register = await live(await open(file), ['engraved', 'inspected']);
  await register.record({ ...asking('delivered'), to: 'Ann' });
  const db = new Database(file);
  const put = db.prepare(
    'INSERT INTO event (seq, body, leaf) SELECT coalesce(max(seq), -1) + 1, ?, ? FROM event',
  );
  for (const one of [['certified', { serial: 1, digest: DIGEST }] as Put, ...puts]) {
    const body = bodyOf(one);
    put.run(body, leafHash(body));
  }
  db.close();
  expect(await withdrawalsOf(register)).toEqual(reasons.map((reason) => ({ digest: DIGEST, reason })));
});
