import { cleanAfterEach, open, unusedFile } from './folder.js';
import { registerRules } from './rules.js';

cleanAfterEach();
registerRules('SQLite', () => open(unusedFile()));
