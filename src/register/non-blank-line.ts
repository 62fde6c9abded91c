import { line } from '../documents/schema/scalar.js';
import { CONDITIONS } from './phrases.js';

/** One line that is not blank, in whole characters: half a surrogate pair has no canonical JSON. */
export const nonBlankLine = (longest: number) =>
  line(longest)
    .regex(/\S/u, CONDITIONS.blank)
    .refine((text) => !/\p{Surrogate}/u.test(text), CONDITIONS.halfCharacter);
