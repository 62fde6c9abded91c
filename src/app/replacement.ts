import { cp, lstat, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../parse-json.js';
import { type Problem, Refusal } from '../problem.js';
import { problem } from './messages.js';
import { isCutFile } from './own-files.js';

/** Where what is replaced is kept until all is in place. No staged entry begins with a point. */
const BEFORE = '.before';
/** Lists what is being moved. As long as it is there, the replacement is not done. */
const JOURNAL = '.replacing.json';

interface Entry {
  readonly name: string;
  readonly folder: boolean;
  /** Whether something of that name is replaced. */
  readonly replaces: boolean;
}

/**
 * Moves the entries of a hidden folder into a folder that is there. All places are looked at first; then comes what must be
 * done before anything is seen, and then nothing but renames, and if one fails those before it are taken back. Folders go first: the run sheet, which says what to cut,
 * must not be there before what it speaks of. Throws a Refusal (exit 2) naming what stands in the way.
 */
export async function replaceEntries(
  from: string,
  to: string,
  before: () => Promise<void> = async () => undefined,
): Promise<void> {
  const entries = await plannedEntries(from, to);
  for (const { name } of entries.filter((e) => e.folder && e.replaces))
    await keepStrays(join(to, name), join(from, name));
  await mkdir(join(from, BEFORE));
  await before();
  await writeFile(join(from, JOURNAL), JSON.stringify(entries), { flush: true });
  try {
    for (const { name, replaces } of entries) {
      if (replaces) await rename(join(to, name), join(from, BEFORE, name));
      await rename(join(from, name), join(to, name));
    }
    await rm(join(from, JOURNAL));
  } catch (error) {
    await undoReplacement(from, to);
    throw error;
  }
}

/**
 * Puts back what an unfinished replacement has moved, the last first; nothing where there is none. It begins from whatever
 * the renames have come to, and may itself be begun again.
 */
export async function undoReplacement(from: string, to: string): Promise<void> {
  const text = await readFile(join(from, JOURNAL), 'utf8').catch(() => undefined);
  if (text === undefined) return;
  for (const { name, replaces } of entriesIn(text).reverse()) {
    const [staged, place, before] = [join(from, name), join(to, name), join(from, BEFORE, name)];
    const kept = await exists(before);
    // A name that is neither staged nor free holds the new entry, unless its old one was never moved.
    if (!(await exists(staged)) && (kept || !replaces) && (await exists(place))) await rename(place, staged);
    if (kept && !(await exists(place))) await rename(before, place);
  }
  await rm(join(from, JOURNAL));
}

/** A journal that was cut short was never acted on; one of another form is not ours. */
function entriesIn(text: string): Entry[] {
  return journal.safeParse(parseJson(text)).data ?? [];
}

const journal = z.array(
  z.strictObject({
    // A name in the folder itself, and nowhere else.
    name: z.string().regex(/^(?!\.)[^/\\]+$/),
    folder: z.boolean(),
    replaces: z.boolean(),
  }),
);

async function plannedEntries(from: string, to: string): Promise<Entry[]> {
  const problems: Problem[] = [];
  const entries: Entry[] = [];
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const { name } = entry;
    const folder = entry.isDirectory();
    const place = join(to, name);
    const there = await lstat(place).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return undefined;
      throw error;
    });
    if (there && !(folder ? there.isDirectory() : there.isFile()))
      problems.push(problem('app.place-taken', place, { wanted: folder ? 'folder' : 'file' }));
    entries.push({ name, folder, replaces: there !== undefined });
  }
  if (problems.length > 0) throw new Refusal(problems);
  return entries.sort((a, b) => Number(b.folder) - Number(a.folder) || (a.name < b.name ? -1 : 1));
}

/** What a piece's folder holds besides the files of an earlier cut was put there by a person, and stays. */
async function keepStrays(from: string, to: string): Promise<void> {
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const [file, kept] = [join(from, entry.name), join(to, entry.name)];
    // A file of the name of one that is cut now was written by burin, unless it was changed beyond knowing.
    if (entry.isFile() && ((await exists(kept)) || (await isCutFile(file)))) continue;
    if (await exists(kept)) throw new Refusal([problem('app.place-taken', file, { wanted: 'file' })]);
    await cp(file, kept, { recursive: true, verbatimSymlinks: true, preserveTimestamps: true });
  }
}

const exists = async (path: string): Promise<boolean> =>
  (await lstat(path).catch(() => undefined)) !== undefined;
