import { join } from 'node:path';
import { Refusal } from '../../problem.js';
import { type Cosigner, cosignerOf, readWitness, type Witness, witnessLine } from './cosignature.js';
import { continuesHistory, formatHistory, type KeyHistory, readKeys } from './key-history.js';
import { makePrivateKey, readPrivateKey, replacePrivateFile, textIfThere } from './keys.js';
import { refuse } from './messages.js';
import { slugIn, slugOf } from './origin.js';
import { readSeenHead, type SeenHead } from './witness.js';

/**
 * What a witness keeps, in one folder of its own: its key, and for each log the maker's keys and the last head that it
 * cosigned. No name of a log can be that of a key: the endings differ.
 */
const KEY = 'own.pem';
const LINE = 'own.pub';
const fileOf = (folder: string, origin: string, ending: 'maker' | 'seen'): string => {
  const slug = slugIn(origin);
  if (slug === undefined) throw refuse('log.name-not-of-burin', `log ${origin.slice(0, 80)}`, {});
  return join(folder, `${slug}.${ending}`);
};

/** The name of a witness as its key has it. */
export const witnessName = (name: string): string => `burin-witness/${slugOf(name)}`;

/** Makes the key of a witness. Throws a Refusal: exit 3 when there is one, which is never written over. */
export async function makeWitness(folder: string, name: string): Promise<Witness> {
  const exists = () => refuse('witness.key-exists', join(folder, KEY), {});
  if ((await textIfThere(join(folder, LINE))) !== undefined) throw exists();
  const witness = cosignerOf(witnessName(name), await makePrivateKey(folder, join(folder, KEY), exists));
  await replacePrivateFile(join(folder, LINE), `${witnessLine(witness)}\n`);
  return witness;
}

/** The witness of this folder. Throws a Refusal: exit 2 when there is none. */
export async function openWitness(folder: string): Promise<Cosigner> {
  const [line, key] = [
    await textIfThere(join(folder, LINE)),
    await readPrivateKey(folder, join(folder, KEY)),
  ];
  if (line === undefined || !key) throw refuse('witness.none', folder, {});
  const read = readWitness(line);
  const own = read.ok ? cosignerOf(read.witness.name, key) : undefined;
  if (!read.ok || !own?.publicKey.equals(read.witness.publicKey))
    throw refuse('witness.key-differs', join(folder, LINE), {});
  return own;
}

/** The keys of the maker of a log, as they were added here; undefined where the log was not. */
export async function makersKeys(folder: string, origin: string): Promise<KeyHistory | undefined> {
  const file = fileOf(folder, origin, 'maker');
  const text = await textIfThere(file);
  if (text === undefined) return undefined;
  const read = readKeys(text);
  if (read.ok && read.history.origin === origin) return read.history;
  throw refuse('witness.maker-unreadable', file, {});
}

/** Takes a log by the keys of its maker, or a later history of these. Throws a Refusal (exit 3) for another key. */
export async function addMaker(folder: string, keys: KeyHistory): Promise<void> {
  const before = await makersKeys(folder, keys.origin);
  if (before && !continuesHistory(keys, before)) throw refuse('witness.other-key', `log ${keys.origin}`, {});
  await replacePrivateFile(fileOf(folder, keys.origin, 'maker'), formatHistory(keys));
}

export const seenFile = (folder: string, origin: string): string => fileOf(folder, origin, 'seen');

/** The last head of a log that was cosigned here. Throws a Refusal (exit 3) where it cannot be read. */
export async function seenHead(
  folder: string,
  origin: string,
  witness: Cosigner,
): Promise<SeenHead | undefined> {
  const file = seenFile(folder, origin);
  const text = await textIfThere(file);
  if (text === undefined) return undefined;
  const read = readSeenHead(text, witness);
  if (read.ok && read.origin === origin) return read;
  const reason = read.ok ? [] : [read.problem];
  throw new Refusal([...refuse('witness.seen-unreadable', file, {}).problems, ...reason]);
}

export const rememberHead = (folder: string, origin: string, note: string): Promise<void> =>
  replacePrivateFile(seenFile(folder, origin), note);
