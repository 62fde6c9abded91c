import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { type RegisterEvent, toLeaf } from '../../src/register/event.js';
import { openFile } from '../../src/register/sqlite/file.js';
import { NOON } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { agreesWithModel, type Subject, type Wording } from './model.js';
import { EDITION, membersOf, REGISTER_SAYS, STATEMENT, THREES, throughRegister } from './model-subjects.js';

cleanAfterEach();

/** The tables alone, over a plain connection: what their triggers let pass is what the program would enter. */
async function pastTheProgram(): Promise<Subject> {
  const file = newFile();
  openFile(file, () => NOON).db.close();
  const raw = new Database(file);
  raw.pragma('synchronous = OFF');
  const size = raw.prepare<[], number>('SELECT count(*) FROM event').pluck();
  const insert = raw.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  const done = new Map<string, string | undefined>();
  const put = (event: object) => {
    const told = { at: NOON.toISOString(), why: 'by hand', ...event };
    const { body, leaf } = toLeaf(JSON.parse(JSON.stringify(told)) as RegisterEvent);
    insert.run(size.get(), body, leaf);
  };
  const reader = throughRegister(await open(file));
  return {
    enter: async (type, shelf, command, key) => {
      if (done.has(key)) return done.get(key);
      const members =
        type === 'closed' ? { edition: EDITION, statement: STATEMENT } : membersOf(type, shelf, command);
      put({ type, by: command.by, ...members });
      done.set(key, undefined);
      return undefined;
    },
    next: async (series, command, key) => {
      if (done.has(key)) return done.get(key)!;
      // Nothing here picks a number: the first that the triggers let pass must be the one the model picks.
      for (const shelf of THREES.filter((one) => one.series === series)) {
        try {
          put({ type: 'issued', by: command.by, ...membersOf('issued', shelf as never, command) });
          done.set(key, shelf.label);
          return shelf.label;
        } catch (error) {
          if (!/issued before|withheld or void/.test(String(error))) throw error;
        }
      }
      throw new Error('none left');
    },
    told: () => reader.told(),
    size: async () => size.get()!,
    end: async () => {
      raw.close();
      await reader.end();
    },
  };
}

// Where several things stand against an event, the order the triggers look in is the database's own.
const SEVERAL = /^(this (edition|number|label|part|piece)|the (witness|piece)|no such number|something)/;
const TRIGGERS_SAY: Wording = {
  closed: SEVERAL,
  void: SEVERAL,
  withheld: SEVERAL,
  'not issued': SEVERAL,
  'issued before': /issued before|closed/,
  'none left': /none left/,
  'no such part': SEVERAL,
  'not blank': /not blank/,
  'scrapped before': /was scrapped before/,
  'not scrapped': /not scrapped/,
  'same person': SEVERAL,
  'not destroyed': /not destroyed/,
  'not engraved': /not just engraved/,
  'not inspected': /not just inspected/,
  'left or spoilt': /delivered, scrapped or destroyed/,
  'not withheld': /not withheld/,
  'still borne': /still bears/,
};

/** That chance went everywhere: each event done, and refused for each of its own reasons. */
const EVERYWHERE = [
  ...['issued: done', 'issued: void', 'issued: withheld', 'issued: issued before', 'issued: closed'],
  ...['issued: none left', 'engraved: done', 'engraved: not blank', 'engraved: no such part'],
  ...['engraved: withheld', 'engraved: void', 'engraved: not issued', 'inspected: done'],
  ...['inspected: not engraved', 'delivered: done', 'delivered: not inspected', 'withheld: done'],
  ...['withheld: withheld', 'withheld: left or spoilt', 'withheld: closed', 'released: done'],
  ...['released: not withheld', 'scrapped: done', 'scrapped: scrapped before', 'destroyed: done'],
  ...['destroyed: not scrapped', 'destroyed: same person', 'recut: done', 'recut: not destroyed'],
  ...['void: done', 'void: still borne', 'void: void', 'closed: done', 'closed: closed'],
];

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
