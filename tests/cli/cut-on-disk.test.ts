import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, started, well } from './burin.js';
import { cleanAfterAll, edit, filesIn, give, hashes, isRoot, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const NOBODY = 65534;
const bench = newQuickBench();
const cut = (labels: readonly string[], out: string) => [
  ...['cut', 'nine-lights', '--station', 'rotary-level', '--out', out, '--labels', ...labels],
];

beforeAll(async () => {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '3', '--by', 'E. Marrow'], {
    cwd: bench,
  });
});

test('a disk that refuses is told in one line naming the folder, and nothing half-written stays', async () => {
  const place = newFolder();
  writeFileSync(path.join(place, 'taken'), 'mine');
  const onFile = await burin(cut(['01/90'], path.join(place, 'taken')), { cwd: bench });
  expect({ code: onFile.code, stdout: onFile.stdout }).toEqual({ code: 2, stdout: '' });
  expect(linesOf(onFile.stderr)).toEqual([
    `${place}/taken: This is a file, but the output goes to a folder. Name a folder, or a name not yet taken.`,
  ]);

  const belowFile = await burin(cut(['01/90'], path.join(place, 'taken/deep/out')), { cwd: bench });
  expect(belowFile.code).toBe(2);
  expect(linesOf(belowFile.stderr)).toEqual([
    `${place}/taken/deep/out: There is a file where a folder is needed. Name another folder.`,
  ]);
  expect(filesIn(place)).toEqual(['taken']);
  expect(readFileSync(path.join(place, 'taken'), 'utf8')).toBe('mine');

  const closed = path.join(place, 'closed');
  mkdirSync(closed);
  chmodSync(closed, 0o555);
  chmodSync(place, 0o755);
  const theirs = newQuickBench();
  const env = { BURIN_KEYS: path.join(path.dirname(theirs), 'keys') };
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'E. Marrow'], {
    ...{ cwd: theirs, env },
  });
  if (isRoot) {
    // No right is denied to root, so another user is asked to try.
    chmodSync(path.dirname(theirs), 0o755);
    give(theirs, NOBODY);
    give(env.BURIN_KEYS, NOBODY);
  }
  const as = isRoot ? { uid: NOBODY } : {};
  // Where the program itself lies out of another user's reach, there is nothing to try.
  if ((await started(['--version'], { cwd: theirs, ...as })).code !== 0) return;
  const readOnly = await started(cut(['01/90'], path.join(closed, 'out')), { cwd: theirs, env, ...as });
  expect(readOnly.code).toBe(2);
  expect(linesOf(readOnly.stderr)).toEqual([
    `${closed}/out: You may not read or write it. Check its owner and permissions, or name another.`,
  ]);
  expect(filesIn(closed)).toEqual([]);
});

test('a piece cut again is replaced as a whole; other pieces and what a person put there are kept', async () => {
  const out = path.join(newFolder(), 'out');
  await well(cut(['01/90', '02/90'], out), { cwd: bench });
  const first = hashes(out);
  const program = readFileSync(path.join(out, 'main-0001/cap-body-drag-12.nc'));
  writeFileSync(path.join(out, 'main-0001/copy.nc'), program);
  writeFileSync(path.join(out, 'main-0001/photograph.jpg'), 'light');
  writeFileSync(path.join(out, 'notes.txt'), 'keep');
  edit(bench, 'designs/barrel-title.yaml', 'size: 1.4', 'size: 1.5');
  try {
    await well(cut(['01/90', '03/90'], out), { cwd: bench });
  } finally {
    edit(bench, 'designs/barrel-title.yaml', 'size: 1.5', 'size: 1.4');
  }
  const second = hashes(out);
  for (const file of Object.keys(first)) {
    if (file.startsWith('main-0002/')) expect(second[file]).toBe(first[file]);
    else if (/^main-0001\/barrel/.test(file)) expect(second[file]).not.toBe(first[file]);
  }
  expect(readFileSync(path.join(out, 'main-0001/copy.nc'))).toEqual(program);
  expect(readFileSync(path.join(out, 'main-0001/photograph.jpg'), 'utf8')).toBe('light');
  expect(readFileSync(path.join(out, 'notes.txt'), 'utf8')).toBe('keep');
  expect(filesIn(path.dirname(out)).filter((f) => f.startsWith('.'))).toEqual([]);
});
