import { type FileHandle, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';

/** Lines go to the disk some at a time. */
const BATCH = 64 * 1024;

/** Writes lines to a file that is there whole and on the disk, or not at all; one of that name is replaced then. */
export const writeWhole = (file: string, lines: AsyncIterable<string> | Iterable<string>): Promise<void> =>
  writeAndRename(file, async (handle) => {
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
export const writeWholeBytes = (file: string, bytes: Uint8Array): Promise<void> =>
  writeAndRename(file, (handle) => handle.writeFile(bytes));

async function writeAndRename(file: string, fill: (handle: FileHandle) => Promise<void>): Promise<void> {
  const target = resolve(file);
  const beside = `${target}.${process.pid}.partial`;
  try {
    await mkdir(dirname(target), { recursive: true });
    const handle = await open(beside, 'w');
    try {
      await fill(handle);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(beside, target);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => undefined);
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}
