import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { burin, well } from './burin.js';
import { newFolder } from './folders.js';

export const altered = newFolder();

export interface CutBench {
  readonly bench: string;
  readonly programs: readonly string[];
}

interface Answer {
  readonly ok: boolean;
  readonly files: readonly { file: string; ok: boolean; label?: string; problems: { message: string }[] }[];
}

/** Cuts, on a bench, the programs that are read back. */
export async function cutPrograms(bench: string): Promise<CutBench> {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', '--by', 'E. Marrow'], {
    cwd: bench,
  });
  await well(['cut', 'nine-lights', '--series', 'main', '--numbers', '1-2', '--station', 'rotary-level'], {
    cwd: bench,
  });
  const programs = ['main-0001/cap-body-drag-12.nc', 'main-0002/cap-body-drag-12.nc'];
  programs.push('main-0001/barrel-taper-cone-40.nc');
  return { bench, programs: programs.map((file) => path.join(bench, 'out/nine-lights', file)) };
}

export async function answerTo(bench: string, files: readonly string[], code: number): Promise<Answer> {
  const said = await burin(['readback', '--json', ...files], { cwd: bench });
  expect(said.code, said.stdout + said.stderr).toBe(code);
  expect(said.stderr).toBe('');
  return JSON.parse(said.stdout) as Answer;
}

/** Writes a program in other words, and gives its path. */
export function rewritten(name: string, program: string, work: (lines: string[]) => string[]): string {
  const file = path.join(altered, `${name.replaceAll(/[^a-z0-9]+/gi, '-')}.nc`);
  const lines = readFileSync(program, 'utf8').split('\n');
  const text = work(lines).join('\n');
  expect(text).not.toBe(lines.join('\n'));
  writeFileSync(file, text);
  return file;
}

/** Ten times what a path may be off, mm, and the degrees that are as much on the barrel at the least. */
const SHORT_MM = 0.02;
const SHORT_DEG = 0.25;

/** Whether a move goes no further than that from where the one before it ended. */
function isShort(lines: readonly string[], n: number): boolean {
  const figure = (line: string, letter: string) => new RegExp(`${letter}(-?[\\d.]+)`).exec(line)?.[1];
  const way = (letter: string) => {
    const to = figure(lines[n]!, letter);
    if (to === undefined) return 0;
    const from = lines.slice(0, n).findLast((line) => figure(line, letter) !== undefined);
    return from === undefined ? Infinity : Math.abs(Number(to) - Number(figure(from, letter)));
  };
  return way('X') < SHORT_MM && way('A') < SHORT_DEG && way('Z') < SHORT_MM;
}

/**
 * One figure altered or one line gone, at so many places of each program, and every so manieth line that is no move
 * left out: each is found.
 */
export async function findAlterations(
  { bench, programs }: CutBench,
  places: number,
  every: number,
): Promise<void> {
  const files: string[] = [];
  for (const [p, program] of programs.entries()) {
    const lines = readFileSync(program, 'utf8').trimEnd().split('\n');
    // Lifting higher than need be between two cuts changes nothing on the piece, so such figures are left alone.
    // Nor does a move too short to be told from those beside it.
    const moves = lines.flatMap((l, n) => (/^G1 |^G0 X/.test(l) && !isShort(lines, n) ? [n] : []));
    // Moves from all over the program, each kind of word among them.
    for (let k = 0; k < places; k++) {
      const n = moves[Math.floor(((k + 0.5) * moves.length) / places)]!;
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
      if (n % every === 0 && !/^G[01] |^\(cut: /.test(line))
        files.push(rewritten(`set-${p}-${n}`, program, (l) => l.toSpliced(n, 1)));
    files.push(rewritten(`short-${p}`, program, (l) => l.slice(0, l.length >> 1)));
  }
  const answer = await answerTo(bench, files, 1);
  expect(answer.files.filter((f) => f.ok).map((f) => [f.file, readFileSync(f.file, 'utf8').length])).toEqual(
    [],
  );
  for (const { file, problems } of answer.files) expect(problems.length, file).toBeGreaterThan(0);
}
