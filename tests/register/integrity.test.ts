import { readFileSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { integrity, integrityElsewhere } from '../../src/register/sqlite/integrity.js';
import { ask, codesOf, refusal } from './ask.js';
import { cleanAfterEach, newFile, open, unusedFile } from './folder.js';
import { onServer } from './postgres-open.js';

cleanAfterEach();
const server = onServer();

test('another process finds in a file what this one does', async () => {
  const file = unusedFile();
  const register = await open(file);
  await register.issue({ ...ask, count: 90 });
  const db = new Database(file);
  expect(await integrityElsewhere(db)).toEqual(['ok']);
  db.close();
  await register.close();
  // The number of cells of an index page: SQLite file format, 1.6, two bytes behind the first three of its header.
  const bytes = readFileSync(file);
  const page = bytes.readUInt16BE(16);
  const index = [...Array(bytes.length / page).keys()].findLast(
    (at) => bytes[at * page] === 10 && bytes.readUInt16BE(at * page + 3) > 1,
  )!;
  bytes.writeUInt16BE(bytes.readUInt16BE(index * page + 3) - 1, index * page + 3);
  writeFileSync(file, bytes);
  const damaged = new Database(file, { readonly: true });
  const here = await integrity(damaged);
  expect(here).not.toEqual(['ok']);
  expect(await integrityElsewhere(damaged)).toEqual(here);
  damaged.close();
  const none = { name: newFile(), readonly: true };
  await expect(integrityElsewhere(none)).rejects.toMatchObject({ code: 'SQLITE_CANTOPEN' });
});

test('a look at the store ends where it is called off, on both stores', async () => {
  const file = unusedFile();
  const register = await open(file);
  await register.issue(ask);
  const db = new Database(file);
  for (const look of [
    (signal: AbortSignal) => integrity(db, signal),
    (signal: AbortSignal) => integrityElsewhere(db, signal),
    (signal: AbortSignal) => register.faults(signal),
  ])
    await expect(look(AbortSignal.abort())).rejects.toThrow('aborted');
  const stop = new AbortController();
  const looking = integrityElsewhere(db, stop.signal);
  stop.abort();
  await expect(looking).rejects.toThrow('aborted');
  db.close();

  const other = await server.open(await server.unused());
  await other.issue(ask);
  const halt = new AbortController();
  const asked = other.faults(halt.signal);
  halt.abort();
  await expect(asked).rejects.toThrow('aborted');
  // It goes on with another connection.
  expect(await other.faults()).toEqual([]);
  expect(codesOf(await refusal(other.issue({ ...ask, count: 91 })))).toEqual(['register.too-few-free']);
});
