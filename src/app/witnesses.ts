import { placedIn, Refusal } from '../problem.js';
import { cosignedAt, readWitness, type Witness } from '../register/log/cosignature.js';
import type { Note } from '../register/log/note.js';
import { readInput } from './input-file.js';
import { refuse } from './messages.js';

/** Bytes of a public key: far more than any needs. */
const LONGEST_LINE = 4096;

/** Witnesses from files with their public keys, one in each. Throws a Refusal (exit 2). */
export const witnessesIn = (files: readonly string[]): Promise<Witness[]> =>
  Promise.all(
    files.map(async (file) => {
      const read = readWitness((await readInput(file, LONGEST_LINE)).toString('utf8'));
      if (read.ok) return read.witness;
      throw refuse('witness.line-unreadable', file, { reason: read.problem });
    }),
  );

/** Who saw a checkpoint, and when first. */
export interface Seen {
  readonly name: string;
  /** RFC 3339, UTC. */
  readonly at: string;
}

/** Who of these saw a note. Throws a Refusal (exit 1) for a witness that did not. */
export const seenBy = (note: Note, witnesses: readonly Witness[], where: string): Seen[] =>
  witnesses.map((witness) => {
    const at = cosignedAt(note, witness);
    if (!at.ok) throw new Refusal([placedIn(where, at.problem)]);
    return { name: witness.name, at: timeOf(at.seconds) };
  });

export const timeOf = (seconds: number): string =>
  new Date(seconds * 1000).toISOString().replace('.000Z', 'Z');
