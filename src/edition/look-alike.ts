import { invisibleIn, isPlain, withoutInvisible } from '../documents/invisible.js';
import { codePointName } from '../documents/quote.js';
import type { Phrase } from '../problem.js';
import { type Difference, differencePhrase, differencesBy, type Fold, foldAll } from './differences.js';
import { differences } from './phrases.js';

/**
 * Letters of other scripts that look like Latin ones, and the Latin letter each is taken for. Written by us from the
 * letters' shapes in common fonts; Unicode Technical Standard 39 lists far more.
 */
const LATIN_FOR: ReadonlyMap<string, string> = new Map(
  [
    // Greek, capital and small
    ['ΑΒΕΖΗΙΚΜΝΟΡΤΥΧϺ', 'ABEZHIKMNOPTYXM'],
    ['αγικνορυχϳ', 'ayikvopuxj'],
    // Cyrillic, capital and small
    ['АВЕЅІЈКМНОРСТУҮХԚԜҺӀ', 'ABESIJKMHOPCTYYXQWHI'],
    ['асеіјкорѕухһԁԛԝүӏ', 'aceijkopsyxhdqwyl'],
    // Armenian
    ['ՍՕԼհոսօց', 'UOLhnuog'],
  ].flatMap(([odd, latin]) => {
    const letters = [...latin!];
    return [...odd!].map((letter, i): [string, string] => [letter, letters[i]!]);
  }),
);

const SCRIPTS = [
  ['Greek', /\p{Script=Greek}/u],
  ['Cyrillic', /\p{Script=Cyrillic}/u],
  ['Armenian', /\p{Script=Armenian}/u],
] as const;

/** The text with every look-alike letter made Latin. */
export const toLatin = (text: string): string =>
  isPlain(text) ? text : [...text].map((letter) => LATIN_FOR.get(letter) ?? letter).join('');

/** What is odd about the letters of a text. */
export type LetterOddity =
  /** It holds invisible characters, such as `U+202E`. */
  | { readonly kind: 'invisible'; readonly characters: readonly string[] }
  /** One word has Latin letters and letters of another script, of which this is the first. */
  | { readonly kind: 'mixed-scripts'; readonly script: string; readonly character: string };

/** Invisible characters, and words that mix scripts. A name wholly in Greek is a Greek name, and not odd. */
export function oddLetters(text: string): LetterOddity[] {
  if (isPlain(text)) return [];
  const odd: LetterOddity[] = [];
  const characters = invisibleIn(text);
  if (characters.length > 0) odd.push({ kind: 'invisible', characters });
  for (const word of text.split(/[^\p{L}\p{M}]+/u)) {
    if (!/\p{Script=Latin}/u.test(word)) continue;
    for (const [script, letters] of SCRIPTS) {
      const stray = [...word].find((letter) => letters.test(letter));
      if (stray) odd.push({ kind: 'mixed-scripts', script, character: codePointName(stray) });
    }
  }
  return odd;
}

const NAME_FOLDS: readonly Fold[] = [
  ['invisible', withoutInvisible],
  ['form', (text) => text.normalize('NFKC')],
  ['script', toLatin],
  ['case', (text) => text.toUpperCase().toLowerCase()],
  // A name of punctuation alone has nothing else to be known by.
  ['blanks-or-marks', (text) => text.replace(/[\s\p{P}]+/gu, '') || text],
];

/** What a name comes to for a reader who does not look closely: two names that differ and read alike give the same. */
export const foldName = (name: string): string => foldAll(NAME_FOLDS, name);

/** The ways in which two names that read alike differ. */
export const nameDifferences = (a: string, b: string): Difference[] => differencesBy(NAME_FOLDS, a, b);

/** The same as parts of a message. */
export const namePhrases = (a: string, b: string): Phrase[] => {
  const found = nameDifferences(a, b);
  return found.length > 0
    ? found.map(differencePhrase)
    : [differences.phrase('edition.difference-letters', {})];
};
