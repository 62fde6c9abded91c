import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import type * as disk from 'node:fs/promises';
import { dirname, join } from 'node:path';
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

async function put(out: string, pieces: readonly string[], words: string): Promise<void> {
  const staging = await stage(out);
  try {
    await staging.writeFiles(filesOf(pieces, words).values());
    await staging.publish();
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
/** A piece and the two files are replaced by two renames each, and one piece is new. */
const RENAMES = 7;

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
      expect(hiddenIn(dirname(out)).length).toBe(1);
      Object.assign(fault, { at: 0, gone: false });
      const staging = await stage(out);
      expect(contents(out), `rename ${at}`).toEqual(before);
      await staging.discard();
      await put(out, SECOND, 'new');
      expect(contents(out)).toEqual({ ...before, ...textsOf(SECOND, 'new') });
      expect(hiddenIn(dirname(out))).toEqual([]);
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

test('in the folder of a piece, what an earlier cut wrote goes and what a person put there stays', async () => {
  const out = await newOutput();
  const piece = (name: string) => join(out, 'main-0001', name);
  writeFileSync(piece('cap-old.nc'), program('main-0001', 'old'));
  writeFileSync(piece('OLD.NC'), program('main-0001', 'older'));
  writeFileSync(piece('cap-lid.svg'), sheet('old'));
  writeFileSync(piece('photo.svg'), '<svg xmlns="http://www.w3.org/2000/svg"><title>Mine</title></svg>');
  writeFileSync(piece('mine.nc'), 'M2\n');
  symlinkSync('/nowhere', piece('link'));
  await put(out, SECOND, 'new');
  expect(readdirSync(join(out, 'main-0001')).sort()).toEqual(
    ['cap-body-drag.nc', 'cap-body.svg', 'link', 'mine.nc', 'notes.txt', 'photo.svg'].sort(),
  );
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
      expect(readdirSync(there).sort()).toEqual(['main-0001', 'proof.svg', 'run-sheet.html']);
      expect(readdirSync(dirname(out))).toEqual(['out']);
    } finally {
      rmSync(there, { recursive: true, force: true });
    }
  });

  test.skipIf(!isOther)('may be a disk as a whole', async () => {
    const before = readdirSync(disk).sort();
    const name = `burin-staging-${process.pid}`;
    try {
      const staging = await stage(disk);
      await staging.writeFiles([{ path: name, text: ['whole'] }][Symbol.iterator]());
      await staging.publish();
      expect(readFileSync(join(disk, name), 'utf8')).toBe('whole');
    } finally {
      rmSync(join(disk, name), { force: true });
    }
    expect(readdirSync(disk).sort()).toEqual(before);
  });

  test.each(['{}', 'null', '[null]', '[{"name":"../../parts","folder":true,"replaces":true}]'])(
    'is not upset by a journal of another hand: %s',
    async (text) => {
      const out = join(newFolder(), 'out');
      await put(out, ['main-0001'], 'old');
      const left = join(dirname(out), '.out.4000001.partial');
      mkdirSync(join(left, '.before'), { recursive: true });
      writeFileSync(join(left, '.replacing.json'), text);
      await put(out, ['main-0001'], 'new');
      expect(readFileSync(join(out, 'run-sheet.html'), 'utf8')).toBe('run new');
      expect(readdirSync(dirname(out))).toEqual(['out']);
    },
  );
});
