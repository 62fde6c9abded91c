import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';
import { openRegister } from '../../src/register/open.js';
import type { Register } from '../../src/register/register.js';
import { openFile } from '../../src/register/sqlite/connect.js';
import { NOON } from './ask.js';

const folders: string[] = [];
const opened: Register[] = [];

/** Closes and removes everything made here after each test. */
export function cleanAfterEach(): void {
  afterEach(async () => {
    for (const register of opened.splice(0)) await register.close();
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
  });
}

/** A file that is not there yet. */
export function newFile(): string {
  const folder = mkdtempSync(join(tmpdir(), 'register-'));
  folders.push(folder);
  return join(folder, 'register.db');
}

let unused: Buffer | undefined;

/** A register in which nothing was entered, where making it is not what is tested. It is made once, and copied. */
export function unusedFile(): string {
  unused ??= madeUnused();
  const file = newFile();
  writeFileSync(file, unused);
  return file;
}

function madeUnused(): Buffer {
  const file = newFile();
  openFile(file, () => NOON).close();
  return readFileSync(file);
}

export async function open(file: string, retryForMs?: number, now = () => NOON): Promise<Register> {
  const register = await openRegister({ kind: 'sqlite', file }, { now, retryForMs });
  opened.push(register);
  return register;
}
