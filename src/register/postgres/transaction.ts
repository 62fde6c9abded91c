import pg from 'pg';
import { Refusal } from '../../problem.js';
import { codeOf } from './client.js';
import { AnswerLost, NotEntered } from './errors.js';
import type { Answer } from './exchange.js';

/** Sends a statement after all that were sent before it, without waiting for them. */
export type Ask = <R>(text: string, values?: readonly unknown[]) => Promise<Answer<R>>;

/** Whoever holds this number is the one writer. It stands for "buri"; nothing else has it. */
const ONE_WRITER = 0x62757269;
/** A program that sleeps in mid-transaction must not keep every other from writing. */
const IDLE_MS = 20_000;

const SETTINGS = `SELECT set_config('synchronous_commit', 'on', true), set_config('lock_timeout', $1, true),
  set_config('statement_timeout', $2, true), set_config('idle_in_transaction_session_timeout', '${IDLE_MS}', true)`;

/**
 * A transaction that nobody else writes in. Statements are sent without waiting for those ahead of them; the server
 * carries them out in order, and after an error none but a rollback.
 *
 * Writers wait for each other at an advisory lock. It only saves them from failing: that no two events get one place and
 * every event is validated by all before it follows from the sequence itself (see `migrations.ts`), so a hand that
 * takes no lock does no harm. A lock on the table would serve as well, but the server's own upkeep of the
 * table takes locks that conflict with it. Every statement looks anew (READ COMMITTED): what the writer before
 * committed is seen once the lock is ours. All settings are of the transaction, so a pooler in between may not lose
 * them.
 */
export class Transaction {
  /** The lock is ours. Nothing may be written before. */
  readonly begun: Promise<unknown>;
  readonly #ask: Ask;
  #entering: Promise<unknown> = Promise.resolve();
  /** The first error, which those after it follow from. */
  #failure: { readonly error: unknown } | undefined;

  constructor(ask: Ask, waitMs: number) {
    this.#ask = ask;
    const wait = Math.max(1, Math.ceil(waitMs));
    this.send('BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE');
    this.send(SETTINGS, [wait, wait + IDLE_MS]);
    this.begun = this.send(`SELECT pg_advisory_xact_lock(${ONE_WRITER})`);
  }

  /** Whoever does not wait for the answer learns of its error at the end. */
  send<R>(
    text: string,
    values: readonly unknown[] = [],
    errorOf = (error: unknown) => error,
  ): Promise<Answer<R>> {
    const answer = this.#ask<R>(text, values).catch((error: unknown) => {
      this.#failure ??= { error: errorOf(error) };
      throw error;
    });
    answer.catch(() => undefined);
    return answer;
  }

  /** Sends what writes, by whatever sends it, once all that was written before is answered. */
  async write(send: () => readonly Promise<unknown>[]): Promise<void> {
    await this.written();
    this.#entering = Promise.all(send());
    this.#entering.catch(() => undefined);
  }

  /** Waits until all that was written is answered. */
  async written(): Promise<void> {
    await this.begun;
    await this.#entering;
  }

  /** The error that ends the transaction, once all that was written is answered. */
  async failure(): Promise<{ readonly error: unknown } | undefined> {
    await Promise.allSettled([this.begun, this.#entering]);
    return this.#failure;
  }
}

/** Does the work as one transaction that nobody else writes in; all of it is on disk before this returns. */
export const inTransaction = <T>(
  client: pg.ClientBase,
  waitMs: number,
  work: () => Promise<T>,
): Promise<T> => {
  let last: Promise<unknown> = Promise.resolve();
  const inTurn: Ask = <R>(text: string, values: readonly unknown[] = []) => {
    const answer = last.then(
      () => client.query({ text, values: [...values] }) as unknown as Promise<Answer<R>>,
    );
    last = answer.catch(() => undefined);
    return answer;
  };
  return inPipeline(inTurn, waitMs, async ({ begun }) => {
    await begun;
    return work();
  });
};

/** The same for work that does not wait for the lock before it asks. */
export async function inPipeline<T>(
  ask: Ask,
  waitMs: number,
  work: (transaction: Transaction) => Promise<T>,
): Promise<T> {
  const transaction = new Transaction(ask, waitMs);
  let result: T;
  try {
    result = await work(transaction);
    await transaction.begun;
  } catch (error) {
    const failure = await transaction.failure();
    if (failure) throw failure.error;
    // After anything but a refusal of ours the connection is given up, and the server rolls back by itself.
    if (error instanceof Refusal) await ask('ROLLBACK').catch(() => undefined);
    throw error;
  }
  await commit(ask, transaction);
  return result;
}

/** Asks for the commit before what was written is answered: after an error of that the server does not commit. */
async function commit(ask: Ask, transaction: Transaction): Promise<void> {
  // A commit whose wait for a second server is cut short counts as done, so no time limit may cut it.
  transaction.send('SET LOCAL statement_timeout = 0');
  const committing = ask('COMMIT');
  committing.catch(() => undefined);
  const failure = await transaction.failure();
  if (failure && isOfStatement(failure.error)) throw failure.error;
  if (failure) throw new AnswerLost(failure.error);
  let answer: Answer;
  try {
    answer = await committing;
  } catch (error) {
    throw wasRolledBack(error) ? error : new AnswerLost(error);
  }
  // The server answers a commit it cannot do with a rollback, without calling it an error.
  if (answer.command !== 'COMMIT') throw new AnswerLost(answer);
}

/** Whether an error is the answer to a statement, and not the end of the connection (SQLSTATE, PostgreSQL appendix A). */
const isOfStatement = (error: unknown): boolean =>
  error instanceof NotEntered || (error instanceof pg.DatabaseError && !/^(08|57P)/.test(codeOf(error)));

/** Of the errors that may answer a commit, those which say that it was rolled back (SQLSTATE, PostgreSQL appendix A). */
const wasRolledBack = (error: unknown): boolean =>
  error instanceof pg.DatabaseError && /^(23|25P02|40(?!003)|P0)/.test(error.code ?? '');
