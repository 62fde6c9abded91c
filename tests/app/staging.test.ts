import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import type * as disk from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterAll, afterEach, describe, expect, test, vi } from 'vitest';

/** Which rename fails, counted from 1; from there on all of them where the process is to be gone. */
const fault = { at: 0, gone: false, renames: 0 };

vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof disk>();
  const fails = (): boolean =>
    fault.at > 0 && (fault.gone ? fault.renames >= fault.at : fault.renames === fault.at);
  const broken = () => Object.assign(new Error('EIO: i/o error, rename'), { code: 'EIO', syscall: 'rename' });
  return {
    ...real,
    rename: (...of: Parameters<typeof real.rename>) => {
      fault.renames++;
      return fails() ? Promise.reject(broken()) : real.rename(...of);
    },
    rm: (...of: Parameters<typeof real.rm>) =>
      fault.gone && fails() ? Promise.reject(broken()) : real.rm(...of),
  };
});

// Another test file may have loaded them with the real disk.
vi.resetModules();
const { stage } = await import('../../src/app/staging.js');
const { newFolder, refusalOf, removeFolders } = await import('./workshop.js');

afterEach(() => Object.assign(fault, { at: 0, gone: false, renames: 0 }));
afterAll(removeFolders);

const program = (label: string, words: string): string =>
  [
    'edition: first',
    `label: ${label}`,
    'design: 0a',
    'part: cap',
    'surface: body',
    'cutter: drag',
    'set-up: level',
  ]
    .map((line) => `(${line})\n`)
    .join('') + words;
const sheet = (words: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" data-label="1"><title>First</title><g data-role="surface">${words}</g></svg>`;

/** A cut of pieces as files, with the words that tell one cut from another. */
const filesOf = (pieces: readonly string[], words: string) => [
  ...pieces.flatMap((piece) => [
    { path: `${piece}/cap-body-drag.nc`, text: [program(piece, words)] },
    { path: `${piece}/cap-body.svg`, text: [sheet(words)] },
  ]),
  { path: 'run-sheet.html', text: [`run ${words}`] },
  { path: 'proof.svg', text: [`proof ${words}`] },
];

async function put(
  out: string,
  pieces: readonly string[],
  words: string,
  before?: () => Promise<void>,
): Promise<void> {
  const staging = await stage(out);
  try {
    await staging.writeFiles(filesOf(pieces, words).values());
    await staging.publish(before);
  } catch (error) {
    await staging.discard();
    throw error;
  }
}

/** Every file below a folder with its text. */
const contents = (dir: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(dir, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name))
      .sort()
      .map((file) => [file.slice(dir.length + 1), readFileSync(file, 'utf8')]),
  );
const hiddenIn = (dir: string): string[] => readdirSync(dir).filter((name) => name.startsWith('.'));

/** Two pieces of the first cut and a note of a person's; the second cut replaces one and adds one. */
async function newOutput(): Promise<string> {
  const out = join(newFolder(), 'out');
  await put(out, ['main-0001', 'main-0002'], 'old');
  writeFileSync(join(out, 'main-0001/notes.txt'), 'mine');
  return out;
}
const SECOND = ['main-0001', 'main-0003'];
/** A piece and three files, the list among them, are replaced by two renames each, and one piece is new. */
const RENAMES = 9;
/** Like the lock of a process of this machine that was killed. */
const DEAD = { host: hostname(), pid: 4000001, started: 1 };
const lockOf = (out: string): string => join(dirname(out), `.${basename(out)}.lock`);
const leaveLock = (out: string, owner: object = DEAD): void =>
  writeFileSync(lockOf(out), JSON.stringify(owner));

/** The hidden folder of a process that was killed as it filled it. */
async function leftFolder(out: string): Promise<string> {
  const staging = await stage(out);
  const [own] = readdirSync(dirname(out)).filter((name) => name.endsWith('.partial'));
  const left = join(dirname(out), `.${basename(out)}.${DEAD.pid}-${DEAD.started}.partial`);
  cpSync(join(dirname(out), own!), left, { recursive: true });
  await staging.discard();
  return left;
}

describe('a cut that cannot be put in place leaves what was there', () => {
  const ways: Readonly<Record<string, (out: string) => void>> = {
    'a folder in the place of the run sheet': (out) => {
      rmSync(join(out, 'run-sheet.html'));
      mkdirSync(join(out, 'run-sheet.html'));
      writeFileSync(join(out, 'run-sheet.html/mine'), 'mine');
    },
    'a file in the place of a piece': (out) => writeFileSync(join(out, 'main-0003'), 'mine'),
    'a link in the place of a piece': (out) => {
      mkdirSync(join(dirname(out), 'older'));
      symlinkSync('../older', join(out, 'main-0003'));
    },
  };
  test.each(Object.entries(ways))('%s', async (_, spoil) => {
    const out = await newOutput();
    spoil(out);
    const before = contents(out);
    const { exit, problems } = await refusalOf(put(out, SECOND, 'new'));
    expect({ exit, codes: problems.map((p) => p.code) }).toEqual({ exit: 2, codes: ['app.place-taken'] });
    expect(contents(out)).toEqual(before);
    expect(hiddenIn(dirname(out))).toEqual([]);
  });

  test('whichever rename fails', async () => {
    for (let at = 1; at <= RENAMES; at++) {
      const out = await newOutput();
      const before = contents(out);
      Object.assign(fault, { at, renames: 0 });
      const { problems } = await refusalOf(put(out, SECOND, 'new'));
      expect(problems.map((p) => p.code)).toEqual(['app.disk-silent']);
      expect(contents(out), `rename ${at}`).toEqual(before);
      expect(hiddenIn(dirname(out))).toEqual([]);
      fault.at = 0;
    }
  });

  test('whichever rename it is gone at: the next run puts back what was moved, and then cuts', async () => {
    for (let at = 1; at <= RENAMES; at++) {
      const out = await newOutput();
      const before = contents(out);
      Object.assign(fault, { at, gone: true, renames: 0 });
      await refusalOf(put(out, SECOND, 'new'));
      expect(hiddenIn(dirname(out)).length).toBe(2);
      Object.assign(fault, { at: 0, gone: false });
      leaveLock(out);
      const staging = await stage(out);
      expect(contents(out), `rename ${at}`).toEqual(before);
      await staging.discard();
      await put(out, SECOND, 'new');
      expect(contents(out)).toEqual({ ...before, ...textsOf(SECOND, 'new'), ...listIn(out) });
      expect(hiddenIn(dirname(out))).toEqual([]);
    }
  });

  /** Puts SECOND in place and is gone at a rename. */
  async function goneAt(at: number): Promise<{ out: string; before: Record<string, string> }> {
    const out = await newOutput();
    const before = contents(out);
    Object.assign(fault, { at, gone: true, renames: 0 });
    await refusalOf(put(out, SECOND, 'new'));
    Object.assign(fault, { at: 0, gone: false });
    leaveLock(out);
    return { out, before };
  }

  test('what a person put into a folder after that is kept, whichever rename it is gone at', async () => {
    const mine = { 'inspection.txt': 'looked at', 'photos/one.jpg': 'light', 'photos/deep/two.jpg': 'light' };
    for (let at = 1; at <= RENAMES; at++) {
      const { out, before } = await goneAt(at);
      const pieces = ['main-0001', 'main-0002', 'main-0003'].filter((piece) => existsSync(join(out, piece)));
      const added = Object.fromEntries(
        pieces.flatMap((piece) => Object.entries(mine).map(([path, text]) => [`${piece}/${path}`, text])),
      );
      for (const [path, text] of Object.entries(added)) {
        mkdirSync(dirname(join(out, path)), { recursive: true });
        writeFileSync(join(out, path), text);
      }
      for (const piece of pieces) {
        mkdirSync(join(out, piece, 'empty'));
        symlinkSync('/nowhere', join(out, piece, 'link'));
      }
      await (await stage(out)).discard();
      expect(contents(out), `rename ${at}`).toEqual({ ...before, ...added });
      await put(out, SECOND, 'new');
      expect(contents(out)).toEqual({ ...before, ...added, ...textsOf(SECOND, 'new'), ...listIn(out) });
      for (const piece of pieces)
        expect(readdirSync(join(out, piece))).toEqual(expect.arrayContaining(['empty', 'link']));
      expect(hiddenIn(dirname(out))).toEqual([]);
    }
  });

  test('what a person changed after that, or put where nothing is, is named and kept until it is moved away', async () => {
    const ways: readonly (readonly [at: number, path: string, code: string])[] = [
      [6, 'main-0001/cap-body-drag.nc', 'app.output-changed'],
      [6, 'main-0001/notes.txt', 'app.output-not-listed'],
      [9, 'proof.svg', 'app.output-changed'],
      [2, 'main-0001', 'app.place-taken'],
    ];
    for (const [at, path, code] of ways) {
      const { out, before } = await goneAt(at);
      writeFileSync(join(out, path), 'changed by a person');
      const there = contents(out);
      expect((await refusalOf(put(out, SECOND, 'new'))).problems, path).toMatchObject([
        { code, where: join(out, path) },
      ]);
      expect(contents(out)).toEqual(there);
      renameSync(join(out, path), join(dirname(out), 'away'));
      await (await stage(out)).discard();
      expect(contents(out)).toEqual(before);
      await put(out, SECOND, 'new');
    }
  });

  test('there are as many renames as these tests try', async () => {
    const out = await newOutput();
    fault.renames = 0;
    await put(out, SECOND, 'new');
    expect(fault.renames).toBe(RENAMES);
  });
});

const textsOf = (pieces: readonly string[], words: string): Record<string, string> =>
  Object.fromEntries(filesOf(pieces, words).map(({ path, text }) => [path, text.join('')]));

/** The list as it is, for comparing all else. */
const listIn = (out: string): Record<string, string> => ({
  'files.sha256': readFileSync(join(out, 'files.sha256'), 'utf8'),
});

describe('in the folder of output', () => {
  test('what an earlier cut wrote goes and what a person put there stays, copies of programs too', async () => {
    const out = await newOutput();
    const piece = (name: string) => join(out, 'main-0001', name);
    const staging = await stage(out);
    const more = ['cap-old.nc', 'cap-lid.svg'].map((name) => ({ path: `main-0001/${name}`, text: ['old'] }));
    await staging.writeFiles([...filesOf(['main-0001'], 'old'), ...more].values());
    await staging.publish();
    const mine = {
      'COPY.NC': program('main-0001', 'old'),
      'copy.svg': sheet('old'),
      'mine.nc': 'M2\n',
      'photo.svg': '<svg xmlns="http://www.w3.org/2000/svg"><title>Mine</title></svg>',
      'notes.txt': 'mine',
    };
    for (const [name, text] of Object.entries(mine)) writeFileSync(piece(name), text);
    mkdirSync(piece('photos'));
    symlinkSync('/nowhere', piece('link'));
    await put(out, SECOND, 'new');
    expect(readdirSync(join(out, 'main-0001')).sort()).toEqual(
      [...Object.keys(mine), 'cap-body-drag.nc', 'cap-body.svg', 'link', 'photos'].sort(),
    );
    for (const [name, text] of Object.entries(mine)) expect(readFileSync(piece(name), 'utf8')).toBe(text);
  });

  const changes: Readonly<
    Record<string, readonly [path: string, change: (file: string) => void, code: string]>
  > = {
    'notes in the run sheet': [
      'run-sheet.html',
      (file) => appendFileSync(file, '<p>01/90 shows a scratch</p>'),
      'app.output-changed',
    ],
    'a program changed by hand': [
      'main-0001/cap-body-drag.nc',
      (file) => appendFileSync(file, 'M2\n'),
      'app.output-changed',
    ],
    'a sheet written on': [
      'main-0001/cap-body.svg',
      (file) => writeFileSync(file, sheet('with a note')),
      'app.output-changed',
    ],
    'a folder in the place of a program': [
      'main-0001/cap-body-drag.nc',
      (file) => {
        rmSync(file);
        mkdirSync(file);
      },
      'app.place-taken',
    ],
    "a person's own list": [
      'files.sha256',
      (file) => writeFileSync(file, `${'0'.repeat(64)}  proof.svg\n`),
      'app.output-list-not-ours',
    ],
    'a list cut short': ['files.sha256', (file) => truncateSync(file, 200), 'app.output-list-not-ours'],
  };
  test.each(Object.entries(changes))('%s is not written over', async (_, [path, change, code]) => {
    const out = await newOutput();
    change(join(out, path));
    const before = contents(out);
    const entered: string[] = [];
    const refused = await refusalOf(put(out, SECOND, 'new', async () => void entered.push('programs')));
    expect(refused.problems).toMatchObject([{ code, where: join(out, path) }]);
    expect(contents(out)).toEqual(before);
    expect(entered).toEqual([]);
    expect(readdirSync(dirname(out))).toEqual(['out']);
  });

  test('nor is a file that burin no longer writes, but wrote once', async () => {
    const out = await newOutput();
    const staging = await stage(out);
    await staging.writeFiles([{ path: 'main-0002/cap-old.nc', text: ['old'] }].values());
    await staging.publish();
    appendFileSync(join(out, 'main-0002/cap-old.nc'), 'M2\n');
    const { problems } = await refusalOf(put(out, ['main-0002'], 'new'));
    expect(problems).toMatchObject([
      { code: 'app.output-changed', where: join(out, 'main-0002/cap-old.nc') },
    ]);
  });

  test('nothing is replaced where no list says that burin wrote it, unless it is the same', async () => {
    const out = await newOutput();
    rmSync(join(out, 'files.sha256'));
    const before = contents(out);
    const { exit, problems } = await refusalOf(put(out, ['main-0001'], 'new'));
    expect({ exit, codes: new Set(problems.map((p) => p.code)) }).toEqual({
      exit: 3,
      codes: new Set(['app.output-not-listed']),
    });
    expect(problems).toHaveLength(4);
    await put(out, ['main-0001'], 'old');
    expect(contents(out)).toEqual({ ...before, ...listIn(out) });
    await put(out, ['main-0001'], 'new');
  });

  test('a pipe that cannot be kept is named', async () => {
    const out = await newOutput();
    execFileSync('mkfifo', [join(out, 'main-0001/pipe')]);
    const { problems } = await refusalOf(put(out, SECOND, 'new'));
    expect(problems).toMatchObject([{ code: 'app.cannot-keep', where: join(out, 'main-0001/pipe') }]);
  });

  test('the list is read by the tool that its form is for, and names what was written and nothing else', async () => {
    const out = await newOutput();
    await put(out, SECOND, 'new');
    rmSync(join(out, 'main-0002'), { recursive: true });
    await put(out, ['main-0003'], 'newer');
    writeFileSync(join(out, 'notes.txt'), 'mine');
    const checked = execFileSync('sha256sum', ['--check', '--strict', 'files.sha256'], {
      cwd: out,
      encoding: 'utf8',
    });
    expect(checked.trim().split('\n')).toEqual(
      [
        ...['main-0001', 'main-0003'].flatMap((piece) => [
          `${piece}/cap-body-drag.nc`,
          `${piece}/cap-body.svg`,
        ]),
        ...['proof.svg', 'run-sheet.html'],
      ].map((path) => `${path}: OK`),
    );
  });
});

describe('what has nearly the name of a hidden folder', () => {
  test.each(['v2', '1-2', 'partial', '1-2.partial'])(
    'is kept: that of an output beside, out.%s',
    async (more) => {
      const out = await newOutput();
      const beside = `${out}.${more}`;
      await put(beside, ['main-0001'], 'old');
      // Both are filled at one time, in either order; then one was killed as its files were moved.
      for (const [first, second] of [
        [out, beside],
        [beside, out],
      ] as const) {
        const staging = await stage(first);
        await staging.writeFiles(filesOf(['main-0001'], 'new').values());
        await put(second, ['main-0001'], 'newer');
        await staging.publish();
        expect(readFileSync(join(first, 'run-sheet.html'), 'utf8')).toBe('run new');
      }
      expect(readdirSync(dirname(out)).sort()).toEqual(['out', basename(beside)]);
      const before = contents(beside);
      Object.assign(fault, { at: 4, gone: true, renames: 0 });
      await refusalOf(put(beside, ['main-0001'], 'newest'));
      Object.assign(fault, { at: 0, gone: false });
      await put(out, ['main-0001'], 'last');
      leaveLock(beside);
      await (await stage(beside)).discard();
      expect(contents(beside)).toEqual(before);
    },
  );

  test("a person's own folders, files and links are kept", async () => {
    const out = await newOutput();
    const elsewhere = newFolder();
    writeFileSync(join(elsewhere, 'mine.txt'), 'mine');
    const at = (name: string) => join(dirname(out), name);
    const mine = ['.out.backup.partial', '.out.1-2.backup.partial', '.out.1-2.partial', '.out.partial'];
    for (const name of mine) {
      mkdirSync(at(name));
      writeFileSync(join(at(name), 'mine.txt'), 'mine');
    }
    writeFileSync(at('.out.3-4.partial'), 'mine');
    symlinkSync(elsewhere, at('.out.5-6.partial'));
    // The mark of another output's.
    cpSync(await leftFolder(join(dirname(out), 'other')), at('.out.7-8.partial'), { recursive: true });
    await put(out, ['main-0001'], 'new');
    for (const name of [...mine, '.out.5-6.partial'])
      expect(readFileSync(join(at(name), 'mine.txt'), 'utf8')).toBe('mine');
    expect(readFileSync(at('.out.3-4.partial'), 'utf8')).toBe('mine');
    expect(existsSync(at('.out.7-8.partial'))).toBe(true);
  });

  test('what was left at any moment of the making of it is removed', async () => {
    const out = await newOutput();
    const moments: ((left: string) => void)[] = [
      (left) => rmSync(join(left, '.burin-writes-here')),
      (left) => truncateSync(join(left, '.burin-writes-here'), 0),
      (left) => truncateSync(join(left, '.burin-writes-here'), 9),
      (left) => writeFileSync(join(left, 'run-sheet.html'), 'half'),
      (left) => {
        rmSync(join(left, '.burin-writes-here'));
        cpSync(join(out, 'files.sha256'), join(left, 'files.sha256'));
      },
    ];
    for (const moment of moments) {
      moment(await leftFolder(out));
      await put(out, ['main-0001'], 'new');
      expect(readdirSync(dirname(out))).toEqual(['out']);
    }
  });
});

describe('of two cuts into one folder', () => {
  test('the second is told, and the first is not touched', async () => {
    const out = join(newFolder(), 'out');
    const first = await stage(out);
    await first.writeFiles(filesOf(['main-0001'], 'first').values());
    const { exit, problems } = await refusalOf(put(out, ['main-0001', 'main-0002'], 'second'));
    expect({ exit, problems }).toMatchObject({
      exit: 2,
      problems: [
        {
          code: 'app.output-locked',
          where: out,
          values: { machine: 'this', pid: String(process.pid), lock: lockOf(out) },
        },
      ],
    });
    await first.publish();
    expect(contents(out)).toEqual({ ...textsOf(['main-0001'], 'first'), ...listIn(out) });
    await put(out, ['main-0002'], 'second');
    expect(readdirSync(dirname(out))).toEqual(['out']);
  });

  test('one that was killed on this machine holds nobody up', async () => {
    const out = await newOutput();
    // Its number may be that of a process that runs now: this one.
    for (const owner of [DEAD, { ...DEAD, pid: process.pid }]) {
      leaveLock(out, owner);
      await put(out, ['main-0001'], 'new');
    }
    expect(readdirSync(dirname(out))).toEqual(['out']);
  });

  test('one of another machine, or of nobody, is got past by deleting its lock', async () => {
    const out = await newOutput();
    const before = contents(out);
    for (const [owner, machine] of [
      [{ ...DEAD, host: 'bench-2' }, 'other'],
      [{}, 'unknown'],
    ] as const) {
      leaveLock(out, owner);
      const { problems } = await refusalOf(put(out, ['main-0001'], 'new'));
      expect(problems).toMatchObject([{ code: 'app.output-locked', values: { machine, lock: lockOf(out) } }]);
      expect(contents(out)).toEqual(before);
      rmSync(lockOf(out));
    }
    await put(out, ['main-0001'], 'new');
  });

  test('one whose lock was taken away puts nothing in place', async () => {
    const out = await newOutput();
    const first = await stage(out);
    await first.writeFiles(filesOf(['main-0001'], 'first').values());
    leaveLock(out, { ...DEAD, host: 'bench-2' });
    const before = contents(out);
    expect((await refusalOf(first.publish())).problems).toMatchObject([{ code: 'app.output-lock-lost' }]);
    await first.discard();
    expect(contents(out)).toEqual(before);
    expect(hiddenIn(dirname(out))).toEqual(['.out.lock']);
  });
});

describe('output does not go among documents', () => {
  test.each(['', 'parts', 'designs/new', 'artwork'])('%j of a workshop is refused', async (below) => {
    const dir = newFolder();
    writeFileSync(join(dir, 'workshop.yaml'), 'kind: workshop\n');
    const { exit, problems } = await refusalOf(stage(join(dir, below)));
    expect({ exit, problems }).toMatchObject({ exit: 2, problems: [{ code: 'app.out-holds-documents' }] });
    // Nor by another name.
    const link = join(newFolder(), 'link');
    symlinkSync(dir, link);
    expect((await refusalOf(stage(join(link, below)))).exit).toBe(2);
    expect(readdirSync(dir)).toEqual(['workshop.yaml']);
  });

  test('a folder of its own in the workshop is taken', async () => {
    const dir = newFolder();
    writeFileSync(join(dir, 'workshop.yaml'), 'kind: workshop\n');
    await put(join(dir, 'out/parts'), ['main-0001'], 'new');
    expect(readdirSync(join(dir, 'out'))).toEqual(['parts']);
  });
});

describe('what is done before anyone sees the files', () => {
  test('is not done where something else is in the way', async () => {
    const out = join(newFolder(), 'out');
    await put(out, ['main-0001'], 'old');
    rmSync(join(out, 'main-0001'), { recursive: true });
    writeFileSync(join(out, 'main-0001'), 'a person put this here');
    const staging = await stage(out);
    await staging.writeFiles(filesOf(['main-0001'], 'new')[Symbol.iterator]());
    const entered: string[] = [];
    const refused = await refusalOf(staging.publish(async () => void entered.push('programs were made')));
    await staging.discard();
    expect(refused.problems.map(({ code }) => code)).toEqual(['app.place-taken']);
    expect(entered).toEqual([]);
  });

  test('keeps everything where it was when it is refused', async () => {
    const out = join(newFolder(), 'out');
    await put(out, ['main-0001'], 'old');
    const staging = await stage(out);
    await staging.writeFiles(filesOf(['main-0001'], 'new')[Symbol.iterator]());
    await expect(staging.publish(() => Promise.reject(new Error('no entry')))).rejects.toThrow('no entry');
    await staging.discard();
    expect(readFileSync(join(out, 'run-sheet.html'), 'utf8')).toBe('run old');
    expect(readdirSync(dirname(out))).toEqual(['out']);
  });
});

describe('a folder for output', () => {
  // A disk of its own, as a memory stick is; where the system has none there is nothing to try.
  const disk = '/dev/shm';
  const isOther = existsSync(disk) && statSync(disk).dev !== statSync(dirname(disk)).dev;

  test.skipIf(!isOther)('may lie on another disk, behind a link', async () => {
    const there = mkdtempSync(join(disk, 'burin-'));
    try {
      const out = join(newFolder(), 'out');
      symlinkSync(there, out);
      await put(out, ['main-0001'], 'old');
      await put(out, ['main-0001'], 'new');
      expect(readFileSync(join(there, 'run-sheet.html'), 'utf8')).toBe('run new');
      expect(readdirSync(there).sort()).toEqual(['files.sha256', 'main-0001', 'proof.svg', 'run-sheet.html']);
      expect(readdirSync(dirname(out))).toEqual(['out']);
    } finally {
      rmSync(there, { recursive: true, force: true });
    }
  });

  test.skipIf(!isOther)('may be a disk as a whole', async () => {
    const name = `burin-staging-${process.pid}`;
    try {
      const staging = await stage(disk);
      await staging.writeFiles([{ path: name, text: ['whole'] }][Symbol.iterator]());
      await staging.publish();
      expect(readFileSync(join(disk, name), 'utf8')).toBe('whole');
    } finally {
      for (const file of [name, 'files.sha256']) rmSync(join(disk, file), { force: true });
    }
    expect(hiddenIn(disk)).toEqual([]);
  });

  test.each(['{}', 'null', '[null]', '[{"name":"../../parts","folder":true,"replaces":true}]'])(
    'is not upset by a journal of another hand: %s',
    async (text) => {
      const out = join(newFolder(), 'out');
      await put(out, ['main-0001'], 'old');
      const left = await leftFolder(out);
      mkdirSync(join(left, '.before'));
      writeFileSync(join(left, '.replacing.json'), text);
      await put(out, ['main-0001'], 'new');
      expect(readFileSync(join(out, 'run-sheet.html'), 'utf8')).toBe('run new');
      expect(readdirSync(dirname(out))).toEqual(['out']);
    },
  );
});
