import { charactersOf } from './characters.js';
import type { Font } from './font.js';

/** Letters whose Unicode decomposition names no plainer one, and signs of the type case by their plain ones. */
const PLAINER: ReadonlyMap<string, string> = new Map([
  ...pairSubstitutes('ÆæŒœßẞÞþ', ['AE', 'ae', 'OE', 'oe', 'ss', 'SS', 'TH', 'th']),
  ...pairSubstitutes('ĐđÐðǤǥĦħıĸŁłŊŋØøŦŧƵƶƷʒƏə', [...'DdDdGgHhiqLlNnOoTtZzZzEe']),
  ...toOne('\u2018\u2019\u201b\u2039\u203a\u2032\u02bc\u00b4', "'"),
  ...toOne('\u201c\u201d\u201e\u201f\u00ab\u00bb', '"'),
  ...toOne('\u2010\u2012\u2013\u2014\u2015\u2212', '-'),
  ...pairSubstitutes('\u201a\u2022\u00b7\u2044\u2215\u00d7', [',', '\u00b7', '.', '/', '/', 'x']),
]);

function pairSubstitutes(characters: string, plainer: readonly string[]): [string, string][] {
  return [...characters].map((c, k) => [c, plainer[k]!]);
}

function toOne(characters: string, plain: string): [string, string][] {
  return [...characters].map((c) => [c, plain]);
}

/**
 * The nearest a font has to a character it lacks: the letter with one mark fewer, the bare letter, the letters that a
 * ligature joins, the plain sign. Never a letter of another script that only looks alike, and never a digit: a raised 2
 * on the line reads as another number. Undefined when there is nothing near.
 */
export function nearestSubstitute(font: Font, character: string): string | undefined {
  const forms = plainerForms(character.normalize('NFC'));
  const whole = forms.find((form) => charactersOf(form).every((c) => has(font, c)));
  if (whole !== undefined) return whole;
  for (const form of forms) {
    const parts = charactersOf(form).map((c) => (has(font, c) ? c : nearestSubstitute(font, c)));
    if (parts.every((c) => c !== undefined)) return parts.join('');
  }
  return undefined;
}

const has = (font: Font, character: string): boolean => font.glyph(character, 'proportional') !== undefined;

/** The forms one step plainer, the nearest first. Each step removes a mark or a form that no later step adds again. */
function plainerForms(character: string): string[] {
  const [base = '', ...marks] = [...character.normalize('NFD')];
  const forms = marks.length > 0 ? withoutOneMark(base, marks) : [PLAINER.get(base), base.normalize('NFKC')];
  return forms.filter((form): form is string => {
    if (form === undefined || form === character || /\p{N}/u.test(form)) return false;
    return form.trim() !== '' || character.trim() === '';
  });
}

function withoutOneMark(base: string, marks: readonly string[]): string[] {
  // Syllables of other scripts come apart into letters, not into a letter and its marks.
  if (!marks.every((mark) => /\p{M}/u.test(mark))) return [];
  return marks.map((_, k) => `${base}${marks.toSpliced(-1 - k, 1).join('')}`.normalize('NFC'));
}
