import Database from 'better-sqlite3';
import { MIGRATIONS } from './migrations.js';

interface Thing {
  readonly type: string;
  readonly name: string;
  readonly tbl_name: string;
  readonly sql: string | null;
}

const THINGS = 'SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name';
const SOUND = 'ok';

/**
 * What is wrong with the file apart from the events: tables, indexes and triggers that are not those of a new
 * register, and what SQLite finds itself. Indexes are held against the table, so it takes longer than reading.
 */
export function faultsOfFile(db: Database.Database): string[] {
  const found = db.prepare<[], Thing>(THINGS).all();
  const wanted = new Map(thingsOfNewRegister().map((thing) => [nameOf(thing), thing]));
  const faults: string[] = [];
  for (const thing of found) {
    const name = nameOf(thing);
    const asMade = wanted.get(name);
    if (!asMade) faults.push(`The ${name} is none of the register.`);
    else if (asMade.sql !== thing.sql || asMade.tbl_name !== thing.tbl_name)
      faults.push(`The ${name} was altered.`);
    wanted.delete(name);
  }
  for (const name of wanted.keys()) faults.push(`The ${name} is missing.`);
  for (const line of db.prepare<[], string>('PRAGMA integrity_check').pluck().all())
    if (line !== SOUND) faults.push(`The database finds: ${line}.`);
  return faults;
}

const nameOf = ({ type, name }: Thing): string => `${type} ${name}`;

function thingsOfNewRegister(): Thing[] {
  const db = new Database(':memory:');
  try {
    db.exec(SCHEMA_VERSION);
    for (const step of MIGRATIONS) db.exec(step);
    return db.prepare<[], Thing>(THINGS).all();
  } finally {
    db.close();
  }
}

/** The table that counts the steps the others are made in. */
export const SCHEMA_VERSION =
  'CREATE TABLE schema_version (version INTEGER PRIMARY KEY, at TEXT NOT NULL) STRICT';
