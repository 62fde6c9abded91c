import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { rootOf } from '../../src/register/log/merkle-accumulator.js';
import { consistencyProblem, consistencyProof } from '../../src/register/log/merkle-proof.js';
import { openCheckpoint, readVerifier } from '../../src/register/log/note.js';
import { burin, linesOf, some, started, UNSIGNED, well } from './burin.js';
import { cleanAfterAll, edit, filesIn, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const issuing = (count: number) => [
  ...['issue', 'nine-lights', '--series', 'main', '--count', `${count}`, '--by', 'A. Moss'],
];

/** A bench with a folder for its keys, and the way to ask it things. */
function bench(keys = newFolder()) {
  const dir = newQuickBench();
  const around = { cwd: dir, env: { BURIN_KEYS: keys } };
  return {
    dir,
    keys,
    ask: (...words: string[]) => burin(words, around),
    does: (...words: string[]) => well(words, around),
    issue: (count: number) => burin(issuing(count), around),
    /** As `issue`, by a process of its own. */
    issueApart: (count: number) => started(issuing(count), around),
    kept: () =>
      withDatabase(dir, (db) =>
        db
          .prepare<[], { size: number; note: string }>('SELECT size, note FROM checkpoint ORDER BY size')
          .all(),
      ),
    leaves: () =>
      withDatabase(dir, (db) => db.prepare<[], Buffer>('SELECT leaf FROM event ORDER BY seq').pluck().all()),
  };
}

function withDatabase<T>(dir: string, work: (db: Database.Database) => T): T {
  const db = new Database(path.join(dir, 'register.db'), { fileMustExist: true });
  try {
    return work(db);
  } finally {
    db.close();
  }
}

function verifierIn(file: string) {
  const read = readVerifier(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(read.problem.code);
  return read.verifier;
}

const opened = (note: string, publicKey: string) => {
  const read = openCheckpoint(note, verifierIn(publicKey));
  if (!read.ok) throw new Error(read.problem.code);
  return read.checkpoint;
};

describe('burin key', () => {
  test('makes a key outside the workshop, and prints its public line alone', async () => {
    const { ask, keys, dir } = bench();
    const before = filesIn(dir);
    const made = await ask('key', 'new', '--out', 'maker.pub');
    expect(made.code).toBe(0);
    const [line, ...more] = linesOf(made.stdout);
    expect(more).toEqual([]);
    expect(line).toMatch(/^burin\/lantern-coast\+[0-9a-f]{8}\+A[A-Za-z0-9+/]{43}$/);
    expect(readFileSync(path.join(dir, 'maker.pub'), 'utf8')).toBe(`${line}\n`);
    expect(filesIn(dir)).toEqual([...before, 'maker.pub'].sort());
    expect(readdirSync(keys).sort()).toEqual(['lantern-coast.keys', 'lantern-coast.pem']);
    const secret = readFileSync(path.join(keys, 'lantern-coast.pem'), 'utf8').split('\n')[1]!;
    expect(made.stdout + made.stderr).not.toContain(secret);
    expect(made.stderr).toContain('Copy it now');

    const shown = await ask('key', 'show', '--json');
    expect(JSON.parse(shown.stdout)).toEqual({ ok: true, origin: 'burin/lantern-coast', key: line });
    expect(shown.stderr).toBe('');
    const again = await ask('key', 'new');
    expect([again.code, linesOf(again.stderr).length]).toEqual([3, 1]);
    expect(linesOf((await ask('key', 'show')).stdout)).toEqual([line]);
  });

  test('makes one by the name of a maker, without a workshop', async () => {
    const keys = newFolder();
    const around = { cwd: newFolder(), env: { BURIN_KEYS: keys } };
    expect(await well(['key', 'new', '--name', 'First Light, Ltd.'], around)).toMatch(
      /^burin\/first-light-ltd\+/,
    );
    expect(await well(['key', 'show', '--name', 'First Light Ltd'], around)).toMatch(
      /^burin\/first-light-ltd\+/,
    );
  });

  test('keeps none in the workshop', async () => {
    const { ask, dir } = bench('keys');
    const said = await ask('key', 'new');
    expect([said.code, said.stdout]).toEqual([2, '']);
    expect(said.stderr).toMatch(/is inside the workshop/);
    expect(existsSync(path.join(dir, 'keys'))).toBe(false);
  });

  test('without any: says how to make one', async () => {
    const said = await bench().ask('key', 'show');
    expect(said.code).toBe(2);
    expect(said.stderr).toMatch(
      /There is no key of burin\/lantern-coast\. Make one with `burin key new`\.\n$/,
    );
  });
});

describe('burin checkpoint', () => {
  test('is signed after each entry by itself; asked for, it is printed and nothing is kept twice', async () => {
    const { does, issue, kept, leaves, dir } = bench();
    await does('key', 'new', '--out', 'maker.pub');
    const publicKey = path.join(dir, 'maker.pub');
    expect(await issue(2)).toMatchObject({ code: 0, stderr: '' });
    const recorded = await does('record', 'nine-lights', '01/90', 'engraved', '--by', 'A. Moss');
    expect(recorded).toMatch(/^01\/90 is engraved/);
    expect(kept().map(({ size }) => size)).toEqual([3, 4]);

    const note = await does('checkpoint', '--out', 'given/lantern-coast.checkpoint');
    expect(note).toBe(kept()[1]!.note);
    expect(readFileSync(path.join(dir, 'given/lantern-coast.checkpoint'), 'utf8')).toBe(note);
    const value = JSON.parse(await does('checkpoint', '--json'));
    expect(value).toMatchObject({ ok: true, origin: 'burin/lantern-coast', size: 4, made: false, note });
    expect(kept()).toHaveLength(2);

    const [first, second] = kept().map((one) => opened(one.note, publicKey));
    expect(second!.root).toEqual(rootOf(leaves()));
    expect(consistencyProblem(first!, second!, consistencyProof(leaves(), 3, 4))).toBeUndefined();
  });

  test('without a key nothing is in the way of an entry, and the first one signed covers all of it', async () => {
    const { ask, does, issue, kept } = bench();
    const said = await issue(2);
    expect(said).toMatchObject({ code: 0, stderr: UNSIGNED, stdout: '01/90\n02/90\n' });
    const refused = await ask('checkpoint');
    expect([refused.code, refused.stdout]).toEqual([2, '']);
    expect(UNSIGNED).toContain(refused.stderr);
    await does('key', 'new');
    expect(await issue(1)).toMatchObject({ code: 0, stderr: '' });
    expect(kept().map(({ size }) => size)).toEqual([4]);
  });

  test('of an empty register is refused, and makes none', async () => {
    const { ask, does, dir } = bench();
    await does('key', 'new');
    const said = await ask('checkpoint');
    expect(said.code).toBe(2);
    expect(said.stderr).toMatch(/there is nothing to sign/);
    expect(existsSync(path.join(dir, 'register.db'))).toBe(false);
  });

  test('goes on under its first name when the workshop takes another', async () => {
    const { does, issue, kept, dir } = bench();
    await does('key', 'new');
    await issue(1);
    edit(dir, 'workshop.yaml', 'name: Lantern Coast', 'name: Lantern Coast & Daughters');
    expect(await issue(1)).toMatchObject({ code: 0, stderr: '' });
    expect(kept().every(({ note }) => note.startsWith('burin/lantern-coast\n'))).toBe(true);
    expect(await does('key', 'show')).toMatch(/^burin\/lantern-coast\+/);
  });

  test('on a machine without the key of a signed log, no second key is asked for', async () => {
    const { does, issue, dir } = bench();
    await does('key', 'new');
    await issue(1);
    const said = await burin(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'x'], {
      cwd: dir,
    });
    expect(said.code).toBe(0);
    expect(said.stderr).toMatch(/^Not signed: .* The key of this log is not on this machine\. .*\n$/);
    expect(said.stderr).not.toContain('key new');
  });

  test('three hands at once: every checkpoint kept is of the one log', async () => {
    const { does, issueApart, kept, leaves, dir } = bench();
    await does('key', 'new', '--out', 'maker.pub');
    await some(3, [...Array(3).keys()], async () => {
      expect(await issueApart(2)).toMatchObject({ code: 0, stderr: '' });
    });
    expect(kept().at(-1)!.size).toBe(7);
    for (const { size, note } of kept()) {
      const { root } = opened(note, path.join(dir, 'maker.pub'));
      expect(root).toEqual(rootOf(leaves().slice(0, size)));
    }
    expect((await does('audit', '--key', 'maker.pub')).length).toBeGreaterThan(0);
  });

  test('an old copy of the register, put in its place, is not signed: what the key remembers shows it', async () => {
    const { ask, does, issue, dir, kept } = bench();
    await does('key', 'new');
    await issue(2);
    await does('backup', path.join('..', 'old.db'));
    await issue(2);
    for (const end of ['', '-wal', '-shm']) {
      rmSync(path.join(dir, `register.db${end}`), { force: true });
    }
    copyFileSync(path.join(dir, '..', 'old.db'), path.join(dir, 'register.db'));
    const said = await ask('checkpoint');
    expect(said.code).toBe(3);
    expect(said.stderr).toMatch(/has 3 events, but its key signed 5 events on this machine/);
    // It would give out numbers again: nothing is entered, nor cut.
    const cut = ['cut', 'nine-lights', '--series', 'main', '--numbers', '1', '--station', 'rotary-level'];
    for (const refused of [await issue(2), await ask(...cut), await ask(...cut, '--json')]) {
      expect(refused.code).toBe(3);
      expect(refused.stderr + refused.stdout).toMatch(
        /has 3 events, but its key signed 5 events on this machine/,
      );
    }
    expect(kept().map(({ size }) => size)).toEqual([3]);
    // A register that is gone altogether looks like a new workshop, and is told so.
    rmSync(path.join(dir, 'register.db'), { force: true });
    const gone = await issue(1);
    expect([gone.code, gone.stdout]).toEqual([3, '']);
    expect(gone.stderr).toMatch(
      /is empty, but the key of this name signed 5 events .* give it a name of its own/,
    );
  });
});

/** The three things docs/log.md tells a stranger to do by hand. */
const page = readFileSync(new URL('../../docs/log.md', import.meta.url), 'utf8');
const [bySignature, byRegister, byCertificate, ...others] = [
  ...page.matchAll(/```(?:sh|python)\n(# By hand[\s\S]*?)```/g),
].map((m) => m[1]!);
const isThere = (tool: string, ...words: string[]) => spawnSync(tool, words).status === 0;
const tools = isThere('openssl', 'version') && isThere('python3', '--version');

/**
 * Signature by OpenSSL (RFC 8032), tree and proofs by Python's own SHA-256 (RFC 9162, 2.1.1 and 2.1.3.2): no line of the
 * program is in it.
 */
test.skipIf(!tools)('a stranger audits with OpenSSL and Python, as docs/log.md tells him', async () => {
  expect([byCertificate === undefined, others]).toEqual([false, []]);
  const { does, issue, dir } = bench();
  await does('key', 'new', '--out', 'maker.pub');
  await issue(3);
  await does('record', 'nine-lights', '02/90', 'engraved', '--by', 'A. Moss');
  await does('certificate', 'nine-lights', '02/90', '--out', 'papers');
  await issue(4);
  await does('checkpoint', '--out', 'note');
  await does('export', '--jsonl', '--out', 'register.jsonl');
  const strange = newFolder();
  for (const file of ['maker.pub', 'note', 'register.jsonl'])
    copyFileSync(path.join(dir, file), path.join(strange, file));
  copyFileSync(
    path.join(dir, 'papers', 'nine-lights-main-0002-1.json'),
    path.join(strange, 'certificate.json'),
  );

  const sh = () => run('bash', '-euo', 'pipefail', '-c', bySignature!);
  const run = (tool: string, ...words: string[]) => {
    const said = spawnSync(tool, words, { cwd: strange, encoding: 'utf8' });
    return `${said.status} ${said.stdout}${said.stderr}`;
  };
  expect(sh()).toMatch(/^0 [\s\S]*Verified Successfully/i);
  expect(run('python3', '-c', byRegister!)).toBe('0 the register is as signed, for 10 events\n');
  expect(run('python3', '-c', byCertificate!)).toBe('0 all 2 events stand in it\n');

  // And each can fail: one figure of the signed size, one letter of an event.
  const change = (file: string, from: RegExp, to: string) => {
    const text = readFileSync(path.join(strange, file), 'utf8');
    expect(text).toMatch(from);
    writeFileSync(path.join(strange, file), text.replace(from, to));
  };
  change('register.jsonl', /A\. Moss/, 'A. Mess');
  expect(run('python3', '-c', byRegister!)).toMatch(/^1 [\s\S]*other events/);
  change('certificate.json', /A\. Moss/, 'A. Mess');
  expect(run('python3', '-c', byCertificate!)).toMatch(/^1 [\s\S]*not in the log/);
  change('note', /\n10\n/, '\n8\n');
  expect(sh()).toMatch(/^1 [\s\S]*Fail/i);
});
