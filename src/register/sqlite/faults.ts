import Database from 'better-sqlite3';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { migrationFrom, SCHEMA_VERSION } from './migrations.js';

interface SchemaObject {
  readonly type: string;
  readonly name: string;
  readonly tbl_name: string;
  readonly sql: string | null;
}

const SCHEMA = 'SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name';
const SOUND = 'ok';

/**
 * What is wrong with the file apart from its events: tables, indexes, views and triggers that are not those of a new
 * register, and what SQLite finds itself. Indexes are compared with the table, so it takes longer than reading.
 */
export function faultsOfFile(db: Database.Database, file: string): Problem[] {
  const expected = new Map(newSchema().map((one) => [nameOf(one), one]));
  const faults: Problem[] = [];
  for (const found of db.prepare<[], SchemaObject>(SCHEMA).all()) {
    const object = nameOf(found);
    const asMade = expected.get(object);
    if (!asMade) faults.push(problem('register.store-object-foreign', file, { object }));
    else if (asMade.sql !== found.sql || asMade.tbl_name !== found.tbl_name) {
      faults.push(problem('register.store-object-altered', file, { object }));
    }
    expected.delete(object);
  }
  for (const object of expected.keys())
    faults.push(problem('register.store-object-missing', file, { object }));
  for (const finding of db.prepare<[], string>('PRAGMA integrity_check').pluck().all()) {
    if (finding !== SOUND) faults.push(problem('register.store-integrity', file, { finding }));
  }
  return faults;
}

const nameOf = ({ type, name }: SchemaObject): string => `${type} ${name}`;

function newSchema(): SchemaObject[] {
  const db = new Database(':memory:');
  try {
    db.exec(SCHEMA_VERSION);
    db.exec(migrationFrom(0));
    return db.prepare<[], SchemaObject>(SCHEMA).all();
  } finally {
    db.close();
  }
}
