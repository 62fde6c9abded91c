import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { openFile } from '../../src/register/sqlite/file.js';
import { NOON } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { agreesWithModel, type Subject, type Wording } from './model.js';
import { EVERYWHERE, REGISTER_SAYS, TRIGGERS_SAY, throughRegister, throughTables } from './model-subjects.js';

cleanAfterEach();

/** The tables alone, over a plain connection: what their triggers let pass is what the program would enter. */
async function pastTheProgram(): Promise<Subject> {
  const file = newFile();
  openFile(file, () => NOON).db.close();
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

test.each<[string, () => Promise<Subject>, Wording]>([
  ['the register on SQLite', async () => throughRegister(await open(newFile())), REGISTER_SAYS],
  ['the tables of SQLite by themselves', pastTheProgram, TRIGGERS_SAY],
])(
  '10,000 commands: %s and a plain model agree at every step',
  async (_what, fresh, says) => {
    const met = await agreesWithModel(fresh, says);
    expect(EVERYWHERE.filter((one) => !met.has(one))).toEqual([]);
  },
  300_000,
);
