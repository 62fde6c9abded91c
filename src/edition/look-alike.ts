import { invisibleIn, isPlain, withoutInvisible } from '../documents/invisible.js';
import { codePointName } from '../documents/quote.js';
import type { Phrase } from '../problem.js';
import { type Difference, differencePhrase, differencesBy, type Fold, foldAll } from './differences.js';
import { PLAIN_FOR } from './letter-shapes.js';
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

/**
 * What a name comes to without what nobody sees or says: case, blanks, punctuation, invisible characters, letters of other
 * scripts that look the same. `readingsOf` goes further.
 */
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

/** Accents and the like. Marks of other scripts are vowels, and of kana other sounds: another name. */
const ACCENTS =
  /(?![\u3099\u309A])(?=\p{M})[\p{Script=Inherited}\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Hebrew}\p{Script=Arabic}]/gu;
/** Neither letters, nor digits, nor what belongs to them. */
const NOT_READ = /[^\p{L}\p{N}\p{M}]+/gu;
/** They stand within a word. */
const APOSTROPHES = /['`\u00b4\u2018\u2019\u02bc]/g;
const SIGN = /[\p{S}\p{P}]/u;

const simplified = (text: string): string => text.normalize('NFKD').replace(ACCENTS, '');
const toPlain = (text: string): string =>
  isPlain(text) ? text : [...text].map((one) => PLAIN_FOR.get(one) ?? one).join('');

/** Lower-case letters and digits for what a character looks like; nothing where it looks like neither. */
function lettersFor(character: string): string {
  const plain = toPlain(simplified(PLAIN_FOR.get(character) ?? character));
  return toPlain(simplified(plain.toUpperCase().toLowerCase())).replace(NOT_READ, '');
}

/** What is hard to tell apart in many fonts gets one form. */
const oneForm = (letters: string): string =>
  letters
    .replace(/[i1]/g, 'l')
    .replace(/0/g, 'o')
    .replace(/5/g, 's')
    .replace(/8/g, 'b')
    .replace(/m/g, 'rn')
    .replace(/w/g, 'vv');

/** So many signs that may be letters are read both ways, each by itself; those after them, all one way or all the other. */
const MOST_SIGNS = 5;

/** A word as it may be read. */
export interface ReadWord {
  /** In one form for all that looks like it. */
  readonly letters: string;
  /** The same of its first letter. */
  readonly first: string;
  /** Whether it has no other letter. */
  readonly isInitial: boolean;
}

/**
 * The ways in which a name can be read by someone who does not look closely, each by its words: accents and what shows no
 * ink make no difference, nor does which of the letters that look alike is written. A sign can be taken for the letter that
 * it looks like (`N|ne`), or for none (`Nine|Lights`).
 */
export function readWords(name: string): readonly (readonly ReadWord[])[] {
  // Nearly all names are so, and an audit may compare many.
  if (/^[A-Za-z0-9 .,-]*$/.test(name)) {
    const words = name.toLowerCase().split(/[ .,-]+/);
    return [words.filter((word) => word !== '').map((word) => toWord([...word]))];
  }
  const inked = withoutInvisible(name).normalize('NFD').replace(ACCENTS, '').replace(APOSTROPHES, '');
  const characters = [...inked.normalize('NFC')].map((one) => {
    if (/[A-Za-z0-9]/.test(one)) return { letters: one.toLowerCase(), isSign: false };
    const letters = lettersFor(one);
    return { letters, isSign: letters !== '' && SIGN.test(one) };
  });
  const signs = characters.filter(({ isSign }) => isSign).length;
  const ways = 2 ** Math.min(signs, MOST_SIGNS + 1);
  return Array.from({ length: ways }, (_, way) => {
    let nth = 0;
    const words: string[][] = [[]];
    for (const { letters, isSign } of characters) {
      const isRead = !isSign || (way >> Math.min(nth++, MOST_SIGNS)) % 2 === 1;
      if (isRead && letters !== '') words.at(-1)!.push(letters);
      else if (words.at(-1)!.length > 0) words.push([]);
    }
    return words.filter((word) => word.length > 0).map(toWord);
  });
}

function toWord(letters: readonly string[]): ReadWord {
  const [first = ''] = letters;
  return {
    letters: oneForm(letters.join('')),
    first: oneForm(first),
    isInitial: letters.length === 1,
  };
}

/** Two names read alike where they have one of these in common. */
export function readingsOf(name: string): readonly string[] {
  const readings = readWords(name).map((words) => words.map(({ letters }) => letters).join(''));
  const inked = [...new Set([foldName(name), ...readings])].filter((reading) => reading !== '');
  // Of names that nobody sees, each is taken for the other.
  return inked.length > 0 ? inked : [''];
}

/** Whether one of two names is taken for the other. */
export function readAlike(one: string, other: string): boolean {
  const readings = new Set(readingsOf(one));
  return readingsOf(other).some((reading) => readings.has(reading));
}
