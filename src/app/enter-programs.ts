import type { Edition } from '../documents/schema/edition.js';
import type { Numbered } from '../edition/labels.js';
import type { ManyRequest } from '../register/register.js';
import { currentTerms } from './current-terms.js';
import { cutDigest } from './cut-digest.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';
import type { Workshop } from './workshop.js';

/** Enters what no person did. */
export const PROGRAM_NAME = 'burin';

/**
 * Enters that programs were `made` for pieces, by their part: which part, for which station, from documents of which digest. Throws a
 * Refusal (exit 3), with nothing entered, where a part may not be cut any more.
 */
export async function enterPrograms(
  workshop: Workshop,
  { edition: id, station, by = PROGRAM_NAME }: { edition: string; station: string; by?: string },
  edition: Edition,
  made: ReadonlyMap<string, readonly Numbered[]>,
  notSigned: TellProblem,
): Promise<void> {
  const register = await openForEntry(workshop);
  try {
    await register.enterAll(requestsOf(workshop, id, edition, station, by, made), {
      terms: currentTerms(workshop, edition),
    });
    await signAfter(workshop, register, notSigned);
  } finally {
    await register.close();
  }
}

/** One for each piece and part, however many programs it takes; made as they are read. */
function requestsOf(
  workshop: Workshop,
  id: string,
  edition: Edition,
  station: string,
  by: string,
  made: ReadonlyMap<string, readonly Numbered[]>,
): Iterable<ManyRequest> {
  const parts = [...made].map(([part, pieces]) => ({
    common: { edition: id, event: 'programmed' as const, by, part, station },
    digest: cutDigest(workshop, edition, part, station),
    pieces,
  }));
  return {
    *[Symbol.iterator]() {
      for (const { common, digest, pieces } of parts)
        for (const { series, number, label } of pieces) yield { series, number, label, digest, ...common };
    },
  };
}
