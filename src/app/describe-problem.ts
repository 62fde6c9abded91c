import { formatMessage, type MessageTable, type Problem } from '../problem.js';
import { messageTables } from './message-tables.js';

/** A problem in words: what happened, and what to do about it. */
export interface DescribedProblem {
  readonly code: string;
  readonly where: string;
  readonly message: string;
  readonly hint: string;
  readonly values: Problem['values'];
}

export interface ProblemDescriber {
  describeProblem(this: void, problem: Problem): DescribedProblem;
  /** One line for a person; control characters can neither break it nor move the cursor. */
  toUserLine(this: void, problem: Problem): string;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
const MOVES_CURSOR = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/** Words problems by the message tables of their rooms. */
export function problemDescriber(tables: readonly MessageTable[]): ProblemDescriber {
  const messages: MessageTable = Object.assign({}, ...tables);
  const describeProblem = ({ code, where, values, what, cure }: Problem): DescribedProblem => {
    const message = messages[code];
    // Until every room gives codes, a problem may carry its own words.
    if (!message) return { code, where, message: what, hint: cure, values };
    return {
      code,
      where,
      message: formatMessage(message.message, values),
      hint: formatMessage(message.hint, values),
      values,
    };
  };
  const toUserLine = (problem: Problem): string => {
    const { where, message, hint } = describeProblem(problem);
    return [where && `${where}:`, message, hint].filter(Boolean).join(' ').replace(MOVES_CURSOR, ' ');
  };
  return { describeProblem, toUserLine };
}

/** For problems of every room but the doors. */
export const { describeProblem, toUserLine } = problemDescriber(Object.values(messageTables));
