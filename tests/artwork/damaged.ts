import { expect } from 'vitest';
import { outlines } from '../../src/artwork/svg/outlines.js';
import { readSvg } from '../../src/artwork/svg/read-svg.js';
import { Refusal } from '../../src/problem.js';
import { LEFT_OUT_FEATURES, READ_FEATURES } from '../published/svg-features.js';
import { MADE } from '../published/svg-files.js';
import { figures } from './measure.js';

const SIGNS = '<>/"\'=.-,#()&;%e0 \n9MzAaCsqtLhv{}:';
const NS = 'xmlns="http://www.w3.org/2000/svg"';
const FILES = [
  ...MADE.map((m) => m.text),
  ...[...READ_FEATURES, ...LEFT_OUT_FEATURES].map((f) => `<svg ${NS} viewBox="0 0 100 100">${f.inner}</svg>`),
];

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

/** Reads or refuses that many damaged drawings, and says how many came to which end. */
export function readDamaged(times: number, seed: number): { read: number; refused: number; tooMuch: number } {
  const at = figures(seed);
  const ends = { read: 0, refused: 0, tooMuch: 0 };
  for (let k = 0; k < times; k++) {
    const read = readSvg(damaged(FILES[Math.floor(at() * FILES.length)]!, at), 'art.svg');
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
      ends.tooMuch++;
    }
  }
  return ends;
}
