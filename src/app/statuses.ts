import type { NumberStatus } from '../register/lifecycle.js';
import { currentTerms } from './current-terms.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';

/**
 * The status of every number of an edition that the register knows, by label, for cutting. Throws a Refusal (exit 3) where
 * the register is not the one that this machine knows, or where the documents are not what it has of the edition.
 */
export async function statusesForCutting(
  workshop: OpenDocuments,
  editionId: string,
): Promise<Map<string, NumberStatus>> {
  const terms = currentTerms(workshop, editionOf(workshop, editionId));
  const register = await openForEntry(workshop);
  try {
    await register.checkTerms(editionId, terms);
    return new Map((await register.statuses(editionId)).map((status) => [status.label, status]));
  } finally {
    await register.close();
  }
}
