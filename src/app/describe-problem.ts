import { IntlMessageFormat } from 'intl-messageformat';
import type { MessageTable, Problem, ProblemValue } from '../problem.js';
import { messageTables } from './message-tables.js';

/** A problem in words: what happened, and what to do about it. */
export interface DescribedProblem {
  readonly code: string;
  readonly where: string;
  readonly message: string;
  readonly hint: string;
  readonly values: Readonly<Record<string, DescribedValue>>;
}

/** As in the problem; a problem among the values is described too. */
export type DescribedValue =
  | string
  | number
  | DescribedProblem
  | readonly string[]
  | readonly DescribedProblem[];

export interface ProblemDescriber {
  describeProblem(this: void, problem: Omit<Problem, 'exit'>): DescribedProblem;
  /** One line for a person; control characters can neither break it nor move the cursor. */
  toUserLine(this: void, problem: Problem): string;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
const MOVES_CURSOR = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

const FORMATS = {
  number: {
    mm: { maximumFractionDigits: 3, useGrouping: false },
    deg: { maximumFractionDigits: 2, useGrouping: false },
  },
};

/** Words problems by the message tables of their rooms. */
export function problemDescriber(tables: readonly MessageTable[]): ProblemDescriber {
  const messages: MessageTable = Object.assign({}, ...tables);

  const format = (text: string, values: Problem['values']): string => {
    const plain = Object.entries(values).map(([name, value]) => [name, formatValue(value)] as const);
    const formatted = new IntlMessageFormat(text, 'en', FORMATS, { ignoreTag: true });
    return String(formatted.format(Object.fromEntries(plain)));
  };

  const messageOf = ({ code, values }: Omit<Problem, 'exit'>): string =>
    format(messages[code]?.message ?? code, values);

  const formatValue = (value: ProblemValue): string | number => {
    if (typeof value === 'string' || typeof value === 'number') return value;
    if (isProblem(value)) return messageOf(value);
    return isProblems(value) ? value.map(messageOf).join(' ') : value.join(', ');
  };

  const describeValue = (value: ProblemValue): DescribedValue => {
    if (typeof value === 'string' || typeof value === 'number') return value;
    if (isProblem(value)) return describeProblem(value);
    return isProblems(value) ? value.map(describeProblem) : value;
  };

  const describeProblem = (problem: Omit<Problem, 'exit'>): DescribedProblem => {
    const { code, where, values } = problem;
    const described = Object.entries(values).map(([name, value]) => [name, describeValue(value)] as const);
    return {
      ...{ code, where },
      message: messageOf(problem),
      hint: format(messages[code]?.hint ?? '', values),
      values: Object.fromEntries(described),
    };
  };

  const toUserLine = (problem: Problem): string => {
    const { where, message, hint } = describeProblem(problem);
    return [where && `${where}:`, message, hint].filter(Boolean).join(' ').replace(MOVES_CURSOR, ' ');
  };
  return { describeProblem, toUserLine };
}

const isProblem = (value: object): value is Problem => 'code' in value;
const isProblems = (value: readonly unknown[]): value is readonly Problem[] =>
  typeof value[0] === 'object' && value.length > 0;

/** For problems of every room but the doors. */
export const { describeProblem, toUserLine } = problemDescriber(Object.values(messageTables));
