import { mkdir, readdir, realpath, rename, rm, rmdir, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';
import { refuse } from './messages.js';
import { replaceEntries, undoReplacement } from './replacement.js';
import { checkStagedFiles, type StagedFile, stagedFile } from './staged-files.js';
import { type FileToWrite, writeFiles } from './write-files.js';

/**
 * A hidden folder that is filled: files are written beside the wanted folder, read again when all of them are there, and
 * moved into place only when their bytes are right. A piece's folder is replaced as a whole, so that no sheet of today
 * lies beside a program of yesterday; the other pieces' folders, and whatever a person put there, are kept.
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

/** Throws a Refusal (exit 2), naming the wanted folder, when the disk does not take it. */
export async function stage(dir: string): Promise<Staging> {
  const target = resolve(dir);
  if ((await stat(target).catch(() => undefined))?.isDirectory() === false)
    throw refuse('app.out-is-a-file', dir, {});
  const place = await hiddenPlace(target);
  const hidden = join(place.parent, `${place.prefix}${process.pid}.partial`);

  const withDiskProblems = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      const problem = diskProblem(error, dir);
      throw problem ? new Refusal([problem]) : error;
    }
  };
  const firstMade = await withDiskProblems(async () => {
    await clearLeftovers(target, place);
    await undoReplacement(hidden, target);
    await rm(hidden, { recursive: true, force: true });
    return mkdir(hidden, { recursive: true });
  });
  const written: StagedFile[] = [];
  return {
    writeFiles: (files) => withDiskProblems(() => writeFiles(hidden, noteFiles(files, written))),
    publish: (before) =>
      withDiskProblems(async () => {
        const problems = await checkStagedFiles(hidden, written);
        if (problems.length > 0)
          throw new Refusal(problems.map((p) => ({ ...p, where: join(dir, p.where) })));
        if ((await stat(target).catch(() => undefined)) === undefined) {
          await before?.();
          await rename(hidden, target);
        } else {
          await replaceEntries(hidden, dir, before);
          // All is in place: what cannot be cleared away now is cleared by the next run.
          await rm(hidden, { recursive: true, force: true }).catch(() => undefined);
        }
      }),
    async discard() {
      // What could not be put back holds the only copy of what was there.
      if (!(await isUndone(hidden, target))) return;
      await rm(hidden, { recursive: true, force: true }).catch(() => undefined);
      // The folders made on the way to it, unless someone has begun to use them.
      for (let made = dirname(hidden); firstMade && made.startsWith(firstMade); made = dirname(made))
        await rmdir(made).catch(() => undefined);
    },
  };
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

/** Where hidden folders are, and how their names begin. */
interface HiddenPlace {
  readonly parent: string;
  readonly prefix: string;
}

/**
 * Beside the output folder, where a link to it leads; within it where it is a disk of its own, since nothing is renamed
 * from one disk to another.
 */
async function hiddenPlace(target: string): Promise<HiddenPlace> {
  const real = await realpath(target).catch(() => target);
  const parent = dirname(real);
  const [own, outer] = await Promise.all([real, parent].map((path) => stat(path).catch(() => undefined)));
  const isDisk = own !== undefined && (real === parent || own.dev !== outer?.dev);
  return { parent: isDisk ? real : parent, prefix: `.${basename(real)}.` };
}

/** Removes the folders of runs that were killed, and puts back what they had begun to replace. */
async function clearLeftovers(target: string, { parent, prefix }: HiddenPlace): Promise<void> {
  const names = await readdir(parent).catch((): string[] => []);
  for (const name of names) {
    if (!name.startsWith(prefix) || !name.endsWith('.partial')) continue;
    const pid = Number(name.slice(prefix.length, -'.partial'.length));
    if (!Number.isInteger(pid) || pid <= 0 || isRunning(pid)) continue;
    await undoReplacement(join(parent, name), target);
    await rm(join(parent, name), { recursive: true, force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
