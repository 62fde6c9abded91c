import type { TermsDifference } from '../register/terms/difference.js';
import { currentTerms } from './current-terms.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';

export interface AmendOrder {
  readonly edition: string;
  readonly by: string;
  readonly why: string;
  /** Only says what would change. */
  readonly dryRun?: boolean;
}

/**
 * Enters what today's documents say of an edition as its terms from now on, and signs the log; gives what changed. Throws
 * a Refusal: exit 1 or 2 where `check` refuses the edition as it is now, 2 where nothing differs, 3 where a label that
 * exists would change, or the edition is closed.
 */
export async function amendTerms(
  workshop: OpenDocuments,
  { edition: id, by, why, dryRun = false }: AmendOrder,
  notSigned: TellProblem = () => undefined,
): Promise<readonly TermsDifference[]> {
  const terms = currentTerms(workshop, editionOf(workshop, id));
  // What draws and fits is loaded only here: few commands of the register take so much.
  const { checkEdition } = await import('./check.js');
  await checkEdition(workshop.dir, workshop.environment, id);
  const register = await openForEntry(workshop);
  try {
    if (dryRun) return await register.checkAmendment({ edition: id, terms });
    const differences = await register.amend({ edition: id, terms, by, why });
    await signAfter(workshop, register, notSigned);
    return differences;
  } finally {
    await register.close();
  }
}
