import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, filesIn, give, hashes, isRoot, newBench, newFolder } from './folders.js';

cleanAfterAll();

const NOBODY = 65534;
const bench = newBench();
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
    `${place}/taken: It is a file, and the output goes to a folder. Name a folder, or a name not yet taken.`,
  ]);

  const belowFile = await burin(cut(['01/90'], path.join(place, 'taken/deep/out')), { cwd: bench });
  expect(belowFile.code).toBe(2);
  expect(linesOf(belowFile.stderr)).toEqual([
    `${place}/taken/deep/out: A file stands where a folder is wanted. Name another place.`,
  ]);
  expect(filesIn(place)).toEqual(['taken']);
  expect(readFileSync(path.join(place, 'taken'), 'utf8')).toBe('mine');

  const closed = path.join(place, 'closed');
  mkdirSync(closed);
  chmodSync(closed, 0o555);
  chmodSync(place, 0o755);
  const theirs = newBench(path.join(newFolder(), 'bench'));
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'E. Marrow'], {
    cwd: theirs,
  });
  if (isRoot) {
    // No right is denied to root, so another user is asked to try.
    chmodSync(path.dirname(theirs), 0o755);
    give(theirs, NOBODY);
  }
  const as = isRoot ? { uid: NOBODY } : {};
  // Where the program itself lies out of another user's reach, there is nothing to try.
  if ((await burin(['check'], { cwd: theirs, ...as })).code !== 0) return;
  const readOnly = await burin(cut(['01/90'], path.join(closed, 'out')), { cwd: theirs, ...as });
  expect(readOnly.code).toBe(2);
  expect(linesOf(readOnly.stderr)).toEqual([
    `${closed}/out: It may not be read or written. See to its owner and permissions, or name another.`,
  ]);
  expect(filesIn(closed)).toEqual([]);
});

test('a piece cut again is replaced as a whole; other pieces and what a person put there are kept', async () => {
  const out = path.join(newFolder(), 'out');
  await well(cut(['01/90', '02/90'], out), { cwd: bench });
  const first = hashes(out);
  writeFileSync(path.join(out, 'main-0001/cap-body-old-point.nc'), 'G0 X0\n');
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
  expect(second['main-0001/cap-body-old-point.nc']).toBeUndefined();
  expect(readFileSync(path.join(out, 'main-0001/photograph.jpg'), 'utf8')).toBe('light');
  expect(readFileSync(path.join(out, 'notes.txt'), 'utf8')).toBe('keep');
  expect(filesIn(path.dirname(out)).filter((f) => f.startsWith('.'))).toEqual([]);
});

/** The least that a piece's folder must hold to be of use at the bench. */
const WHOLE = ['barrel-taper-cone-40.nc', 'barrel-taper.svg', 'cap-body-drag-12.nc', 'cap-body.svg'];

test('killed at any moment, cut leaves no half folder to be seen, and the next run clears up', async () => {
  const place = newFolder();
  const fresh = path.join(place, 'out');
  const kept = path.join(place, 'kept');
  await well(cut(['01/90', '02/90', '03/90'], kept), { cwd: bench });
  let killed = 0;
  for (let round = 0; round < 6; round++) {
    const out = round % 2 === 0 ? fresh : kept;
    // Some spread over the whole of a run, a little differently each time; some as the folder is being put in place.
    const delay = 250 + round * 300 + Math.floor(Math.random() * 100);
    const atTheEnd = round >= 3;
    const said = await burin(cut(['01/90', '02/90', '03/90'], out), {
      cwd: bench,
      started: (kill) => {
        if (!atTheEnd) return void setTimeout(kill, delay);
        const looking = setInterval(() => {
          const hidden = readdirSync(place).find(
            (f) => f.startsWith('.') && existsSync(path.join(place, f, 'proof.svg')),
          );
          if (hidden === undefined) return;
          clearInterval(looking);
          setTimeout(kill, round - 3);
        }, 1);
        setTimeout(() => clearInterval(looking), 20_000).unref();
      },
    });
    if (said.signal === 'SIGKILL') killed++;
    const seen = filesIn(out);
    if (seen.length === 0 && out === fresh) continue;
    for (const piece of ['main-0001', 'main-0002', 'main-0003']) {
      const own = seen.filter((f) => f.startsWith(`${piece}/`)).map((f) => f.slice(piece.length + 1));
      if (own.length > 0) expect(own, `after ${delay} ms`).toEqual(WHOLE);
    }
    for (const file of seen) expect(readFileSync(path.join(out, file)).length, file).toBeGreaterThan(500);
  }
  expect(killed).toBeGreaterThan(1);
  await well(cut(['01/90', '02/90', '03/90'], fresh), { cwd: bench });
  await well(cut(['01/90', '02/90', '03/90'], kept), { cwd: bench });
  expect(hashes(fresh)).toEqual(hashes(kept));
  expect(filesIn(place).filter((f) => f.startsWith('.'))).toEqual([]);
});
