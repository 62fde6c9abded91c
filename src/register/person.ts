import { foldName as foldReading, type ReadWord, readWords } from '../edition/look-alike.js';

/**
 * One person's name as it is compared: case, width and spacing aside. Upper case first: it is what brings letters
 * together that lower case keeps apart, such as ß and SS, or the two small sigmas.
 */
const foldName = (name: string): string =>
  name.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC').replace(/\s+/gu, ' ').trim();

export const samePerson = (one: string, other: string): boolean => foldName(one) === foldName(other);

const asRead = (words: string): ReadonlySet<string> =>
  new Set(words.split(' ').map((word) => readWords(word)[0]![0]!.letters));

/** Common practice, no source. `M` is left out: it is an initial as well. */
const TITLES = asRead(
  'Mr Mrs Ms Miss Mx Dr Prof Professor Sir Dame Lady Lord Rev Herr Frau Monsieur Mme Madame Mlle Sr Sra Srta Senor Senora Sig Dott Ing Dipl',
);
/** They tell one person of a family from another of the same name. Common practice, no source. */
const GENERATIONS = asRead('Jr Jnr Jun Junior Snr Sen Senior II III IV Filho Neto Fils');

const isTitle = ({ letters }: ReadWord): boolean => TITLES.has(letters);
const isGeneration = ({ letters }: ReadWord): boolean => GENERATIONS.has(letters);

/** What stands in brackets says more of a person, and is no part of the name. */
function withoutBrackets(name: string): string {
  const rest = name.replace(/\p{Ps}[^\p{Ps}\p{Pe}]*\p{Pe}|[<\uff1c][^<>\uff1c\uff1e]*[>\uff1e]/gu, ' ');
  return rest === name || !/[\p{L}\p{N}]/u.test(rest) ? name : withoutBrackets(rest);
}

/** The ways in which a person's name can be read, each by its words without titles. */
function readName(name: string): readonly (readonly ReadWord[])[] {
  return readWords(withoutBrackets(name)).map((words) => {
    const named = words.filter((word) => !isTitle(word));
    return named.length > 0 ? named : words;
  });
}

/** The letters of a name in each order that keeps those beside one another together: surname first, or last. */
const inTurn = (words: readonly ReadWord[]): string[] =>
  words.map((_, i) => [...words.slice(i), ...words.slice(0, i)].map(({ letters }) => letters).join(''));

/** Whether every word of the shorter name is in the longer one, in any order, an initial standing for its word. */
function isWithin(one: readonly ReadWord[], other: readonly ReadWord[]): boolean {
  const [shorter, longer] = one.length <= other.length ? [one, other] : [other, one];
  const rest = [...longer];
  const take = (same: (found: ReadWord) => boolean): boolean => {
    const at = rest.findIndex(same);
    if (at >= 0) rest.splice(at, 1);
    return at >= 0;
  };
  const initials = shorter.filter((word) => !take(({ letters }) => letters === word.letters));
  const allTaken = initials.every((word) =>
    take((found) => (word.isInitial || found.isInitial) && found.first === word.first),
  );
  return shorter.length > 0 && allTaken && !rest.some(isGeneration);
}

function readAsOne(one: readonly ReadWord[], other: readonly ReadWord[]): boolean {
  if (isWithin(one, other)) return true;
  const turns = new Set(inTurn(one));
  return inTurn(other).some((turn) => turns.has(turn));
}

/**
 * Whether two names are one person's for a reader who does not look closely: letters that look alike, accents, blanks, signs,
 * titles, what stands in brackets, the order of the words, initials for names and names left out make no difference. New
 * entries are asked this; registers that have such a witness stay readable.
 */
export function readsAsSamePerson(one: string, other: string): boolean {
  if (samePerson(one, other) || foldReading(one) === foldReading(other)) return true;
  // What has no letter names nobody, and so nobody else.
  if (![one, other].every((name) => /[\p{L}\p{N}]/u.test(name))) return true;
  const others = readName(other);
  return readName(one).some((words) => others.some((readings) => readAsOne(words, readings)));
}

/** Two names of which one is another spelling of the other, with no word or letter left out, have one of these in common. */
export function personReadings(name: string): readonly string[] {
  const sorted = readName(name).map((words) =>
    words
      .map(({ letters }) => letters)
      .sort()
      .join(' '),
  );
  return [...new Set([foldReading(name), ...sorted])];
}
