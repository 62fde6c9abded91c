import { existsSync } from 'node:fs';
import { Refusal } from '../problem.js';
import { openRegister } from '../register/open.js';
import { problem } from './messages.js';
import { registerPlace } from './open-documents.js';
import { type ProgramOf, type ReadFile, readbackOf, readProgramFile } from './readback.js';
import { depsIn } from './register-deps.js';
import type { Workshop } from './workshop.js';

export interface ReadPrograms {
  readonly files: readonly ReadFile[];
  /** A file could not be read at all. */
  readonly unread: boolean;
}

/**
 * Reads programs again, and holds them against one another and against the register: a second program of one piece would
 * cut it twice, and a number that was never issued has no piece. Only of a single file a picture can be drawn.
 */
export async function readPrograms(workshop: Workshop, files: readonly string[]): Promise<ReadPrograms> {
  const read = readbackOf(workshop);
  const isIssued = issuedIn(workshop);
  const known = new Map<string, string>();
  const found: ReadFile[] = [];
  let unread = false;
  for (const file of files) {
    const text = await readProgramFile(file);
    if (typeof text !== 'string') {
      unread = true;
      found.push({ file, ok: false, problems: text });
      continue;
    }
    const { draw, ...one } = read(file, text);
    const { ok, of } = one;
    const other = of && known.get(keyOf(of));
    if (ok && of && !(await isIssued(of)))
      found.push({ ...one, ok: false, problems: [problem('app.program-never-issued', file, of)] });
    else if (ok && of && other !== undefined) {
      const again = problem('app.program-given-twice', file, { label: of.label, other });
      found.push({ ...one, ok: false, problems: [again] });
    } else found.push(files.length === 1 && draw ? { ...one, draw } : one);
    if (ok && of && other === undefined) known.set(keyOf(of), file);
  }
  return { files: found, unread };
}

/** Programs of one operation on one piece have one key, whichever station they are for. */
const keyOf = ({ edition, label, part, surface, cutter }: ProgramOf): string =>
  JSON.stringify([edition, label, part, surface, cutter]);

/**
 * Asks the register whether a number was issued, once for each edition. Where there is no register, or it cannot be
 * read, nothing is asked of it: what a program cuts is proved from the documents alone.
 */
function issuedIn(workshop: Workshop): (of: ProgramOf) => Promise<boolean> {
  const editions = new Map<string, ReadonlySet<string> | undefined>();
  return async ({ edition, label }) => {
    if (!editions.has(edition)) editions.set(edition, await issuedLabels(workshop, edition));
    return editions.get(edition)?.has(label) ?? true;
  };
}

async function issuedLabels(workshop: Workshop, edition: string): Promise<ReadonlySet<string> | undefined> {
  const place = registerPlace(workshop);
  if (place.kind === 'sqlite' && !existsSync(place.file)) return undefined;
  const register = await openRegister(place, depsIn(workshop.environment), 'read');
  try {
    const statuses = await register.statuses(edition);
    return new Set(statuses.flatMap(({ label, state }) => (state === 'planned' ? [] : [label])));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    for (const one of error.problems) await workshop.environment.warn?.(one);
    return undefined;
  } finally {
    await register.close();
  }
}
