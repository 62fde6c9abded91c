import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type FileToWrite, writeFiles } from '../../src/app/write-files.js';
import { encodeChunks, encodeParts, encodeText, joinChunks } from '../../src/text-chunks.js';

let dir = '';
beforeEach(async () => {
  dir = await mkdtemp(join(tmpdir(), 'fill-'));
});
afterEach(() => rm(dir, { recursive: true, force: true }));

const shared = encodeText('the same in all \u00b7 é\n');

function* pieces(count: number, broken?: number): Generator<FileToWrite, string> {
  for (let i = 0; i < count; i++) {
    if (i === broken) throw new RangeError(`no piece ${i}`);
    yield { path: `piece-${i}/a.txt`, text: [`label ${i}\u00b7\n`, shared, 'end\n'] };
  }
  return 'done';
}

/** Some megabytes, in chunks of both kinds. */
const long = Array.from({ length: 90_000 }, (_, i) => (i % 3 === 0 ? shared : `row ${i} \u00b7 of many\n`));

const written = async (): Promise<string[]> => (await readdir(dir)).sort();

describe('filling a folder', () => {
  test('writes every file whole and gives what the maker returns', async () => {
    expect(await writeFiles(dir, pieces(100))).toBe('done');
    expect(await written()).toHaveLength(100);
    for (const i of [0, 57, 99])
      expect(await readFile(join(dir, `piece-${i}`, 'a.txt'), 'utf8')).toBe(
        `label ${i}\u00b7\nthe same in all \u00b7 é\nend\n`,
      );
  });

  test('a maker that fails is heard, and nothing is written after', async () => {
    await expect(writeFiles(dir, pieces(100, 30))).rejects.toThrow('no piece 30');
    const then = await written();
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(await written()).toEqual(then);
  });

  test('a disk that fails is heard, and stops the maker soon', async () => {
    let made = 0;
    function* twice(): Generator<FileToWrite, void> {
      for (; made < 1000; made++) yield { path: made < 5 ? `${made}.txt` : '0.txt', text: ['x'] };
    }
    await expect(writeFiles(dir, twice())).rejects.toThrow('EEXIST');
    expect(made).toBeLessThan(100);
  });

  test('a long text is written whole, part by part', async () => {
    await writeFiles(dir, [{ path: 'long.txt', text: long }][Symbol.iterator]());
    expect((await readFile(join(dir, 'long.txt'), 'utf8')) === joinChunks(long)).toBe(true);
  });

  test('an empty file is a file', async () => {
    await writeFiles(dir, [{ path: 'empty.txt', text: [] }][Symbol.iterator]());
    expect(await readFile(join(dir, 'empty.txt'), 'utf8')).toBe('');
  });
});

describe('text chunks', () => {
  test('is the same as text and as bytes, and copies nothing that stands', () => {
    const chunks = ['a', 'é\u{1f31f}', shared, '', 'b'];
    expect(Buffer.concat(encodeChunks(chunks)).toString('utf8')).toBe(joinChunks(chunks));
    expect(encodeChunks(chunks)[1]).toBe(shared);
    expect(encodeChunks(chunks)).toHaveLength(3);
  });

  test('a long text comes in parts, each made when it is asked for', () => {
    const sizes = [...encodeParts(long)].map((part) => part.reduce((sum, { length }) => sum + length, 0));
    expect(sizes.length).toBeGreaterThan(1);
    expect(Math.max(...sizes)).toBeLessThan(1.2 * 2 ** 20);
    expect(sizes.reduce((sum, size) => sum + size)).toBe(Buffer.byteLength(joinChunks(long)));
    let taken = 0;
    const counted = {
      *[Symbol.iterator]() {
        for (; ; taken++) yield 'x'.repeat(1000);
      },
    };
    const [first] = encodeParts(counted);
    expect(first).toHaveLength(1);
    expect(taken).toBeLessThan(1100);
    expect([...encodeParts([])]).toEqual([]);
  });
});
