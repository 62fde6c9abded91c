import { createPrivateKey, generateKeyPairSync, type KeyObject, randomBytes } from 'node:crypto';
import { constants } from 'node:fs';
import { type FileHandle, mkdir, open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import type { Refusal } from '../../problem.js';
import { formatHistory, type KeyHistory, readKeys } from './key-history.js';
import { refuse } from './messages.js';
import {
  type Checkpoint,
  openCheckpoint,
  readCheckpoint,
  readNote,
  type Signer,
  signatureProblem,
  signerOf,
  type Verifier,
} from './note.js';
import { slugIn } from './origin.js';

/** The folder of the maker's keys: never in a workshop, which is copied, sent about and published. */
export function keysFolder(env: Readonly<Record<string, string | undefined>>): string {
  if (env.BURIN_KEYS) return resolve(env.BURIN_KEYS);
  // The XDG base directory specification has relative paths passed over.
  const config = env.XDG_CONFIG_HOME;
  return join(config && isAbsolute(config) ? config : join(homedir(), '.config'), 'burin', 'keys');
}

const fileOf = (folder: string, origin: string, ending: string): string => {
  const slug = slugIn(origin);
  if (slug !== undefined) return join(folder, `${slug}.${ending}`);
  throw refuse('log.name-not-of-burin', `log ${origin.slice(0, 80)}`, {});
};

const privateFile = (folder: string, origin: string): string => fileOf(folder, origin, 'pem');
/** What was signed last. It is kept with the key and not with the register, so that it exposes an old copy of the register. */
const lastFile = (folder: string, origin: string): string => fileOf(folder, origin, 'last');

/** Which keys the log had: for others, and so that no retired key signs again here. */
const historyFile = (folder: string, origin: string): string => fileOf(folder, origin, 'keys');
/** A key that signs no more. It is kept, for nothing else shows that what it signed is its own. */
const retiredFile = (folder: string, { name, keyHash }: Verifier): string =>
  fileOf(folder, name, `retired-${keyHash.toString('hex')}.pem`);

/** Throws a Refusal (exit 2) when the folder of keys lies in a workshop. */
export async function assertKeysOutside(folder: string, workshop: string): Promise<void> {
  const path = relative(await resolveLinks(workshop), await resolveLinks(folder));
  if (path !== '' && (path === '..' || path.startsWith(`..${sep}`) || isAbsolute(path))) return;
  throw refuse('log.keys-in-workshop', folder, {});
}

/** The path without links, also for what is not made yet. */
async function resolveLinks(path: string): Promise<string> {
  const whole = resolve(path);
  const found = await realpath(whole).catch(() => undefined);
  if (found !== undefined) return found;
  const above = dirname(whole);
  return above === whole ? whole : join(await resolveLinks(above), relative(above, whole));
}

export const keyExists = (folder: string, origin: string): Refusal =>
  refuse('log.key-exists', privateFile(folder, origin), { origin });

/** Makes a key and keeps it. Throws a Refusal: exit 3 when there is one, which is never written over. */
export async function makeKey(folder: string, origin: string): Promise<Signer> {
  return signerOf(
    origin,
    await makePrivateKey(folder, privateFile(folder, origin), () => keyExists(folder, origin)),
  );
}

/** Makes a private key in a file of its own. Throws what `exists` gives when there is such a file. */
export async function makePrivateKey(
  folder: string,
  file: string,
  exists: () => Refusal,
): Promise<KeyObject> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await assertFolderPrivate(folder, 0o700);
  const { privateKey } = generateKeyPairSync('ed25519');
  const made = await open(file, 'wx', 0o600).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error;
    throw exists();
  });
  try {
    await made.writeFile(privateKey.export({ format: 'pem', type: 'pkcs8' }));
    await made.sync();
    await made.close();
  } catch (error) {
    await made.close().catch(() => undefined);
    await rm(file, { force: true });
    throw ofFile(error, file);
  }
  return privateKey;
}

/** The key of a log, or undefined when there is none here. Throws a Refusal (exit 3) when other users may read it. */
export async function readKey(folder: string, origin: string): Promise<Signer | undefined> {
  return readKeyFile(folder, privateFile(folder, origin), origin);
}

/** The same of a key that was retired. */
export async function readRetiredKey(folder: string, verifier: Verifier): Promise<Signer | undefined> {
  return readKeyFile(folder, retiredFile(folder, verifier), verifier.name);
}

async function readKeyFile(folder: string, file: string, origin: string): Promise<Signer | undefined> {
  const key = await readPrivateKey(folder, file);
  return key && signerOf(origin, key);
}

/** A private key, or undefined when there is no such file. Throws a Refusal (exit 3) when other users may read it. */
export async function readPrivateKey(folder: string, file: string): Promise<KeyObject | undefined> {
  const handle = await openIfThere(file);
  if (!handle) return undefined;
  try {
    // Asks the open file: another could be put in its place between the check and the reading.
    assertPrivate(file, (await handle.stat()).mode, 0o600);
    await assertFolderPrivate(folder, 0o700);
    return privateKeyIn(file, await handle.readFile('utf8'));
  } finally {
    await handle.close();
  }
}

function privateKeyIn(file: string, pem: string): KeyObject {
  let key: KeyObject;
  try {
    key = createPrivateKey({ key: pem, format: 'pem', type: 'pkcs8' });
  } catch {
    // The error of the library is not passed on: it might quote the file.
    throw refuse('log.private-key-unreadable', file, {});
  }
  if (key.asymmetricKeyType !== 'ed25519') throw refuse('log.private-key-not-ed25519', file, {});
  return key;
}

const assertFolderPrivate = async (folder: string, mode: number): Promise<void> =>
  assertPrivate(folder, (await stat(folder)).mode, mode);

function assertPrivate(path: string, mode: number, expectedMode: number): void {
  // Windows keeps no such bits, and what it shows in their place means nothing.
  if (process.platform === 'win32' || (mode & 0o077) === 0) return;
  throw refuse('log.key-open-to-others', path, { mode: expectedMode.toString(8) });
}

/**
 * Puts a key aside whose log has ended, with what it signed last and the history of keys: it must never sign another
 * history of events.
 */
export async function retireKey(folder: string, origin: string, size: number): Promise<void> {
  const mark = randomBytes(4).toString('hex');
  const ending = [privateFile(folder, origin), lastFile(folder, origin), historyFile(folder, origin)];
  for (const file of ending) {
    const aside = file.replace(/\.(\w+)$/, `.ended-at-${size}-${mark}.$1`);
    await rename(file, aside).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'ENOENT') throw error;
    });
  }
}

/** Puts the key in use aside, where nothing signs with it; gives the file. */
export async function putKeyAside(folder: string, signer: Signer): Promise<string> {
  const file = retiredFile(folder, signer);
  await rename(privateFile(folder, signer.name), file);
  return file;
}

/** The history of keys that is kept here, or undefined. Throws a Refusal where it cannot be read. */
export async function readHistory(folder: string, origin: string): Promise<KeyHistory | undefined> {
  const file = historyFile(folder, origin);
  const text = await textIfThere(file);
  if (text === undefined) return undefined;
  const read = readKeys(text);
  if (!read.ok) throw refuse('log.history-unreadable', file, { reason: read.problem });
  if (read.history.origin === origin) return read.history;
  throw refuse('log.history-of-other-log', file, { origin: read.history.origin, name: origin });
}

export const writeHistory = (folder: string, history: KeyHistory): Promise<void> =>
  replacePrivateFile(historyFile(folder, history.origin), formatHistory(history));

/**
 * What was signed last in this log as far as this machine knows, with this key or one before it; undefined when nothing.
 */
export async function lastSigned(folder: string, signer: Signer): Promise<Checkpoint | undefined> {
  const file = lastFile(folder, signer.name);
  const note = await textIfThere(file);
  if (note === undefined) return undefined;
  const opened = openCheckpoint(note, signer);
  if (opened.ok) return opened.checkpoint;
  // Its size does not matter: the file is our own, and a key that ended early may have signed more before.
  const earlier = (await readHistory(folder, signer.name))?.keys ?? [];
  const read = readNote(note);
  const signed = read.ok && earlier.some(({ verifier }) => !signatureProblem(read.note, verifier));
  const remembered = signed ? readCheckpoint(read.note) : undefined;
  if (remembered?.ok && remembered.checkpoint.origin === signer.name) return remembered.checkpoint;
  throw refuse('log.last-signed-wrong', file, { reason: opened.problem });
}

/** The text of a file kept here, or undefined when there is none. */
export async function textIfThere(file: string): Promise<string | undefined> {
  const handle = await openIfThere(file);
  return handle?.readFile('utf8').finally(() => handle.close());
}

/** Opens a file kept here, or undefined when there is none. Throws a Refusal (exit 3) for what is no file. */
async function openIfThere(file: string): Promise<FileHandle | undefined> {
  // Not blocking: a pipe is refused rather than waited for.
  const handle = await open(file, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0)).catch(
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return undefined;
      // What the system gives for a socket.
      throw error.code === 'ENXIO' ? refuse('log.not-a-file', file, {}) : error;
    },
  );
  if (!handle || (await handle.stat()).isFile()) return handle;
  await handle.close();
  throw refuse('log.not-a-file', file, {});
}

/**
 * The same without the key at hand, for a log that was signed here once; the file is the owner's own, so its signature is
 * not asked for. Undefined too where it cannot be read as a checkpoint.
 */
export async function lastRemembered(folder: string, origin: string): Promise<Checkpoint | undefined> {
  const note = await textIfThere(lastFile(folder, origin));
  const read = note === undefined ? undefined : readNote(note);
  const checkpoint = read?.ok ? readCheckpoint(read.note) : undefined;
  return checkpoint?.ok ? checkpoint.checkpoint : undefined;
}

/** Remembers what was signed, for the next time, unless something larger was. */
export async function writeLastSigned(folder: string, signer: Signer, note: string): Promise<void> {
  const opened = openCheckpoint(note, signer);
  if (!opened.ok) throw new RangeError('only what this key signed can be remembered');
  const before = await lastSigned(folder, signer);
  if (before && before.size >= opened.checkpoint.size) return;
  await replacePrivateFile(lastFile(folder, signer.name), note);
}

/** Writes a file that only its owner reads. Whoever reads it meanwhile finds the old text or the new one, whole. */
export async function replacePrivateFile(file: string, text: string): Promise<void> {
  const temporary = `${file}.${randomBytes(6).toString('hex')}`;
  try {
    await writeFile(temporary, text, { flag: 'wx', mode: 0o600, flush: true });
    await rename(temporary, file);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw ofFile(error, file);
  }
}

/** An error of the disk with the file that it is about: the system names none where a disk is full. */
export function ofFile(error: unknown, file: string): unknown {
  if (error instanceof Error && 'syscall' in error) (error as NodeJS.ErrnoException).path = file;
  return error;
}
