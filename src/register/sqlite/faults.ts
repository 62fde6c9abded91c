import Database from 'better-sqlite3';
import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { strayVersions } from '../table-version.js';
import { integrity } from './integrity.js';
import { SCHEMA_VERSION, STEPS } from './migrations.js';
import { CREATE_RULES } from './rules.js';

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
export async function faultsOfFile(
  db: Database.Database,
  file: string,
  form: number,
  signal?: AbortSignal,
): Promise<Problem[]> {
  const faults: Problem[] = [];
  const isOlder = form < STEPS.length;
  if (isOlder) faults.push(problem('register.store-older-form', file, { form, known: STEPS.length }));
  const expected = new Map(newSchema(form).map((one) => [nameOf(one), one]));
  for (const found of db.prepare<[], SchemaObject>(SCHEMA).all()) {
    if (isOlder && IS_RULE.test(found.type)) continue;
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
  const stray = strayVersions(
    db.prepare<[], number>('SELECT version FROM schema_version').pluck().all(),
    form,
  );
  if (stray.length > 0)
    faults.push(problem('register.store-version-stray', file, { form, versions: stray.map(String) }));
  for (const finding of await integrity(db, signal)) {
    if (finding !== SOUND) faults.push(problem('register.store-integrity', file, { finding }));
  }
  return faults;
}

/** Whether tables, indexes, views and triggers are those of a new register of the newest form. */
export function isAsMade(db: Database.Database): boolean {
  const all = (of: readonly SchemaObject[]) => JSON.stringify(of.map((one) => [nameOf(one), one.sql]));
  return all(db.prepare<[], SchemaObject>(SCHEMA).all()) === all(newSchema(STEPS.length));
}

/** Views and triggers are made anew by each burin, so those of an earlier one are not known. */
const IS_RULE = /^(trigger|view)$/;

const nameOf = ({ type, name }: SchemaObject): string => `${type} ${name}`;

function newSchema(form: number): SchemaObject[] {
  const db = new Database(':memory:');
  try {
    db.exec(SCHEMA_VERSION);
    db.exec(STEPS.slice(0, form).join('\n'));
    if (form === STEPS.length) db.exec(CREATE_RULES);
    return db.prepare<[], SchemaObject>(SCHEMA).all();
  } finally {
    db.close();
  }
}
