/** How two texts that read alike can differ; `near-miss.ts` knows more ways in which a label is mistyped. */
export type Difference =
  | 'invisible'
  | 'form'
  | 'script'
  | 'blanks'
  | 'blanks-or-dots'
  | 'case'
  | 'i-and-1'
  | 'o-and-0'
  | 's-and-5'
  | 'zeros'
  | 'dots'
  | 'signs'
  | 'words';

const NAMES: Readonly<Record<Difference, string>> = {
  invisible: 'an invisible character',
  form: 'full-width or other forms of the characters',
  script: 'letters of another script that look the same',
  blanks: 'blanks',
  'blanks-or-dots': 'blanks or dots',
  case: 'capital and small letters',
  'i-and-1': 'I or l and 1',
  'o-and-0': 'O and 0',
  's-and-5': 'S and 5, or B and 8',
  zeros: 'leading zeros',
  dots: 'dots in the letters',
  signs: 'signs between the numbers',
  words: 'words around the number',
};

export const nameOfDifference = (difference: Difference): string => NAMES[difference];

/** One step that makes texts alike which differ in that way only. */
export type Fold = readonly [difference: Difference, fold: (text: string) => string];

/** The text after every step, in their order. */
export const foldAll = (folds: readonly Fold[], text: string): string =>
  folds.reduce((folded, [, fold]) => fold(folded), text);

/** The steps without which two texts, alike after all of them, would not be alike. */
export function differencesBy(folds: readonly Fold[], a: string, b: string): Difference[] {
  return folds
    .filter((left) => {
      const rest = folds.filter((fold) => fold !== left);
      return foldAll(rest, a) !== foldAll(rest, b);
    })
    .map(([difference]) => difference);
}
