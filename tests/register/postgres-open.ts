import type pg from 'pg';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { openRegister } from '../../src/register/open.js';
import type { Register, RegisterDeps } from '../../src/register/register.js';
import { NOON } from './ask.js';
import { type ServerPackage, startServer, type TestServer, withPassword } from './postgres-server.js';

export interface OnServer {
  server(): TestServer;
  /** The URL of an empty database, without a password. */
  fresh(): Promise<string>;
  open(url: string, deps?: Partial<RegisterDeps>): Promise<Register>;
  /** A plain connection, past the register's own code. */
  raw(url: string): Promise<pg.Client>;
}

/** One server for the tests of a file; closes after each test what was opened in it. */
export function onServer(from?: ServerPackage): OnServer {
  let server: TestServer | undefined;
  const registers: Register[] = [];
  const clients: pg.Client[] = [];
  const running = (): TestServer => {
    if (!server) throw new Error('the server runs from the first test on');
    return server;
  };
  beforeAll(async () => {
    server = await startServer(from);
  });
  afterEach(async () => {
    for (const register of registers.splice(0)) await register.close();
    for (const client of clients.splice(0)) await client.end().catch(() => undefined);
  });
  afterAll(async () => {
    await server?.end();
  });
  return {
    server: running,
    fresh: () => running().fresh(),
    open: async (url, deps = {}) => {
      const place = { kind: 'postgres', url: withPassword(url) } as const;
      const register = await openRegister(place, { now: () => NOON, ...deps });
      registers.push(register);
      return register;
    },
    raw: async (url) => {
      const client = await running().raw(url);
      clients.push(client);
      return client;
    },
  };
}
