import pg from 'pg';
import { Refusal } from '../../problem.js';
import { AnswerLost } from './errors.js';

/** Whoever holds this number is the one writer. It stands for "buri"; nothing else has it. */
const ONE_WRITER = 0x62757269;
/** A program that sleeps in mid-transaction must not keep every other from writing. */
const IDLE_MS = 20_000;

/**
 * Does the work as one transaction that nobody else writes in; all of it is on disk before this returns.
 *
 * Writers wait for each other at an advisory lock. It only saves them from failing: that no two events get one place and
 * every event is validated by all before it follows from the sequence itself (see `migrations.ts`), so a hand that
 * takes no lock does no harm. A lock on the table would serve as well, but the server's own upkeep of the
 * table takes locks that conflict with it. Every statement looks anew (READ COMMITTED): what the writer before
 * committed is seen once the lock is ours. All settings are of the transaction, so a pooler in between may not lose
 * them.
 */
export async function inTransaction<T>(
  client: pg.ClientBase,
  waitMs: number,
  work: () => Promise<T>,
): Promise<T> {
  const wait = Math.max(1, Math.ceil(waitMs));
  let result: T;
  try {
    await client.query(`
      BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE;
      SET LOCAL synchronous_commit = on;
      SET LOCAL lock_timeout = ${wait};
      SET LOCAL statement_timeout = ${wait + IDLE_MS};
      SET LOCAL idle_in_transaction_session_timeout = ${IDLE_MS};
      SELECT pg_advisory_xact_lock(${ONE_WRITER})`);
    result = await work();
  } catch (error) {
    // After anything but a refusal of ours the connection is given up, and the server rolls back by itself.
    if (error instanceof Refusal) await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  }
  await commit(client);
  return result;
}

async function commit(client: pg.ClientBase): Promise<void> {
  let answer: unknown;
  try {
    // A commit whose wait for a second server is cut short counts as done, so no time limit may cut it.
    answer = await client.query('SET LOCAL statement_timeout = 0; COMMIT');
  } catch (error) {
    throw wasRolledBack(error) ? error : new AnswerLost(error);
  }
  const last: unknown = Array.isArray(answer) ? answer.at(-1) : answer;
  // The server answers a commit it cannot do with a rollback, without calling it an error.
  if ((last as pg.QueryResult).command !== 'COMMIT') throw new AnswerLost(last);
}

/** Of the errors that may answer a commit, those which say that it was rolled back (SQLSTATE, PostgreSQL appendix A). */
const wasRolledBack = (error: unknown): boolean =>
  error instanceof pg.DatabaseError && /^(23|25P02|40(?!003)|P0)/.test(error.code ?? '');
