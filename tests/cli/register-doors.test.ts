import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const WHO = ['--by', 'A. Moss'];

test('a register is audited, counted, carried over and closed at the command line', async () => {
  const cwd = newQuickBench();
  const env = { BURIN_KEYS: path.join(newFolder(), 'keys') };
  const run = (...words: string[]) => burin(words, { cwd, env });
  await well(['key', 'new'], { cwd, env });
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO], { cwd, env });
  await well(['record', 'nine-lights', '01/90', 'engraved', ...WHO], { cwd, env });
  const key = path.join(cwd, 'maker.pub');
  writeFileSync(key, await well(['key', 'show'], { cwd, env }));

  const clean = await run('audit', '--key', key);
  expect([clean.code, clean.stderr]).toEqual([0, '']);
  expect(linesOf(clean.stdout).at(-1)).toBe('No fault was found.');
  expect(clean.stdout).toMatch(/agrees; signed by the key/);

  writeFileSync(path.join(cwd, 'seen.csv'), 'label\r\n02/9O\r\n');
  const counted = await run('audit', 'nine-lights', '--seen', 'seen.csv');
  expect(counted.code).toBe(1);
  expect(counted.stdout).toMatch(/shelf: row 2: "02\/9O" is not a label.*02\/90 \(O and 0\)/);
  expect(counted.stdout).toMatch(/shelf: label 01\/90: 01\/90 is engraved and was not seen/);
  const asCsv = linesOf((await run('audit', 'nine-lights', '--seen', 'seen.csv', '--csv')).stdout);
  expect(asCsv).toHaveLength(3);
  const asJson = JSON.parse((await run('--json', 'audit', 'nine-lights', '--seen', 'seen.csv')).stdout);
  expect(asJson).toMatchObject({
    ok: false,
    events: 4,
    stocktake: { findings: [{ code: 'stocktake.near-miss' }, { code: 'stocktake.missing' }] },
  });
  expect((await run('audit', '--seen', 'seen.csv')).code).toBe(2);
  expect((await run('audit', '--key', 'seen.csv')).code).toBe(2);
  expect((await run('audit', '--checkpoint', 'nowhere')).code).toBe(2);

  writeFileSync(
    path.join(cwd, 'past.csv'),
    'series,number,label,state\nmain,3,03/90,delivered\nmain,4,4/90,issued\n',
  );
  const dry = await run('import', 'nine-lights', 'past.csv', ...WHO, '--dry-run');
  expect([dry.code, linesOf(dry.stdout)[0]]).toEqual([
    1,
    expect.stringMatching(/^past\.csv: row 3: The edition labels it 04\/90/),
  ]);
  expect((await run('import', 'nine-lights', 'past.csv', ...WHO)).code).toBe(3);
  writeFileSync(path.join(cwd, 'past.csv'), 'series,number,label,state\nmain,3,03/90,delivered\n');
  expect(await well(['import', 'nine-lights', 'past.csv', ...WHO], { cwd, env })).toMatch(
    /Numbers entered: 1, by 4 events\./,
  );
  expect(await well(['import', 'nine-lights', 'past.csv', ...WHO], { cwd, env })).toMatch(
    /Nothing is new\.\n$/,
  );

  expect((await run('export')).code).toBe(2);
  const table = linesOf((await run('export', 'nine-lights', '--csv')).stdout);
  expect(table).toHaveLength(9);
  await well(['export', '--jsonl', '--out', 'all.jsonl'], { cwd, env });
  const other = newQuickBench();
  await well(['restore', path.join(cwd, 'all.jsonl')], { cwd: other, env });
  const audited = await burin(['audit', '--key', key], { cwd: other, env });
  expect([audited.code, audited.stdout]).toEqual([0, (await run('audit', '--key', key)).stdout]);

  const open = await run('close', 'nine-lights', '--by', 'E. Marrow', '--dry-run');
  expect([open.code, linesOf(open.stdout)]).toEqual([
    1,
    [
      expect.stringMatching(
        /^edition nine-lights: 1 number is issued and not engraved: 02\/90\. Finish it first/,
      ),
      expect.stringMatching(/: 96 numbers are never issued: 04\/90, .* and 88 more\. Finish them first/),
      'Nothing was entered.',
    ],
  ]);
  const refused = await run('close', 'nine-lights', '--by', 'E. Marrow');
  expect([refused.code, linesOf(refused.stderr)]).toEqual([3, linesOf(open.stdout).slice(0, 2)]);
  const closed = await run('close', 'nine-lights', '--by', 'E. Marrow', '--leave-open');
  expect(closed.code, closed.stderr).toBe(0);
  expect(readFileSync(path.join(cwd, 'out/nine-lights/statement-of-edition.txt'), 'utf8')).toMatch(
    /^Statement of edition: Nine Lights\n/,
  );
  expect((await run('issue', 'nine-lights', '--series', 'main', '--count', '1', ...WHO)).code).toBe(3);
});

test('a register that was altered, is damaged or is none is said to be, with exit 1', async () => {
  const cwd = newQuickBench();
  const env = { BURIN_KEYS: path.join(newFolder(), 'keys') };
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '3', ...WHO], { cwd, env });
  const file = path.join(cwd, 'register.db');
  const db = new Database(file);
  for (const name of db
    .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'trigger'")
    .pluck()
    .all())
    db.exec(`DROP TRIGGER "${name}"`);
  db.exec(`UPDATE event SET body = replace(body, 'A. Moss', 'B. Moss') WHERE seq = 1`);
  db.close();
  const altered = await burin(['audit'], { cwd, env });
  expect(altered.code).toBe(1);
  expect(altered.stdout).toMatch(/fault: event 1: Its text does not match its hash/);

  for (const end of ['', '-wal', '-shm']) writeFileSync(file + end, '');
  writeFileSync(file, 'this is a list of numbers, written by hand\n'.repeat(50));
  const none = await burin(['audit'], { cwd, env });
  expect(none.code).toBe(1);
  expect(none.stdout).toMatch(/fault: .*register\.db: /);
});
