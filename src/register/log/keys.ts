import { createPrivateKey, generateKeyPairSync, type KeyObject, randomBytes } from 'node:crypto';
import { mkdir, open, readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { refuse } from '../../problem.js';
import { type Checkpoint, openCheckpoint, type Signer, signerOf } from './note.js';
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
  throw refuse(
    2,
    `log ${origin.slice(0, 80)}`,
    'This program makes no keys of such a name.',
    'Sign it where it was signed before.',
  );
};

const privateFile = (folder: string, origin: string): string => fileOf(folder, origin, 'pem');
/** What was signed last. It lies by the key and not by the register: an old copy of the register shows against it. */
const lastFile = (folder: string, origin: string): string => fileOf(folder, origin, 'last');

/** Throws a Refusal (exit 2) when the folder of keys lies in a workshop. */
export async function mustBeOutside(folder: string, workshop: string): Promise<void> {
  const way = relative(await real(workshop), await real(folder));
  if (way !== '' && (way === '..' || way.startsWith(`..${sep}`) || isAbsolute(way))) return;
  throw refuse(
    2,
    folder,
    'The folder of keys lies in the workshop, which is copied and shown to others.',
    'Let BURIN_KEYS name a folder elsewhere.',
  );
}

/** The path without links, also for what is not made yet. */
async function real(path: string): Promise<string> {
  const whole = resolve(path);
  const found = await realpath(whole).catch(() => undefined);
  if (found !== undefined) return found;
  const above = dirname(whole);
  return above === whole ? whole : join(await real(above), relative(above, whole));
}

/** Makes a key and keeps it. Throws a Refusal: exit 3 when there is one, which is never written over. */
export async function makeKey(folder: string, origin: string): Promise<Signer> {
  const file = privateFile(folder, origin);
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await mustBeOwn(folder, 0o700);
  const { privateKey } = generateKeyPairSync('ed25519');
  const made = await open(file, 'wx', 0o600).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error;
    throw refuse(
      3,
      file,
      `There is a key of ${origin} already.`,
      'Use it, or move it to a safe place first; without it nothing new can be signed as before.',
    );
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

/** The key of a log, or undefined when there is none here. Throws a Refusal (exit 3) when others may read it. */
export async function readKey(folder: string, origin: string): Promise<Signer | undefined> {
  const file = privateFile(folder, origin);
  const there = await open(file, 'r').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (!there) return undefined;
  try {
    // Asked of what is open: a file put in its place between asking and reading would not have been asked.
    mustBeClosed(file, (await there.stat()).mode, 0o600);
    await mustBeOwn(folder, 0o700);
    return signerOf(origin, privateKeyIn(file, await there.readFile('utf8')));
  } finally {
    await there.close();
  }
}

function privateKeyIn(file: string, pem: string): KeyObject {
  const cure = 'Bring it back from your copy of the key.';
  let key: KeyObject;
  try {
    key = createPrivateKey({ key: pem, format: 'pem', type: 'pkcs8' });
  } catch {
    // The error of the library is not passed on: nobody knows what of the file it tells.
    throw refuse(3, file, 'It holds no private key that can be read.', cure);
  }
  if (key.asymmetricKeyType !== 'ed25519') throw refuse(3, file, 'It holds no Ed25519 key.', cure);
  return key;
}

const mustBeOwn = async (folder: string, mode: number): Promise<void> =>
  mustBeClosed(folder, (await stat(folder)).mode, mode);

function mustBeClosed(path: string, mode: number, wanted: number): void {
  // Windows keeps no such bits, and what it shows in their place means nothing.
  if (process.platform === 'win32' || (mode & 0o077) === 0) return;
  const cure = `\`chmod ${wanted.toString(8)}\` it; if a stranger may have read it, make a new key.`;
  throw refuse(3, path, 'Others of this machine can get at the key.', cure);
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
  throw refuse(
    3,
    file,
    `It should hold what this key signed last. ${opened.what}`,
    'If the key is a new one, put this file with the old key; else audit the register first.',
  );
}

/** Remembers what was signed, for the next time, unless something larger was. */
export async function rememberSigned(folder: string, signer: Signer, note: string): Promise<void> {
  const opened = openCheckpoint(note, signer);
  if (!opened.ok) throw new RangeError('only what this key signed is remembered');
  const before = await lastSigned(folder, signer);
  if (before && before.size >= opened.checkpoint.size) return;
  // Whoever reads it meanwhile finds what was there before, or all of the new.
  const file = lastFile(folder, signer.name);
  const beside = `${file}.${randomBytes(6).toString('hex')}`;
  try {
    await writeFile(beside, note, { flag: 'wx', mode: 0o600, flush: true });
    await rename(beside, file);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}
