import { mkdir, realpath, rm, rmdir, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { folders } from '../documents/schemas.js';
import { ARTWORK_FOLDER } from '../documents/side-files.js';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';
import { type HiddenPlace, hiddenFolder, leftFolders, makeHiddenFolder } from './hidden-folder.js';
import { refuse } from './messages.js';
import { lockOutput } from './output-lock.js';
import { placeWhole, replaceEntries, undoReplacement } from './replacement.js';
import { checkStagedFiles, type StagedFile, stagedFile } from './staged-files.js';
import { type FileToWrite, writeFiles } from './write-files.js';

/**
 * A hidden folder that is filled: files are written beside the wanted folder, read again when all of them are there, and
 * moved into place only when their bytes are right. A piece's folder is replaced as a whole, so that no sheet of today
 * lies beside a program of yesterday; the other pieces' folders, and whatever a person put there, are kept. A list of what
 * was written comes with it, and tells the next run what it may replace.
 */
export interface Staging {
  /** Writes files as they are made, and gives what their maker returns at its end. */
  writeFiles<T>(files: Iterator<FileToWrite, T>): Promise<T>;
  /**
   * Reads every file again, does what must come before anyone sees them, and moves all into place. Throws a Refusal
   * (exit 1) when a byte on disk is not right; where `before` throws, nothing is moved.
   */
  publish(before?: () => Promise<void>): Promise<void>;
  /** Takes everything away again. */
  discard(): Promise<void>;
}

/**
 * Takes the wanted folder for this process until all is published or discarded. Throws a Refusal (exit 2), naming it, when
 * the disk does not take it, it holds documents, or another process writes there.
 */
export async function stage(dir: string): Promise<Staging> {
  const target = resolve(dir);
  if ((await stat(target).catch(() => undefined))?.isDirectory() === false)
    throw refuse('app.out-is-a-file', dir, {});
  if (await isAmongDocuments(target)) throw refuse('app.out-holds-documents', dir, {});
  const place = await hiddenPlace(target);

  const withDiskProblems = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      const problem = diskProblem(error, dir);
      throw problem ? new Refusal([problem]) : error;
    }
  };
  const firstMade = await withDiskProblems(() => makeFolder(place.parent, dir));
  const lock = await withDiskProblems(() => lockOutput(join(place.parent, `${place.prefix}lock`), dir));
  const hidden = hiddenFolder(place, lock.mark);
  let isMade = false;

  const discard = async (): Promise<void> => {
    // What could not be put back holds the only copy of what was there.
    if (isMade && (await isUndone(hidden, target)))
      await rm(hidden, { recursive: true, force: true }).catch(() => undefined);
    await lock.release().catch(() => undefined);
    // The folders made on the way to it, unless someone has begun to use them.
    for (let made = place.parent; firstMade && made.startsWith(firstMade); made = dirname(made))
      await rmdir(made).catch(() => undefined);
  };
  try {
    await withDiskProblems(async () => {
      await clearLeftovers(target, place);
      await makeHiddenFolder(hidden, place);
      isMade = true;
    });
  } catch (error) {
    await discard();
    throw error;
  }
  const written: StagedFile[] = [];
  return {
    discard,
    writeFiles: (files) => withDiskProblems(() => writeFiles(hidden, noteFiles(files, written))),
    publish: (before) =>
      withDiskProblems(async () => {
        const { problems, proved } = await checkStagedFiles(hidden, written);
        if (problems.length > 0)
          throw new Refusal(problems.map((p) => ({ ...p, where: join(dir, p.where) })));
        // What they were known by holds all that they were made from.
        written.length = 0;
        await lock.assertHeld();
        if ((await stat(target).catch(() => undefined)) === undefined) {
          await placeWhole(hidden, dir, proved, before);
        } else {
          await replaceEntries(hidden, dir, proved, before);
          // All is in place: what cannot be cleared away now is cleared by the next run.
          await rm(hidden, { recursive: true, force: true }).catch(() => undefined);
        }
        await lock.release().catch(() => undefined);
      }),
  };
}

/** Gives the first folder that was made on the way. */
const makeFolder = (folder: string, dir: string): Promise<string | undefined> =>
  mkdir(folder, { recursive: true }).catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'EEXIST' ? refuse('app.not-a-folder', dir, {}) : error;
  });

/** Whether a folder is a workshop, or lies in one of the folders of its documents. */
async function isAmongDocuments(target: string): Promise<boolean> {
  const real = await realPathOf(target);
  const taken = new Set<string>([...Object.values(folders), ARTWORK_FOLDER]);
  for (let root = real; ; root = dirname(root)) {
    const [first = ''] = relative(root, real).split(sep);
    if (
      (first === '' || taken.has(first)) &&
      (await stat(join(root, 'workshop.yaml')).catch(() => undefined))
    )
      return true;
    if (root === dirname(root)) return false;
  }
}

/** Where a path leads, as far as it is there. */
async function realPathOf(path: string): Promise<string> {
  const real = await realpath(path).catch(() => undefined);
  if (real !== undefined || path === dirname(path)) return real ?? path;
  return join(await realPathOf(dirname(path)), basename(path));
}

/** The same files, each noted on its way. */
function* noteFiles<T>(files: Iterator<FileToWrite, T>, all: StagedFile[]): Generator<FileToWrite, T> {
  let next = files.next();
  for (; !next.done; next = files.next()) {
    all.push(stagedFile(next.value));
    yield next.value;
  }
  return next.value;
}

const isUndone = (hidden: string, target: string): Promise<boolean> =>
  undoReplacement(hidden, target).then(
    () => true,
    () => false,
  );

/**
 * Beside the output folder, where a link to it leads; within it where it is a disk of its own, since nothing is renamed
 * from one disk to another.
 */
async function hiddenPlace(target: string): Promise<HiddenPlace> {
  const real = await realPathOf(target);
  const parent = dirname(real);
  const [own, outer] = await Promise.all([real, parent].map((path) => stat(path).catch(() => undefined)));
  const isDisk = own !== undefined && (real === parent || own.dev !== outer?.dev);
  return { parent: isDisk ? real : parent, prefix: `.${basename(real)}.` };
}

/** Removes the folders of runs that ended halfway, and puts back what they had begun to replace. */
async function clearLeftovers(target: string, place: HiddenPlace): Promise<void> {
  // Whoever writes here has the lock, and this process has it.
  for (const folder of await leftFolders(place)) {
    await undoReplacement(folder, target);
    await rm(folder, { recursive: true, force: true });
  }
}
