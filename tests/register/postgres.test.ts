import { afterAll, afterEach, beforeAll } from 'vitest';
import { openRegister } from '../../src/register/open.js';
import type { Register } from '../../src/register/register.js';
import { startServer, type TestServer, withPassword } from './postgres-server.js';
import { NOON, registerRules } from './rules.js';

let server: TestServer;
const opened: Register[] = [];
beforeAll(async () => {
  server = await startServer();
});
afterEach(async () => {
  for (const register of opened.splice(0)) await register.close();
});
afterAll(() => server?.end());

registerRules('PostgreSQL', async () => {
  const url = withPassword(await server.fresh());
  const register = await openRegister({ kind: 'postgres', url }, { now: () => NOON });
  opened.push(register);
  return register;
});
