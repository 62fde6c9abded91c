import { defineMessages } from '../problem.js';
import { lifecycleMessages } from './messages/lifecycle.js';
import { postgresMessages } from './messages/postgres.js';
import { requestMessages } from './messages/requests.js';
import { resumeMessages } from './messages/resume.js';
import { sqliteMessages } from './messages/sqlite.js';
import { storeMessages } from './messages/store.js';
import { storeFaultMessages } from './messages/store-faults.js';
import { storedMessages } from './messages/stored.js';

/** The words of the register's problems. Those of log, audit and certificates stand in their own folders. */
export const { table, problem, refuse } = defineMessages({
  ...requestMessages,
  ...lifecycleMessages,
  ...storedMessages,
  ...resumeMessages,
  ...storeMessages,
  ...sqliteMessages,
  ...postgresMessages,
  ...storeFaultMessages,
});
