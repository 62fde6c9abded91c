import { type Problem, Refusal } from '../problem.js';
import {
  checkSignable,
  type Log,
  type MadeCheckpoint,
  makeCheckpoint,
  type ReadLog,
  readUnverified,
} from '../register/log/checkpoint.js';
import { isSameKey, openKey } from '../register/log/key-history.js';
import {
  assertKeysOutside,
  lastSigned,
  readHistory,
  readKey,
  writeLastSigned,
} from '../register/log/keys.js';
import { originOf } from '../register/log/origin.js';
import type { Register, StoredCheckpoint } from '../register/register.js';
import { diskProblem } from './disk.js';
import { refuse } from './messages.js';
import type { OpenDocuments } from './open-documents.js';
import { noProgress, type Progress, progressOf } from './progress.js';

/** The origin of a workshop's log: as its checkpoints have it, so that a new name of the workshop changes nothing. */
export function logOrigin(workshop: OpenDocuments, kept: StoredCheckpoint | undefined): string {
  const opened = kept && readUnverified(kept.note);
  return opened?.ok ? opened.checkpoint.origin : originOf(workshop.documents.workshop.name);
}

/** Signs the log of a workshop. Throws a Refusal: exit 2 without a key, 3 rather than sign another history. */
export async function signLog(
  workshop: OpenDocuments,
  register: Log & Pick<Register, 'checkpoints'>,
  progress: Progress = noProgress,
): Promise<MadeCheckpoint> {
  const folder = workshop.environment.keysFolder;
  const { signer, stored } = await signerHere(workshop, register);
  return makeCheckpoint(
    register,
    signer,
    { stored, last: await lastSigned(folder, signer) },
    (note) => writeLastSigned(folder, signer, note),
    progressOf(progress, 'events'),
  );
}

/**
 * Throws a Refusal (exit 3) where the key that is here would not sign the log as it is now. Where there is none, or it
 * cannot be used, nothing is asked: that is told after the entry.
 */
export async function checkSigning(
  workshop: OpenDocuments,
  register: ReadLog & Pick<Register, 'checkpoints'>,
): Promise<void> {
  const ready = await signerHere(workshop, register).catch((error: unknown) => {
    if (error instanceof Refusal || diskProblem(error)) return undefined;
    throw error;
  });
  if (!ready) return;
  const last = await lastSigned(workshop.environment.keysFolder, ready.signer);
  await checkSignable(register, ready.signer, { stored: ready.stored, last });
}

/** The key that signs the log on this machine, and the last checkpoint that is kept. Throws a Refusal without one. */
async function signerHere(workshop: OpenDocuments, register: Pick<Register, 'checkpoints'>) {
  const folder = workshop.environment.keysFolder;
  await assertKeysOutside(folder, workshop.dir);
  const stored = (await register.checkpoints()).at(-1);
  const origin = logOrigin(workshop, stored);
  const signer = await readKey(folder, origin);
  const history = await readHistory(folder, origin);
  const inUse = history && openKey(history);
  if (history && !inUse) throw refuse('sign.key-retired', `log ${origin}`, {});
  if (!signer) throw noKey(origin, stored);
  if (inUse && !isSameKey(inUse.verifier, signer)) throw refuse('sign.key-not-in-use', `log ${origin}`, {});
  return { signer, stored };
}

/** For a log that has a key, no second one is suggested: it would be a second signer of the same name. */
const noKey = (origin: string, kept: StoredCheckpoint | undefined): Refusal =>
  refuse(kept ? 'sign.key-elsewhere' : 'sign.no-key', `log ${origin}`, {});

/** Takes a problem that does not end the work. */
export type TellProblem = (problem: Problem) => void | Promise<void>;

/**
 * Signs after something was entered. The entry is complete whatever comes of this, so nothing is thrown: `notSigned` gets
 * what kept the log from being signed.
 */
export async function signAfter(
  workshop: OpenDocuments,
  register: Register,
  notSigned: TellProblem,
): Promise<void> {
  try {
    await signLog(workshop, register);
  } catch (error) {
    for (const one of problemsOf(error)) await notSigned(one);
  }
}

function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof Refusal) return error.problems;
  const disk = diskProblem(error);
  if (disk) return [disk];
  throw error;
}
