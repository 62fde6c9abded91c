import { lstatSync, readdirSync } from 'node:fs';
import { cp, lstat, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../parse-json.js';
import { type Problem, Refusal } from '../problem.js';
import { isThere } from './disk.js';
import { FileReader } from './file-reader.js';
import { FilesAsRead, stampOf } from './files-as-read.js';
import { carryOver, foreignFiles, type IsOurs } from './foreign-files.js';
import { HIDDEN_MARK, unmark } from './hidden-folder.js';
import { problem } from './messages.js';
import { planOutput } from './output-change.js';
import { type Digests, formatOutputList, OUTPUT_LIST, parseOutputList, sha256 } from './output-list.js';
import { assertAsProved, assertNothingAdded } from './staged-files.js';

/** Where what is replaced is kept until all is in place. No staged entry begins with a point. */
const BEFORE = '.before';
/** Lists what burin wrote of that which is moved: all else is a person's. */
const WRITTEN = '.written.sha256';
/** Lists what is being moved. As long as it is there, the replacement is not done. */
const JOURNAL = '.replacing.json';

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;

interface Entry {
  readonly name: string;
  readonly folder: boolean;
  /** Whether something of that name is replaced. */
  readonly replaces: boolean;
}

/**
 * Moves the entries of a hidden folder into a folder that is there. All places are looked at first; then comes what must be
 * done before anything is seen, and then nothing but renames, and if one fails those before it are taken back. Folders go first: the run sheet, which says what to cut,
 * must not be there before what it speaks of. Right before its move, and when all are in place, each staged file must be as it
 * was proved. Before the old is given up it is looked at once more: what a person put there meanwhile goes with the new.
 * Throws a Refusal naming what stands in the way: exit 2 for what is of another kind, 3 for a file that burin did not write
 * or that was changed since. `proved` are all staged files.
 */
export async function replaceEntries(
  from: string,
  to: string,
  proved: FilesAsRead,
  before: () => Promise<void> = async () => undefined,
): Promise<void> {
  const parts = byEntry(proved.digests).set(OUTPUT_LIST, [OUTPUT_LIST]);
  // Made here, since it takes a place too; what it says of the rest of the output comes later.
  await writeFile(join(from, OUTPUT_LIST), formatOutputList(proved.digests));
  assertNothingAdded(from, to, '', (path) => parts.has(path) || path === HIDDEN_MARK);
  const entries = await plannedEntries(from, to);
  const { strays, replaced, list } = await planOutput(to, proved.digests);
  const strayFiles = { old: new FilesAsRead(), copies: new FilesAsRead() };
  for (const path of strays) {
    noteStamps(strayFiles.old, to, path);
    await keepStray(join(to, path), join(from, path));
    noteStamps(strayFiles.copies, from, path);
  }
  await writeList(from, list, proved);
  await writeFile(join(from, WRITTEN), formatOutputList(proved.digests), { flush: true });
  await mkdir(join(from, BEFORE));
  const known = new Set(strays);
  const assertStaged = ({ name, folder }: Entry): void => {
    assertAsProved(from, to, proved, parts.get(name));
    if (folder) assertNothingAdded(from, to, name, (path) => proved.digests.has(path) || known.has(path));
  };
  // Before anything is entered, too.
  for (const entry of entries) assertStaged(entry);
  await before();
  await writeFile(join(from, JOURNAL), JSON.stringify(entries), { flush: true });
  try {
    for (const entry of entries) {
      const { name, replaces } = entry;
      if (replaces) await rename(join(to, name), join(from, BEFORE, name));
      assertStaged(entry);
      await rename(join(from, name), join(to, name));
    }
    assertAsProved(to, to, proved);
    await keepLate(join(from, BEFORE), to, entries, replaced, strayFiles.old);
    await rm(join(from, JOURNAL));
  } catch (error) {
    await undoReplacement(from, to, strayFiles.copies);
    throw error;
  }
}

/** Makes a hidden folder the output, where none is there yet, under the same terms. */
export async function placeWhole(
  from: string,
  to: string,
  proved: FilesAsRead,
  before: () => Promise<void> = async () => undefined,
): Promise<void> {
  await writeList(from, proved.digests, proved);
  const parts = byEntry(proved.digests);
  const assertStaged = (): void => {
    assertAsProved(from, to, proved);
    for (const [name, paths] of parts)
      if (paths[0] !== name) assertNothingAdded(from, to, name, (path) => proved.digests.has(path));
    assertNothingAdded(from, to, '', (path) => parts.has(path) || path === HIDDEN_MARK);
  };
  assertStaged();
  await before();
  assertStaged();
  await unmark(from);
  await rename(from, to);
  try {
    assertAsProved(to, to, proved);
  } catch (error) {
    await rename(to, from);
    for (const name of await readdir(from))
      await carryOver(
        from,
        to,
        foreignFiles(from, to, name, (path) => proved.digests.has(path)),
      );
    throw error;
  }
}

async function writeList(from: string, list: Digests, proved: FilesAsRead): Promise<void> {
  const text = formatOutputList(list);
  await writeFile(join(from, OUTPUT_LIST), text);
  proved.add(OUTPUT_LIST, sha256(text));
}

/** The paths of files by the entry of the output folder that each is or lies in. */
function byEntry(digests: Digests): Map<string, string[]> {
  const parts = new Map<string, string[]>();
  for (const path of digests.keys()) {
    const [name = ''] = path.split('/', 1);
    const paths = parts.get(name);
    if (paths) paths.push(path);
    else parts.set(name, [path]);
  }
  return parts;
}

/**
 * Moves to the new folders what a person put into the old ones after all places were looked at. Throws a Refusal (exit 3)
 * naming what else they changed there. `copied` are theirs that went with the new ones already.
 */
async function keepLate(
  before: string,
  to: string,
  entries: readonly Entry[],
  replaced: FilesAsRead,
  copied: FilesAsRead,
): Promise<void> {
  const isOurs: IsOurs = (path, place, isFile) =>
    isFile && (replaced.isAsRead(path, place) || copied.isAsRead(path, place));
  const late = entries
    .filter((entry) => entry.replaces)
    .map(({ name }) => foreignFiles(before, to, name, isOurs));
  const problems = late.flatMap(({ taken }) => inTheWay(to, taken, replaced.digests));
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));
  for (const files of late) await carryOver(before, to, files);
}

/**
 * Puts back what an unfinished replacement has moved, the last first; nothing where there is none. It begins from whatever
 * the renames have come to, and may itself be begun again. What a person put into a new folder meanwhile goes to where the
 * old one is. Throws a Refusal naming what has no place there, before anything is moved: what burin wrote and a person
 * changed since, too, unless it is undone in the run that began it, where it is a fault of the disk or of another program:
 * that run gives its `copies` of a person's files.
 */
export async function undoReplacement(from: string, to: string, copies?: FilesAsRead): Promise<void> {
  const text = await readFile(join(from, JOURNAL), 'utf8').catch(() => undefined);
  if (text === undefined) return;
  const entries = entriesIn(text).reverse();
  const written = parseOutputList(await readFile(join(from, WRITTEN), 'utf8').catch(() => ''));
  const reader = new FileReader();
  const isOurs: IsOurs = (path, place, isFile) =>
    copies
      ? written?.has(path) === true || (isFile && copies.isAsRead(path, place))
      : isFile && written?.get(path) === reader.sha256(place);

  const problems: Problem[] = [];
  for (const { name, folder } of entries) {
    const [staged, place, before] = placesOf(from, to, name);
    if (!(await isThere(before)) || !(await isThere(place))) continue;
    // Nothing of burin's is there while the new entry is still staged and the old one kept.
    if (await isThere(staged))
      problems.push(problem('app.place-taken', place, { wanted: folder ? 'folder' : 'file' }));
    else problems.push(...inTheWay(to, foreignFiles(to, join(from, BEFORE), name, isOurs).taken, written));
  }
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));

  for (const { name, replaces } of entries) {
    const [staged, place, before] = placesOf(from, to, name);
    const kept = await isThere(before);
    // A name that is neither staged nor free holds the new entry, unless its old one was never moved.
    const isNew = !(await isThere(staged)) && (kept || !replaces) && (await isThere(place));
    if (isNew && kept)
      await carryOver(to, join(from, BEFORE), foreignFiles(to, join(from, BEFORE), name, isOurs));
    if (isNew) await rename(place, staged);
    if (kept && !(await isThere(place))) await rename(before, place);
    if (isNew) await carryOver(from, to, foreignFiles(from, to, name, isOurs));
  }
  await rm(join(from, JOURNAL));
}

/** Where the new entry is staged, where it is put, and where the one that it replaces is kept. */
const placesOf = (from: string, to: string, name: string) =>
  [join(from, name), join(to, name), join(from, BEFORE, name)] as const;

const inTheWay = (dir: string, paths: readonly string[], written: Digests | undefined): Problem[] =>
  paths.map((path) =>
    problem(written?.has(path) ? 'app.output-changed' : 'app.output-not-listed', join(dir, path), {}),
  );

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
    if (name === HIDDEN_MARK) continue;
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

/** Notes every file below a path by what the system says of it; it need not be read for that. */
function noteStamps(files: FilesAsRead, dir: string, path: string): void {
  const found = lstatSync(join(dir, path), { throwIfNoEntry: false });
  if (found?.isDirectory())
    for (const name of readdirSync(join(dir, path))) noteStamps(files, dir, `${path}/${name}`);
  else if (found?.isFile()) files.addUnread(path, stampOf(join(dir, path)));
}

/** What a person put into the folder of a piece goes with the new one. */
async function keepStray(from: string, to: string): Promise<void> {
  // On a disk that takes large and small letters for the same.
  if (await isThere(to)) throw new Refusal([problem('app.place-taken', from, { wanted: 'file' })]);
  try {
    await cp(from, to, { recursive: true, verbatimSymlinks: true, preserveTimestamps: true });
  } catch (error) {
    // A pipe, a socket or a device.
    const { code } = error as NodeJS.ErrnoException;
    throw code?.startsWith('ERR_FS_CP') ? new Refusal([problem('app.cannot-keep', from, {})]) : error;
  }
}
