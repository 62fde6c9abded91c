import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import { type Bench, openBench, registerPlace } from '../../src/app/bench.js';
import { registerDeps } from '../../src/app/issue.js';
import { Refusal } from '../../src/problem.js';
import { openRegister } from '../../src/register/open.js';
import type { Register } from '../../src/register/register.js';

const template = resolve(import.meta.dirname, '../../templates/nine-lights');
const folders: string[] = [];

/** Removes what was made here after each test, and keeps the keys of whoever runs the tests out of it. */
export function cleanAfterEach(): void {
  const before = { keys: process.env.BURIN_KEYS, register: process.env.BURIN_REGISTER };
  beforeEach(() => {
    process.env.BURIN_KEYS = join(newFolder(), 'keys');
    process.env.BURIN_REGISTER = '';
  });
  afterEach(() => {
    process.env.BURIN_KEYS = before.keys ?? '';
    process.env.BURIN_REGISTER = before.register ?? '';
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
  });
}

export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'burin-jobs-'));
  folders.push(folder);
  return folder;
}

/** The sample bench, with further editions by id, each as the text of its series. */
export async function newBench(editions: Readonly<Record<string, string>> = {}): Promise<Bench> {
  const dir = join(newFolder(), 'bench');
  await cp(template, dir, { recursive: true });
  for (const [id, series] of Object.entries(editions)) {
    const text = `kind: edition\nversion: 1\nname: ${id}\ndesigns: [cap-number, barrel-title]\nseries:\n${series}`;
    writeFileSync(join(dir, 'editions', `${id}.yaml`), text);
  }
  return openBench(dir);
}

export async function onRegister<T>(bench: Bench, work: (register: Register) => Promise<T>): Promise<T> {
  const register = await openRegister(registerPlace(bench), registerDeps);
  try {
    return await work(register);
  } finally {
    await register.close();
  }
}

/** Where every number of an edition stands, for comparing; without what the clock put in. */
export const statesOf = (bench: Bench, edition: string) =>
  onRegister(bench, async (register) =>
    (await register.statuses(edition)).map(({ label, state, parts, pieces }) => ({
      label,
      state,
      parts,
      pieces,
    })),
  );

export const sizeOf = (bench: Bench): Promise<number> => onRegister(bench, (register) => register.size());

export async function refusalOf(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (error instanceof Refusal) return error;
  throw new Error(`not refused, but: ${String(error)}`);
}
