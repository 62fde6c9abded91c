import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
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
  utimesSync,
  writeFileSync,
} from 'node:fs';
import type * as disk from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterAll, afterEach, describe, expect, test, vi } from 'vitest';

/** Which rename fails, counted from 1; from there on all of them where the process is to be gone. */
const fault = { at: 0, gone: false, renames: 0 };
/** What another program or a person does right before a rename, counted from 1, or right after it. */
const meanwhile: { before?: (renames: number) => void; after?: (renames: number) => void } = {};

vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof disk>();
  const fails = (): boolean =>
    fault.at > 0 && (fault.gone ? fault.renames >= fault.at : fault.renames === fault.at);
  const broken = () => Object.assign(new Error('EIO: i/o error, rename'), { code: 'EIO', syscall: 'rename' });
  return {
    ...real,
    rename: async (...of: Parameters<typeof real.rename>) => {
      const at = ++fault.renames;
      if (fails()) throw broken();
      meanwhile.before?.(at);
      await real.rename(...of);
      meanwhile.after?.(at);
    },
    rm: (...of: Parameters<typeof real.rm>) =>
      fault.gone && fails() ? Promise.reject(broken()) : real.rm(...of),
  };
});

// Another test file may have loaded them with the real disk.
vi.resetModules();
const { stage } = await import('../../src/app/staging.js');
const { newFolder, refusalOf, removeFolders } = await import('./workshop.js');

afterEach(() => {
  Object.assign(fault, { at: 0, gone: false, renames: 0 });
  Object.assign(meanwhile, { before: undefined, after: undefined });
});
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

/** Does something once, before or after the rename of this count, of the next files put in place. */
function at(when: 'before' | 'after', count: number, what: () => void): void {
  fault.renames = 0;
  meanwhile[when] = (renames) => {
    if (renames === count) what();
  };
}
/** A file of the cut that is being put in place, wherever it is now. */
function staged(out: string, path: string): string {
  const hidden = readdirSync(dirname(out)).find((name) => name.endsWith('.partial'));
  const place = hidden === undefined ? '' : join(dirname(out), hidden, path);
  return existsSync(place) ? place : join(out, path);
}
/** Other bytes of the same length, with the times that the file had. */
function alter(file: string): void {
  const { atime, mtime } = statSync(file);
  writeFileSync(file, readFileSync(file, 'latin1').replace('new', 'NEW'), 'latin1');
  utimesSync(file, atime, mtime);
}

describe('a staged file that is changed after it was proved', () => {
  const files = ['main-0001/cap-body-drag.nc', 'main-0003/cap-body.svg', 'proof.svg', 'run-sheet.html'];
  const kinds: Readonly<Record<string, (file: string) => void>> = {
    altered: alter,
    'taken away': (file) => rmSync(file),
    'made a link': (file) => {
      const same = join(newFolder(), 'same');
      renameSync(file, same);
      symlinkSync(same, file);
    },
  };
  const cases = Object.keys(kinds).flatMap((kind) => files.map((path) => [kind, path] as const));

  test.each(cases)(
    'is refused in an output that is there, and that is as it was: %s, %s',
    async (kind, path) => {
      const out = await newOutput();
      const before = contents(out);
      const where = [{ code: 'app.staged-file-changed', where: join(out, path) }];
      for (const when of ['entry', ...Array.from({ length: RENAMES }, (_, k) => k + 1)]) {
        const spoil = () => kinds[kind]!(staged(out, path));
        // The last rename is that of the run sheet: at any moment before all is in place, and right after.
        if (when !== 'entry') at('after', Number(when), spoil);
        const done = put(out, SECOND, 'new', async () => void (when === 'entry' && spoil()));
        const { exit, problems } = await refusalOf(done);
        expect({ exit, problems }, String(when)).toMatchObject({ exit: 3, problems: where });
        meanwhile.after = undefined;
        expect(contents(out), String(when)).toEqual(before);
        expect(readdirSync(dirname(out))).toEqual(['out']);
      }
    },
  );

  test.each(cases)('is refused where no output is, and none is there then: %s, %s', async (kind, path) => {
    const out = join(newFolder(), 'out');
    const spoil = () => kinds[kind]!(staged(out, path));
    for (const when of ['entry', 'before', 'after'] as const) {
      if (when !== 'entry') at(when, 1, spoil);
      const done = put(out, SECOND, 'new', async () => void (when === 'entry' && spoil()));
      expect(await refusalOf(done)).toMatchObject({ exit: 3, problems: [{ where: join(out, path) }] });
      Object.assign(meanwhile, { before: undefined, after: undefined });
      expect(readdirSync(dirname(out))).toEqual([]);
    }
  });

  test('is not one of which nothing but times and rights are changed', async () => {
    const out = await newOutput();
    await put(out, SECOND, 'new', async () => {
      const file = staged(out, 'main-0001/cap-body.svg');
      chmodSync(file, 0o640);
      utimesSync(file, 1, 1);
    });
    expect(readFileSync(join(out, 'run-sheet.html'), 'utf8')).toBe('run new');
  });

  test.each(['main-0001/more.nc', 'main-0003/more.nc'])(
    'nor does another file come with it: %s',
    async (path) => {
      const out = await newOutput();
      const before = contents(out);
      const add = async () => {
        const folder = staged(out, dirname(path));
        writeFileSync(join(folder, basename(path)), 'M2');
      };
      const fresh = join(newFolder(), 'out');
      const addFresh = async () => writeFileSync(join(staged(fresh, dirname(path)), basename(path)), 'M2');
      const code = 'app.staged-file-foreign';
      expect((await refusalOf(put(out, SECOND, 'new', add))).problems).toMatchObject([{ code }]);
      expect((await refusalOf(put(fresh, SECOND, 'new', addFresh))).problems).toMatchObject([{ code }]);
      expect(contents(out)).toEqual(before);
      expect(existsSync(fresh)).toBe(false);
    },
  );

  test('and what a person put beside it meanwhile is kept', async () => {
    const out = join(newFolder(), 'out');
    at('after', 1, () => {
      alter(join(out, 'main-0001/cap-body.svg'));
      writeFileSync(join(out, 'main-0001/notes.txt'), 'mine');
    });
    await refusalOf(put(out, SECOND, 'new'));
    expect(contents(out)).toEqual({ 'main-0001/notes.txt': 'mine' });
  });
});

describe('what a person saves into an output while it is replaced', () => {
  const whens = Array.from({ length: RENAMES }, (_, k) => k + 1);
  /** Where an open folder of the old piece is: a program that holds it goes with it. */
  const old = (out: string, path: string): string => {
    const hidden = readdirSync(dirname(out)).find((name) => name.endsWith('.partial'))!;
    const place = join(dirname(out), hidden, '.before', path);
    return existsSync(path.includes('/') ? dirname(place) : place) ? place : join(out, path);
  };

  test('is kept, be it in the old folder or in the new one', async () => {
    for (const place of [old, (out: string, path: string) => join(out, path)])
      for (const when of ['entry', ...whens]) {
        const out = await newOutput();
        const save = () => {
          if (!existsSync(dirname(place(out, 'main-0001/x')))) return;
          writeFileSync(place(out, 'main-0001/inspection.txt'), 'looked at');
          mkdirSync(place(out, 'main-0001/photos'));
          writeFileSync(join(place(out, 'main-0001/photos'), 'one.jpg'), 'light');
          saved = true;
        };
        let saved = false;
        if (when !== 'entry') at('after', Number(when), save);
        await put(out, SECOND, 'new', async () => void (when === 'entry' && save()));
        meanwhile.after = undefined;
        if (!saved) continue;
        expect(contents(out), String(when)).toMatchObject({
          ...textsOf(SECOND, 'new'),
          'main-0001/notes.txt': 'mine',
          'main-0001/inspection.txt': 'looked at',
          'main-0001/photos/one.jpg': 'light',
        });
        expect(readdirSync(dirname(out))).toEqual(['out']);
      }
  });

  test.each([
    ['main-0001/cap-body-drag.nc', 'app.output-changed'],
    ['main-0001/notes.txt', 'app.output-not-listed'],
    ['run-sheet.html', 'app.output-changed'],
  ])('over a file that is there is named and stays: %s', async (path, code) => {
    for (const when of ['entry', ...whens]) {
      const out = await newOutput();
      const before = contents(out);
      const save = () => writeFileSync(old(out, path), 'changed by a person');
      if (when !== 'entry') at('after', Number(when), save);
      const done = put(out, SECOND, 'new', async () => void (when === 'entry' && save()));
      expect((await refusalOf(done)).problems, String(when)).toMatchObject([
        { code, where: join(out, path) },
      ]);
      meanwhile.after = undefined;
      expect(contents(out), String(when)).toEqual({ ...before, [path]: 'changed by a person' });
      expect(readdirSync(dirname(out))).toEqual(['out']);
    }
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
  // Disks of their own, as a memory stick is one; where the system has none there is nothing to try.
  const disk = '/dev/shm';
  const isOther = existsSync(disk) && statSync(disk).dev !== statSync(dirname(disk)).dev;
  const other = [disk, '/var/tmp'].find(
    (at) => existsSync(at) && statSync(at).dev !== statSync(tmpdir()).dev,
  );

  test.skipIf(other === undefined)('may lie on another disk, behind a link', async () => {
    const there = mkdtempSync(join(other!, 'burin-'));
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
