import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import { openRegister } from '../register/open.js';
import { type Bench, registerPlace } from './bench.js';
import { registerDeps } from './issue.js';
import { signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/** Signs the log of a workshop as it stands, and writes the signed note to a file when one is named. */
export async function checkpointOf(bench: Bench, out?: string): Promise<MadeCheckpoint> {
  const register = await openRegister(registerPlace(bench), registerDeps);
  try {
    const made = await signLog(bench, register);
    if (out !== undefined) await writeWhole(out, made.note.slice(0, -1).split('\n'));
    return made;
  } finally {
    await register.close();
  }
}
