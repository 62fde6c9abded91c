import { link, open, readFile, rename, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { z } from 'zod';
import { parseJson } from '../parse-json.js';
import { ifMissing } from './disk.js';
import { refuse } from './messages.js';

/** A process that writes into an output folder. The time of its start, ms, tells it from a later one of the same number. */
const owner = z.strictObject({ host: z.string(), pid: z.int().positive(), started: z.int() });
type Owner = z.infer<typeof owner>;

export interface OutputLock {
  /** Tells the owner's hidden folder from those of others. */
  readonly mark: string;
  /** Throws a Refusal (exit 2) where another has taken the folder since. */
  assertHeld(): Promise<void>;
  release(): Promise<void>;
}

const thisProcess = (): Owner => ({
  host: hostname(),
  pid: process.pid,
  started: Math.floor(performance.timeOrigin),
});

/**
 * Takes an output folder for this process alone, by a file beside it. A lock that a process of this machine left behind is
 * removed. Whether one of another machine still runs cannot be seen from here: the refusal names it, and the file to delete.
 * Throws a Refusal (exit 2) naming the folder `dir` where another has it.
 */
export async function lockOutput(file: string, dir: string): Promise<OutputLock> {
  const own = thisProcess();
  const text = JSON.stringify(own);
  while (!(await makeNew(file, text))) {
    const found = await readIfThere(file);
    if (found === undefined) continue;
    const held = owner.safeParse(parseJson(found)).data;
    if (!held || !isGone(held, own))
      throw refuse('app.output-locked', dir, { lock: file, ...describeOwner(held, own) });
    await removeLeft(file, found, own);
  }
  const isHeld = async (): Promise<boolean> => (await readIfThere(file)) === text;
  return {
    mark: `${own.pid}-${own.started}`,
    async assertHeld() {
      if (!(await isHeld())) throw refuse('app.output-lock-lost', dir, {});
    },
    async release() {
      if (await isHeld()) await rm(file, { force: true });
    },
  };
}

function describeOwner(held: Owner | undefined, own: Owner) {
  if (!held) return { machine: 'unknown', host: '', pid: '' };
  return { machine: held.host === own.host ? 'this' : 'other', host: held.host, pid: String(held.pid) };
}

/** Whether the process of a lock is known to have ended. */
function isGone({ host, pid, started }: Owner, own: Owner): boolean {
  if (host !== own.host) return false;
  return pid === own.pid ? started !== own.started : !isRunning(pid);
}

/** Whether this machine has a process of that number. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

async function makeNew(file: string, text: string): Promise<boolean> {
  const handle = await open(file, 'wx').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'EEXIST') return undefined;
    throw error;
  });
  if (!handle) return false;
  try {
    await handle.writeFile(text).finally(() => handle.close());
    return true;
  } catch (error) {
    // A lock that says nothing of its owner would keep everybody out: the disk is full, or fails.
    await rm(file, { force: true }).catch(() => undefined);
    throw error;
  }
}

const readIfThere = (file: string): Promise<string | undefined> =>
  readFile(file, 'utf8').catch(ifMissing(undefined));

/**
 * Removes a lock with this text. Only one process can move a file aside; one that moved the new lock of another instead,
 * who was quicker, puts it back.
 */
async function removeLeft(file: string, text: string, own: Owner): Promise<void> {
  const aside = `${file}.${own.pid}-${own.started}`;
  try {
    await rename(file, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return;
    throw error;
  }
  // Where it cannot be put back, its owner finds that out before anything is moved.
  if ((await readIfThere(aside)) !== text) await link(aside, file).catch(() => undefined);
  await rm(aside, { force: true });
}
