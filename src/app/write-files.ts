import { closeSync, mkdirSync, openSync, writeFileSync, writev } from 'node:fs';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import type { Problem } from '../problem.js';
import { encodeParts, type TextChunks } from '../text-chunks.js';

/** How a file's bytes are known to be right: by what says what is wrong with them, or by their SHA-256, hex. */
export type FileCheck = ((bytes: Uint8Array) => Problem | undefined) | { readonly sha256: string };

/** A file that will be written, by its path below the output folder. */
export interface FileToWrite {
  readonly path: string;
  readonly text: TextChunks;
  /** Of the file's bytes on disk; without it they must be those of the text. */
  readonly check?: FileCheck;
  /** Only its owner may read it: it has the names of people. */
  readonly isPrivate?: boolean;
}

/** Files on their way to the disk at one time: the next is made while it works, and few are held in memory. */
const AT_ONCE = 8;

/** Writes files below a folder as they are made, and gives what their maker returns at its end. */
export async function writeFiles<T>(dir: string, files: Iterator<FileToWrite, T>): Promise<T> {
  const folders = new Set<string>();
  const put = async ({ path, text, isPrivate = false }: FileToWrite): Promise<void> => {
    const file = join(dir, path);
    const folder = dirname(file);
    if (!folders.has(folder)) {
      mkdirSync(folder, { recursive: true });
      folders.add(folder);
    }
    await writeNew(file, text, isPrivate ? 0o600 : 0o666);
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

const writeGathered = promisify(writev);

/**
 * A new file of this text, in one write where it is not long. Only the bytes are left to another thread: to hand over the
 * opening and the closing of a small file takes longer than to do it.
 */
async function writeNew(file: string, text: TextChunks, mode: number): Promise<void> {
  const handle = openSync(file, 'wx', mode);
  try {
    for (const bytes of encodeParts(text)) {
      const { bytesWritten } = await writeGathered(handle, bytes);
      const length = bytes.reduce((sum, b) => sum + b.length, 0);
      // The system did not take all at once.
      if (bytesWritten < length) writeFileSync(handle, Buffer.concat(bytes).subarray(bytesWritten));
    }
  } finally {
    closeSync(handle);
  }
}
