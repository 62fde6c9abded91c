import { readFileSync } from 'node:fs';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { lineOf } from '../words-of.js';
import { FONT_FILES, fontFile } from './made-fonts.js';

function sound(read: ReturnType<typeof strokeFont>): Font {
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.font;
}

export const plain = sound(strokeFont('burin-plain', readFileSync('fonts/burin-plain.svg', 'utf8')));

const names = Object.keys(FONT_FILES) as (keyof typeof FONT_FILES)[];
const outlines = names.map((name) => sound(outlineFont(name, fontFile(name))));
export const garamond = outlines[names.indexOf('garamond')]!;

/** The house's stroke font and outline fonts, by name. */
export const fonts: [string, Font][] = [plain, ...outlines].map((font) => [font.id, font]);

/** A font of squares, each as wide as its code point says; it has `characters` and no others. */
export function squares(characters: string): Font {
  const glyphs = new Map(
    [...characters].map((c) => {
      const advance = 0.5 + (c.codePointAt(0)! % 7) / 10;
      return [c, { key: c, advance, path: c === ' ' ? [] : square(advance) }] as const;
    }),
  );
  return { id: 'squares', kind: 'outline', glyph: (c) => glyphs.get(c), kern: () => 0 };
}

const square = (advance: number) =>
  [['M', 0.1, 0], ['L', advance - 0.1, 0], ['L', advance - 0.1, 1], ['L', 0.1, 1], ['Z']] as const;
