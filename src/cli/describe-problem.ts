import { problemDescriber } from '../app/describe-problem.js';
import { messageTables, phraseTables } from '../app/message-tables.js';
import { table } from './messages.js';

/** Words problems of every room, and those of the command line. Loaded only where there is a problem to word. */
export const { describeProblem, toUserLine } = problemDescriber(
  [...Object.values(messageTables), table],
  Object.values(phraseTables),
);
