import { definePhrases } from '../problem.js';

/** In what two texts that read alike differ. */
export const differences = definePhrases(', ', {
  'edition.difference-invisible': 'an invisible character',
  'edition.difference-form': 'full-width or other forms of the characters',
  'edition.difference-script': 'letters of another script that look the same',
  'edition.difference-blanks': 'blanks',
  'edition.difference-blanks-or-marks': 'blanks or punctuation',
  'edition.difference-case': 'capital and small letters',
  'edition.difference-i-and-1': 'I or l and 1',
  'edition.difference-o-and-0': 'O and 0',
  'edition.difference-s-and-5': 'S and 5, or B and 8',
  'edition.difference-zeros': 'leading zeros',
  'edition.difference-dots': 'dots in the letters',
  'edition.difference-signs': 'signs between the numbers',
  'edition.difference-words': 'words around the number',
  'edition.difference-letters': 'its letters',
});

/** Why a label was probably meant by a text that is not a label. */
export const reasons = definePhrases(', ', {
  'edition.reason-differs': '{differences}',
  'edition.reason-reads-the-same': 'reads the same',
  'edition.reason-unusual-roman': '{meant} is written {written}',
  'edition.reason-other-numerals': '{meant} for {written}',
  'edition.reason-swapped': 'the digits {swapped} are swapped',
  'edition.reason-other-total': 'the total is {meant}, not {written}',
  'edition.reason-total-missing': 'the total {meant} is missing',
  'edition.reason-prefix-missing': '"{meant}" before the number is missing',
  'edition.reason-other-prefix': '"{meant}" goes before the number, not "{written}"',
  'edition.reason-prefix-not-wanted': 'nothing goes before the number, not "{written}"',
});

/** A label that was probably meant. */
export const nearMisses = definePhrases(', or ', {
  'edition.near-miss': '{label} ({reason})',
  'edition.near-miss-excluded': '{label} ({reason}), which is excluded: {why}',
});
