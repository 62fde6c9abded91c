import { type Problem, problemLine, Refusal, refuse } from '../problem.js';
import { type Log, type MadeCheckpoint, makeCheckpoint, readAnyones } from '../register/log/checkpoint.js';
import { lastSigned, mustBeOutside, readKey, rememberSigned } from '../register/log/keys.js';
import { originOf } from '../register/log/origin.js';
import type { Register, StoredCheckpoint } from '../register/register.js';
import { diskProblem } from './disk.js';
import type { Workshop } from './workshop.js';

/** The origin of a workshop's log: as its checkpoints have it, so that a new name on the door changes nothing. */
export function logOrigin(workshop: Workshop, kept: StoredCheckpoint | undefined): string {
  const opened = kept && readAnyones(kept.note);
  return opened?.ok ? opened.checkpoint.origin : originOf(workshop.documents.workshop.name);
}

/** Signs the log of a workshop. Throws a Refusal: exit 2 without a key, 3 rather than sign another history. */
export async function signLog(
  workshop: Workshop,
  register: Log & Pick<Register, 'checkpoints'>,
): Promise<MadeCheckpoint> {
  const folder = workshop.environment.keysFolder;
  await mustBeOutside(folder, workshop.dir);
  const kept = (await register.checkpoints()).at(-1);
  const origin = logOrigin(workshop, kept);
  const signer = await readKey(folder, origin);
  if (!signer) throw noKey(origin, kept);
  const last = await lastSigned(folder, signer);
  return makeCheckpoint(register, signer, { kept, last }, (note) => rememberSigned(folder, signer, note));
}

/** A second key for a log that has one would be a second signer of the same name: none is asked for then. */
const noKey = (origin: string, kept: StoredCheckpoint | undefined): Refusal =>
  kept
    ? refuse(
        2,
        `log ${origin}`,
        'Its key is not on this machine.',
        'Sign where the key is, or bring it from its copy.',
      )
    : refuse(2, `log ${origin}`, 'There is no key yet.', '`burin key new` makes one.');

/**
 * Signs after something was entered. What was entered stands whatever comes of this, so nothing is thrown: what is in
 * the way is said.
 */
export async function signAfter(
  workshop: Workshop,
  register: Register,
  say: (line: string) => void,
): Promise<void> {
  try {
    await signLog(workshop, register);
  } catch (error) {
    for (const one of problemsOf(error)) say(`Not signed: ${problemLine(one)}`);
  }
}

function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof Refusal) return error.problems;
  const disk = diskProblem(error);
  if (disk) return [disk];
  throw error;
}
