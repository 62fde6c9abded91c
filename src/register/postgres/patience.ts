import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { Refusal, refuse } from '../../problem.js';
import { AnswerLost } from './alone.js';
import { told } from './told.js';

const FIRST_PAUSE_MS = 5;
const LONGEST_PAUSE_MS = 250;
/** A server never reached is more likely misnamed than restarting. */
const FIRST_CONTACT_MS = 5_000;

/** Told by the server (SQLSTATE) or by the connection: it will pass, and nothing was written. */
const PASSING =
  /^(08|40(?!003)|53300|55P03|57014|57P0[1235]|25P0[34]|ECONNRESET|ECONNREFUSED|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENETUNREACH|EAI_AGAIN)/;
/** The same from the library, which gives these no code. */
const PASSING_WORDS =
  /^(Connection terminated|Query read timeout|timeout |timeout expired|Client has encountered)/;
const BUSY = /^(55P03|57014)/;

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

export const isPassing = (error: unknown): boolean =>
  error instanceof Error &&
  !(error instanceof Refusal) &&
  (PASSING.test(codeOf(error)) || PASSING_WORDS.test(error.message));

export interface Patience {
  /** The register, as messages name it. */
  readonly name: string;
  readonly retryForMs: number;
  /** Whether asking twice does no more than asking once. */
  readonly repeatable: boolean;
  /** Whether this program has reached the server before. */
  readonly reached: () => boolean;
}

/**
 * Does the work, again and again while the server is away, full or busy. The work must leave nothing behind when it
 * fails, other than by `AnswerLost`; what that may have left is found again when the request is repeatable, and only
 * then is it repeated. `leftMs` is how long the work may itself wait.
 */
export async function patiently<T>(
  work: (leftMs: number) => Promise<T>,
  { name, retryForMs, repeatable, reached }: Patience,
): Promise<T> {
  const began = performance.now();
  let lost = false;
  for (let pause = FIRST_PAUSE_MS; ; pause = Math.min(pause * 2, LONGEST_PAUSE_MS)) {
    const spent = () => performance.now() - began;
    try {
      return await work(Math.max(0, retryForMs - spent()));
    } catch (error) {
      if (error instanceof AnswerLost) {
        lost = true;
        if (!repeatable) throw unknownOutcome(name);
      } else if (!isPassing(error)) {
        // A rule's refusal was given with all that was written in view; other trouble leaves it open.
        const words = told(error, name);
        throw lost && !(words instanceof Refusal && words.exit === 3) ? askAgain(name) : words;
      }
      const limit =
        reached() || BUSY.test(codeOf(error)) ? retryForMs : Math.min(retryForMs, FIRST_CONTACT_MS);
      if (spent() >= limit) throw lost ? askAgain(name) : waitedFor(error, name, limit);
    }
    await sleep(pause);
  }
}

const askAgain = (name: string): Refusal =>
  refuse(2, name, 'The answer was lost.', 'Ask again with the same key.');

const unknownOutcome = (name: string): Refusal =>
  refuse(
    2,
    name,
    'The answer was lost; whether it was entered is not known.',
    'Look at the register before asking again; with a key, asking again is always safe.',
  );

function waitedFor(error: unknown, name: string, waitedMs: number): Refusal {
  const seconds = `${Math.round(waitedMs / 1000)} s`;
  if (BUSY.test(codeOf(error))) {
    return refuse(
      2,
      name,
      `Another program has kept the register busy for ${seconds}; nothing was written.`,
      'Let it finish or close it, then ask again.',
    );
  }
  if (error instanceof pg.DatabaseError && error.code === '53300') {
    return refuse(
      2,
      name,
      `The server has had no connection free for ${seconds}; nothing was written.`,
      'Close other programs or allow more connections, then ask again.',
    );
  }
  return refuse(
    2,
    name,
    `The server did not answer for ${seconds}; nothing was written.`,
    'See to the server and the network, then ask again.',
  );
}
