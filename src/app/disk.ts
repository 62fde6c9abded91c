import { type Problem, problem } from '../problem.js';

const WORDS: Readonly<Record<string, readonly [what: string, cure: string]>> = {
  ENOENT: ['is not there.', 'Check the name.'],
  EACCES: ['may not be read or written.', 'See to its owner and permissions, or name another.'],
  EPERM: ['may not be read or written.', 'See to its owner and permissions, or name another.'],
  EROFS: ['is on a disk that takes no writing.', 'Name a place on another disk.'],
  ENOSPC: ['cannot be written: the disk is full.', 'Make room and ask again.'],
  EDQUOT: ['cannot be written: your share of the disk is full.', 'Make room and ask again.'],
  EFBIG: ['cannot be written: a file would be too large.', 'Ask for fewer pieces at once.'],
  EISDIR: ['is a folder.', 'Name a file.'],
  ENOTDIR: ['has a file where a folder is wanted.', 'Name another place.'],
  ENAMETOOLONG: ['is too long a name.', 'Choose a shorter one.'],
  ELOOP: ['is a link that leads to itself.', 'Mend the link or name another.'],
  EMFILE: ['cannot be opened: too many files are open.', 'Close other programs and ask again.'],
};

/** An error of the disk in words, or undefined when it is none. `where` stands for the path the system names. */
export function diskProblem(error: unknown, where?: string): Problem | undefined {
  if (!(error instanceof Error)) return undefined;
  const { code, path, syscall, message } = error as NodeJS.ErrnoException;
  if (code === undefined || syscall === undefined) return undefined;
  const [what, cure] = WORDS[code] ?? [`did not answer (${message}).`, 'See to the disk and ask again.'];
  return problem(where ?? path ?? 'disk', what, cure);
}
