import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { refuse } from '../problem.js';

/**
 * A folder filled out of sight and shown whole: files are written beside the wanted folder, and moved into place only
 * when all of them are on disk. What was in the wanted folder under the same names is replaced; the rest is kept.
 */
export interface Staging {
  write(path: string, text: string): Promise<void>;
  /** Puts everything in place. */
  show(): Promise<void>;
  /** Takes everything away again. */
  drop(): Promise<void>;
}

export async function stage(dir: string): Promise<Staging> {
  const target = resolve(dir);
  if ((await stat(target).catch(() => undefined))?.isFile())
    throw refuse(2, dir, 'is a file.', 'Name a folder, or a name not yet taken.');
  const hidden = join(dirname(target), `.${basename(target)}.${process.pid}.partial`);
  await rm(hidden, { recursive: true, force: true });
  await mkdir(hidden, { recursive: true });
  const made = new Set<string>();
  return {
    async write(path, text) {
      const file = join(hidden, path);
      const folder = dirname(file);
      if (!made.has(folder)) {
        await mkdir(folder, { recursive: true });
        made.add(folder);
      }
      const handle = await open(file, 'wx');
      try {
        await handle.writeFile(text);
      } finally {
        await handle.close();
      }
    },
    async show() {
      if ((await stat(target).catch(() => undefined)) === undefined) await rename(hidden, target);
      else {
        await merge(hidden, target);
        await rm(hidden, { recursive: true, force: true });
      }
    },
    async drop() {
      await rm(hidden, { recursive: true, force: true });
    },
  };
}

async function merge(from: string, to: string): Promise<void> {
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const source = join(from, entry.name);
    const place = join(to, entry.name);
    if (entry.isDirectory() && (await stat(place).catch(() => undefined))?.isDirectory())
      await merge(source, place);
    else await rename(source, place);
  }
}
