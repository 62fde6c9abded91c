import type { Phrase } from '../problem.js';
import { differences } from './phrases.js';

/** How two texts that read alike can differ; `near-miss.ts` knows more ways in which a label is mistyped. */
export type Difference =
  | 'invisible'
  | 'form'
  | 'script'
  | 'blanks'
  | 'blanks-or-marks'
  | 'case'
  | 'i-and-1'
  | 'o-and-0'
  | 's-and-5'
  | 'zeros'
  | 'dots'
  | 'signs'
  | 'words';

/** A difference as a part of a message. */
export const differencePhrase = (difference: Difference): Phrase =>
  differences.phrase(`edition.difference-${difference}`, {});

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
