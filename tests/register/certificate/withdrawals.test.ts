import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { verifyCertificate } from '../../../src/register/certificate/verify.js';
import {
  readWithdrawals,
  withdrawalProblem,
  withdrawalsOf,
} from '../../../src/register/certificate/withdrawals.js';
import { leafHash } from '../../../src/register/event.js';
import { readKeys } from '../../../src/register/log/key-history.js';
import { bodyOf, type Put, past } from '../by-hand.js';
import { cleanAfterEach, newFile, open } from '../folder.js';
import { asking, live } from '../life-rules.js';
import { genuine, log, maker, stranger } from './maker.js';

cleanAfterEach();

const DIGEST = 'ab'.repeat(32);
const SECOND = '0c'.repeat(32);
const CERTIFIED: Put = ['certified', { serial: 1, digest: DIGEST }];
const corrected = (more: object): Put => [
  'corrected',
  { corrects: 3, witness: 'B. Fern', label: '1/90', ...more },
];
const TO_BEA = corrected({ to: 'Bea' });

// An older burin took corrections to what stood there already; so does a hand at the database.
test.each<[string, Put[], readonly string[]]>([
  ['that says what stands there', [corrected({ to: 'Ann' }), corrected({ day: '2021-03-01' })], []],
  ['that says something else', [corrected({ to: 'Bea' })], ['corrected']],
  ['and what it says once more', [corrected({ to: 'Bea' }), corrected({ to: 'Bea' })], ['corrected']],
  ['of the day alone', [corrected({ to: 'Ann', day: '2021-03-02' })], ['corrected']],
])('a correction %s withdraws %j', async (_what, puts, reasons) => {
  expect(await withdrawnBy([CERTIFIED, ...puts])).toEqual(
    reasons.map((reason) => ({ digest: DIGEST, reason })),
  );
});

test('a correction that the register goes on past withdraws nothing, where something was wrong with it', async () => {
  expect(await withdrawnBy([CERTIFIED, TO_BEA, past(5, TO_BEA)])).toMatchObject([{ reason: 'corrected' }]);
  const other = Buffer.alloc(32, 7);
  const named = past(5, TO_BEA, { digest: other.toString('hex'), fault: 'text' });
  expect(await withdrawnBy([CERTIFIED, TO_BEA, named], new Map([[1, other]]))).toEqual([]);
});

/** What is withdrawn of a delivered piece, four events old, once these came after; `hashes` that are not of their text. */
async function withdrawnBy(puts: readonly Put[], hashes: ReadonlyMap<number, Buffer> = new Map()) {
  const file = newFile();
  const register = await live(await open(file), ['engraved', 'inspected']);
  await register.record({ ...asking('delivered'), to: 'Ann' });
  const db = new Database(file);
  const put = db.prepare(
    'INSERT INTO event (seq, body, leaf) SELECT coalesce(max(seq), -1) + 1, ?, ? FROM event',
  );
  for (const [i, body] of puts.map(bodyOf).entries()) put.run(body, hashes.get(i) ?? leafHash(body));
  db.close();
  return withdrawalsOf(register);
}

test('a scrapping withdraws every certificate of the piece, in the order of their digests, until it is retracted', async () => {
  const certified: Put[] = [CERTIFIED, ['certified', { serial: 2, digest: SECOND }]];
  expect(await withdrawnBy([...certified, 'scrapped'])).toEqual([
    { digest: SECOND, reason: 'scrapped' },
    { digest: DIGEST, reason: 'scrapped' },
  ]);
  expect(
    await withdrawnBy([...certified, 'scrapped', ['retracted', { corrects: 6, witness: 'B. Fern' }]]),
  ).toEqual([]);
});

describe('a list of withdrawals', () => {
  const keysIn = (line: string) => {
    const read = readKeys(line);
    if (!read.ok) throw new Error(read.problem.code);
    return read.history;
  };
  const verdict = verifyCertificate(genuine().file, maker.publicKey);
  if (!verdict.ok) throw new Error('the certificate is genuine');
  const { verified } = verdict;
  const [checkpoint] = log.checkpoint.split('\n\n');
  const listed = (lines: string, head = `${checkpoint}\n`, by = maker) => by.note(`${head}${lines}`);
  const read = (note: string) => readWithdrawals(note, keysIn(maker.publicKey), 'list');

  test.each([
    ['a checkpoint, which says nothing of withdrawals', '', 4],
    ['a line in other words', `withdrawals\nwithdrawn ${DIGEST} scrapped\nwithdrawn ${SECOND} sold\n`, 6],
    ['a digest cut short', `withdrawals\nwithdrawn ${DIGEST.slice(1)} scrapped\n`, 5],
  ])('is not %s', (_, lines, line) => {
    expect(read(listed(lines))).toMatchObject({
      ok: false,
      problem: { code: 'certificate.withdrawals-form', where: 'list', values: { line } },
    });
  });

  test('of another key is not read', () => {
    expect(read(listed('withdrawals\n', undefined, stranger))).toMatchObject({
      ok: false,
      problem: { code: 'certificate.withdrawals-unreadable' },
    });
  });

  test('names a certificate that is withdrawn, and no other', () => {
    const codeBy = (note: string) => {
      const found = read(note);
      if (!found.ok) throw new Error(found.problem.code);
      return withdrawalProblem(verified, found.list)?.code;
    };
    const line = (digest: string) => `withdrawals\nwithdrawn ${digest} corrected\n`;
    expect(codeBy(listed('withdrawals\n'))).toBeUndefined();
    expect(codeBy(listed(line(DIGEST)))).toBeUndefined();
    expect(codeBy(listed(line(verified.digest)))).toBe('certificate.withdrawn');
    // The maker shows one log here and another there: as many events, and other ones.
    const other = `${checkpoint}\n`.replace(/[^\n]+\n$/, `${Buffer.alloc(32, 7).toString('base64')}\n`);
    expect(codeBy(listed(line(verified.digest), other))).toBe('certificate.split-view');
  });
});
