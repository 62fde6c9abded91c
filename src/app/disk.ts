import { lstat } from 'node:fs/promises';
import type { Problem } from '../problem.js';
import { problem } from './messages.js';

/** The code of a problem for each error of the system that has words of its own. */
const CODES = {
  ENOENT: 'app.not-on-disk',
  EACCES: 'app.disk-denied',
  EPERM: 'app.disk-denied',
  EROFS: 'app.disk-read-only',
  ENOSPC: 'app.disk-full',
  EDQUOT: 'app.disk-quota',
  EFBIG: 'app.file-too-large',
  EISDIR: 'app.is-a-folder',
  ENOTDIR: 'app.not-a-folder',
  EEXIST: 'app.name-taken',
  ENOTEMPTY: 'app.name-taken',
  ENAMETOOLONG: 'app.name-too-long',
  ELOOP: 'app.link-loop',
  EMFILE: 'app.too-many-open',
} as const;

const hasCode = (code: string): code is keyof typeof CODES => Object.hasOwn(CODES, code);

/** An error of the disk as a problem, or undefined when it is another error. `where` stands for the path the system names. */
export function diskProblem(error: unknown, where?: string): Problem | undefined {
  if (!(error instanceof Error)) return undefined;
  const { code, path, syscall } = error as NodeJS.ErrnoException;
  if (code === undefined || syscall === undefined) return undefined;
  const place = where ?? path ?? 'disk';
  return hasCode(code) ? problem(CODES[code], place, {}) : problem('app.disk-silent', place, { error: code });
}

/** For `catch`: a value in place of the system's error that there is no such file; any other error stays. */
export const ifMissing =
  <T>(value: T) =>
  (error: NodeJS.ErrnoException): T => {
    if (error.code === 'ENOENT') return value;
    throw error;
  };

/** Whether a path is taken, by whatever it may be. */
export const isThere = async (path: string): Promise<boolean> =>
  (await lstat(path).catch(ifMissing(undefined))) !== undefined;
