/**
 * One person's name as it is compared: case, width and spacing aside. Upper case first: it is what brings letters
 * together that lower case keeps apart, such as ß and SS, or the two small sigmas.
 */
const foldName = (name: string): string =>
  name.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC').replace(/\s+/gu, ' ').trim();

export const samePerson = (one: string, other: string): boolean => foldName(one) === foldName(other);
