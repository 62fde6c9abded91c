import { constants, type Dirent } from 'node:fs';
import { open, readdir, realpath } from 'node:fs/promises';
import path from 'node:path';
import { type Problem, problem } from '../problem.js';
import { LARGEST_BYTES } from './bytes.js';
import { plain, quoted } from './quote.js';
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
  const way = path.relative(root, real);
  return way !== '' && way !== '..' && !way.startsWith(`..${path.sep}`) && !path.isAbsolute(way);
}

/** Reads one file of the workshop; `largest` is asked of the file system, before any of it is read. */
export async function readInside(root: string, file: string, largest = LARGEST_BYTES): Promise<Read> {
  const no = (what: string, cure: string): Read => ({
    ok: false,
    problem: problem(plain(file, 120), what, cure),
  });
  try {
    const real = await realpath(path.join(root, file));
    if (!isInside(root, real)) {
      return no('The file is a link that leaves the workshop.', 'Copy what it points to into the workshop.');
    }
    // not blocking, so that a pipe with nobody at its other end is refused rather than waited for
    const handle = await open(real, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const stat = await handle.stat();
      if (stat.isDirectory()) return no('A folder stands where a file should be.', 'Rename the folder.');
      if (!stat.isFile()) return no('This is not an ordinary file.', 'Put a file in its place.');
      if (stat.size > largest) {
        const mb = Math.floor(largest / 1_000_000);
        return no(`The file is larger than ${mb} MB.`, 'Check that it is the file you meant.');
      }
      return { ok: true, bytes: await handle.readFile() };
    } finally {
      await handle.close();
    }
  } catch (error) {
    return no(...unreadable(codeOf(error)));
  }
}

function unreadable(code: string): [what: string, cure: string] {
  switch (code) {
    case 'ENOENT':
      return ['The file does not exist.', 'Add it, or correct the link or name that leads to it.'];
    case 'ENOTDIR':
      return ['A file stands where a folder should be.', 'Put a folder in its place.'];
    case 'EACCES':
    case 'EPERM':
      return ['The file may not be read.', 'Give yourself the right to read it.'];
    case 'ELOOP':
      return ['The file is a link that leads to itself.', 'Put the file itself in its place.'];
    default:
      return [`The file cannot be read (${plain(code || 'unknown', 20)}).`, 'Check the disk and the file.'];
  }
}

const EMPTY: Folder = { entries: [], misnamed: [], problems: [] };

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
      const what = 'The folder is a link that leaves the workshop.';
      return { ...EMPTY, problems: [problem(folder, what, 'Copy the folder into the workshop.')] };
    }
    found = await readdir(real, { withFileTypes: true });
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT') return EMPTY;
    const [what, cure] =
      code === 'ENOTDIR'
        ? unreadable(code)
        : ['The folder cannot be read.', 'Give yourself the right to read it.'];
    return { ...EMPTY, problems: [problem(folder, what, cure)] };
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
        problem(plain(file, 120), 'Documents end in `.yaml`.', `Rename it to ${quoted(`${stem}.yaml`)}.`),
      );
    } else if (!id.safeParse(stem).success) {
      const what = `${quoted(stem)} must be lower-case letters, figures and hyphens, 63 at most.`;
      problems.push(problem(plain(file, 120), what, 'Rename the file; its name is the id others use.'));
    } else entries.push({ id: stem, file });
  }
  return { entries, misnamed, problems };
}
