import type pg from 'pg';
import { expect, test } from 'vitest';
import { agreesWithModel, type Subject, type Wording } from './model.js';
import { EVERYWHERE, REGISTER_SAYS, TRIGGERS_SAY, throughRegister, throughTables } from './model-subjects.js';
import { onServer } from './postgres-open.js';

const { fresh, open, raw } = onServer();

async function throughProgram(): Promise<Subject> {
  return throughRegister(await open(await fresh()));
}

async function pastTheProgram(): Promise<Subject> {
  const url = await fresh();
  const register = await open(url);
  await register.addCheckpoint({ size: 0, note: 'makes the tables', frontier: [] });
  const client = await raw(url);
  const size = async () => (await client.query('SELECT count(*)::integer AS n FROM burin.event')).rows[0].n;
  return throughTables(register, {
    put: async ({ body, leaf }) => {
      const place = '(SELECT count(*) FROM burin.event)';
      try {
        await client.query(`INSERT INTO burin.event (seq, body, leaf) VALUES (${place}, $1, $2)`, [
          body,
          leaf,
        ]);
      } catch (error) {
        // An index says its name only.
        const { constraint, message } = error as pg.DatabaseError;
        if (constraint === 'closed_once') throw new Error('this edition was closed before');
        throw new Error(constraint?.startsWith('issued_') ? 'this number was issued before' : message);
      }
    },
    size,
    end: () => client.end(),
  });
}

// An index may refuse before the triggers look: of a closed edition it is then told that nothing is left.
const TABLES_SAY: Wording = {
  ...TRIGGERS_SAY,
  closed: new RegExp(`${TRIGGERS_SAY.closed.source}|none left`),
};

/** Of 100 commands each: SEQUENCES=100 runs as many here as on the other store. */
const SEQUENCES = Number(process.env.SEQUENCES ?? 20);

test.each<[string, () => Promise<Subject>, Wording]>([
  ['the register on PostgreSQL', throughProgram, REGISTER_SAYS],
  ['the tables of PostgreSQL by themselves', pastTheProgram, TABLES_SAY],
])(
  `${SEQUENCES * 100} commands: %s and a plain model agree at every step`,
  async (_what, subject, says) => {
    const met = await agreesWithModel(subject, says, SEQUENCES);
    // Fewer commands than on the other store, so chance may miss a few.
    expect(EVERYWHERE.filter((one) => !met.has(one)).length).toBeLessThan(4);
  },
  300_000,
);
