import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import type { OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/** A signed note of the same log (C2SP signed-note): its name, then lines of text, a blank one, and signatures. */
export const isNoteOf = (origin: string) => (head: string) =>
  head.startsWith(`${origin}\n`) && Buffer.from(head, 'latin1').toString('utf8').includes('\n\n\u2014 ');

/** Signs the log of a workshop as it stands, and writes the signed note to a file when one is named. */
export async function checkpointOf(workshop: OpenDocuments, out?: string): Promise<MadeCheckpoint> {
  const register = await openForEntry(workshop);
  try {
    const made = await signLog(workshop, register);
    if (out !== undefined)
      await writeWhole(out, made.note.slice(0, -1).split('\n'), { replaces: isNoteOf(made.origin) });
    return made;
  } finally {
    await register.close();
  }
}
