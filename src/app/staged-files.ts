import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { type Problem, Refusal } from '../problem.js';
import { encodeParts, type TextChunks } from '../text-chunks.js';
import { FileReader } from './file-reader.js';
import { FilesAsRead, stampOf } from './files-as-read.js';
import { HIDDEN_MARK } from './hidden-folder.js';
import { problem } from './messages.js';
import { sha256 } from './output-list.js';
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

/**
 * A text that is known again by its SHA-256, taken as it is written: for one that shares nothing with others, and need not
 * be held.
 */
export function knownByDigest(text: TextChunks): Pick<FileToWrite, 'text'> & { readonly check: FileCheck } {
  let digest: string | undefined;
  return {
    text: {
      *[Symbol.iterator]() {
        const hash = createHash('sha256');
        for (const part of encodeParts(text))
          for (const bytes of part) {
            hash.update(bytes);
            yield bytes;
          }
        digest = hash.digest('hex');
      },
    },
    check: {
      get sha256() {
        if (digest === undefined) throw new TypeError('a text that was not written has no digest');
        return digest;
      },
    },
  };
}

/** What reading a folder of written files again came to; all of them are proved where nothing is wrong. */
export interface Reread {
  readonly problems: readonly Problem[];
  readonly proved: FilesAsRead;
}

/**
 * Reads a folder of written files again and says what is not as it was written: a file that is missing, is changed, or
 * was not written here. Throws the system's error where the disk cannot be read.
 */
export async function checkStagedFiles(dir: string, written: readonly StagedFile[]): Promise<Reread> {
  const found = filesIn(dir, written);
  const problems: Problem[] = [];
  const proved = new FilesAsRead();
  const reader = new FileReader();
  for (const [k, file] of written.entries()) {
    if (problems.length >= MOST_PROBLEMS) break;
    if (k % AT_ONCE === AT_ONCE - 1) await new Promise(setImmediate);
    const { path } = file;
    const kind = found.ours[k];
    if (kind === MISSING) problems.push(problem('app.staged-file-missing', path, {}));
    else if (kind === OTHER) problems.push(problem('app.staged-file-foreign', path, {}));
    else {
      const place = join(dir, path);
      const stamp = stampOf(place);
      const { digest, differs } = reread(reader, place, file);
      proved.add(path, digest, stamp);
      if (differs) problems.push({ ...differs, where: path });
    }
  }
  for (const path of found.foreign) problems.push(problem('app.staged-file-foreign', path, {}));
  proved.doubtYoungest();
  return { problems: problems.slice(0, MOST_PROBLEMS), proved };
}

/** Throws a Refusal (exit 3) naming, as below the folder `output`, what is no longer in a folder as it was proved. */
export function assertAsProved(
  dir: string,
  output: string,
  proved: FilesAsRead,
  paths: Iterable<string> = proved.digests.keys(),
): void {
  const problems: Problem[] = [];
  for (const path of paths) {
    if (problems.length >= MOST_PROBLEMS) break;
    if (!proved.isAsRead(path, join(dir, path)))
      problems.push(problem('app.staged-file-changed', join(output, path), {}));
  }
  if (problems.length > 0) throw new Refusal(problems);
}

/** Throws a Refusal (exit 1) where there is more in a folder below a hidden one than comes with it. */
export function assertNothingAdded(
  dir: string,
  output: string,
  folder: string,
  isKnown: (path: string) => boolean,
): void {
  const added = readdirSync(join(dir, folder))
    .map((name) => (folder === '' ? name : `${folder}/${name}`))
    .filter((path) => !isKnown(path));
  if (added.length > 0)
    throw new Refusal(
      added.slice(0, MOST_PROBLEMS).map((path) => problem('app.staged-file-foreign', join(output, path), {})),
    );
}

function reread(
  reader: FileReader,
  place: string,
  file: StagedFile,
): { readonly digest: string; readonly differs: Problem | undefined } {
  const check = 'check' in file ? file.check : (bytes: Uint8Array) => differenceFrom(bytes, file.text);
  if (typeof check !== 'function') {
    const digest = reader.sha256(place);
    return { digest, differs: digest === check.sha256 ? undefined : changed() };
  }
  const bytes = reader.read(place);
  return { digest: sha256(bytes), differs: check(bytes) };
}

const changed = (): Problem => problem('app.staged-file-differs', '', {});

const [MISSING, FILE, OTHER] = [0, 1, 2];

/** What lies below a folder but folders: what each written file is, and some of the paths that were not written. */
function filesIn(dir: string, written: readonly StagedFile[]) {
  const places = new Map<string, number>();
  for (const [k, { path }] of written.entries()) places.set(path, k);
  const ours = new Uint8Array(written.length);
  const foreign: string[] = [];
  const readFolder = (below: string): void => {
    for (const entry of readdirSync(join(dir, below), { withFileTypes: true })) {
      const path = `${below}${entry.name}`;
      const place = places.get(path);
      if (entry.isDirectory()) readFolder(`${path}/`);
      else if (place !== undefined) ours[place] = entry.isFile() ? FILE : OTHER;
      else if (path !== HIDDEN_MARK && foreign.length < MOST_PROBLEMS) foreign.push(path);
    }
  };
  readFolder('');
  return { ours, foreign };
}

/** What is wrong with bytes that should be those of a text. One that is made again for this need not be held meanwhile. */
export function differenceFrom(bytes: Uint8Array, text: TextChunks): Problem | undefined {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  for (const part of encodeParts(text))
    for (const wanted of part) {
      const end = at + wanted.length;
      if (end > buffer.length || buffer.compare(wanted, 0, wanted.length, at, end) !== 0) return changed();
      at = end;
    }
  return at === buffer.length ? undefined : changed();
}
