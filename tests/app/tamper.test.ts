import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { onServer } from '../register/postgres-open.js';
import { STORES } from './either-store.js';
import { expected, tamper } from './tamper-rules.js';
import { TAMPERINGS, tamperTable } from './tamper-ways.js';
import { cleanAfterEach } from './workshop.js';

cleanAfterEach();
const server = onServer();
const ALL = Object.keys(TAMPERINGS);

// The whole of it on both stores is tried in `tamper.slow.test.ts`.
test.each(STORES.map(([name, store], i) => ({ name, store, every: i === 0 ? 2 : 5 })))(
  'what somebody does past the rules on $name shows where it can',
  async ({ name, store, every }) => {
    const ways = ALL.filter((_, i) => i % every === 0);
    expect(await tamper(name, store, server, ways)).toEqual(expected(ways));
  },
);

test('docs/audit.md says so', () => {
  const table = tamperTable();
  const lines = readFileSync('docs/audit.md', 'utf8').split('\n');
  const from = lines.indexOf(table[0]!);
  expect(lines.slice(from, from + table.length)).toEqual(table);
});
