import pg from 'pg';
import { Refusal } from '../../problem.js';
import type { WriteOptions } from '../database.js';
import { refuse } from '../messages.js';
import { inSeconds, withRetry } from '../retry.js';
import { ConnectionError, codeOf } from './client.js';
import { AnswerLost, toRefusal } from './errors.js';

/** A server never reached is more likely misnamed than restarting. */
const FIRST_CONTACT_MS = 5_000;

/** By the server (SQLSTATE) or by the connection: it will pass, and nothing was written. */
const PASSING =
  /^(08|40(?!003)|53300|55P03|57014|57P0[1235]|25P0[34]|ECONNRESET|ECONNREFUSED|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENETUNREACH|EAI_AGAIN)/;
const BUSY = /^(55P03|57014)/;

/**
 * A password that is not given, and TLS that was refused, are no better at the next try; but a server that was reached
 * before may hang up because it restarts.
 */
function isPassing(error: unknown, reached: boolean): boolean {
  const fault = error instanceof ConnectionError ? error.fault : undefined;
  if (fault === 'password-unsafe') return false;
  if (fault === 'not-secured') return reached && /^(ECONNRESET|EPIPE|ETIMEDOUT)?$/.test(codeOf(error));
  return PASSING.test(codeOf(error)) || fault === 'lost' || fault === 'none-free';
}

export interface RetryOptions extends WriteOptions {
  /** The register, as messages name it. */
  readonly name: string;
  readonly retryForMs: number;
  /** Whether this program has reached the server before. */
  readonly reached: () => boolean;
}

/**
 * Does the work, again and again while the server is away, full or busy. The work must leave nothing behind when it
 * fails, other than by `AnswerLost`; it is repeated after that where it is repeatable, or finds what it has left.
 * `leftMs` is how long the work may itself wait.
 */
export function retryWhileTransient<T>(
  work: (leftMs: number) => Promise<T>,
  { name, retryForMs, repeatable, findsAgain, reached }: RetryOptions,
): Promise<T> {
  let lost = false;
  const unknown = () => refuse(repeatable ? 'register.answer-lost' : 'register.outcome-unknown', name, {});
  return withRetry((spentMs) => work(Math.max(0, retryForMs - spentMs)), {
    firstPauseMs: 5,
    longestPauseMs: 250,
    onError: (error, spentMs) => {
      if (error instanceof AnswerLost) {
        lost = true;
        if (!repeatable && !findsAgain?.()) throw unknown();
      } else if (!isPassing(error, reached())) {
        // A rule's refusal was given with all that was written in view; other trouble leaves it open.
        const refusal = toRefusal(error, name);
        const byRule = refusal instanceof Refusal && refusal.exit === 3;
        throw lost && !byRule ? unknown() : refusal;
      }
      const limit =
        reached() || BUSY.test(codeOf(error)) ? retryForMs : Math.min(retryForMs, FIRST_CONTACT_MS);
      if (spentMs >= limit) throw lost ? unknown() : timeoutRefusal(error, name, limit);
    },
  });
}

function timeoutRefusal(error: unknown, name: string, waitedMs: number): Refusal {
  const seconds = inSeconds(waitedMs);
  if (BUSY.test(codeOf(error))) return refuse('register.busy', name, { seconds });
  if (error instanceof pg.DatabaseError && error.code === '53300') {
    return refuse('register.no-connection-free', name, { seconds });
  }
  return refuse('register.no-answer', name, { seconds });
}
