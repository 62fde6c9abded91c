import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, newBench, newFolder } from './folders.js';

cleanAfterAll();

const bench = newBench();
const altered = newFolder();
const programs = [
  'main-0001/cap-body-drag-12.nc',
  'main-0002/cap-body-drag-12.nc',
  'main-0001/barrel-taper-cone-40.nc',
].map((f) => path.join(bench, 'out/nine-lights', f));

interface Answer {
  readonly ok: boolean;
  readonly files: readonly { file: string; ok: boolean; label?: string; problems: { message: string }[] }[];
}

beforeAll(async () => {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', '--by', 'E. Marrow'], {
    cwd: bench,
  });
  await well(['cut', 'nine-lights', '--series', 'main', '--numbers', '1-2', '--station', 'rotary-level'], {
    cwd: bench,
  });
});

async function answerTo(files: readonly string[], code: number): Promise<Answer> {
  const said = await burin(['readback', '--json', ...files], { cwd: bench });
  expect(said.code, said.stdout + said.stderr).toBe(code);
  expect(said.stderr).toBe('');
  return JSON.parse(said.stdout) as Answer;
}

/** Writes a program in other words, and gives its path. */
function rewritten(name: string, program: string, work: (lines: string[]) => string[]): string {
  const file = path.join(altered, `${name.replaceAll(/[^a-z0-9]+/gi, '-')}.nc`);
  const lines = readFileSync(program, 'utf8').split('\n');
  const text = work(lines).join('\n');
  expect(text).not.toBe(lines.join('\n'));
  writeFileSync(file, text);
  return file;
}

test('untouched programs are accepted', async () => {
  const answer = await answerTo(programs, 0);
  expect(answer.files.map((f) => [f.ok, f.label, f.problems])).toEqual([
    [true, '01/90', []],
    [true, '02/90', []],
    [true, '01/90', []],
  ]);
});

test('one figure altered anywhere, or one line gone, is found in every program', async () => {
  const files: string[] = [];
  for (const [p, program] of programs.entries()) {
    const lines = readFileSync(program, 'utf8').trimEnd().split('\n');
    // Lifting higher than need be between two cuts changes nothing on the piece, so such figures are left alone.
    const moves = lines.flatMap((l, n) => (/^G1 |^G0 X/.test(l) ? [n] : []));
    // Moves from all over the program, each kind of word among them.
    for (let k = 0; k < 12; k++) {
      const n = moves[Math.floor(((k + 0.5) * moves.length) / 12)]!;
      const words = lines[n]!.split(' ').slice(1);
      const word = words[k % words.length]!;
      files.push(
        rewritten(`figure-${p}-${k}`, program, (l) => {
          // A tenth of a millimetre or a degree; a tenth of a feed would be lost in its rounding.
          const figure = Number(word.slice(1));
          const wrong = word.startsWith('F') ? figure * 2 : figure + 0.1;
          return l.with(n, l[n]!.replace(word, `${word[0]}${wrong.toFixed(4)}`));
        }),
      );
      files.push(rewritten(`line-${p}-${k}`, program, (l) => l.toSpliced(n, 1)));
    }
    for (const [n, line] of lines.entries())
      if (!/^G[01] |^\(cut: /.test(line))
        files.push(rewritten(`set-${p}-${n}`, program, (l) => l.toSpliced(n, 1)));
    files.push(rewritten(`short-${p}`, program, (l) => l.slice(0, l.length >> 1)));
  }
  const answer = await answerTo(files, 1);
  expect(answer.files.filter((f) => f.ok).map((f) => [f.file, readFileSync(f.file, 'utf8').length])).toEqual(
    [],
  );
  for (const { file, problems } of answer.files) expect(problems.length, file).toBeGreaterThan(0);
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
  const answer = await answerTo([swapped, unknown, other, ...programs], 1);
  expect(answer.ok).toBe(false);
  expect(answer.files.map((f) => f.ok)).toEqual([false, false, false, true, true, true]);
  expect(answer.files[1]!.problems[0]!.message).toContain('no label 91/90');
  expect(answer.files[2]!.problems[0]!.message).toContain('edition tides');

  edit(bench, 'designs/cap-number.yaml', 'depth: 0.08', 'depth: 0.07');
  try {
    const said = await burin(['readback', programs[0]!, programs[2]!], { cwd: bench });
    expect(said.code).toBe(1);
    const lines = linesOf(said.stdout);
    expect(lines[0]).toMatch(
      /: The design has changed since the program was written\. Cut the piece again\.$/,
    );
    expect(lines[1]).toMatch(/: 01\/90 as laid out/);
  } finally {
    edit(bench, 'designs/cap-number.yaml', 'depth: 0.07', 'depth: 0.08');
  }
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
  const lines = linesOf(said.stdout);
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
  expect(linesOf(two.stderr)).toEqual(['--png: A picture shows one program. Name one program.']);
});
