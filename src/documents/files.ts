import { constants, type Dirent } from 'node:fs';
import { open, readdir, realpath, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Problem } from '../problem.js';
import { LARGEST_BYTES } from './bytes.js';
import { problem } from './messages.js';
import { plainText } from './quote.js';
import { id } from './schema/scalar.js';

export type Read = { ok: true; bytes: Uint8Array } | { ok: false; problem: Problem };
export interface Entry {
  readonly id: string;
  /** Path inside the workshop, with forward slashes. */
  readonly file: string;
}

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? '';

/** In byte order of UTF-8, which every machine sorts alike. */
export const byteOrder = (a: string, b: string): number => Buffer.compare(Buffer.from(a), Buffer.from(b));

export function isInside(root: string, real: string): boolean {
  const pathSoFar = path.relative(root, real);
  return (
    pathSoFar !== '' &&
    pathSoFar !== '..' &&
    !pathSoFar.startsWith(`..${path.sep}`) &&
    !path.isAbsolute(pathSoFar)
  );
}

/** Reads one file of the workshop; `largest` is asked of the file system, before any of it is read. */
export async function readInside(root: string, file: string, largest = LARGEST_BYTES): Promise<Read> {
  const where = plainText(file, 120);
  const no = (problem: Problem): Read => ({ ok: false, problem });
  try {
    const real = await realpath(path.join(root, file));
    if (!isInside(root, real)) return no(problem('documents.file-outside', where, {}));
    // Opening a socket fails, and opening a device may do something to it: the name is asked first.
    const kind = await stat(real);
    if (!kind.isFile() && !kind.isDirectory()) return no(problem('documents.file-not-ordinary', where, {}));
    // Not blocking: a pipe may have been put there since, and is refused rather than waited for.
    const handle = await open(real, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const found = await handle.stat();
      if (found.isDirectory()) return no(problem('documents.file-is-folder', where, {}));
      if (!found.isFile()) return no(problem('documents.file-not-ordinary', where, {}));
      if (found.size > largest) {
        const mb = Math.floor(largest / 1_000_000);
        return no(problem('documents.file-too-large', where, { mb }));
      }
      return { ok: true, bytes: await handle.readFile() };
    } finally {
      await handle.close();
    }
  } catch (error) {
    return no(readProblem(where, codeOf(error)));
  }
}

function readProblem(where: string, code: string): Problem {
  switch (code) {
    case 'ENOENT':
      return problem('documents.file-missing', where, {});
    case 'ENOTDIR':
      return problem('documents.folder-is-file', where, {});
    case 'EACCES':
    case 'EPERM':
      return problem('documents.file-forbidden', where, {});
    case 'ELOOP':
      return problem('documents.file-links-to-itself', where, {});
    default:
      return problem('documents.file-unreadable', where, { error: plainText(code || 'unknown', 20) });
  }
}

const emptyFolder = (): Folder => ({ entries: [], misnamed: [], problems: [] });

export interface Folder {
  readonly entries: Entry[];
  /** Ids that misnamed files would bear; what refers to them is not to blame. */
  readonly misnamed: string[];
  readonly problems: Problem[];
}

/** The documents in one folder, in byte order of name. A folder that is not there holds none. */
export async function documentsIn(root: string, folder: string): Promise<Folder> {
  let found: Dirent[];
  try {
    const real = await realpath(path.join(root, folder));
    if (!isInside(root, real)) {
      return { ...emptyFolder(), problems: [problem('documents.folder-outside', folder, {})] };
    }
    found = await readdir(real, { withFileTypes: true });
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT') return emptyFolder();
    const fault =
      code === 'ENOTDIR' ? readProblem(folder, code) : problem('documents.folder-unreadable', folder, {});
    return { ...emptyFolder(), problems: [fault] };
  }
  const entries: Entry[] = [];
  const misnamed: string[] = [];
  const problems: Problem[] = [];
  for (const name of found.map((entry) => entry.name).sort(byteOrder)) {
    // what editors and systems leave behind is nobody's document
    if (name.startsWith('.') || !/\.ya?ml$/i.test(name)) continue;
    const file = `${folder}/${name}`;
    const stem = name.replace(/\.ya?ml$/i, '');
    if (!name.endsWith('.yaml')) {
      misnamed.push(stem);
      problems.push(
        problem('documents.file-ending', plainText(file, 120), { name: plainText(`${stem}.yaml`) }),
      );
    } else if (!id.safeParse(stem).success) {
      problems.push(problem('documents.file-name', plainText(file, 120), { stem: plainText(stem) }));
    } else entries.push({ id: stem, file });
  }
  return { entries, misnamed, problems };
}
