import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';
import type { Environment } from '../../src/app/environment.js';
import { showHistory } from '../../src/app/key.js';
import { type OpenDocuments, openDocuments, registerPlace } from '../../src/app/open-documents.js';
import { type RecordOrder, recordEvents } from '../../src/app/record.js';
import { registerDeps } from '../../src/app/register-deps.js';
import { openWorkshop, type Workshop } from '../../src/app/workshop.js';
import { Refusal } from '../../src/problem.js';
import { openRegister } from '../../src/register/open.js';
import type { Register } from '../../src/register/register.js';
import { newQuickBench } from '../cli/folders.js';

const folders: string[] = [];

/** Removes what was made here. */
export function removeFolders(): void {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
}

/** Removes what was made here after each test. */
export function cleanAfterEach(): void {
  afterEach(removeFolders);
}

export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'burin-jobs-'));
  folders.push(folder);
  return folder;
}

/** The sample bench with little to cut, and with further editions by id, each as the text of its series. */
export const newWorkshopCopy = (editions?: Readonly<Record<string, string>>): Promise<Workshop> =>
  openWorkshop(newBenchCopy(editions), newEnvironment());

/** The same, with no more read than the register needs. */
export const newDocumentsCopy = (editions?: Readonly<Record<string, string>>): Promise<OpenDocuments> =>
  openDocuments(newBenchCopy(editions), newEnvironment());

function newBenchCopy(editions: Readonly<Record<string, string>> = {}): string {
  const dir = join(newFolder(), 'bench');
  newQuickBench(dir);
  for (const [id, series] of Object.entries(editions)) {
    const text = `kind: edition\nversion: 1\nname: ${id}\ndesigns: [cap-number, barrel-title]\nseries:\n${series}`;
    writeFileSync(join(dir, 'editions', `${id}.yaml`), text);
  }
  return dir;
}

/** Neither the register nor the keys of whoever runs the tests. */
export const newEnvironment = (): Environment => ({
  registerUrl: undefined,
  keysFolder: join(newFolder(), 'keys'),
});

export async function onRegister<T>(
  workshop: OpenDocuments,
  work: (register: Register) => Promise<T>,
): Promise<T> {
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return await work(register);
  } finally {
    await register.close();
  }
}

/** Where every number of an edition stands, for comparing; without what the clock put in. */
export const statesOf = (workshop: Workshop, edition: string) =>
  onRegister(workshop, async (register) =>
    (await register.statuses(edition)).map(({ label, state, parts, pieces }) => ({
      label,
      state,
      parts,
      pieces,
    })),
  );

/** A file of the public keys of a workshop, to check what it signed. */
export async function publicKeysOf({ dir: workshop, environment }: OpenDocuments): Promise<string> {
  const file = join(newFolder(), 'maker.keys');
  await showHistory({ workshop, environment }, file);
  return file;
}

export const sizeOf = (workshop: OpenDocuments): Promise<number> =>
  onRegister(workshop, (register) => register.size());

export async function refusalOf(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (error instanceof Refusal) return error;
  throw new Error(`not refused, but: ${String(error)}`);
}

/** Records one event of one number; gives its status. */
export async function recordEvent(
  workshop: Workshop,
  { label, ...order }: Omit<RecordOrder, 'labels' | 'list'> & { readonly label: string },
) {
  const [status] = await recordEvents(workshop, { ...order, labels: [label] });
  return status!;
}
