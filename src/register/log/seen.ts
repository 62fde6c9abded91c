import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../../parse-json.js';
import { replacePrivateFile, textIfThere } from './keys.js';
import { refuse } from './messages.js';

/**
 * What this machine last saw of a workshop's register. It is kept with the keys and not in the workshop, so that it shows
 * an older, a shorter and another register for what they are.
 */

const hash = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .transform((text) => Buffer.from(text, 'hex'));

const seenRegister = z.strictObject({
  version: z.literal(1),
  id: z.string().regex(/^[0-9a-f]{32}$/),
  /** The name of the workshop, as origin of its log. */
  origin: z.string(),
  /** The folder of the workshop. */
  folder: z.string(),
  /** The register: its file, or host and database. */
  place: z.string(),
  size: z.int().min(0),
  /** Hashes of the first event, which no other register has, and of the last one seen. */
  first: hash.optional(),
  last: hash.optional(),
  /** How many events a paper proves, where nobody has answered yet for those that are missing. */
  proved: z.int().min(0).optional(),
});

type Stored = Omit<z.infer<typeof seenRegister>, 'version'>;
export interface SeenRegister extends Omit<Stored, 'first' | 'last'> {
  readonly first?: Buffer | undefined;
  readonly last?: Buffer | undefined;
}

const FOLDER = 'workshops';
const ENDING = '.json';
const isMissing = (error: unknown): boolean =>
  ['ENOENT', 'ENOTDIR'].includes((error as NodeJS.ErrnoException).code ?? '');

const fileOf = (keysFolder: string, id: string): string => join(keysFolder, FOLDER, `${id}${ENDING}`);

/** What was last seen of the register of a workshop; undefined when nothing. */
export async function readSeen(keysFolder: string, id: string): Promise<SeenRegister | undefined> {
  const file = fileOf(keysFolder, id);
  let text: string | undefined;
  try {
    text = await textIfThere(file);
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
  if (text === undefined) return undefined;
  const read = seenRegister.safeParse(parseJson(text));
  if (!read.success || read.data.id !== id) throw refuse('log.seen-unreadable', file, {});
  const { version, ...seen } = read.data;
  return seen;
}

/** What was last seen of every register. */
export async function readAllSeen(keysFolder: string): Promise<SeenRegister[]> {
  let names: string[];
  try {
    names = await readdir(join(keysFolder, FOLDER));
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
  const ids = names.filter((name) => /^[0-9a-f]{32}\.json$/.test(name)).sort();
  const all = await Promise.all(ids.map((name) => readSeen(keysFolder, name.slice(0, -ENDING.length))));
  return all.filter((one) => one !== undefined);
}

/** Remembers what was seen; whoever reads it meanwhile finds the old text or the new one, whole. */
export async function writeSeen(keysFolder: string, seen: SeenRegister): Promise<void> {
  const file = fileOf(keysFolder, seen.id);
  await mkdir(join(keysFolder, FOLDER), { recursive: true, mode: 0o700 });
  const hex = (bytes: Buffer | undefined) => bytes?.toString('hex');
  const text = JSON.stringify({ version: 1, ...seen, first: hex(seen.first), last: hex(seen.last) }, null, 2);
  await replacePrivateFile(file, `${text}\n`);
}
