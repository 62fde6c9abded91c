import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, newQuickBench } from './folders.js';
import { altered, answerTo, cutPrograms, findAlterations, rewritten } from './readback-programs.js';

cleanAfterAll();

const bench = newQuickBench();
let programs: readonly string[];
beforeAll(async () => {
  programs = (await cutPrograms(bench)).programs;
});

test('untouched programs are accepted', async () => {
  const answer = await answerTo(bench, programs, 0);
  expect(answer.files.map((f) => [f.ok, f.label, f.problems])).toEqual([
    [true, '01/90', []],
    [true, '02/90', []],
    [true, '01/90', []],
  ]);
});

test('one figure altered, or one line gone, is found in every program', () =>
  findAlterations({ bench, programs }, 5, 3));

test('words that the station does not have, a cut begun twice and two passes in one are found', async () => {
  const [one, , grooved] = programs as [string, string, string];
  const after = (line: RegExp, ...more: string[]) => {
    return (l: string[]) => l.toSpliced(l.findIndex((t) => line.test(t)) + 1, 0, ...more);
  };
  const blockOf = (l: string[]) => {
    const from = l.findIndex((t) => t.startsWith('(cut: '));
    return l.slice(
      from,
      l.findIndex((t, n) => n > from && t.startsWith('(cut: ')),
    );
  };
  const once = /^G1 Z-0\.0400 F/;
  /** The first plunge goes down to the full depth, and the second is left out. */
  const inOne = (l: string[]) => {
    const first = l.findIndex((t) => once.test(t));
    const second = l.findIndex((t, n) => n > first && /^G1 Z-0\.0800 F/.test(t));
    return l.with(first, l[first]!.replace('Z-0.0400', 'Z-0.0800')).toSpliced(second, 1);
  };
  /** The first cut, which ends where it began, goes round once more at its full depth. */
  const roundAgain = (l: string[]) => {
    const down = l.findIndex((t) => /^G1 Z-0\.0800 F/.test(t));
    const up = l.findIndex((t, n) => n > down && t.startsWith('G0'));
    return l.toSpliced(up, 0, ...l.slice(down + 1, up));
  };
  /** The first plunge goes on to the full depth, and the first pass is left out. */
  const onTheSpot = (l: string[]) => {
    const first = l.findIndex((t) => once.test(t));
    const second = l.findIndex((t, n) => n > first && /^G1 Z-0\.0800 F/.test(t));
    return l.toSpliced(first + 1, second - first - 1);
  };
  const cases: [code: string, program: string, work: (lines: string[]) => string[]][] = [
    ['setting', one, after(/^G93$/, 'G55')],
    ['setting', one, after(/^G93$/, 'G59.3')],
    ['setting', grooved, after(/^M3 /, 'T5')],
    ['setting', one, after(once, 'M0')],
    ['setting', one, after(once, 'G4 P9999')],
    ['setting', one, (l) => l.map((t) => (t === 'G93' ? 'G93 G61' : t))],
    ['setting', grooved, (l) => l.map((t) => (t.startsWith('M3 ') ? 'M3 S100' : t))],
    ['setting-place', grooved, (l) => after(/^G1 /, 'M5')(l.filter((t) => t !== 'M5'))],
    ['setting-missing', one, (l) => l.filter((t) => t !== 'M2')],
    ['block-again', one, (l) => l.toSpliced(l.indexOf('M2'), 0, ...blockOf(l))],
    ['line-again', one, (l) => l.toSpliced(l.indexOf('M2'), 0, ...blockOf(l).slice(1))],
    ['way-again', one, roundAgain],
    ['pass-too-deep', one, inOne],
    ['pass-too-deep', one, onTheSpot],
    // The middle of the clip, and beyond either end of the surface.
    ['down-for-nothing', one, after(/^G0 Z5\.2000$/, 'G0 X30.0000 A0.0000', 'G0 Z0.3000', 'G0 Z5.2000')],
    [
      'down-for-nothing',
      one,
      after(/^G0 Z5\.2000$/, 'G0 X30.0000 A0.0000', 'G0 Z0.3000', 'G1 Z0.0003 F176', 'G0 Z5.2000'),
    ],
    ['down-for-nothing', one, after(/^G0 Z5\.2000$/, 'G0 X60.0000 A0.0000', 'G0 Z0.3000', 'G0 Z5.2000')],
    ['turns-for-nothing', one, after(/^G0 Z5\.2000$/, 'G0 A99999.0000')],
    ['slow', one, (l) => l.map((t) => t.replace(/F([\d.]+)/, (_, f) => `F${(Number(f) / 100).toFixed(6)}`))],
    ['slow', grooved, (l) => l.map((t) => t.replace(/F([\d.]+)/, 'F0.000000001'))],
  ];
  const files = cases.map(([code, program, work], k) => rewritten(`word-${k}-${code}`, program, work));
  const said = await burin(['readback', '--json', ...files], { cwd: bench });
  const answer = JSON.parse(said.stdout) as { files: { ok: boolean; problems: { code: string }[] }[] };
  for (const [k, [code]] of cases.entries()) {
    const codes = answer.files[k]!.problems.map((problem) => problem.code);
    expect([files[k], answer.files[k]!.ok]).toEqual([files[k], false]);
    // Without M2 there is no program to be compared.
    const named: Record<string, string> = {
      'setting-missing': 'station.read-no-end',
      slow: 'station.compare-slow',
    };
    expect(codes).toContain(named[code] ?? `station.readback-${code}`);
  }
});

test('a program under another label, of another bench or of a changed design is found', async () => {
  const [one] = programs;
  const swapped = rewritten('label', one!, (l) =>
    l.map((t) => t.replace('(label: 01/90)', '(label: 02/90)')),
  );
  const unknown = rewritten('unknown', one!, (l) =>
    l.map((t) => t.replace('(label: 01/90)', '(label: 91/90)')),
  );
  const other = rewritten('edition', one!, (l) =>
    l.map((t) => t.replace('(edition: nine-lights)', '(edition: tides)')),
  );
  const setup = rewritten('set-up', one!, (l) =>
    l.map((t) => t.replace('(set-up: level', '(set-up: tilted')),
  );
  const answer = await answerTo(bench, [swapped, unknown, other, setup, ...programs], 1);
  expect(answer.ok).toBe(false);
  expect(answer.files.map((f) => f.ok)).toEqual([false, false, false, false, true, true, true]);
  expect(answer.files[3]!.problems[0]!.message).toContain('`tilted, station rotary-level`');
  expect(answer.files[1]!.problems[0]!.message).toContain('no label 91/90');
  expect(answer.files[2]!.problems[0]!.message).toContain('edition tides');

  edit(bench, 'designs/cap-number.yaml', 'depth: 0.08', 'depth: 0.07');
  try {
    const said = await burin(['readback', programs[0]!, programs[2]!], { cwd: bench });
    expect(said.code).toBe(1);
    expect(linesOf(said.stderr)).toEqual([
      expect.stringMatching(
        /: The design has changed since the program was written\. Cut the piece again\.$/,
      ),
    ]);
    expect(linesOf(said.stdout)).toEqual([expect.stringMatching(/: 01\/90 as laid out/)]);
  } finally {
    edit(bench, 'designs/cap-number.yaml', 'depth: 0.07', 'depth: 0.08');
  }
});

test.each([
  ['part', 'parts/cap.yaml', 'name: Cap', 'name: New cap'],
  ['material', 'materials/sterling.yaml', 'name: Sterling', 'name: New sterling'],
  ['cutter', 'cutters/drag-12.yaml', 'depth: 0.15', 'depth: 0.2'],
  ['station', 'stations/rotary-level.yaml', 'approach: 0.3', 'approach: 0.35'],
])(
  'a program made stale by its %s is named so, and one that does not hang on it is not',
  async (kind, file, from, to) => {
    edit(bench, file, from, to);
    try {
      const said = await burin(['readback', '--json', programs[0]!, programs[2]!], { cwd: bench });
      const { files } = JSON.parse(said.stdout) as {
        files: { ok: boolean; problems: { message: string }[] }[];
      };
      expect(files[0]!.problems.map((p) => p.message)).toEqual([
        `The ${kind} has changed since the program was written.`,
      ]);
      expect(files[1]!.ok).toBe(kind !== 'station');
    } finally {
      edit(bench, file, to, from);
    }
  },
);

test('a program of labels that are fitted as one is stale when one of them changes', async () => {
  edit(bench, 'editions/nine-lights.yaml', 'to: 90', 'to: 89');
  try {
    const said = await burin(['readback', programs[2]!], { cwd: bench });
    expect(said.code).toBe(1);
    expect(said.stderr).toContain('no label 01/90');
  } finally {
    edit(bench, 'editions/nine-lights.yaml', 'to: 89', 'to: 90');
  }
  edit(bench, 'editions/nine-lights.yaml', 'to: 9\n', 'to: 8\n');
  try {
    const said = await burin(['readback', programs[2]!], { cwd: bench });
    expect(said.code).toBe(1);
    expect(said.stderr).toContain('edition have changed since the program was written');
  } finally {
    edit(bench, 'editions/nine-lights.yaml', 'to: 8\n', 'to: 9\n');
  }
});

test('a program from before the head named the documents is told apart', async () => {
  const old = rewritten('old head', programs[0]!, (l) => l.filter((t) => !t.startsWith('(documents: ')));
  const { files } = await answerTo(bench, [old], 1);
  expect(files[0]!.problems.map((p) => p.message)).toEqual([
    expect.stringContaining('An earlier burin wrote such programs'),
  ]);
});

test('a program in the wrong folder, under a wrong name, given twice or of no issued number is named as such', async () => {
  const [one, two, title] = programs as [string, string, string];
  const place = (file: string, from: string) => {
    const to = path.join(altered, 'stick', file);
    mkdirSync(path.dirname(to), { recursive: true });
    copyFileSync(from, to);
    return to;
  };
  const swapped = place('main-0001/cap-body-drag-12.nc', two);
  const misnamed = place('main-0001/barrel-taper-cone-40.nc', one);
  const unissued = rewritten('unissued', title, (l) =>
    l.map((t) => t.replace('(label: 01/90)', '(label: 40/90)')),
  );
  const { files } = await answerTo(bench, [swapped, misnamed, two, unissued, one, one], 1);
  expect(files.map((f) => f.problems.map((p) => p.message))).toEqual([
    ['This is the program of 02/90, but it lies in the folder of 01/90.'],
    ['This is the program for surface body of cap with cutter drag-12, but it has the name of another.'],
    [],
    ['This is the program of 40/90, a number that was never issued.'],
    [],
    [`This is the program of 01/90 once more, after ${one}.`],
  ]);
});

test('what is no program is told shortly', async () => {
  const noise = path.join(altered, 'noise.nc');
  writeFileSync(noise, Buffer.from(Array.from({ length: 100_000 }, (_, i) => (i * 7919) % 256)));
  const empty = path.join(altered, 'empty.nc');
  writeFileSync(empty, '');
  const said = await burin(['readback', noise, empty, path.join(bench, 'out/nine-lights/proof.svg')], {
    cwd: bench,
  });
  expect(said.code).toBe(1);
  expect(said.stdout).toBe('');
  const lines = linesOf(said.stderr);
  expect(lines.length).toBeLessThan(80);
  for (const line of lines) expect(line.length).toBeLessThan(400);
});

test('--png draws the cut from its moves, at a size to be read, one program at a time', async () => {
  const png = path.join(altered, 'pictures', 'cut.png');
  await well(['readback', programs[1]!, '--png', png], { cwd: bench });
  const picture = readFileSync(png);
  expect(picture.subarray(1, 4).toString()).toBe('PNG');
  // IHDR: "02/90" is under 10 mm wide and 2 mm high, with 1 mm of paper round it, at 40 dots to the mm.
  const [width, height] = [picture.readUInt32BE(16), picture.readUInt32BE(20)];
  expect(height / 40).toBeGreaterThan(4);
  expect(height / 40).toBeLessThan(4.5);
  expect(width / 40).toBeGreaterThan(6);
  expect(width / 40).toBeLessThan(12);

  const other = path.join(altered, 'other.png');
  await well(['readback', programs[0]!, '--png', other], { cwd: bench });
  expect(readFileSync(other).equals(picture)).toBe(false);

  const two = await burin(['readback', ...programs, '--png', png], { cwd: bench });
  expect(two.code).toBe(2);
  expect(linesOf(two.stderr)).toEqual([
    '--png: This draws one program, and several are named. Name one program.',
  ]);
});

test('a program under the head of another label is named as what it is, and nothing else is said', async () => {
  const [one, two] = programs as [string, string];
  const label = /^\(label: (.*)\)$/m;
  const [headOfOne] = label.exec(readFileSync(one, 'utf8'))!;
  const file = rewritten('other label', two, (l) => l.map((t) => (label.test(t) ? headOfOne : t)));
  const { files } = await answerTo(bench, [file], 1);
  expect(files[0]!.problems.map((p) => p.message)).toEqual([
    'The head says label 01/90, but the program cuts 02/90.',
  ]);
});
