import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { makeRegisterRoles } from '../../src/register/open.js';
import { ROLES } from '../../src/register/postgres/roles.js';
import { NOON } from './ask.js';
import { cleanAfterEach, open, unusedFile } from './folder.js';
import { agreesWithModel, type Codes, type Subject } from './model.js';
import { CODES, EVERYWHERE, POSTGRES_TABLE_CODES, throughRegister, throughTables } from './model-subjects.js';
import { onServer } from './postgres-open.js';
import { withPassword } from './postgres-server.js';

/** What a bench does not enter. */
const OF_KEEPERS = ['closed', 'certified'];

/**
 * The register and its bare tables, on both stores, against the plain model: so many sequences of 100 commands each. On
 * PostgreSQL the tables also as each of the roles that may enter, which own nothing.
 */
export function modelTests(sequences: number, roles: readonly (keyof typeof ROLES)[] = []): void {
  cleanAfterEach();
  const server = onServer();
  const seed = Number(process.env.MODEL_SEED ?? Math.floor(Math.random() * 2 ** 31));

  /** The tables alone, over a plain connection: what their triggers let pass is what the program would enter. */
  async function sqliteTables(): Promise<Subject> {
    const file = unusedFile();
    const raw = new Database(file);
    raw.pragma('synchronous = OFF');
    const size = raw.prepare<[], number>('SELECT count(*) FROM event').pluck();
    const insert = raw.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
    return throughTables(await open(file), {
      put: async ({ body, leaf }) => {
        insert.run(size.get(), body, leaf);
      },
      size: async () => size.get()!,
      end: async () => {
        raw.close();
      },
    });
  }

  async function postgresTables(role?: keyof typeof ROLES): Promise<Subject> {
    const url = await server.unused();
    const register = await server.open(url);
    const client = await server.raw(url);
    if (role) {
      await makeRegisterRoles({ kind: 'postgres', url: withPassword(url) }, { now: () => NOON });
      await client.query(`SET SESSION AUTHORIZATION ${ROLES[role]}`);
    }
    const place = '(SELECT count(*) FROM burin.event)';
    return throughTables(register, {
      put: async ({ body, leaf }) => {
        const insert = () =>
          client.query(`INSERT INTO burin.event (seq, body, leaf) VALUES (${place}, $1, $2)`, [body, leaf]);
        const { type } = JSON.parse(body) as { type: string };
        if (role !== 'bench' || !OF_KEEPERS.includes(type)) {
          await insert();
          return;
        }
        // Refused as such, whatever else is wrong with it; then its owner asks the rules.
        await expect(insert()).rejects.toThrow(/only a keeper/);
        await client.query('RESET SESSION AUTHORIZATION');
        await insert().finally(() => client.query(`SET SESSION AUTHORIZATION ${ROLES.bench}`));
      },
      size: async () => (await client.query('SELECT count(*)::integer AS n FROM burin.event')).rows[0].n,
      end: () => client.end(),
    });
  }

  const subjects: [what: string, fresh: () => Promise<Subject>, codes: Codes][] = [
    ['the register on SQLite', async () => throughRegister(await open(unusedFile())), CODES],
    ['the tables of SQLite by themselves', sqliteTables, CODES],
    [
      'the register on PostgreSQL',
      async () => throughRegister(await server.open(await server.unused())),
      CODES,
    ],
    ['the tables of PostgreSQL by themselves', () => postgresTables(), POSTGRES_TABLE_CODES],
    ...roles.map((role): [string, () => Promise<Subject>, Codes] => [
      `the tables of PostgreSQL as a ${role}`,
      () => postgresTables(role),
      POSTGRES_TABLE_CODES,
    ]),
  ];
  test.each(subjects)(
    `${sequences * 100} commands: %s and a plain model agree at every step`,
    async (what, fresh, codes) => {
      console.log(`${what}: seed ${seed} (repeat with MODEL_SEED=${seed})`);
      const met = await agreesWithModel(fresh, codes, { sequences, seed });
      // In fewer commands chance may miss some, such as a part that is destroyed and cut again.
      if (sequences >= 100) expect(EVERYWHERE.filter((one) => !met.has(one))).toEqual([]);
    },
  );
}
