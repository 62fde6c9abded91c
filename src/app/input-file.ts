import { constants, type Stats } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';
import { refuse } from './messages.js';

/**
 * Opens a file that someone named. Throws a Refusal (exit 2) for a pipe, a socket or a device, which may never end, and
 * the system's error for what cannot be opened.
 */
export async function openInput(file: string): Promise<FileHandle> {
  // Opening a device may do something to it, so the name is asked first.
  assertFileOrFolder(file, await stat(file));
  // Not blocking: a pipe may have been put there since, and is refused rather than waited for.
  const handle = await open(file, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    assertFileOrFolder(file, await handle.stat());
    return handle;
  } catch (error) {
    await handle.close();
    throw error;
  }
}

/** Reading a folder is an error of its own. */
function assertFileOrFolder(file: string, found: Stats): void {
  if (!found.isFile() && !found.isDirectory()) throw refuse('app.not-a-file', file, {});
}

/**
 * The bytes of a file that someone named; of one larger than `most`, one byte more than that, which shows it. Throws a
 * Refusal (exit 2) when it cannot be read.
 */
export const readInput = (file: string, most: number): Promise<Buffer> =>
  withInput(file, async (handle) => {
    const chunks: Buffer[] = [];
    // The last byte that is read stands at `end`.
    const stream = handle.createReadStream({ autoClose: false, end: most, highWaterMark: 1 << 20 });
    for await (const chunk of stream) chunks.push(chunk as Buffer);
    return Buffer.concat(chunks);
  });

/** The bytes of a file, or undefined where there is none. Throws a Refusal (exit 2) naming it when it cannot be read. */
export async function readIfThere(file: string): Promise<Buffer | undefined> {
  try {
    const handle = await openInput(file);
    try {
      return await handle.readFile();
    } finally {
      await handle.close();
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}

/**
 * The lines of a file in UTF-8, without their ends. What a line has beyond `most` characters is left out, and no more
 * follows: a file that is one endless line is not held in memory.
 */
export async function* linesIn(handle: FileHandle, most: number): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  let rest = '';
  for await (const chunk of handle.createReadStream({ autoClose: false, highWaterMark: 1 << 20 })) {
    const lines = (rest + decoder.decode(chunk as Buffer, { stream: true })).split('\n');
    rest = lines.pop()!;
    for (const line of lines) yield withoutReturn(line);
    if (rest.length <= most) continue;
    yield rest.slice(0, most);
    return;
  }
  rest += decoder.decode();
  if (rest !== '') yield withoutReturn(rest);
}

const withoutReturn = (line: string): string => (line.endsWith('\r') ? line.slice(0, -1) : line);

/** Works with a file that someone named. Throws a Refusal (exit 2) when it cannot be read. */
export async function withInput<T>(file: string, work: (handle: FileHandle) => Promise<T>): Promise<T> {
  try {
    const handle = await openInput(file);
    try {
      return await work(handle);
    } finally {
      await handle.close();
    }
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}
