import { cleanAfterEach, newFile, open } from './folder.js';
import { registerRules } from './rules.js';

cleanAfterEach();
registerRules('SQLite', () => open(newFile()));
