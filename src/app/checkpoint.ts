import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import { openRegister } from '../register/open.js';
import { registerDeps } from './register-deps.js';
import { signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';
import { registerPlace, type Workshop } from './workshop.js';

/** Signs the log of a workshop as it stands, and writes the signed note to a file when one is named. */
export async function checkpointOf(workshop: Workshop, out?: string): Promise<MadeCheckpoint> {
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const made = await signLog(workshop, register);
    if (out !== undefined) await writeWhole(out, made.note.slice(0, -1).split('\n'));
    return made;
  } finally {
    await register.close();
  }
}
