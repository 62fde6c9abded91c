import { expect, it } from 'vitest';
import { outlines } from '../../src/artwork/svg/outlines.js';
import { readSvg } from '../../src/artwork/svg/read.js';
import { Refusal } from '../../src/problem.js';
import { MADE } from '../published/svg-files.js';
import { figures } from './measure.js';

const TIMES = 1_000;
const SIGNS = '<>/"\'=.-,#()&;%e0 \n9MzAaCsqtLhv{}:';

/** A text with some of its characters changed, taken out or doubled. */
function damaged(text: string, at: () => number): string {
  let out = text;
  for (let k = Math.ceil(3 * at()); k > 0; k--) {
    const i = Math.floor(at() * out.length);
    const sign = SIGNS[Math.floor(at() * SIGNS.length)]!;
    const put = [sign, '', `${sign}${out[i]}`, out.slice(i, i + 9 * at()).repeat(2)][Math.floor(4 * at())]!;
    out = out.slice(0, i) + put + out.slice(i + 1);
  }
  return out;
}

it('reads or refuses a thousand damaged drawings, and never falls over them', () => {
  const at = figures(77);
  const ends = { read: 0, refused: 0, tangled: 0 };
  for (let k = 0; k < TIMES; k++) {
    const text = damaged(MADE[k % MADE.length]!.text, at);
    const read = readSvg(text, 'art.svg');
    if (!read.ok) {
      expect(read.problem.where).toMatch(/^art\.svg/);
      ends.refused++;
      continue;
    }
    try {
      const { areas, lines } = outlines(read.drawing, k % 2 === 0 ? 'outline' : 'line');
      const made = [...areas, ...lines].flatMap((s) => s.slice(1) as number[]);
      expect(made.every(Number.isFinite)).toBe(true);
      ends.read++;
    } catch (error) {
      expect(error).toBeInstanceOf(Refusal);
      ends.tangled++;
    }
  }
  expect(ends.read).toBeGreaterThan(TIMES / 5);
  expect(ends.refused).toBeGreaterThan(TIMES / 10);
});
