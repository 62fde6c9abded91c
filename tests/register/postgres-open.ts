import type pg from 'pg';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { openRegister } from '../../src/register/open.js';
import type { Register, RegisterDeps } from '../../src/register/register.js';
import { NOON } from './ask.js';
import {
  type ServerPackage,
  sharedServer,
  startServer,
  type TestServer,
  withPassword,
} from './postgres-server.js';

export interface OnServer {
  server(): TestServer;
  /** The URL of an empty database, without a password. */
  fresh(): Promise<string>;
  /** As `fresh`, with the tables of a register in which nothing was entered. */
  unused(): Promise<string>;
  open(url: string, deps?: Partial<RegisterDeps>): Promise<Register>;
  /** A plain connection, past the register's own code. */
  raw(url: string): Promise<pg.Client>;
}

/** The server of this process for the tests of a file; closes after each test what was opened in it. */
export const onServer = (from?: ServerPackage): OnServer =>
  on({ begin: () => sharedServer(from), end: () => Promise.resolve() });

/** As `onServer`, for tests that change its settings or its rules of connecting: a server for the tests of this file. */
export const onOwnServer = (): OnServer => on({ begin: () => startServer(), end: (server) => server.end() });

interface Life {
  begin(): Promise<TestServer>;
  end(server: TestServer): Promise<void>;
}

function on(life: Life): OnServer {
  let server: TestServer | undefined;
  const registers: Register[] = [];
  const clients: pg.Client[] = [];
  const running = (): TestServer => {
    if (!server) throw new Error('the server runs from the first test on');
    return server;
  };
  beforeAll(async () => {
    server = await life.begin();
  });
  afterEach(async () => {
    for (const register of registers.splice(0)) await register.close();
    // At once: one may wait for what another holds.
    await Promise.all(clients.splice(0).map((client) => server?.giveBack(client)));
  });
  afterAll(async () => {
    if (server) await life.end(server);
  });
  return {
    server: running,
    fresh: () => running().fresh(),
    unused: () => running().unused(),
    open: async (url, deps = {}) => {
      const place = { kind: 'postgres', url: withPassword(url) } as const;
      const register = await openRegister(place, { now: () => NOON, ...deps });
      registers.push(register);
      return register;
    },
    raw: async (url) => {
      const client = await running().borrowed(url);
      clients.push(client);
      return client;
    },
  };
}
