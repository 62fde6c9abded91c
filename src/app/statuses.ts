import type { NumberStatus } from '../register/lifecycle.js';
import { openRegister } from '../register/open.js';
import type { Register } from '../register/register.js';
import { currentTerms } from './current-terms.js';
import { editionOf, type OpenDocuments, registerPlace } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { registerDeps } from './register-deps.js';

/** The status of every number of an edition that the register knows, by label. */
export async function statusesOf(
  workshop: OpenDocuments,
  editionId: string,
): Promise<Map<string, NumberStatus>> {
  editionOf(workshop, editionId);
  return readStatuses(await openRegister(registerPlace(workshop), registerDeps), editionId);
}

/**
 * The same, for cutting: throws a Refusal (exit 3) where the register is behind what its key signed, or where the
 * documents are not what it has of the edition.
 */
export async function statusesForCutting(
  workshop: OpenDocuments,
  editionId: string,
): Promise<Map<string, NumberStatus>> {
  const terms = currentTerms(workshop, editionOf(workshop, editionId));
  const register = await openForEntry(workshop);
  return readStatuses(register, editionId, () => register.checkTerms(editionId, terms));
}

async function readStatuses(
  register: Register,
  editionId: string,
  before: () => Promise<void> = async () => undefined,
): Promise<Map<string, NumberStatus>> {
  try {
    await before();
    return new Map((await register.statuses(editionId)).map((status) => [status.label, status]));
  } finally {
    await register.close();
  }
}
