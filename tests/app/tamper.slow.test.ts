import { expect, test } from 'vitest';
import { onServer } from '../register/postgres-open.js';
import { STORES } from './either-store.js';
import { expected, tamper } from './tamper-rules.js';
import { TAMPERINGS } from './tamper-ways.js';
import { cleanAfterEach } from './workshop.js';

cleanAfterEach();
const server = onServer();
const ALL = Object.keys(TAMPERINGS);

test.each(STORES)('what somebody does past the rules on %s shows where it can', async (name, store) => {
  expect(await tamper(name, store, server, ALL)).toEqual(expected(ALL));
});
