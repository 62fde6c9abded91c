import { LIST as WITHDRAWALS } from '../register/certificate/withdrawals.js';
import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import type { OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/**
 * A signed checkpoint of the same log (C2SP tlog-checkpoint): its name, its size, its root, a blank line, and signatures.
 * A list of withdrawals has further lines behind its root.
 */
export const isNoteOf = (origin: string) => (head: string) =>
  isOfLog(origin, head) &&
  Buffer.from(head, 'latin1').toString('utf8').split('\n\n\u2014 ').length === 2 &&
  lineBehindRoot(head) === '';

/** One that nobody but the log signed: to have another signed again takes the witness. */
const isPlainNoteOf = (origin: string) => (head: string) =>
  isNoteOf(origin)(head) && Buffer.from(head, 'latin1').toString('utf8').split('\n\u2014 ').length === 2;

/** A list of withdrawals of the same log. */
export const isWithdrawalListOf = (origin: string) => (head: string) =>
  isOfLog(origin, head) && lineBehindRoot(head) === WITHDRAWALS;

const isOfLog = (origin: string, head: string): boolean =>
  Buffer.from(head, 'latin1').toString('utf8').startsWith(`${origin}\n`);
const lineBehindRoot = (head: string): string | undefined => head.split('\n')[3];

/** Signs the log of a workshop as it stands, and writes the signed note to a file when one is named. */
export async function checkpointOf(workshop: OpenDocuments, out?: string): Promise<MadeCheckpoint> {
  const register = await openForEntry(workshop);
  try {
    const made = await signLog(workshop, register);
    if (out !== undefined)
      await writeWhole(out, made.note.slice(0, -1).split('\n'), { replaces: isPlainNoteOf(made.origin) });
    return made;
  } finally {
    await register.close();
  }
}
