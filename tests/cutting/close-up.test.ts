import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type CloseUpHow, closesUpWithin } from '../../src/cutting/close-up.js';
import { type FlatPath, flatten } from '../../src/lettering/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline.js';
import { strokeFont } from '../../src/lettering/stroke.js';
import { fontFile } from '../lettering/made-fonts.js';
import { LetterGrid } from './close-up-grid.js';

let plain: Font;
let garamond: Font;
beforeAll(() => {
  const a = strokeFont('burin-plain', readFileSync('fonts/burin-plain.svg', 'utf8'));
  const b = outlineFont('garamond', fontFile('garamond'));
  if (!a.ok || !b.ok) throw new Error('a font does not open');
  [plain, garamond] = [a.font, b.font];
});

const TRACE: CloseUpHow = { way: 'trace', cutWidth: 0.2, tip: 0.1, land: 0.1 };
const GROOVE: CloseUpHow = { way: 'groove', cutWidth: 0.4, tip: 0.08, land: 0.08 };
const lettered = (font: Font, character: string, size: number): FlatPath[] =>
  flatten(font.glyph(character, 'tabular')!.path, size, 0.0008);
const found = (font: Font, name: string, size: number, how: CloseUpHow) =>
  closesUpWithin({ name, paths: lettered(font, name, size) }, how);
const STEPS = [0.8, 0.93, 1.07, 1.25];

describe('letters at sizes either side of the limit, against a grid of cells', () => {
  /** Verdicts that the grid gives alike 0.01 mm either way are decided; the rest lie too near the limit. */
  test('100 letters of strokes', { timeout: 140_000 }, () => {
    const told = { agree: 0, near: 0, wrong: [] as string[], narrow: 0 };
    for (const character of 'BEGSacegmsyw234568&#ABKPR')
      for (const step of STEPS) {
        const size = limit(plain, character, TRACE) * step;
        const verdict = found(plain, character, size, TRACE).some((f) => f.kind === 'land');
        const grid = new LetterGrid(lettered(plain, character, size), false, 0.42, 0.004);
        count(told, `${character} at ${size.toFixed(3)}`, verdict, grid.narrow(0.29), grid.narrow(0.31));
      }
    console.log(told);
    expect(told.wrong).toEqual([]);
    expect(told.agree).toBeGreaterThan(70);
  });
  test('100 letters of areas', { timeout: 140_000 }, () => {
    const told = { agree: 0, near: 0, wrong: [] as string[], narrow: 0 };
    for (const character of 'BEGSacegmsyw234568&#ABKPR')
      for (const step of STEPS) {
        const size = limit(garamond, character, GROOVE) * step;
        const all = found(garamond, character, size, GROOVE);
        const grid = new LetterGrid(lettered(garamond, character, size), true, 0.15, 0.005);
        const name = `${character} at ${size.toFixed(3)}`;
        count(
          told,
          `${name} land`,
          all.some((f) => f.kind === 'land'),
          grid.narrow(0.07),
          grid.narrow(0.09),
        );
        count(
          told,
          `${name} thin`,
          all.some((f) => f.kind === 'thin'),
          grid.thin(0.07),
          grid.thin(0.09),
        );
      }
    console.log(told);
    expect(told.wrong).toEqual([]);
    expect(told.agree).toBeGreaterThan(140);
  });
});

/** The size at which everything found in a small letter is cured. */
const limit = (font: Font, character: string, how: CloseUpHow): number =>
  Math.max(...found(font, character, 0.8, how).map((f) => 0.8 * (f.sizeFactor ?? 0)));

function count(
  told: { agree: number; near: number; narrow: number; wrong: string[] },
  name: string,
  verdict: boolean,
  low: boolean,
  high: boolean,
): void {
  if (low !== high) told.near++;
  else if (verdict === low) {
    told.agree++;
    if (low) told.narrow++;
  } else told.wrong.push(`${name}: ${verdict ? 'narrow' : 'wide'} by burin`);
}
