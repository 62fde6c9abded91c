import { createServer, type Server, type Socket } from 'node:net';
import type pg from 'pg';
import { afterEach, describe, expect, test } from 'vitest';
import { codeOf, RegisterClient } from '../../src/register/postgres/client.js';
import { linesOf } from '../words-of.js';
import { ask, codesOf, refusal } from './ask.js';
import { onServer } from './postgres-open.js';
import { withPassword } from './postgres-server.js';

const { fresh, open } = onServer();

const clients: RegisterClient[] = [];
const peers: { server: Server; open: Set<Socket> }[] = [];
afterEach(async () => {
  for (const client of clients.splice(0)) await client.end().catch(() => undefined);
  for (const { server, open } of peers.splice(0)) {
    for (const end of open) end.destroy();
    server.close();
  }
});

function clientFor(config: pg.ClientConfig): RegisterClient {
  const client = new RegisterClient(config);
  clients.push(client);
  return client;
}

/** A peer that does this with what it is first sent. */
async function peerThat(answer: (socket: Socket) => void): Promise<pg.ClientConfig> {
  const open = new Set<Socket>();
  const server = createServer((socket) => {
    open.add(socket);
    socket.on('error', () => undefined);
    socket.once('data', () => answer(socket));
  });
  peers.push({ server, open });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (typeof address !== 'object' || !address) throw new Error('no port');
  return { host: '127.0.0.1', port: address.port, user: 'keeper', database: 'bench', password: 'word' };
}

const failure = (client: RegisterClient) => expect(client.connect()).rejects;

describe('a connection that is not made says how far it came', () => {
  test('no password, where the server asks for one', async () => {
    const before = process.env.PGPASSWORD;
    delete process.env.PGPASSWORD;
    await failure(clientFor({ connectionString: await fresh() })).toMatchObject({
      fault: 'password-missing',
    });
    if (before !== undefined) process.env.PGPASSWORD = before;
  });

  test('a wrong password is for the server to refuse', async () => {
    const url = (await fresh()).replace('@', ':wrong-word@');
    await failure(clientFor({ connectionString: url })).toMatchObject({ code: '28P01' });
  });

  test('no TLS, where it is wanted', async () => {
    const url = `${withPassword(await fresh())}?sslmode=verify-full`;
    await failure(clientFor({ connectionString: url })).toMatchObject({ fault: 'not-secured' });
    const refused = await refusal((await open(url, { retryForMs: 300 })).issue(ask));
    expect(codesOf(refused)).toEqual(['register.no-tls']);
    expect(linesOf(refused)).toMatch(/sslmode/);
  });

  // AuthenticationSASL with a mechanism that nobody knows (PostgreSQL documentation, "Message Formats").
  test('no way to authenticate that both know', async () => {
    const mechanisms = Buffer.from('NEVER-HEARD-OF\0\0', 'latin1');
    const head = Buffer.alloc(9);
    head.write('R', 0, 'latin1');
    head.writeInt32BE(8 + mechanisms.length, 1);
    head.writeInt32BE(10, 5);
    const config = await peerThat((socket) => socket.write(Buffer.concat([head, mechanisms])));
    await failure(clientFor(config)).toMatchObject({ fault: 'not-authenticated' });
  });

  test('ended by the other side without a word', async () => {
    const config = await peerThat((socket) => socket.end());
    await failure(clientFor(config)).toMatchObject({ fault: 'lost' });
    await failure(clientFor({ ...config, ssl: true })).toMatchObject({ fault: 'not-secured' });
  });

  test('nobody there', async () => {
    const config = await peerThat(() => undefined);
    peers[0]!.server.close();
    await failure(clientFor(config)).toMatchObject({ code: 'ECONNREFUSED' });
  });
});

describe('a connection that was made', () => {
  const connected = async (): Promise<RegisterClient> => {
    const client = clientFor({ connectionString: withPassword(await fresh()) });
    await client.connect();
    return client;
  };
  const errorOf = async (work: Promise<unknown>): Promise<unknown> =>
    work.then(
      () => undefined,
      (error: unknown) => error,
    );

  test('ended by the server: SQLSTATE 57P01 once, and lost from then on', async () => {
    const client = await connected();
    const first = await errorOf(client.query('SELECT pg_terminate_backend(pg_backend_pid()), pg_sleep(5)'));
    expect(codeOf(client.withFault(first))).toBe('57P01');
    await new Promise((resolve) => client.once('end', resolve));
    const second = await errorOf(client.query('SELECT 1'));
    expect(codeOf(second)).toBe('');
    expect(client.withFault(second)).toMatchObject({ fault: 'lost' });
  });

  test('ended from here in the middle of a query', async () => {
    const client = await connected();
    const work = errorOf(client.query('SELECT pg_sleep(5)'));
    setTimeout(() => client.connection.stream.destroy(), 50);
    expect(client.withFault(await work)).toMatchObject({ fault: 'lost' });
  });

  test('silent for too long: ETIMEDOUT; in time again, or idle without a limit: no error', async () => {
    const client = await connected();
    client.limitSilence(1000);
    await client.query('SELECT pg_sleep(0.1)');
    await client.query('SELECT pg_sleep(0.1)');
    client.limitSilence(0);
    await client.query('SELECT pg_sleep(1.2)');
    client.limitSilence(200);
    expect(codeOf(client.withFault(await errorOf(client.query('SELECT pg_sleep(5)'))))).toBe('ETIMEDOUT');
  });

  test('an error of a query alone is what it was', async () => {
    const client = await connected();
    expect(codeOf(client.withFault(await errorOf(client.query('SELECT 1 / 0'))))).toBe('22012');
    const own = new TypeError('of this program');
    expect(client.withFault(own)).toBe(own);
  });
});
