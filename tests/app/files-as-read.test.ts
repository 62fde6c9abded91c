import { chmodSync, readFileSync, renameSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { FilesAsRead, stampOf, youngest } from '../../src/app/files-as-read.js';
import { sha256 } from '../../src/app/output-list.js';
import { newFolder, removeFolders } from './workshop.js';

afterAll(removeFolders);

/** A file that was read. */
function read() {
  const place = join(newFolder(), 'a.nc');
  writeFileSync(place, 'G1 X1');
  const stamp = stampOf(place)!;
  return { place, stamp, digest: sha256(readFileSync(place)) };
}

describe('a file that was read', () => {
  test('is not read again where the system vouches for it', () => {
    const { place, stamp } = read();
    const files = new FilesAsRead();
    // Another digest than it has: reading it would tell.
    files.add('a.nc', sha256('other'), stamp);
    expect(files.isAsRead('a.nc', place)).toBe(true);
    expect(files.isAsRead('b.nc', place)).toBe(false);
  });

  test.each(['ino', 'size', 'ctimeNs'] as const)('is read again where its %s is another', (key) => {
    const { place, stamp, digest } = read();
    const files = new FilesAsRead();
    const other = { ...stamp, [key]: stamp[key] + 1n };
    files.add('same', digest, other);
    files.add('changed', sha256('other'), other);
    expect(['same', 'changed'].map((path) => files.isAsRead(path, place))).toEqual([true, false]);
  });

  test('is the same after its rights, times and name are changed, but not as a link, nor where it is gone', () => {
    const { place, stamp, digest } = read();
    const files = new FilesAsRead();
    files.add('a.nc', digest, stamp);
    chmodSync(place, 0o600);
    utimesSync(place, 1, 1);
    renameSync(place, `${place}.old`);
    expect(files.isAsRead('a.nc', `${place}.old`)).toBe(true);
    expect(files.isAsRead('a.nc', place)).toBe(false);
    symlinkSync(`${place}.old`, place);
    expect(files.isAsRead('a.nc', place)).toBe(false);
  });

  test('is read again where it is among the youngest, as its stamp then says nothing', () => {
    const { place, stamp } = read();
    const files = new FilesAsRead();
    files.add('a.nc', sha256('other'), stamp);
    files.doubtYoungest();
    expect(files.isAsRead('a.nc', place)).toBe(false);
  });
});

describe('the youngest of files', () => {
  // Stamps on whole seconds, on hundredths, and finer: how long the clock of the disk may have stood still.
  test.each([
    { clock: 'whole seconds', newest: 1_700_000_000_000_000_000n, tickMs: 2000n },
    { clock: 'hundredths', newest: 1_700_000_000_010_000_000n, tickMs: 2000n },
    { clock: 'nanoseconds', newest: 1_700_000_000_012_345_678n, tickMs: 100n },
  ])('are those within one tick of the last, on a clock of $clock', ({ newest, tickMs }) => {
    const stampBefore = (ms: bigint) => ({ ino: 1n, size: 5n, ctimeNs: newest - ms * 1_000_000n });
    const stamps = new Map([
      ['last', stampBefore(0n)],
      ['within', stampBefore(tickMs)],
      ['older', stampBefore(tickMs + 10n)],
    ]);
    expect(youngest(stamps)).toEqual(['last', 'within']);
  });

  test('are none where there is no file', () => {
    expect(youngest(new Map())).toEqual([]);
  });
});
