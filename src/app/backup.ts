import { resolve } from 'node:path';
import { openRegister } from '../register/open.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { registerDeps } from './register-deps.js';

/** Copies the register of a workshop into a new file, while benches go on. Gives how many events it has now. */
export async function backUpRegister(
  workshop: OpenDocuments,
  file: string,
): Promise<{ file: string; events: number }> {
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    // Counted before: the copy has these at least.
    const events = await register.size();
    await register.backup(resolve(file));
    return { file, events };
  } finally {
    await register.close();
  }
}
