import { existsSync } from 'node:fs';
import { realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { registerUrlProblem } from '../documents/check/register-url.js';
import { registerAddressIn } from '../documents/register-address.js';
import { type Problem, Refusal } from '../problem.js';
import type { RegisterPlace } from '../register/open.js';
import type { Register } from '../register/register.js';
import type { Environment } from './environment.js';
import {
  type OpenDocuments,
  openDocuments,
  placeInEnvironment,
  registerFile,
  registerPlace,
} from './open-documents.js';
import { refuse } from './workshop-messages.js';

/**
 * A register to be looked at or copied: with the documents of its workshop where they can be read, and without them
 * where not. A register outlives its documents.
 */
export interface KeptRegister {
  readonly place: RegisterPlace;
  readonly workshop?: OpenDocuments;
  readonly warn?: Environment['warn'];
  /** Why there are no documents. */
  readonly documentFaults: readonly Problem[];
  /** Whether that is because there are none. */
  readonly documentsAbsent?: boolean;
}

export const registerOf = (workshop: OpenDocuments): KeptRegister => ({
  ...{ place: registerPlace(workshop), workshop, documentFaults: [] },
  warn: workshop.environment.warn,
});

/**
 * Finds the register of a folder. Throws a Refusal (exit 2) where there are no sound documents and no register either,
 * or where it cannot be known which register is meant.
 */
export async function findRegister(dir: string, environment: Environment): Promise<KeptRegister> {
  try {
    return registerOf(await openDocuments(dir, environment));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const place = await placeWithoutDocuments(dir, environment);
    const documentsAbsent = !existsSync(join(dir, 'workshop.yaml'));
    if (place) return { place, documentFaults: error.problems, documentsAbsent, warn: environment.warn };
    throw error;
  }
}

/** Undefined where there is no register. */
async function placeWithoutDocuments(
  dir: string,
  environment: Environment,
): Promise<RegisterPlace | undefined> {
  const given = placeInEnvironment(environment);
  if (given) return given;
  const root = await realpath(dir).catch(() => undefined);
  if (root === undefined) return undefined;
  const address = await registerAddressIn(root);
  if (address.is === 'not readable') throw refuse('workshop.register-not-readable', 'workshop.yaml', {});
  if (address.is === 'url') {
    const fault = registerUrlProblem('workshop.yaml', address.url, 'refused');
    if (fault) throw new Refusal([fault]);
    return { kind: 'postgres', url: address.url };
  }
  const file = registerFile(dir);
  return ['', '-wal', '-shm'].some((end) => existsSync(file + end)) ? { kind: 'sqlite', file } : undefined;
}

/** Throws a Refusal (exit 2) where neither the documents nor the register have this edition. */
export async function checkEditionKnown(
  { workshop }: KeptRegister,
  register: Register,
  edition: string,
): Promise<void> {
  const documents = workshop?.documents.editions;
  if (documents?.has(edition)) return;
  const recorded = await register.editions();
  if (recorded.includes(edition)) return;
  const where = `edition ${edition.slice(0, 60)}`;
  const known = [...new Set([...(documents?.keys() ?? []), ...recorded])].slice(0, 50);
  if (known.length === 0)
    throw refuse('workshop.none-of-kind', where, { noun: 'edition', folder: 'editions' });
  throw refuse('workshop.unknown-name', where, { noun: 'edition', known });
}
