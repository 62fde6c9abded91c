/**
 * Letters of other scripts that look like Latin ones, and the Latin letter each is taken for. Written by us from the
 * letters' shapes in common founts; Unicode Technical Standard 39 lists far more.
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
export const inLatin = (text: string): string =>
  // Nearly all text is plain, and there may be a million lines of it.
  isPlain(text) ? text : [...text].map((letter) => LATIN_FOR.get(letter) ?? letter).join('');

export const isPlain = (text: string): boolean => /^[\x20-\x7e]*$/.test(text);

/** Characters nobody sees: of no width, or turning the direction of reading. */
const INVISIBLE = /\p{Default_Ignorable_Code_Point}|\p{Cf}/gu;

export const withoutInvisible = (text: string): string =>
  isPlain(text) ? text : text.replace(INVISIBLE, '');

/** Invisible characters made visible: `‮` as `<U+202E>`. */
export const shown = (text: string): string =>
  isPlain(text) ? text : text.replace(INVISIBLE, (c) => `<${codeOf(c)}>`);

export const codeOf = (character: string): string =>
  `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;

/**
 * What is odd about the letters of a text, or nothing: an invisible character, or one word with Latin letters and
 * letters of another script. A name wholly in Greek is a Greek name.
 */
export function oddLetters(text: string): string[] {
  if (isPlain(text)) return [];
  const odd: string[] = [];
  const invisible = [...text.matchAll(INVISIBLE)].map((match) => codeOf(match[0]));
  if (invisible.length > 0) odd.push(`holds what nobody sees (${[...new Set(invisible)].join(', ')})`);
  for (const word of text.split(/[^\p{L}\p{M}]+/u)) {
    if (!/\p{Script=Latin}/u.test(word)) continue;
    for (const [script, letters] of SCRIPTS) {
      const stray = [...word].find((letter) => letters.test(letter));
      if (stray) odd.push(`mixes Latin and ${script} letters in one word (${codeOf(stray)})`);
    }
  }
  return odd;
}

/** Steps that make differing texts alike, in the order they are taken, each with the difference it takes away. */
const STEPS: readonly (readonly [difference: string, take: (text: string) => string])[] = [
  ['an invisible character', withoutInvisible],
  ['full-width or other forms of the characters', (text) => text.normalize('NFKC')],
  ['letters of another script that look the same', inLatin],
  ['capital and small letters', (text) => text.toUpperCase().toLowerCase()],
  ['blanks or dots', (text) => text.replace(/[\s.]+/gu, '')],
];

/** What two differing names come to for a reader who does not look closely. */
export const nameAsRead = (name: string): string => STEPS.reduce((text, [, take]) => take(text), name);

/** By what two names that read the same differ. */
export const differences = (a: string, b: string): string[] => differing(STEPS, a, b);

/** Those steps without which two texts, alike after all of them, would not be. */
export function differing(
  steps: readonly (readonly [difference: string, take: (text: string) => string])[],
  a: string,
  b: string,
): string[] {
  return steps
    .filter((left) => {
      const rest = steps.filter((step) => step !== left);
      const taken = (text: string) => rest.reduce((t, [, take]) => take(t), text);
      return taken(a) !== taken(b);
    })
    .map(([difference]) => difference);
}
