import { type FileHandle, link, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { Refusal } from '../problem.js';
import { diskProblem, ifMissing } from './disk.js';
import { openInput } from './input-file.js';
import { refuse } from './messages.js';

/** Lines go to the disk some at a time. */
const BATCH = 64 * 1024;
/** So much of a file shows what it is. */
const HEAD_BYTES = 4096;

export interface WholeFileOptions {
  /**
   * Whether a file that is there already was written by this command before, by its first bytes (as latin1). Any other is
   * left alone: it may be a register, a key or a document.
   */
  readonly replaces: (head: string) => boolean;
  /** Only its owner may read it: it has the names of people. */
  readonly isPrivate?: boolean;
  /** Throws a Refusal where a new file, which is whole, lacks what the one that it would replace has. */
  readonly assertKeeps?: (old: string, fresh: string) => Promise<void>;
}

/**
 * Writes lines to a file that is there whole and on the disk, or not at all. Throws a Refusal: exit 3 where another file
 * has that name, 2 when it cannot be written.
 */
export const writeWhole = (
  file: string,
  lines: AsyncIterable<string> | Iterable<string>,
  options: WholeFileOptions,
): Promise<void> =>
  writeAndPlace(file, options, async (handle) => {
    let text = '';
    for await (const line of lines) {
      text += `${line}\n`;
      if (text.length < BATCH) continue;
      await handle.writeFile(text);
      text = '';
    }
    await handle.writeFile(text);
  });

/** The same for bytes. */
export const writeWholeBytes = (file: string, bytes: Uint8Array, options: WholeFileOptions): Promise<void> =>
  writeAndPlace(file, options, (handle) => handle.writeFile(bytes));

async function writeAndPlace(
  file: string,
  { replaces, isPrivate = false, assertKeeps }: WholeFileOptions,
  fill: (handle: FileHandle) => Promise<void>,
): Promise<void> {
  const target = resolve(file);
  const beside = `${target}.${process.pid}.partial`;
  let made = false;
  try {
    // Before anything is worked out, and again when it gets its name.
    await mayReplace(file, replaces);
    await mkdir(dirname(target), { recursive: true });
    const handle = await open(beside, 'wx', isPrivate ? 0o600 : 0o666);
    made = true;
    try {
      await fill(handle);
      await handle.sync();
    } finally {
      await handle.close();
    }
    if (await mayReplace(file, replaces)) {
      await assertKeeps?.(target, beside);
      await rename(beside, target);
    } else await nameNew(file, beside, target);
  } catch (error) {
    if (made) await rm(beside, { force: true }).catch(() => undefined);
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}

/** Whether a file of this kind is there. Throws a Refusal where it is another. */
async function mayReplace(file: string, replaces: (head: string) => boolean): Promise<boolean> {
  const handle = await openInput(file).catch(ifMissing(undefined));
  if (!handle) return false;
  try {
    if ((await handle.stat()).isDirectory()) throw refuse('app.is-a-folder', file, {});
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    if (replaces(buffer.toString('latin1', 0, bytesRead))) return true;
  } finally {
    await handle.close();
  }
  throw refuse('app.file-not-ours', file, {});
}

/** Gives a new file its name. Throws a Refusal (exit 3) where another took it meanwhile. */
export async function nameNew(file: string, beside: string, target: string): Promise<void> {
  try {
    await link(beside, target);
    await rm(beside);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw refuse('app.file-not-ours', file, {});
    // A disk without hard links.
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'ENOSYS') throw error;
    await rename(beside, target);
  }
}
