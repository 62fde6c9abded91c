import { describe, test } from 'vitest';
import { onServer } from '../register/postgres-open.js';
import { STORES } from './either-store.js';
import { goesOn } from './resume-rules.js';
import { BAD_ENTRIES } from './resume-ways.js';
import { cleanAfterEach } from './workshop.js';

cleanAfterEach();
const server = onServer();

describe.each(STORES)('a register on %s goes on past', (_name, store) => {
  test.each(Object.keys(BAD_ENTRIES))('%s', (what) => goesOn(what, store, server));
});
