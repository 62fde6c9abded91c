import { Refusal } from '../problem.js';
import { checkNotBehind } from '../register/log/gate.js';
import { lastRemembered, readKey } from '../register/log/keys.js';
import type { Signer } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import type { Register } from '../register/register.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { registerDeps } from './register-deps.js';
import { logOrigin } from './sign-log.js';

/**
 * Opens the register of a workshop for entries, or for cutting. Throws a Refusal (exit 3) where it is behind what its key
 * signed last on this machine, or is another one.
 */
export async function openForEntry(workshop: OpenDocuments): Promise<Register> {
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const { keysFolder } = workshop.environment;
    const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
    const last = await lastRemembered(keysFolder, origin);
    if (last) await checkNotBehind(register, await usableKey(keysFolder, origin), last);
    return register;
  } catch (error) {
    await register.close();
    throw error;
  }
}

/** A key that cannot be used now is told after the entry, where it keeps the log from being signed. */
async function usableKey(folder: string, origin: string): Promise<Signer | undefined> {
  try {
    return await readKey(folder, origin);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}
