import { onServer } from './postgres-open.js';
import { registerRules } from './rules.js';

const { fresh, open } = onServer();
registerRules('PostgreSQL', async () => open(await fresh()));
