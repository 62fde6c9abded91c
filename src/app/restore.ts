import { type FileHandle, open } from 'node:fs/promises';
import { Refusal } from '../problem.js';
import { JsonLinesReader } from '../register/export/json-lines.js';
import { openRegister } from '../register/open.js';
import { diskProblem } from './disk.js';
import { refuse } from './messages.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { registerDeps } from './register-deps.js';

export interface Restored {
  readonly events: number;
  readonly checkpoints: number;
  /** The one edition the file holds; absent when it holds every one. */
  readonly edition?: string;
}

/**
 * Restores the events of an exported register into an empty one, all of them or none. Throws a Refusal: exit 2 for a
 * file that is not such an export, 3 for one that is damaged, cut short, or holds what cannot have happened.
 */
export async function restoreRegister(workshop: OpenDocuments, file: string): Promise<Restored> {
  const handle = await openFile(file);
  // This function closes the handle, also when the reading ends early.
  const lines = new JsonLinesReader(file, handle.readLines({ encoding: 'utf8', autoClose: false }));
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const { edition } = await lines.head();
    const checkpoints = await lines.checkpoints();
    await register.restore(lines.events(edition !== undefined), checkpoints);
    return { events: await register.size(), checkpoints: checkpoints.length, edition };
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  } finally {
    await register.close();
    await handle.close();
  }
}

async function openFile(file: string): Promise<FileHandle> {
  try {
    const handle = await open(file);
    if (!(await handle.stat()).isDirectory()) return handle;
    await handle.close();
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
  throw refuse('app.is-a-folder', file, {});
}
