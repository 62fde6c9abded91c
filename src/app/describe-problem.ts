import { IntlMessageFormat } from 'intl-messageformat';
import { showInvisible } from '../documents/invisible.js';
import type { MessageTable, Phrase, PhraseTable, Problem, ProblemValue } from '../problem.js';
import { messageTables, phraseTables } from './message-tables.js';

/** A problem in words: what happened, and what to do about it. */
export interface DescribedProblem {
  readonly code: string;
  readonly where: string;
  readonly message: string;
  readonly hint: string;
  readonly values: Readonly<Record<string, DescribedValue>>;
}

/** A phrase in words. */
export interface DescribedPhrase {
  readonly phrase: string;
  readonly message: string;
  readonly values: Readonly<Record<string, DescribedValue>>;
}

/** As in the problem; a problem or a phrase among the values is described too. */
export type DescribedValue = Described | readonly Described[];
type Described = string | number | DescribedProblem | DescribedPhrase;

export interface ProblemDescriber {
  describeProblem(this: void, problem: Omit<Problem, 'exit'>): DescribedProblem;
  describePhrase(this: void, phrase: Phrase): DescribedPhrase;
  /** One line for a person; control characters can neither break it nor move the cursor. */
  toUserLine(this: void, problem: Problem): string;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
const MOVES_CURSOR = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]/g;

/** The characters that mean something in ICU MessageFormat outside of braces. */
const MARKED_UP = /[{}']/;

const FORMATS = {
  number: {
    mm: { maximumFractionDigits: 3, useGrouping: false },
    deg: { maximumFractionDigits: 2, useGrouping: false },
  },
};

/** Words problems by the message tables of their rooms. */
export function problemDescriber(
  tables: readonly MessageTable[],
  phraseKinds: readonly PhraseTable[],
): ProblemDescriber {
  const messages: MessageTable = Object.assign({}, ...tables);
  const phrases: PhraseTable['phrases'] = Object.assign({}, ...phraseKinds.map((kind) => kind.phrases));
  const between = ({ phrase }: Phrase): string =>
    phraseKinds.find((kind) => phrase in kind.phrases)?.between ?? ', ';

  const format = (text: string, values: Problem['values']): string => {
    // Most hints are plain text, and the first use of a formatter has the rules of its language loaded.
    if (!MARKED_UP.test(text)) return text;
    const plain = Object.entries(values).map(([name, value]) => [name, formatValue(value)] as const);
    const formatted = new IntlMessageFormat(text, 'en', FORMATS, { ignoreTag: true });
    return String(formatted.format(Object.fromEntries(plain)));
  };

  const wordsOf = (one: Part): string => {
    if (typeof one === 'string') return one;
    if ('phrase' in one) return format(phrases[one.phrase] ?? one.phrase, one.values);
    return format(messages[one.code]?.message ?? one.code, one.values);
  };

  const formatValue = (value: ProblemValue): string | number => {
    if (typeof value === 'number') return value;
    if (!isList(value)) return wordsOf(value);
    const [first] = value;
    if (first === undefined) return '';
    const joint = typeof first === 'string' ? ', ' : 'phrase' in first ? between(first) : ' ';
    return value.map(wordsOf).join(joint);
  };

  const describePart = (one: Part): Described => {
    if (typeof one === 'string') return one;
    return 'code' in one ? describeProblem(one) : describePhrase(one);
  };

  const describePhrase = (one: Phrase): DescribedPhrase => ({
    phrase: one.phrase,
    message: wordsOf(one),
    values: describeValues(one.values),
  });

  const describeValues = (values: Problem['values']): Readonly<Record<string, DescribedValue>> =>
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === 'number' ? value : isList(value) ? value.map(describePart) : describePart(value),
      ]),
    );

  const describeProblem = (problem: Omit<Problem, 'exit'>): DescribedProblem => {
    const { code, where, values } = problem;
    return {
      ...{ code, where },
      message: wordsOf(problem as Problem),
      hint: format(messages[code]?.hint ?? '', values),
      values: describeValues(values),
    };
  };

  const toUserLine = (problem: Problem): string => {
    const { where, message, hint } = describeProblem(problem);
    const line = [where && `${where}:`, message, hint].filter(Boolean).join(' ');
    return showInvisible(line.replace(MOVES_CURSOR, ' '));
  };
  return { describeProblem, describePhrase, toUserLine };
}

type Part = string | Problem | Phrase;
const isList = (value: Part | readonly Part[]): value is readonly Part[] => Array.isArray(value);

/** For problems of every room but the doors. */
export const { describeProblem, describePhrase, toUserLine } = problemDescriber(
  Object.values(messageTables),
  Object.values(phraseTables),
);
