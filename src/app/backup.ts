import { resolve } from 'node:path';
import { openRegister } from '../register/open.js';
import type { KeptRegister } from './kept-register.js';
import { registerDeps } from './register-deps.js';

/** Copies a register into a new file, while benches go on. Gives how many events it has now. */
export async function backUpRegister(
  { place }: KeptRegister,
  file: string,
): Promise<{ file: string; events: number }> {
  const register = await openRegister(place, registerDeps, 'read whole');
  try {
    // Counted before: the copy has these at least.
    const events = await register.size();
    await register.backup(resolve(file));
    return { file, events };
  } finally {
    await register.close();
  }
}
