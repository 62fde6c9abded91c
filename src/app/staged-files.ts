import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Problem } from '../problem.js';
import { encodeChunks, type TextChunks } from '../text-chunks.js';
import { FileReader } from './file-reader.js';
import { problem } from './messages.js';
import type { FileCheck, FileToWrite } from './write-files.js';

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;
/** Files read between two turns of the event loop. Reading them one by one at once is the quickest way by far. */
const AT_ONCE = 100;

/** A written file, and how it is known again: by a check of its own, or by its text. */
export type StagedFile =
  | { readonly path: string; readonly check: FileCheck }
  | { readonly path: string; readonly text: TextChunks };

/** What of a written file must be kept to know it again; a text that a check stands for is not held. */
export const stagedFile = ({ path, text, check }: FileToWrite): StagedFile =>
  check ? { path, check } : { path, text };

/** Knows a text again by its SHA-256: for files that share nothing with others, which need not be held in memory. */
export function checkByDigest(text: TextChunks): FileCheck {
  const digest = (parts: readonly Uint8Array[]): string => {
    const hash = createHash('sha256');
    for (const part of parts) hash.update(part);
    return hash.digest('hex');
  };
  const expected = digest(encodeChunks(text));
  return (bytes) => (digest([bytes]) === expected ? undefined : problem('app.staged-file-differs', '', {}));
}

/**
 * Reads a folder of written files again and says what is not as it was written: a file that is missing, is changed, or
 * was not written here. `onRead` gets the bytes of each, which hold only until it returns; what it goes on with is waited
 * for. Throws the system's error where the disk cannot be read.
 */
export async function checkStagedFiles(
  dir: string,
  written: readonly StagedFile[],
  onRead: (path: string, bytes: Uint8Array<ArrayBuffer>) => Promise<unknown> = async () => undefined,
): Promise<Problem[]> {
  const found = filesIn(dir);
  const problems: Problem[] = [];
  const reader = new FileReader();
  const going: Promise<unknown>[] = [];
  for (const [k, file] of written.entries()) {
    const { path } = file;
    if (problems.length >= MOST_PROBLEMS) break;
    if (k % AT_ONCE === AT_ONCE - 1) {
      await Promise.all(going.splice(0));
      await new Promise(setImmediate);
    }
    const isFile = found.get(path);
    found.delete(path);
    if (isFile === undefined) problems.push(problem('app.staged-file-missing', path, {}));
    else if (!isFile) problems.push(problem('app.staged-file-foreign', path, {}));
    else {
      const bytes = reader.read(join(dir, path));
      going.push(onRead(path, bytes));
      const differs = 'check' in file ? file.check(bytes) : differenceFrom(bytes, encodeChunks(file.text));
      if (differs) problems.push({ ...differs, where: path });
    }
  }
  await Promise.all(going);
  for (const path of found.keys()) problems.push(problem('app.staged-file-foreign', path, {}));
  return problems.slice(0, MOST_PROBLEMS);
}

/** All that lies below a folder but folders, by path; false for what is no plain file. */
function filesIn(dir: string): Map<string, boolean> {
  const found = new Map<string, boolean>();
  for (const entry of readdirSync(dir, { recursive: true, withFileTypes: true }))
    if (!entry.isDirectory())
      found.set(relative(dir, join(entry.parentPath, entry.name)).replaceAll('\\', '/'), entry.isFile());
  return found;
}

function differenceFrom(bytes: Uint8Array, wanted: readonly Uint8Array[]): Problem | undefined {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  for (const part of wanted) {
    const end = at + part.length;
    if (end > buffer.length || buffer.compare(part, 0, part.length, at, end) !== 0)
      return problem('app.staged-file-differs', '', {});
    at = end;
  }
  return at === buffer.length ? undefined : problem('app.staged-file-differs', '', {});
}
