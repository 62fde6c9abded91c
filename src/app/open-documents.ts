import { join } from 'node:path';
import { type CarriedFonts, readCarriedFonts } from '../documents/carried-fonts.js';
import { registerUrlProblem } from '../documents/check/register-url.js';
import { loadWorkshop } from '../documents/load.js';
import type { Edition } from '../documents/schema/edition.js';
import type { SideFiles } from '../documents/side-files.js';
import type { WorkshopDocuments } from '../documents/workshop-documents.js';
import { checkEdition } from '../edition/edition-check.js';
import { type Problem, Refusal } from '../problem.js';
import type { RegisterPlace } from '../register/open.js';
import type { Environment } from './environment.js';
import { refuse } from './workshop-messages.js';

/** The sound documents of a workshop: all that keeping its register takes. */
export interface OpenDocuments {
  readonly dir: string;
  readonly environment: Environment;
  readonly documents: WorkshopDocuments;
  /** SHA-256 of each document's meaning, by `kind/id`. */
  readonly digests: ReadonlyMap<string, string>;
}

/**
 * Opens the documents of a workshop folder, without the fonts and drawings that they name: whoever issues or records
 * draws nothing. Throws a Refusal (exit 2) with every problem of every document at once.
 */
export async function openDocuments(dir: string, environment: Environment): Promise<OpenDocuments> {
  const { documents, digests } = await loadDocuments(dir);
  const inEditions = editionProblems(documents);
  if (inEditions.length > 0) throw new Refusal(inEditions);
  return { dir, environment, documents, digests };
}

/** What is read of a workshop folder before any font or drawing is opened. */
export interface LoadedDocuments extends Pick<OpenDocuments, 'documents' | 'digests'> {
  readonly files: SideFiles;
  readonly carried: CarriedFonts;
}

export async function loadDocuments(dir: string): Promise<LoadedDocuments> {
  const carried = readCarriedFonts();
  const loaded = await loadWorkshop(dir, { builtInFonts: carried.ids });
  if (!loaded.ok) throw new Refusal(loaded.problems);
  const { documents, digests, files } = loaded;
  return { documents, digests, files, carried };
}

/** What is wrong with the terms of editions. */
export const editionProblems = ({ editions }: WorkshopDocuments): Problem[] =>
  [...editions].flatMap(([id, edition]) => checkEdition(edition, `editions/${id}.yaml`));

export const registerFile = (dir: string): string => join(dir, 'register.db');

/** Where the register is kept: as the environment says, else as the workshop says, else in its folder. */
export function registerPlace({ dir, documents, environment }: OpenDocuments): RegisterPlace {
  const given = placeInEnvironment(environment);
  if (given) return given;
  const url = documents.workshop.register;
  return url ? { kind: 'postgres', url } : { kind: 'sqlite', file: registerFile(dir) };
}

/** Undefined where the environment names no register. */
export function placeInEnvironment({ registerUrl: url }: Environment): RegisterPlace | undefined {
  // Empty is a slip in a script: to go on with another register would give out its numbers again.
  if (url?.trim() === '') throw refuse('workshop.register-setting-empty', 'BURIN_REGISTER', {});
  if (url === undefined) return undefined;
  const fault = registerUrlProblem('register', url, 'allowed');
  if (fault) throw new Refusal([fault]);
  return { kind: 'postgres', url };
}

/** The edition of that id, or a Refusal (exit 2) that names those there are. */
export function editionOf(workshop: OpenDocuments, id: string): Edition {
  return findDocument(workshop.documents.editions, 'edition', id);
}

/** A document by id, or a Refusal (exit 2) that names those there are. */
export function findDocument<T>(documents: ReadonlyMap<string, T>, noun: string, id: string): T {
  const found = documents.get(id);
  if (found) return found;
  const where = `${noun} ${id.slice(0, 60)}`;
  if (documents.size === 0) throw refuse('workshop.none-of-kind', where, { noun, folder: `${noun}s` });
  throw refuse('workshop.unknown-name', where, { noun, known: [...documents.keys()] });
}
