import { createPrivateKey, generateKeyPairSync, type KeyObject, randomBytes } from 'node:crypto';
import { mkdir, open, readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { refuse } from './messages.js';
import { type Checkpoint, openCheckpoint, readCheckpoint, readNote, type Signer, signerOf } from './note.js';
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

/** Makes a key and keeps it. Throws a Refusal: exit 3 when there is one, which is never written over. */
export async function makeKey(folder: string, origin: string): Promise<Signer> {
  const file = privateFile(folder, origin);
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await assertFolderPrivate(folder, 0o700);
  const { privateKey } = generateKeyPairSync('ed25519');
  const made = await open(file, 'wx', 0o600).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error;
    throw refuse('log.key-exists', file, { origin });
  });
  try {
    await made.writeFile(privateKey.export({ format: 'pem', type: 'pkcs8' }));
    await made.sync();
    await made.close();
  } catch (error) {
    await made.close().catch(() => undefined);
    await rm(file, { force: true });
    throw error;
  }
  return signerOf(origin, privateKey);
}

/** The key of a log, or undefined when there is none here. Throws a Refusal (exit 3) when other users may read it. */
export async function readKey(folder: string, origin: string): Promise<Signer | undefined> {
  const file = privateFile(folder, origin);
  const handle = await open(file, 'r').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (!handle) return undefined;
  try {
    // Asks the open file: another could be put in its place between the check and the reading.
    assertPrivate(file, (await handle.stat()).mode, 0o600);
    await assertFolderPrivate(folder, 0o700);
    return signerOf(origin, privateKeyIn(file, await handle.readFile('utf8')));
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

/** Puts a key aside whose log has ended, with what it signed last: it must never sign another history. */
export async function retireKey(folder: string, origin: string, size: number): Promise<void> {
  const mark = randomBytes(4).toString('hex');
  for (const file of [privateFile(folder, origin), lastFile(folder, origin)]) {
    const aside = file.replace(/\.(\w+)$/, `.ended-at-${size}-${mark}.$1`);
    await rename(file, aside).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'ENOENT') throw error;
    });
  }
}

/** What this key signed last as far as this machine knows; undefined when nothing. */
export async function lastSigned(folder: string, signer: Signer): Promise<Checkpoint | undefined> {
  const file = lastFile(folder, signer.name);
  const note = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (note === undefined) return undefined;
  const opened = openCheckpoint(note, signer);
  if (opened.ok) return opened.checkpoint;
  throw refuse('log.last-signed-wrong', file, { reason: opened.problem });
}

/**
 * The same without the key at hand, for a log that was signed here once; the file is the owner's own, so its signature is
 * not asked for. Undefined too where it cannot be read as a checkpoint.
 */
export async function lastRemembered(folder: string, origin: string): Promise<Checkpoint | undefined> {
  const note = await readFile(lastFile(folder, origin), 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
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
  // Whoever reads it meanwhile finds the old text or the new one, whole.
  const file = lastFile(folder, signer.name);
  const temporary = `${file}.${randomBytes(6).toString('hex')}`;
  try {
    await writeFile(temporary, note, { flag: 'wx', mode: 0o600, flush: true });
    await rename(temporary, file);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}
