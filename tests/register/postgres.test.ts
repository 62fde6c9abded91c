import { firstAndLast } from './of-each-table.js';
import { onServer } from './postgres-open.js';
import { registerRules } from './rules.js';

const { unused, open } = onServer();

// `sqlite.test.ts` tries every case of each rule, and here `postgres.slow.test.ts` does.
registerRules('PostgreSQL', async () => open(await unused()), firstAndLast);
