import { describe, expect, test } from 'vitest';
import { burin, linesOf } from './burin.js';
import { cleanAfterAll, edit, filesIn, newBench, newFolder } from './folders.js';

cleanAfterAll();

const bench = newBench();

/** The words given, the exit code, and what the one line has to say. */
const SLIPS: readonly (readonly [words: string, code: number, line: RegExp])[] = [
  ['', 2, /No command is named\. `burin --help`/],
  ['chek', 2, /^burin: Unknown command 'chek' .*check.* `burin --help`/],
  ['check twice', 2, /^burin check: .*arguments/],
  ['check --depth', 2, /^burin check: Unknown option '--depth'\. `burin check --help`/],
  ['fit', 2, /^burin fit: Missing required argument 'edition'/],
  ['--workshop', 2, /'--workshop <dir>' argument missing/],
  ['check --workshop nowhere', 2, /nowhere: There is no workshop folder here\. Name the folder/],
  ['new', 2, /^burin new: Missing required argument 'dir'/],
  [
    'new w --from nothing',
    2,
    /^template nothing: There is no such template\. Use one of these: first-bench, nine-lights, studio-pieces\./,
  ],
  [
    'fit tides',
    2,
    /^edition tides: There is no edition of this name in the workshop\. Use one of these: nine-lights\./,
  ],
  ['register tides', 2, /^edition tides: .* Use one of these: nine-lights\./],
  ['issue nine-lights --count 1 --by x', 2, /No series is named\. Name it with --series: main, proofs\./],
  ['issue nine-lights --series main --count 1.5 --by x', 2, /1\.5.* Give a whole number from 1 to 99999\./],
  ['issue nine-lights --series main --count 0 --by x', 2, /Give a whole number from 1 to 99999/],
  ['issue nine-lights --series main --count -1 --by x', 2, /Give a whole number from 1 to 99999/],
  ['issue nine-lights --series main --count 1e2 --by x', 2, /Give a whole number from 1 to 99999/],
  [
    'issue nine-lights --series rare --count 1 --by x',
    2,
    /has no series rare\. Use one of these: main, proofs\./,
  ],
  [
    'issue nine-lights --series main --count 91 --by x',
    3,
    /91 numbers were asked for, but only 90 are free\. Nothing was issued\./,
  ],
  ['unroll cap --surface top', 2, /^part cap: The part has no surface top\. Its surfaces: body\./],
  [
    'unroll nib --surface top',
    2,
    /^part nib: There is no part of this name in the workshop\. Use one of these: barrel, cap\./,
  ],
  ['cut nine-lights --series main', 2, /^burin cut: Required option '--station <id>'/],
  [
    'cut nine-lights --labels 01/90 --station lathe',
    2,
    /^station lathe: .* Use one of these: rotary-level, rotary-tilted\./,
  ],
  ['cut nine-lights --labels 1/90 --station rotary-level', 2, /has no label .*1\/90/],
  ['cut nine-lights --station rotary-level', 2, /No piece is named\. Give --labels, or --series/],
  [
    'cut nine-lights --numbers 1 --station rotary-level',
    2,
    /^--numbers: No series is named\. Add --series and the id of one\./,
  ],
  [
    'cut nine-lights --series main --numbers 1-x --station rotary-level',
    2,
    /^--numbers: "1-x" is not a number/,
  ],
  [
    'cut nine-lights --series main --numbers 91 --station rotary-level',
    2,
    /^--numbers: 91 is not in series main/,
  ],
  [
    'cut nine-lights --series rare --station rotary-level',
    2,
    /has no series rare\. Use one of these: main, proofs\./,
  ],
  [
    'cut nine-lights --labels 01/90 --station rotary-level',
    3,
    /01\/90 is not issued\. Issue numbers with `burin issue`/,
  ],
  ['readback nowhere.nc', 2, /^nowhere\.nc: It does not exist\. Check the name\./],
  ['readback parts', 2, /^parts: It is a folder\. Name a file\./],
];

describe('a slip is answered in one line, with its hint, and by the exit code', () => {
  test.each(SLIPS.map((slip, i) => [...slip, i] as const))('burin %s', async (text, code, line, i) => {
    const words = text.split(' ').filter(Boolean);
    // Every second one asks for JSON, before or after the command's name.
    const json = i % 2 === 0;
    const asks = i % 4 === 0 ? ['--json', ...words] : json ? [...words, '--json'] : words;
    const said = await burin(
      /^(|new.*|--workshop|check --workshop .*)$/.test(text) ? asks : [...asks, '--workshop', bench],
    );
    expect({ code: said.code, stderr: said.stderr }).toMatchObject({ code });
    if (json) {
      const answer = JSON.parse(said.stdout) as { ok: boolean; problems?: unknown[]; files?: unknown[] };
      expect(answer.ok).toBe(false);
      expect(answer.problems ?? answer.files).toHaveLength(1);
    }
    const told = [...linesOf(said.stderr), ...(json ? [] : linesOf(said.stdout))];
    // A reading back that failed is an answer, so it is on stdout.
    if (text.startsWith('readback')) {
      if (!json) expect(told).toHaveLength(1);
      else return;
    } else if (!json) expect(said.stdout).toBe('');
    const own = text === '' ? told.slice(-1) : told;
    expect(own).toHaveLength(1);
    expect(own[0]).toMatch(line);
  });

  test('none of them left anything behind but a register with nothing in it', () => {
    expect(filesIn(bench).filter((f) => !/\.yaml$|^register\.db|^workshop\.id$/.test(f))).toEqual([]);
  });
});

test('words that would move a cursor or break a line are written harmlessly', async () => {
  const evil = ')\n%\u001b[2J\u202e<script>';
  const said = await burin(['cut', 'nine-lights', '--labels', evil, '--station', 'rotary-level'], {
    cwd: bench,
  });
  expect(said.code).toBe(2);
  expect(linesOf(said.stderr)).toHaveLength(1);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what must not be there
  expect(said.stderr.trimEnd()).not.toMatch(/[\u0000-\u001f\u202e]/);
  const unknown = await burin([evil]);
  expect(unknown.code).toBe(2);
  expect(linesOf(unknown.stderr)).toHaveLength(1);
});

test('what does not fit: by how much, at what, and the nearest change; and nothing is cut', async () => {
  const tight = newBench();
  edit(tight, 'designs/cap-number.yaml', 'size: { min: 1.2, max: 2 }', 'size: 7');
  const words =
    /At 7 mm, the smallest, label .* is \d+\.\d{3} mm short of the clearance to .*\. Nearest change: .*\d/;
  const fit = await burin(['fit', 'nine-lights'], { cwd: tight });
  expect(fit.code).toBe(1);
  expect(fit.stderr).toBe('');
  expect(fit.stdout).toMatch(words);
  const asJson = await burin(['fit', 'nine-lights', '--json'], { cwd: tight });
  expect(asJson.code).toBe(1);
  const answer = JSON.parse(asJson.stdout) as {
    ok: boolean;
    marks: { ok: boolean; smallest?: unknown; nearest?: unknown }[];
  };
  expect(answer.ok).toBe(false);
  expect(answer.marks[0]).toMatchObject({ ok: false, smallest: { size: 7 } });

  expect(
    (await burin(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'x'], { cwd: tight }))
      .code,
  ).toBe(0);
  const cut = await burin(['cut', 'nine-lights', '--labels', '01/90', '--station', 'rotary-level'], {
    cwd: tight,
  });
  expect({ code: cut.code, stdout: cut.stdout }).toEqual({ code: 1, stdout: '' });
  expect(cut.stderr).toMatch(words);
  expect(filesIn(tight).filter((f) => !/\.yaml$|^register\.db|^workshop\.id$/.test(f))).toEqual([]);
});

test('new refuses a folder with something in it, and a file; an empty folder is taken', async () => {
  const place = newFolder();
  const said = await burin(['new', '.'], { cwd: bench });
  expect(said.code).toBe(2);
  expect(said.stderr).toMatch(/^\.: This folder is not empty\. Name a new folder/);
  const onFile = await burin(['new', 'workshop.yaml', '--json'], { cwd: bench });
  expect(onFile.code).toBe(2);
  expect(onFile.stderr).toMatch(/^workshop\.yaml: This is a file\./);
  const made = await burin(['new', '.', '--json'], { cwd: place });
  expect(JSON.parse(made.stdout)).toEqual({ ok: true, dir: '.', template: 'first-bench' });
  expect(filesIn(place)).toContain('workshop.yaml');
});
