import { copyFileSync, existsSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { openRegister } from '../../src/register/open.js';
import { samePerson } from '../../src/register/person.js';
import { saltText } from '../../src/register/requests.js';
import { ask, labels, NOON, PLAN, refusal, STATED } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { asking } from './life-rules.js';

cleanAfterEach();

describe('a copy of the register', () => {
  test('is one sound file, as of one moment, while others write', async () => {
    const file = newFile();
    const register = await open(file);
    await register.issue({ ...ask, count: 60 });
    const writer = await open(file);
    const copy = join(dirname(file), 'copy.db');
    let copied = false;
    const copying = register.backup(copy).then(() => {
      copied = true;
    });
    let during = 0;
    while (!copied) {
      await writer.issue({ ...ask, edition: `other-${during++}` });
      await new Promise(setImmediate);
    }
    await copying;
    expect(during).toBeGreaterThan(0);
    // No companions: the one file may be carried away by itself.
    expect(readdirSync(dirname(copy)).filter((name) => name.startsWith('copy'))).toEqual(['copy.db']);
    const db = new Database(copy, { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(db.pragma('journal_mode', { simple: true })).toBe('delete');
    db.close();
    const restored = await open(copy);
    const size = await restored.size();
    expect(size).toBeGreaterThanOrEqual(60);
    expect(size).toBeLessThanOrEqual(60 + during);
    expect(labels(await restored.issue(ask))).toEqual(['61/90']);
  });

  test('is not written over another file, nor from nothing', async () => {
    const file = newFile();
    const copy = join(dirname(file), 'copy.db');
    const register = await open(file);
    expect((await refusal(register.backup(copy))).exit).toBe(2);
    expect(existsSync(file)).toBe(false);
    await register.issue(ask);
    writeFileSync(copy, 'mine');
    const linked = join(dirname(file), 'linked.db');
    symlinkSync(join(dirname(file), 'nowhere.db'), linked);
    for (const at of [copy, file, linked, join(dirname(file), 'nowhere', 'copy.db')]) {
      expect((await refusal(register.backup(at))).exit).toBe(2);
    }
    expect(readdirSync(dirname(file)).sort()).toEqual([
      'copy.db',
      'linked.db',
      'register.db',
      'register.db-shm',
      'register.db-wal',
    ]);
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  test('is not shown when the register is damaged', async () => {
    const file = newFile();
    const first = await open(file);
    await first.issue({ ...ask, count: 90 });
    await first.close();
    const db = new Database(file);
    // A row that is in the table but not in the index beside it.
    db.unsafeMode().pragma('writable_schema = ON');
    db.exec(
      "UPDATE sqlite_schema SET sql = replace(sql, '(edition, label)', '(edition, why)') WHERE name = 'issued_label'",
    );
    db.close();
    const copy = join(dirname(file), 'copy.db');
    expect((await refusal((await open(file)).backup(copy))).exit).toBe(3);
    expect(existsSync(copy)).toBe(false);
  });
});

describe('time and chance', () => {
  test('a clock set back does not turn the sequence round', async () => {
    const times = ['12:00:00.000', '11:00:00.000', '12:00:00.001'].map((t) => new Date(`2021-03-01T${t}Z`));
    let at = times[0]!;
    const register = await open(newFile(), undefined, () => at);
    await register.issue(ask);
    at = times[1]!;
    await register.record(asking('engraved'));
    at = times[2]!;
    await register.record(asking('inspected'));
    const history = await register.history('nine-lights', '1/90');
    expect(history.map(({ event }) => event.at.slice(11, 23))).toEqual([
      ...['12:00:00.000', '12:00:00.000', '12:00:00.001'],
    ]);
  });

  test('every event has a salt of its own', async () => {
    const file = newFile();
    let turn = 0;
    const salt = (bytes: number) => {
      const salts = new Uint8Array(bytes);
      for (let at = 0; at < bytes; at += 16) salts.fill(turn++, at, at + 16);
      return salts;
    };
    const register = await openRegister({ kind: 'sqlite', file }, { now: () => NOON, salt });
    await register.issue({ ...ask, count: 2 });
    await register.record(asking('engraved'));
    await register.importEvents([{ ...asking('withheld', PLAN[5]!), event: 'withheld' }]);
    await register.closeEdition({
      edition: 'nine-lights',
      by: 'A. Moss',
      statement: '00'.repeat(32),
      stated: STATED,
    });
    const salts: unknown[] = [];
    for await (const { body } of register.events()) salts.push(JSON.parse(body).salt);
    await register.close();
    const sixteen = (n: number) => Buffer.alloc(16, n).toString('base64').replaceAll('=', '');
    expect(salts).toEqual([0, 1, 2, 3, 4].map(sixteen));
  });

  test('a salt has 16 bytes', () => {
    expect(saltText(new Uint8Array(16))).toBe('A'.repeat(22));
    expect(() => saltText(new Uint8Array(15))).toThrow(RangeError);
  });
});

test.each([
  ['A. Moss', 'a. moss', true],
  ['A. Moss', '\u3000A.\u00a0 Moss\t', true],
  ['ﬁnn', 'FINN', true],
  ['Ｍoss', 'moss', true],
  ['Zoë', 'Zoe\u0308', true],
  ['Groß', 'GROSS', true],
  ['ΣΟΦΟΣ', 'σοφος', true],
  ['A. Moss', 'A. Ross', false],
  ['A. Moss', 'AA. Moss', false],
  ['Zoë', 'Zoe', false],
])('%s and %s are one person: %s', (one, other, same) => {
  expect(samePerson(one, other)).toBe(same);
  expect(samePerson(other, one)).toBe(same);
});

test('taking over waits for nobody half done: a broken source leaves the register as it was', async () => {
  const [one, two] = [await open(newFile()), await open(newFile())];
  await one.issue({ ...ask, count: 5 });
  async function* broken() {
    let n = 0;
    for await (const event of one.events()) {
      if (++n > 3) throw new Error('the source went away');
      yield event;
    }
  }
  await expect(two.restore(broken(), [])).rejects.toThrow('went away');
  expect(await two.size()).toBe(0);
  expect(labels(await two.issue(ask))).toEqual(['1/90']);
});

test('a copy put back in place of the register goes on where it was', async () => {
  const file = newFile();
  const register = await open(file);
  await register.issue({ ...ask, count: 2, key: 'job-7' });
  await register.record(asking('engraved'));
  const copy = join(dirname(file), 'copy.db');
  await register.backup(copy);
  await register.close();
  for (const end of ['', '-wal', '-shm']) rmSync(file + end, { force: true });
  copyFileSync(copy, file);
  const again = await open(file);
  expect(await again.stateOf('nine-lights', '1/90')).toBe('engraved');
  expect(labels(await again.issue({ ...ask, count: 2, key: 'job-7' }))).toEqual(['1/90', '2/90']);
});
