import { chmodSync, copyFileSync, existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import path from 'node:path';
import Database from 'better-sqlite3';
import { beforeAll, describe, expect, test } from 'vitest';
import { burin, linesOf, started, well } from './burin.js';
import { cleanAfterAll, filesIn, give, hashes, isRoot, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const NOBODY = 65534;
const WHO = ['--by', 'A. Moss'];
const whole = newQuickBench();

beforeAll(async () => {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '3', ...WHO], { cwd: whole });
  await well(['record', 'nine-lights', '02/90', 'void', ...WHO, '--why', 'a flaw'], { cwd: whole });
  writeFileSync(path.join(whole, 'seen.csv'), 'label\n01/90\n03/90\n');
});

/** A folder that has nothing but the register. */
function onlyRegister(): string {
  const dir = newFolder();
  copyFileSync(path.join(whole, 'register.db'), path.join(dir, 'register.db'));
  return dir;
}

interface Audited {
  readonly ok: boolean;
  readonly events: number;
  readonly gaps: readonly object[];
  readonly findings: readonly { readonly code: string; readonly grade: string }[];
}

async function audited(cwd: string, ...words: string[]) {
  const said = await burin(['audit', '--json', ...words], { cwd });
  return { code: said.code, report: JSON.parse(said.stdout) as Audited };
}

const codes = ({ findings }: Audited) => findings.map(({ code, grade }) => `${grade} ${code}`);

describe('without any document', () => {
  test('a register is audited by its own terms, which finds the same gaps, and says what was not compared', async () => {
    const dir = onlyRegister();
    const before = hashes(dir);
    const { code, report } = await audited(dir);
    const { report: withDocuments } = await audited(whole);
    expect([code, codes(report)]).toEqual([0, ['remark audit.documents-not-read']]);
    expect(report.gaps).toEqual([{ edition: 'nine-lights', series: 'main', numbers: '2', why: 'void' }]);
    expect([report.events, report.gaps]).toEqual([withDocuments.events, withDocuments.gaps]);
    expect(codes(withDocuments)).toEqual([]);
    expect(hashes(dir)).toEqual(before);
  });

  test('a number that is missing is found by the terms in the register', async () => {
    const dir = onlyRegister();
    const db = new Database(path.join(dir, 'register.db'));
    db.exec('DROP TRIGGER event_not_deleted; DELETE FROM event WHERE seq = 1');
    db.close();
    const { code, report } = await audited(dir);
    expect(code).toBe(1);
    expect(codes(report)).toEqual(
      expect.arrayContaining([
        'fault audit.gap-in-sequence',
        'fault audit.number-missing',
        'fault register.store-object-missing',
      ]),
    );
  });

  test('it is exported and copied, byte for byte as with documents', async () => {
    const dir = onlyRegister();
    for (const words of [['--csv'], ['--jsonl'], ['nine-lights', '--jsonl']])
      expect(await well(['export', ...words], { cwd: dir })).toBe(
        await well(['export', ...words], { cwd: whole }),
      );
    await well(['backup', 'copy.db'], { cwd: dir });
    const copy = newFolder();
    renameSync(path.join(dir, 'copy.db'), path.join(copy, 'register.db'));
    expect((await audited(copy)).code).toBe(0);
  });

  test('an edition is named as the register knows it, and its shelves are compared', async () => {
    const dir = onlyRegister();
    copyFileSync(path.join(whole, 'seen.csv'), path.join(dir, 'seen.csv'));
    const seen = ['audit', 'nine-lights', '--seen', 'seen.csv', '--json'];
    const [own, theirs] = [await burin(seen, { cwd: dir }), await burin(seen, { cwd: whole })];
    expect(own.code).toBe(theirs.code);
    expect(JSON.parse(own.stdout).stocktake).toEqual(JSON.parse(theirs.stdout).stocktake);
    for (const words of [
      ['audit', 'ten-lights'],
      ['export', 'ten-lights', '--csv'],
    ]) {
      const said = await burin(words, { cwd: dir });
      expect([said.code, said.stdout]).toEqual([2, '']);
      expect(said.stderr).toContain('nine-lights');
    }
  });

  test('a folder without documents and without a register is refused as before', async () => {
    for (const words of [['audit'], ['backup', 'copy.db'], ['export', '--csv']]) {
      const said = await burin(words, { cwd: newFolder() });
      expect([said.code, said.stdout]).toEqual([2, '']);
      expect(said.stderr).toContain('workshop.yaml');
    }
  });
});

describe('with broken documents', () => {
  const spoiled = (file: string, text: string): string => {
    const dir = onlyRegister();
    const bench = newQuickBench(path.join(dir, 'bench'));
    renameSync(path.join(dir, 'register.db'), path.join(bench, 'register.db'));
    writeFileSync(path.join(bench, file), text);
    return bench;
  };

  test.each([
    ['an edition', 'editions/nine-lights.yaml', 'kind: edition\nversion: 1\n'],
    ['a cutter', 'cutters/drag-12.yaml', '{'],
    ['the workshop', 'workshop.yaml', 'kind: workshop\nname: [\n'],
  ])('%s: reported as a fault, and the register is audited all the same', async (_, file, text) => {
    const dir = spoiled(file, text);
    const { code, report } = await audited(dir);
    expect([code, codes(report), report.events]).toEqual([1, ['fault audit.documents-not-read'], 5]);
    const said = linesOf((await burin(['audit'], { cwd: dir })).stdout);
    expect(said.find((line) => line.startsWith('fault:'))).toContain(file);
  });

  test('a workshop that may name a server, in text that cannot be read, is not taken for one that names none', async () => {
    const dir = spoiled('workshop.yaml', 'register: postgres://bench.example/register\nname: [\n');
    const said = await burin(['audit'], { cwd: dir });
    expect([said.code, said.stdout]).toEqual([2, '']);
    expect(said.stderr).toContain('BURIN_REGISTER');
  });

  test('a server named in a workshop that is otherwise wrong is the one that is asked', async () => {
    // One that has no TLS and says so (PostgreSQL's protocol, SSLRequest): nobody waits for it to come back.
    const asked: Buffer[] = [];
    const server = createServer((socket) =>
      socket.once('data', (request) => {
        asked.push(request);
        socket.end('N');
      }),
    );
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const place = `127.0.0.1:${(server.address() as AddressInfo).port}/register`;
    const dir = spoiled('workshop.yaml', `register: postgres://${place}?sslmode=verify-full\nname: 7\n`);
    const said = await burin(['export', '--csv'], { cwd: dir });
    server.close();
    expect(said.code).toBe(2);
    expect(said.stderr).toContain(place);
    expect(asked).toHaveLength(1);
  });
});

describe('without the right to write', () => {
  /** As somebody who may read the folder and no more; root is denied nothing, so another user is asked. */
  const as = isRoot ? { uid: NOBODY } : {};

  async function locked(fill: (dir: string) => void): Promise<string> {
    const dir = onlyRegister();
    fill(dir);
    if (isRoot) give(dir, 0);
    for (const file of filesIn(dir)) chmodSync(path.join(dir, file), 0o444);
    chmodSync(dir, 0o555);
    return dir;
  }

  const toFile = (file: string) => (dir: string) => {
    const db = new Database(path.join(dir, 'register.db'));
    db.pragma('journal_mode = DELETE');
    db.close();
    expect(existsSync(path.join(dir, file))).toBe(true);
  };

  /** What is left by a program that was killed: the last entries are in the write-ahead log alone. */
  const withLog = (dir: string) => {
    const db = new Database(path.join(dir, 'register.db'));
    db.pragma('wal_autocheckpoint = 0');
    db.pragma('user_version = 1');
    const kept = newFolder();
    for (const end of ['', '-wal'])
      copyFileSync(path.join(dir, `register.db${end}`), path.join(kept, `r${end}`));
    db.close();
    for (const end of ['', '-wal'])
      copyFileSync(path.join(kept, `r${end}`), path.join(dir, `register.db${end}`));
  };

  test.each([
    ['a register kept with a write-ahead log', () => undefined],
    ['one whose last entries are in that log', withLog],
    ['a copy in one file', toFile('register.db')],
  ])('%s is audited, exported and copied, and the folder stays as it was', async (_, fill) => {
    const dir = await locked(fill);
    const before = hashes(dir);
    // Where the program itself lies out of another user's reach, there is nothing to try.
    if ((await started(['--version'], as)).code !== 0) return;
    const out = newFolder();
    if (isRoot) give(out, NOBODY);
    const around = { cwd: dir, ...as };
    const said = await started(['audit', '--json'], around);
    expect([said.code, said.stderr]).toEqual([0, '']);
    expect((JSON.parse(said.stdout) as Audited).events).toBe(5);
    expect((await started(['export', '--jsonl'], around)).stdout).toBe(
      await well(['export', '--jsonl'], { cwd: whole }),
    );
    expect((await started(['backup', path.join(out, 'copy.db')], around)).code).toBe(0);
    expect(existsSync(path.join(out, 'copy.db'))).toBe(true);
    expect(hashes(dir)).toEqual(before);
    chmodSync(dir, 0o755);
  });
});

describe('the store itself', () => {
  test('is always looked at: a trigger dropped from an otherwise sound register ends in exit 1', async () => {
    const dir = onlyRegister();
    const db = new Database(path.join(dir, 'register.db'));
    db.exec('DROP TRIGGER event_in_sequence');
    db.close();
    const { code, report } = await audited(dir);
    expect([code, codes(report)]).toEqual([
      1,
      ['remark audit.documents-not-read', 'fault register.store-object-missing'],
    ]);
  });

  test('of an earlier form is left as it is, and what was not looked at is told with exit 1', async () => {
    const dir = newFolder();
    const old = path.resolve(import.meta.dirname, '../fixtures/register/form-3.db');
    copyFileSync(old, path.join(dir, 'register.db'));
    const { code, report } = await audited(dir);
    expect([code, report.events]).toEqual([1, 26]);
    expect(codes(report)).toContain('fault register.store-older-form');
    expect(codes(report).filter((one) => one.startsWith('fault'))).toHaveLength(1);
    expect(readFileSync(path.join(dir, 'register.db'))).toEqual(readFileSync(old));
  });
});
