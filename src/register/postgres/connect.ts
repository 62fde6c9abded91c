import pg from 'pg';
import { refuse } from '../messages.js';
import { tableVersion } from '../table-version.js';
import { RegisterClient } from './client.js';
import { AnswerLost } from './errors.js';
import { migrationFrom, SCHEMA_VERSION, STEPS } from './migrations.js';
import { SCHEMA } from './rules.js';
import { inTransaction } from './transaction.js';

/** Generated columns came with 12; what is older than this gets no mending any more. */
const OLDEST_SERVER = 14;
const CONNECT_TIMEOUT_MS = 10_000;
/** Beyond the longest wait on the server: a connection that is silent so long is dead. */
const SILENCE_MS = 15_000;
const IDLE_MS = 60_000;

/** One connection to write over and one to read over. None is made before it is used. */
export function openPool(url: string, retryForMs: number): pg.Pool {
  const pool = new pg.Pool({
    Client: RegisterClient,
    connectionString: url,
    application_name: 'burin',
    max: 2,
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    idleTimeoutMillis: IDLE_MS,
    keepAlive: true,
  });
  // A server that goes away tells idle connections too. The next request finds out for itself.
  pool.on('error', () => undefined);
  pool.on('acquire', (client) => asOurs(client).limitSilence(retryForMs + SILENCE_MS));
  pool.on('release', (_, client) => asOurs(client).limitSilence(0));
  return pool;
}

/** Every client of the pool is one. */
const asOurs = (client: pg.ClientBase) => client as RegisterClient;

interface Found {
  readonly version: number;
  readonly encoding: string;
  readonly fsync: string;
  readonly standby: boolean;
  readonly schema: boolean;
  readonly made: boolean;
}

/** Whether a register is there, on a server that can keep one. Asked once of each connection. */
export async function schemaExists(client: pg.ClientBase, name: string): Promise<boolean> {
  const { rows } = await client.query<Found>(`
    SELECT current_setting('server_version_num')::integer / 10000 AS version,
      current_setting('server_encoding') AS encoding, current_setting('fsync') AS fsync,
      pg_is_in_recovery() AS standby, to_regnamespace('${SCHEMA}') IS NOT NULL AS schema,
      EXISTS (SELECT 1 FROM pg_class WHERE relnamespace = to_regnamespace('${SCHEMA}')
        AND relname = 'schema_version') AS made`);
  const { version, encoding, fsync, standby, schema, made } = rows[0]!;
  if (version < OLDEST_SERVER) throw refuse('register.old-server', name, { version, oldest: OLDEST_SERVER });
  if (standby) throw refuse('register.standby', name, {});
  if (encoding !== 'UTF8') throw refuse('register.wrong-encoding', name, { encoding });
  if (fsync !== 'on') throw refuse('register.no-fsync', name, {});
  if (schema && !made) await checkEmpty(client, name);
  return made;
}

/** A schema made beforehand, by whoever may, is used; one that holds something else is left alone. */
async function checkEmpty(client: pg.ClientBase, name: string): Promise<void> {
  const { rows } = await client.query(
    `SELECT 1 FROM pg_class WHERE relnamespace = '${SCHEMA}'::regnamespace LIMIT 1`,
  );
  if (rows.length === 0) return;
  throw refuse('register.other-schema', name, { schema: SCHEMA });
}

/** Makes the tables when missing and brings them up to date. */
export async function migrate(
  client: pg.ClientBase,
  name: string,
  there: boolean,
  waitMs: number,
  now: () => Date,
): Promise<void> {
  if (there && (await formOf(client)) === STEPS.length) return;
  const steps = async () => {
    // Looked at again now that nobody else can write: another program may have been first.
    const form = (await schemaExists(client, name)) ? await formOf(client) : 0;
    if (form > STEPS.length) throw refuse('register.newer-form', name, { form, known: STEPS.length });
    if (form === STEPS.length) return;
    if (form === 0) {
      await client.query(`CREATE SCHEMA IF NOT EXISTS ${SCHEMA}`);
      await client.query(SCHEMA_VERSION);
    }
    await client.query(migrationFrom(form));
    for (let version = form + 1; version <= STEPS.length; version++) {
      await client.query(`INSERT INTO ${SCHEMA}.schema_version (version, at) VALUES ($1, $2)`, [
        version,
        now().toISOString(),
      ]);
    }
  };
  try {
    await inTransaction(client, waitMs, steps);
  } catch (error) {
    // Made or not, looking again is safe.
    throw error instanceof AnswerLost ? error.cause : error;
  }
}

/** The version of the tables. Throws a Refusal where a later burin made them. */
export async function checkForm(client: pg.ClientBase, name: string): Promise<number> {
  const form = await formOf(client);
  if (form > STEPS.length) throw refuse('register.newer-form', name, { form, known: STEPS.length });
  return form;
}

/** The rows that count the steps of the tables. */
export async function versionsOf(client: pg.ClientBase): Promise<number[]> {
  const { rows } = await client.query<{ version: number }>(`SELECT version FROM ${SCHEMA}.schema_version`);
  return rows.map(({ version }) => version);
}

async function formOf(client: pg.ClientBase): Promise<number> {
  return tableVersion(await versionsOf(client), STEPS.length);
}
