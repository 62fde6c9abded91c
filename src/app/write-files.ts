import { mkdir, open } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Problem } from '../problem.js';
import { encodeChunks, type TextChunks } from '../text-chunks.js';

/** Says what is wrong with a file's bytes. */
export type FileCheck = (bytes: Uint8Array) => Problem | undefined;

/** A file that will be written, by its path below the output folder. */
export interface FileToWrite {
  readonly path: string;
  readonly text: TextChunks;
  /** Says what is wrong with the file's bytes on disk; without it they must be those of the text. */
  readonly check?: FileCheck;
}

/** Files on their way to the disk at one time: the next is made while it works, and few are held in memory. */
const AT_ONCE = 8;

/** Writes files below a folder as they are made, and gives what their maker returns at its end. */
export async function writeFiles<T>(dir: string, files: Iterator<FileToWrite, T>): Promise<T> {
  const folders = new Map<string, Promise<unknown>>();
  const put = async ({ path, text }: FileToWrite): Promise<void> => {
    const file = join(dir, path);
    const folder = dirname(file);
    let made = folders.get(folder);
    if (!made) {
      made = mkdir(folder, { recursive: true });
      folders.set(folder, made);
    }
    await made;
    await writeNew(file, encodeChunks(text));
  };

  const going = new Set<Promise<void>>();
  const faults: unknown[] = [];
  try {
    let next = files.next();
    for (; !next.done && faults.length === 0; next = files.next()) {
      const one: Promise<void> = put(next.value)
        .catch((fault: unknown) => void faults.push(fault))
        .finally(() => going.delete(one));
      going.add(one);
      if (going.size >= AT_ONCE) await Promise.race(going);
    }
    await Promise.all(going);
    if (faults.length > 0 || !next.done) throw faults[0];
    return next.value;
  } finally {
    // Whoever takes the folder away after a fault must not meet a file still being written.
    await Promise.all(going);
  }
}

/** A new file of these bytes, in one write where the system takes them all at once. */
async function writeNew(file: string, bytes: readonly Uint8Array[]): Promise<void> {
  const handle = await open(file, 'wx');
  try {
    const { bytesWritten } = await handle.writev(bytes);
    const length = bytes.reduce((sum, b) => sum + b.length, 0);
    if (bytesWritten < length) await handle.writeFile(Buffer.concat(bytes).subarray(bytesWritten));
  } finally {
    await handle.close();
  }
}
