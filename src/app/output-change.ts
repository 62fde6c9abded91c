import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type Problem, Refusal } from '../problem.js';
import { ifMissing, isThere } from './disk.js';
import { FileReader } from './file-reader.js';
import { FilesAsRead, stampOf } from './files-as-read.js';
import { readIfThere } from './input-file.js';
import { problem, refuse } from './messages.js';
import { type Digests, OUTPUT_LIST, parseOutputList, sha256 } from './output-list.js';

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;

/** What becomes of an output folder when files come into it. */
export interface OutputChange {
  /** What is kept of the folders that are replaced, by its path: burin did not write it. */
  readonly strays: readonly string[];
  /** What is replaced, as it is now. */
  readonly replaced: FilesAsRead;
  /** All that the folder then holds of burin. */
  readonly list: Digests;
}

/**
 * Plans what files replace in a folder that is there; each folder below it that they come into is replaced as a whole. Only
 * what burin wrote and nobody changed since is replaced, and what has the bytes already that come. Throws a Refusal (exit 3)
 * that names everything else that is in the way.
 */
export async function planOutput(dir: string, coming: Digests): Promise<OutputChange> {
  const replaced = new FilesAsRead();
  const listed = await listIn(dir, replaced);
  const problems: Problem[] = [];
  const reader = new FileReader();
  const check = (path: string): void => {
    const place = join(dir, path);
    const stamp = stampOf(place);
    const digest = sha256(reader.read(place));
    replaced.add(path, digest, stamp);
    const known = listed.get(path);
    if (known === digest || coming.get(path) === digest) return;
    problems.push(problem(known ? 'app.output-changed' : 'app.output-not-listed', place, {}));
  };
  const folders = new Set([...coming.keys()].flatMap((path) => path.split('/').slice(0, -1)));
  for (const path of coming.keys()) if (!path.includes('/') && (await isThere(join(dir, path)))) check(path);
  const strays: string[] = [];
  for (const folder of folders) {
    if (problems.length >= MOST_PROBLEMS) break;
    for (const entry of await entriesOf(join(dir, folder))) {
      const path = `${folder}/${entry.name}`;
      if (entry.isFile() && (coming.has(path) || listed.has(path))) check(path);
      else if (coming.has(path))
        problems.push(problem('app.place-taken', join(dir, path), { wanted: 'file' }));
      else strays.push(path);
    }
  }
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));
  const list = new Map(coming);
  for (const [path, digest] of listed)
    if (!list.has(path) && !folders.has(path.split('/')[0]!) && (await isThere(join(dir, path))))
      list.set(path, digest);
  return { strays, replaced, list };
}

async function listIn(dir: string, replaced: FilesAsRead): Promise<Digests> {
  const file = join(dir, OUTPUT_LIST);
  const text = (await readIfThere(file))?.toString('utf8');
  if (text !== undefined) replaced.add(OUTPUT_LIST, sha256(text));
  const listed = text === undefined ? new Map<string, string>() : parseOutputList(text);
  if (listed) return listed;
  // Whatever else it would say of the folder follows from this.
  throw refuse('app.output-list-not-ours', file, {});
}

const entriesOf = (folder: string) => readdir(folder, { withFileTypes: true }).catch(ifMissing([]));
