import { Refusal } from '../problem.js';
import { checkNotBehind } from '../register/log/gate.js';
import { lastRemembered, readKey } from '../register/log/keys.js';
import type { Signer } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import type { Register, SeenEvent } from '../register/register.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { entryDeps } from './register-deps.js';
import { checkAgainstMemory, type Known, recall, remember } from './register-memory.js';
import { checkSigning, logOrigin } from './sign-log.js';

/**
 * Holds the register of a workshop against what this machine saw and signed last, for a use case that enters nothing but
 * signs it or takes it elsewhere. Throws a Refusal (exit 3) where it is another one, or not all of it.
 */
export async function holdAgainstMemory(workshop: OpenDocuments, register: Register): Promise<void> {
  await checkSigned(workshop, register);
  await checkAgainstMemory(register, await recall(workshop));
}

/**
 * Opens the register of a workshop for entries, for cutting, or to sign it: the one gate before all of them. Throws a Refusal (exit 3) where
 * the register is not the one that this machine saw and signed last, or not all of it, or where its key would not sign it
 * as it is. What is entered is remembered. `mending` is for whoever is about to go past what bars the way, or ends a key:
 * whether the texts are those that were signed is not asked then.
 */
export async function openForEntry(workshop: OpenDocuments, mending?: 'mending'): Promise<Register> {
  const recalled = await recall(workshop);
  let known: Known;
  const register: Register = await openRegister(registerPlace(workshop), {
    ...entryDeps(workshop.environment),
    entered: async (seen) => remember(workshop, recalled, known, await register.leafAt(0), seen),
  });
  try {
    await checkSigned(workshop, register, mending);
    if (!mending) await checkSigning(workshop, register);
    known = await checkAgainstMemory(register, recalled);
    const seen = await lastOf(register);
    if (seen) {
      // Asked again under the lock of each entry.
      register.expect(seen);
      const news = known && (seen.seq + 1 > known.size || known.folder !== recalled.now.folder);
      // What others entered is acted on from now on; a first look makes no identity.
      if (news && recalled.id !== undefined)
        await remember(workshop, recalled, known, await register.leafAt(0), seen);
    }
    return register;
  } catch (error) {
    await register.close();
    throw error;
  }
}

async function lastOf(register: Register): Promise<SeenEvent | undefined> {
  const seq = (await register.size()) - 1;
  const leaf = seq < 0 ? undefined : await register.leafAt(seq);
  return leaf && { seq, leaf };
}

async function checkSigned(workshop: OpenDocuments, register: Register, mending?: 'mending'): Promise<void> {
  const { keysFolder } = workshop.environment;
  const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
  const last = await lastRemembered(keysFolder, origin);
  if (last) await checkNotBehind(register, await usableKey(keysFolder, origin), last, mending);
}

/** A key that cannot be used now is reported after the entry, where it keeps the log from being signed. */
async function usableKey(folder: string, origin: string): Promise<Signer | undefined> {
  try {
    return await readKey(folder, origin);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}
