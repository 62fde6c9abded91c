import { placedIn, Refusal } from '../problem.js';
import { type KeyHistory, readKeys } from '../register/log/key-history.js';
import { readInput } from './input-file.js';

/** Bytes of a history of keys with the handovers of a hundred: far more than any needs. */
const LONGEST = 65_536;

/** A maker's keys from a file that someone named: a public key, or a history. Throws a Refusal (exit 2). */
export async function readKeyFile(file: string): Promise<KeyHistory> {
  const read = readKeys((await readInput(file, LONGEST)).toString('utf8'));
  if (read.ok) return read.history;
  throw new Refusal([placedIn(file, read.problem)]);
}
