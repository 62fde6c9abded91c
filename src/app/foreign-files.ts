import { lstatSync, readdirSync, readlinkSync, type Stats } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { FileReader } from './file-reader.js';

/** What a person has in one folder of output and not in another, by paths below both. */
export interface ForeignFiles {
  /** Its place in the other is free. */
  readonly free: readonly string[];
  /** Something else has its place in the other. */
  readonly taken: readonly string[];
}

/** Whether burin wrote what has this path; `place` is where it is now. */
export type IsOurs = (path: string, place: string, isFile: boolean) => boolean;

/** Looks through the entry `name` of one folder for what burin did not write and the other folder does not hold alike. */
export function foreignFiles(from: string, to: string, name: string, isOurs: IsOurs): ForeignFiles {
  let reader: FileReader | undefined;
  const free: string[] = [];
  const taken: string[] = [];
  const isAlike = (path: string, one: Stats, other: Stats): boolean => {
    const [a, b] = [join(from, path), join(to, path)];
    if (one.isFile() && other.isFile()) {
      if (one.size !== other.size) return false;
      reader ??= new FileReader();
      return reader.sha256(a) === reader.sha256(b);
    }
    return one.isSymbolicLink() && other.isSymbolicLink() && readlinkSync(a) === readlinkSync(b);
  };
  const compare = (path: string): void => {
    const found = statIn(from, path);
    if (!found || isOurs(path, join(from, path), found.isFile())) return;
    const other = statIn(to, path);
    if (found.isDirectory() && (!other || other.isDirectory())) {
      const below = readdirSync(join(from, path)).sort();
      for (const entry of below) compare(`${path}/${entry}`);
      if (below.length === 0 && !other && path !== name) free.push(path);
    } else if (!other) free.push(path);
    else if (!isAlike(path, found, other)) taken.push(path);
  };
  compare(name);
  return { free, taken };
}

const statIn = (dir: string, path: string): Stats | undefined =>
  lstatSync(join(dir, path), { throwIfNoEntry: false });

/** Moves what has a free place from one folder to the other. */
export async function carryOver(from: string, to: string, { free }: ForeignFiles): Promise<void> {
  for (const path of free) {
    await mkdir(dirname(join(to, path)), { recursive: true });
    await rename(join(from, path), join(to, path));
  }
}
