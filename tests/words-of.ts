import { toUserLine } from '../src/cli/describe-problem.js';
import type { Problem } from '../src/problem.js';

/** Problems in words, as the command line words them: the core gives codes, and no test words them in another way. */
export { describeProblem, toUserLine as lineOf } from '../src/cli/describe-problem.js';

/** Every line that a refusal comes to. */
export const linesOf = ({ problems }: { readonly problems: readonly Problem[] }): string =>
  problems.map(toUserLine).join('\n');
