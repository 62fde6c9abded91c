import { mkdir } from 'node:fs/promises';
import {
  addKey,
  continuesHistory,
  endKey,
  formatHistory,
  historyOf,
  isHistoryOf,
  isSameKey,
  type KeyHistory,
  openKey,
  type Retirement as Reason,
  signHandover,
} from '../register/log/key-history.js';
import {
  assertKeysOutside,
  keyExists,
  lastSigned,
  makeKey,
  putKeyAside,
  readHistory,
  readKey,
  readRetiredKey,
  writeHistory,
} from '../register/log/keys.js';
import { type Signer, verifierLine } from '../register/log/note.js';
import { originOf } from '../register/log/origin.js';
import { openRegister } from '../register/open.js';
import type { Environment } from './environment.js';
import { refuse } from './messages.js';
import { openDocuments, registerPlace } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { readKeyFile } from './public-keys.js';
import { depsIn } from './register-deps.js';
import { logOrigin, signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/** Whose key is meant: by the maker's name, or that of the log of a workshop. */
export interface KeyOwner {
  readonly name?: string;
  readonly workshop: string;
  readonly environment: Environment;
}

export interface PublicKey {
  readonly origin: string;
  /** The public key as one line, for others. */
  readonly line: string;
  readonly folder: string;
}

/**
 * Makes the key of a maker; `out` takes its public part too. After a key that was retired it is the next one, and where
 * that ended as planned the old key signs the handover. Throws a Refusal: exit 3 when there is a key in use.
 */
export async function newKey(owner: KeyOwner, out?: string): Promise<PublicKey> {
  const folder = owner.environment.keysFolder;
  await assertKeysOutside(folder, owner.workshop);
  const origin = await originFor(owner);
  const history = await readHistory(folder, origin);
  const present = await readKey(folder, origin);
  if (!history) {
    const made = await makeKey(folder, origin);
    await writeHistory(folder, historyOf(made));
    return publish(made, folder, out);
  }
  const inUse = openKey(history);
  // A key that no line has was made just before the history could be written: the last time was cut short.
  const isUnlisted = present && !history.keys.some(({ verifier }) => isSameKey(verifier, present));
  if (present && (inUse || !isUnlisted)) throw keyExists(folder, origin);
  if (inUse) throw refuse('key.still-in-use', folder, { origin });
  const handOver = await handoverFrom(folder, history);
  const next = present ?? (await makeKey(folder, origin));
  await writeHistory(folder, addKey(history, next, handOver?.(next)));
  return publish(next, folder, out);
}

/** What has the last key sign over to the next; undefined where it was lost or stolen. */
async function handoverFrom(
  folder: string,
  { keys }: KeyHistory,
): Promise<((next: Signer) => string) | undefined> {
  const { verifier, end } = keys.at(-1)!;
  if (end?.reason !== 'planned') return undefined;
  const from = await readRetiredKey(folder, verifier);
  if (!from) throw refuse('key.handover-unsigned', folder, { what: 'key' });
  const last = await lastSigned(folder, from);
  if (last?.size !== end.last) throw refuse('key.handover-unsigned', folder, { what: 'last' });
  return (next) => signHandover(last, from, next);
}

export interface Retirement {
  readonly reason: Reason;
  /** The last size that the key counts for; what it signed last when left out. */
  readonly at?: number;
  /** A file with the public key or the history, where this machine has neither any more. */
  readonly key?: string;
}

export interface RetiredKey {
  readonly origin: string;
  /** The public key that ended, as one line. */
  readonly line: string;
  readonly last: number;
  readonly reason: Reason;
  /** Where the private key is now; undefined when it was not here. */
  readonly aside?: string;
}

/**
 * Ends the key in use: it signs nothing more, and what it signed counts up to a size. Throws a Refusal: exit 2 where that
 * cannot be, 3 where a key that ends as planned cannot sign the log a last time.
 */
export async function retireKeyOf(
  { workshop: dir, environment }: KeyOwner,
  { reason, at, key }: Retirement,
): Promise<RetiredKey> {
  const folder = environment.keysFolder;
  await assertKeysOutside(folder, dir);
  const workshop = await openDocuments(dir, environment);
  const register = await openForEntry(workshop, 'mending');
  try {
    const kept = (await register.checkpoints()).at(-1);
    const origin = logOrigin(workshop, kept);
    const signer = await readKey(folder, origin);
    const history = await knownHistory(folder, origin, signer, key);
    const { verifier, first, end } = history.keys.at(-1)!;
    const where = `log ${origin}`;
    if (reason === 'planned' && at !== undefined) throw refuse('key.planned-ends-now', where, {});
    if (reason === 'lost' && signer) throw refuse('key.not-lost', where, {});
    if (reason === 'planned' && !signer && !end) throw refuse('key.gone', where, {});
    const size = await register.size();
    const last =
      at ??
      (reason === 'planned' ? (end?.last ?? (await signLog(workshop, register)).size) : undefined) ??
      end?.last ??
      Math.max(first, kept?.size ?? 0);
    if (last < first || last > Math.max(size, first))
      throw refuse('key.end-out-of-range', where, { first, size, at: last });
    // First the history: from then on nothing signs with the key, even when the next step fails.
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await writeHistory(folder, endKey(history, last, reason));
    const aside = signer && isSameKey(signer, verifier) ? await putKeyAside(folder, signer) : undefined;
    return { origin, line: verifierLine(verifier), last, reason, ...(aside !== undefined && { aside }) };
  } finally {
    await register.close();
  }
}

/** The keys of a log as far as they are known: from the folder of keys, from the key itself, or from what was published. */
async function knownHistory(
  folder: string,
  origin: string,
  signer: Signer | undefined,
  file: string | undefined,
): Promise<KeyHistory> {
  const here = (await readHistory(folder, origin)) ?? (signer && historyOf(signer));
  if (file === undefined) {
    if (here) return here;
    throw refuse('key.unknown-before', folder, { origin });
  }
  const given = await readKeyFile(file);
  if (given.origin !== origin || (here && !continuesHistory(given, here)))
    throw refuse('key.other-history', file, { origin });
  return given;
}

export interface PublicHistory {
  readonly origin: string;
  readonly history: KeyHistory;
  /** The file to publish. */
  readonly text: string;
}

/** The history of the keys of a maker, to publish. Throws a Refusal: exit 2 when there is none here. */
export async function showHistory(owner: KeyOwner, out?: string): Promise<PublicHistory> {
  const folder = owner.environment.keysFolder;
  const origin = await originFor(owner);
  const signer = await readKey(folder, origin);
  const history = (await readHistory(folder, origin)) ?? (signer && historyOf(signer));
  if (!history) throw refuse('key.none', folder, { origin });
  const text = formatHistory(history);
  if (out !== undefined)
    await writeWhole(out, text.slice(0, -1).split('\n'), { replaces: isHistoryOf(origin) });
  return { origin, history, text };
}

/** The same for a program. */
export const historyAnswer = ({ origin, keys }: KeyHistory): object => ({
  origin,
  keys: keys.map(({ verifier, first, end }) => ({ key: verifierLine(verifier), first, ...end })),
});

/** The public key of a maker. Throws a Refusal: exit 2 when there is no key here. */
export async function showKey(owner: KeyOwner, out?: string): Promise<PublicKey> {
  const folder = owner.environment.keysFolder;
  const origin = await originFor(owner);
  const signer = await readKey(folder, origin);
  if (signer) return publish(signer, folder, out);
  throw refuse('key.none', folder, { origin });
}

async function publish(signer: Signer, folder: string, out: string | undefined): Promise<PublicKey> {
  const line = verifierLine(signer);
  if (out !== undefined)
    await writeWhole(out, [line], { replaces: (head) => head.startsWith(`${signer.name}+`) });
  return { origin: signer.name, folder, line };
}

async function originFor({ name, workshop: dir, environment }: KeyOwner): Promise<string> {
  if (name !== undefined) return originOf(name);
  const workshop = await openDocuments(dir, environment);
  const register = await openRegister(registerPlace(workshop), depsIn(workshop.environment));
  try {
    return logOrigin(workshop, (await register.checkpoints()).at(-1));
  } finally {
    await register.close();
  }
}
