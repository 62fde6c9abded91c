import { realpath } from 'node:fs/promises';
import { resolve } from 'node:path';
import { registerName } from '../documents/check/register-url.js';
import { type Problem, Refusal } from '../problem.js';
import { type SeenLog, seenProblem } from '../register/log/gate.js';
import { assertKeysOutside } from '../register/log/keys.js';
import { originOf } from '../register/log/origin.js';
import { readAllSeen, readSeen, type SeenRegister, writeSeen } from '../register/log/seen.js';
import type { SeenEvent } from '../register/register.js';
import { diskProblem } from './disk.js';
import { refuse } from './messages.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { makeWorkshopIdentity, readWorkshopIdentity } from './workshop-identity.js';

/** What this machine knows of a workshop and its register, from the entries that were made here. */
export interface Recalled {
  readonly id?: string;
  /** The workshop as it is now. */
  readonly now: Pick<SeenRegister, 'origin' | 'folder' | 'place'>;
  /** What was seen under its identity. */
  readonly own?: SeenRegister;
  /** What was seen of others that had its name or its folder. */
  readonly others: readonly SeenRegister[];
}

export async function recall(workshop: OpenDocuments): Promise<Recalled> {
  const { dir, documents, environment } = workshop;
  const place = registerPlace(workshop);
  const folder = await realpath(dir);
  const now = {
    origin: originOf(documents.workshop.name),
    folder,
    place: place.kind === 'postgres' ? registerName(place.url) : resolve(folder, 'register.db'),
  };
  if (environment.keepsMemory === false) return { now, others: [] };
  const id = await readWorkshopIdentity(dir);
  const own = id === undefined ? undefined : await readSeen(environment.keysFolder, id);
  // Where it was before, under its name: there is nobody else to ask.
  if (own && own.folder === folder) return { id, now, own, others: [] };
  const others = (await readAllSeen(environment.keysFolder)).filter(
    (one) =>
      one.id !== id &&
      one.size > 0 &&
      (one.folder === folder || (one.origin === now.origin && own?.origin !== now.origin)),
  );
  return { id, now, own, others };
}

/** What this machine goes by, once a register was held against it. */
export type Known = SeenRegister | undefined;

/**
 * Holds a register against what this machine saw. Gives what it was known as before. Throws a Refusal (exit 3) where it
 * is empty, shorter, or another one; where the workshop has lost its identity; and for a second workshop of one name.
 */
export async function checkAgainstMemory(
  register: SeenLog,
  { id, now, own, others }: Recalled,
): Promise<Known> {
  if (own) {
    const found = await seenProblem(register, own, now.place);
    if (found) throw new Refusal([found]);
  }
  let known = own;
  let unlike: { problem: Problem; seen: SeenRegister } | undefined;
  for (const seen of others) {
    const found = await seenProblem(register, seen, now.place);
    if (!found) known ??= seen;
    // What was in this very folder counts whatever else fits.
    else if (!unlike || seen.folder === now.folder) unlike = { problem: found, seen };
  }
  // Only an entry makes the identity of a workshop, so its register had events once.
  if (id !== undefined && !known && !unlike && (await register.size()) === 0)
    throw refuse('gate.register-gone', now.place, {});
  if (!unlike || (known && unlike.seen.folder !== now.folder)) return known;
  const { seen } = unlike;
  const values = { size: seen.size, folder: seen.folder, place: seen.place };
  if (seen.folder !== now.folder) throw refuse('gate.name-of-another', now.place, values);
  throw id === undefined && (await register.size()) === 0
    ? refuse('gate.identity-gone', now.place, values)
    : refuse('gate.folder-of-another', now.place, values);
}

/**
 * Why a register that is empty should not be: this machine saw events of it, or its workshop has an identity. Undefined for
 * any other, and where none of that can be read.
 */
export async function missingProblem(
  workshop: OpenDocuments | undefined,
  register: SeenLog,
): Promise<Problem | undefined> {
  if (!workshop) return undefined;
  // One that cannot be read is not empty; whoever reads it says why.
  const size = await register.size().catch(() => undefined);
  if (size !== 0) return undefined;
  try {
    await checkAgainstMemory(register, await recall(workshop));
  } catch (error) {
    if (error instanceof Refusal) return error.problems[0];
    if (!diskProblem(error)) throw error;
  }
  return undefined;
}

/**
 * Remembers the last event of a register that was seen. Nothing is thrown: the entry is complete whatever comes of this,
 * and a memory that is behind shows less and refuses nothing that is right.
 */
export async function remember(
  workshop: OpenDocuments,
  { id, now }: Pick<Recalled, 'id' | 'now'>,
  known: Known,
  first: Buffer | undefined,
  { seq, leaf }: SeenEvent,
): Promise<void> {
  const { environment, dir } = workshop;
  if (environment.keepsMemory === false) return;
  try {
    await assertKeysOutside(environment.keysFolder, dir);
    const own = id ?? (await makeWorkshopIdentity(dir, known?.id));
    const before = await readSeen(environment.keysFolder, own).catch(() => undefined);
    const size = seq + 1;
    const same = before?.first && first && before.first.equals(first) && before.folder === now.folder;
    // Another program was faster and has seen more.
    if (same && before.place === now.place && before.size > size) return;
    await writeSeen(environment.keysFolder, { id: own, ...now, size, first, last: leaf });
  } catch (error) {
    await tellProblem(workshop, error);
  }
}

/** Tells what kept something from being remembered. */
export async function tellProblem({ environment }: OpenDocuments, error: unknown): Promise<void> {
  const disk = diskProblem(error);
  if (!disk && !(error instanceof Refusal)) throw error;
  for (const one of disk ? [disk] : (error as Refusal).problems) await environment.tell?.(one);
}
