import { defineMessages } from '../problem.js';
import { designMessages } from './messages/design.js';
import { namedFileMessages } from './messages/files-named.js';
import { partMessages } from './messages/part.js';
import { textMessages } from './messages/text.js';
import { valueMessages } from './messages/value.js';

export const { table, problem, refuse } = defineMessages({
  ...textMessages,
  ...valueMessages,
  ...namedFileMessages,
  ...partMessages,
  ...designMessages,
});
