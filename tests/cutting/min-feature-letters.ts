import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { findingsWithin, type MinFeatureParameters } from '../../src/cutting/min-feature.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Path } from '../../src/geometry/path.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { fontFile } from '../lettering/made-fonts.js';
import { LetterGrid } from './min-feature-grid.js';

const a = strokeFont('burin-plain', readFileSync('fonts/burin-plain.svg', 'utf8'));
const b = outlineFont('garamond', fontFile('garamond'));
if (!a.ok || !b.ok) throw new Error('a font does not open');
export const plain: Font = a.font;
export const garamond: Font = b.font;

export const TRACE: MinFeatureParameters = { way: 'trace', cutWidth: 0.2, tip: 0.1, land: 0.1 };
export const GROOVE: MinFeatureParameters = { way: 'groove', cutWidth: 0.4, tip: 0.08, land: 0.08 };
const lettered = (font: Font, character: string, size: number): Path[] =>
  flatten(font.glyph(character, 'tabular')!.path, size, 0.0008);
export const found = (font: Font, name: string, size: number, how: MinFeatureParameters) =>
  findingsWithin({ name, paths: lettered(font, name, size) }, how);
const STEPS = [0.8, 0.93, 1.07, 1.25];
/** A size, mm, at which every one of these letters has strokes too close. */
const SMALL = 0.3;

/** Verdicts that the grid gives alike 0.01 mm either way are decided; the rest lie too near the limit. */
export function lettersAgainstGrid(letters: string): void {
  const cases = letters.length * STEPS.length;
  describe('letters at sizes either side of the limit, against a grid of cells', () => {
    test(`${cases} letters of strokes`, () => {
      const told = { agree: 0, near: 0, wrong: [] as string[], narrow: 0 };
      for (const character of letters)
        for (const step of STEPS) {
          const size = limit(plain, character, TRACE) * step;
          const verdict = found(plain, character, size, TRACE).some((f) => f.kind === 'land');
          const grid = new LetterGrid(lettered(plain, character, size), false, 0.33, 0.007);
          count(told, `${character} at ${size.toFixed(3)}`, verdict, grid.narrow(0.29), grid.narrow(0.31));
        }
      expect(told.wrong).toEqual([]);
      expect(told.agree).toBeGreaterThan(0.95 * cases);
      expect(told.narrow).toBeGreaterThan(0.4 * cases);
    });
    test(`${cases} letters of areas`, () => {
      const told = { agree: 0, near: 0, wrong: [] as string[], narrow: 0 };
      for (const character of letters)
        for (const step of STEPS) {
          const size = limit(garamond, character, GROOVE) * step;
          const all = found(garamond, character, size, GROOVE);
          const grid = new LetterGrid(lettered(garamond, character, size), true, 0.12, 0.008);
          const name = `${character} at ${size.toFixed(3)}`;
          const has = (kind: string) => all.some((f) => f.kind === kind);
          count(told, `${name} land`, has('land'), grid.narrow(0.07), grid.narrow(0.09));
          count(told, `${name} thin`, has('thin'), grid.thin(0.07), grid.thin(0.09));
        }
      expect(told.wrong).toEqual([]);
      expect(told.agree).toBeGreaterThan(1.6 * cases);
      expect(told.narrow).toBeGreaterThan(cases);
    });
  });
}

/** The size at which everything found in a small letter is cured. */
const limit = (font: Font, character: string, how: MinFeatureParameters): number =>
  Math.max(...found(font, character, SMALL, how).map((f) => SMALL * (f.sizeFactor ?? 0)));

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
