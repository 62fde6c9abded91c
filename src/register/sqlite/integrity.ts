import { execFile } from 'node:child_process';
import { createRequire } from 'node:module';
import { promisify } from 'node:util';
import Database from 'better-sqlite3';

const run = promisify(execFile);

/** Above this the look at the file is done by another process: within this one nothing could call it off. */
const MOST_PAGES_HERE = 5000;
/** Of findings, which SQLite ends after a hundred. */
const LONGEST_ANSWER = 16 * 1024 * 1024;

/** The checks of the tables ask less of each event than an audit does, and would take most of the time. */
const WITHOUT_CHECKS = 'ignore_check_constraints = ON';
const LOOK = 'PRAGMA integrity_check';

/** What SQLite finds wrong with a file: pages, and indexes compared with their tables. `ok` alone where it is sound. */
export async function integrity(db: Database.Database, signal?: AbortSignal): Promise<string[]> {
  signal?.throwIfAborted();
  if (Number(db.pragma('page_count', { simple: true })) > MOST_PAGES_HERE)
    return integrityElsewhere(db, signal);
  db.pragma(WITHOUT_CHECKS);
  try {
    return db.prepare<[], string>(LOOK).pluck().all();
  } finally {
    db.pragma('ignore_check_constraints = OFF');
  }
}

/** The driver, the file, and whether it may only be read, come as words; what is found goes out as JSON. */
const PROGRAM = `
const [driver, file, readonly] = process.argv.slice(1);
const say = (answer) => process.stdout.write(JSON.stringify(answer));
try {
  const db = new (require(driver))(file, { readonly: readonly === 'true', fileMustExist: true });
  db.pragma('query_only = ON');
  db.pragma('${WITHOUT_CHECKS}');
  say({ findings: db.prepare('${LOOK}').pluck().all() });
  db.close();
} catch ({ code, message }) {
  say({ code, message });
}`;

type Answer = { readonly findings: string[] } | { readonly code?: string; readonly message: string };

/** The same by another process, which ends at once when it is called off. */
export async function integrityElsewhere(
  { name, readonly }: Pick<Database.Database, 'name' | 'readonly'>,
  signal?: AbortSignal,
): Promise<string[]> {
  signal?.throwIfAborted();
  const driver = createRequire(import.meta.url).resolve('better-sqlite3');
  const words = ['-e', PROGRAM, driver, name, String(readonly)];
  const running = run(process.execPath, words, { signal, maxBuffer: LONGEST_ANSWER });
  const { stdout } = await running.catch((error: unknown) => {
    signal?.throwIfAborted();
    throw error;
  });
  const answer = JSON.parse(stdout) as Answer;
  if ('findings' in answer) return answer.findings;
  throw new Database.SqliteError(answer.message, answer.code ?? 'SQLITE_ERROR');
}
