import type { Font } from './font.js';

/** Letters whose Unicode decomposition names no plainer one, and signs of the type case by their plain ones. */
const PLAINER: Readonly<Record<string, string>> = {
  Æ: 'AE',
  æ: 'ae',
  Œ: 'OE',
  œ: 'oe',
  ß: 'ss',
  ẞ: 'SS',
  Đ: 'D',
  đ: 'd',
  Ð: 'D',
  ð: 'd',
  Ħ: 'H',
  ħ: 'h',
  Ł: 'L',
  ł: 'l',
  Ø: 'O',
  ø: 'o',
  Þ: 'TH',
  þ: 'th',
  Ŧ: 'T',
  ŧ: 't',
  Ŋ: 'NG',
  ŋ: 'ng',
  ı: 'i',
  ĸ: 'k',
  ſ: 's',
  Ə: 'E',
  ə: 'e',
  '\u2018': "'",
  '\u2019': "'",
  '\u201a': ',',
  '\u201c': '"',
  '\u201d': '"',
  '\u201e': '"',
  '\u2010': '-',
  '\u2011': '-',
  '\u2012': '-',
  '\u2013': '-',
  '\u2014': '-',
  '\u2212': '-',
  '\u2026': '...',
  '\u2022': '\u00b7',
  '\u00b7': '.',
  '\u2044': '/',
  '\u00a0': ' ',
  '\u202f': ' ',
  '\u2009': ' ',
  '\u00d7': 'x',
};

/**
 * What comes nearest to a character among those a font has: the letter with one of its marks the fewer, then the bare
 * letter, the letters a ligature joins, the plain sign. Never a letter of another script that only looks alike.
 * Undefined when there is nothing near.
 */
export function nearest(font: Font, character: string): string | undefined {
  const has = (text: string) => text !== '' && [...text].every((c) => font.glyph(c, 'proportional'));
  for (const candidate of candidates(character)) if (has(candidate)) return candidate;
  return undefined;
}

function* candidates(character: string): Generator<string> {
  const [base = '', ...marks] = [...character.normalize('NFD')];
  for (let drop = marks.length - 1; drop >= 0; drop--) {
    const kept = marks.filter((_, k) => k !== drop);
    yield `${base}${kept.join('')}`.normalize('NFC');
  }
  if (marks.length > 0) yield base;
  const plainer = PLAINER[character] ?? PLAINER[base];
  if (plainer !== undefined) {
    yield plainer;
    yield* candidatesOfAll(plainer);
  }
  // Ligatures and forms of compatibility: ﬁ is f and i, Ⅳ is I and V.
  const compatible = character.normalize('NFKC');
  if (compatible !== character) yield compatible;
}

function* candidatesOfAll(text: string): Generator<string> {
  for (const c of text) {
    const next = PLAINER[c];
    if (next !== undefined) yield text.replaceAll(c, next);
  }
}
