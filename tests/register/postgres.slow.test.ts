import { onServer } from './postgres-open.js';
import { registerRules } from './rules.js';

const { unused, open } = onServer();
registerRules('PostgreSQL', async () => open(await unused()));
