import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { linesIn, readInput, withInput } from '../../src/app/input-file.js';
import { newKey, showKey } from '../../src/app/key.js';
import { readPapers } from '../../src/app/restore-papers.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { readInside } from '../../src/documents/files.js';
import { readKey } from '../../src/register/log/keys.js';
import { newFolder, newWorkshopCopy, refusalOf, removeFolders } from './workshop.js';

/** Neither a file nor a folder, each by its name. Reading the first two never ends where nobody writes. */
const strange: Record<string, string> = {};
let folder: string;
let server: Server;

beforeAll(async () => {
  folder = newFolder();
  strange.pipe = join(folder, 'pipe');
  execFileSync('mkfifo', [strange.pipe]);
  strange.device = '/dev/zero';
  strange.socket = join(folder, 'socket');
  server = createServer();
  await new Promise<void>((listening) => server.listen(strange.socket, listening));
});
afterAll(async () => {
  await new Promise((closed) => server.close(closed));
  removeFolders();
});

test('lines of a file are read one by one, and of an endless one no more than is asked for', async () => {
  const file = join(newFolder(), 'lines');
  const linesOf = async (text: string, most: number) => {
    writeFileSync(file, text);
    const lines: string[] = [];
    await withInput(file, async (handle) => {
      for await (const line of linesIn(handle, most)) lines.push(line);
    });
    return lines;
  };
  expect(await linesOf('', 9)).toEqual([]);
  expect(await linesOf('one\r\n\ntwö\u2028three', 9)).toEqual(['one', '', 'twö\u2028three']);
  // Longer than what is read at once, so that a letter is read in two halves.
  const long = `x${'ö'.repeat(1 << 20)}`;
  expect(await linesOf(`${long}\n${long}\n`, 4 << 20)).toEqual([long, long]);
  expect(await linesOf(`first\n${long}\nthird\n`, 1000)).toEqual(['first', long.slice(0, 1000)]);
});

describe.skipIf(process.platform === 'win32').each(['pipe', 'device', 'socket'])('a %s', (kind) => {
  test('is refused as a list, a key, a paper or a program', async () => {
    const file = strange[kind]!;
    for (const read of [() => readInput(file, 100), () => readPapers([file], [])]) {
      const { exit, problems } = await refusalOf(read());
      expect({ exit, problems }).toMatchObject({
        exit: 2,
        problems: [{ code: 'app.not-a-file', where: file }],
      });
    }
  });

  test('is not written over', async () => {
    const workshop = await newWorkshopCopy();
    const owner = { workshop: workshop.dir, environment: workshop.environment };
    await newKey(owner);
    expect((await refusalOf(showKey(owner, strange[kind]!))).problems).toMatchObject([
      { code: 'app.not-a-file', where: strange[kind] },
    ]);
  });
});

test.skipIf(process.platform === 'win32').each(['pipe', 'socket'])('a %s is no document', async (kind) => {
  expect(await readInside(folder, kind)).toMatchObject({
    ok: false,
    problem: { code: 'documents.file-not-ordinary', where: kind },
  });
});

test.skipIf(process.platform === 'win32')(
  'nor is a pipe one of the files kept with a workshop or its keys',
  async () => {
    const workshop = await newWorkshopCopy();
    const { dir, environment } = workshop;
    const pipeAt = (file: string) => {
      rmSync(file, { force: true });
      execFileSync('mkfifo', ['-m', '600', file]);
    };
    pipeAt(join(dir, 'designs/cap-number.yaml'));
    const opened = await refusalOf(openWorkshop(dir, environment));
    expect(opened.problems[0]).toMatchObject({
      code: 'documents.file-not-ordinary',
      where: 'designs/cap-number.yaml',
    });
    mkdirSync(environment.keysFolder, { mode: 0o700 });
    pipeAt(join(environment.keysFolder, 'lantern-coast.pem'));
    const key = await refusalOf(readKey(environment.keysFolder, 'burin/lantern-coast'));
    expect(key.problems).toMatchObject([{ code: 'log.not-a-file' }]);
  },
);
