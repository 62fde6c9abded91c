import { lstat, mkdir, readdir, readFile, rm, rmdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ifMissing, isThere } from './disk.js';
import { OUTPUT_LIST, parseOutputList } from './output-list.js';

/**
 * In every hidden folder, so that none but burin's own is ever removed: a name alone may be that of a person's folder.
 * It is never put in place.
 */
export const HIDDEN_MARK = '.burin-writes-here';

/** How the name of a hidden folder ends, after the mark of the process that fills it. */
const ENDING = /^\d+-\d+\.partial$/;

/** Where hidden folders are, and how their names begin. */
export interface HiddenPlace {
  readonly parent: string;
  readonly prefix: string;
}

/** The hidden folder of a process; `mark` tells it from those of others. */
export const hiddenFolder = ({ parent, prefix }: HiddenPlace, mark: string): string =>
  join(parent, `${prefix}${mark}.partial`);

/** Throws the system's error where something has that name. */
export async function makeHiddenFolder(hidden: string, { prefix }: HiddenPlace): Promise<void> {
  await mkdir(hidden);
  try {
    await writeFile(join(hidden, HIDDEN_MARK), markText(prefix));
  } catch (error) {
    await rm(hidden, { recursive: true, force: true }).catch(() => undefined);
    throw error;
  }
}

/** Before a hidden folder becomes the output itself, its list in it. */
export const unmark = (hidden: string): Promise<void> => rm(join(hidden, HIDDEN_MARK), { force: true });

/**
 * The hidden folders that runs into this very output left behind. Those of an output whose name begins with this one's, and
 * whatever burin did not make, are not among them.
 */
export async function leftFolders(place: HiddenPlace): Promise<string[]> {
  const left: string[] = [];
  for (const name of await readdir(place.parent)) {
    if (!name.startsWith(place.prefix) || !ENDING.test(name.slice(place.prefix.length))) continue;
    const folder = join(place.parent, name);
    if ((await lstat(folder).catch(ifMissing(undefined)))?.isDirectory() && (await isOurs(folder, place)))
      left.push(folder);
  }
  return left;
}

async function isOurs(folder: string, { prefix }: HiddenPlace): Promise<boolean> {
  const mark = await textOf(join(folder, HIDDEN_MARK));
  // One cut short as it was written.
  if (mark !== undefined) return markText(prefix).startsWith(mark);
  // Ended right before it became the output.
  const list = await textOf(join(folder, OUTPUT_LIST));
  if (list !== undefined) return parseOutputList(list) !== undefined;
  // Ended right after it was made. With anything in it, it stays.
  await rmdir(folder).catch(() => undefined);
  return false;
}

const textOf = async (file: string): Promise<string | undefined> =>
  (await isThere(file)) ? readFile(file, 'utf8').catch(() => undefined) : undefined;

const markText = (prefix: string): string =>
  `burin writes what will replace ${prefix.slice(1, -1)} here, and removes this folder.\n`;
