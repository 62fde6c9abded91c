import { describeProblem, toUserLine } from '../src/cli/describe-problem.js';
import type { Phrase, Problem } from '../src/problem.js';

/** Problems in words, as the command line words them: the core gives codes, and no test words them in another way. */
export { describeProblem, toUserLine as lineOf } from '../src/cli/describe-problem.js';

/** Every line that a refusal comes to. */
export const linesOf = ({ problems }: { readonly problems: readonly Problem[] }): string =>
  problems.map(toUserLine).join('\n');

/** A phrase, or a list of them, as it stands in a message. */
export const phraseWords = (phrases: Phrase | readonly Phrase[]): string =>
  describeProblem({ code: '{phrases}', where: '', values: { phrases } }).message;
