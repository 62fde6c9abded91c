import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statfsSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Where Linux has a file system in memory, and how it names its kind (statfs(2), TMPFS_MAGIC). */
const MEMORY = '/dev/shm';
const TMPFS = 0x01021994;
/** Several times what the tests hold at once, in bytes. */
const ENOUGH = 2e9;
const NAME = /^burin-tests-(\d+)-/;
const HOUR_MS = 3_600_000;

/**
 * Before the tests: makes their temporary folder in memory, where that can be. They make and throw away thousands of small
 * files, and each entry of a register waits for its disk. A process that is killed loses no more there than on a disk.
 * `DISK_TMPDIR` is the folder that would have been theirs. Gives what removes the folder afterwards.
 */
export default function memoryFolder(): (() => void) | undefined {
  if (!hasRoom()) return undefined;
  for (const name of readdirSync(MEMORY)) if (isLeft(name)) remove(join(MEMORY, name));
  const folder = mkdtempSync(join(MEMORY, `burin-tests-${process.pid}-`));
  // Servers and some commands are started as other users.
  chmodSync(folder, 0o1777);
  if (!canStart(folder)) {
    remove(folder);
    return undefined;
  }
  process.env.DISK_TMPDIR = tmpdir();
  process.env.TMPDIR = folder;
  return () => remove(folder);
}

function hasRoom(): boolean {
  if (!existsSync(MEMORY)) return false;
  const { type, bsize, bavail } = statfsSync(MEMORY);
  return type === TMPFS && bsize * bavail > ENOUGH;
}

/** Whether programs may be started from it, as some tests do. */
function canStart(folder: string): boolean {
  const program = join(folder, 'program');
  writeFileSync(program, '#!/bin/sh\n', { mode: 0o755 });
  const { status } = spawnSync(program);
  rmSync(program);
  return status === 0;
}

/** Whether it is of tests that were killed: nothing was put in or taken out for an hour. */
function isLeft(name: string): boolean {
  const pid = Number(NAME.exec(name)?.[1]);
  if (!pid || Date.now() - statSync(join(MEMORY, name)).mtimeMs < HOUR_MS) return false;
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ESRCH';
  }
}

/** A server of the tests may still be at its own files. */
const remove = (folder: string): void =>
  rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
