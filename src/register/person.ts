import { foldName as foldReading } from '../edition/look-alike.js';

/**
 * One person's name as it is compared: case, width and spacing aside. Upper case first: it is what brings letters
 * together that lower case keeps apart, such as ß and SS, or the two small sigmas.
 */
const foldName = (name: string): string =>
  name.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC').replace(/\s+/gu, ' ').trim();

export const samePerson = (one: string, other: string): boolean => foldName(one) === foldName(other);

/**
 * Whether two names are one person's for a reader who does not look closely: also without dots, with letters of another
 * script, or with invisible ones. New entries are asked this; registers that have such a witness stay readable.
 */
export const readsAsSamePerson = (one: string, other: string): boolean =>
  samePerson(one, other) || foldReading(one) === foldReading(other);
