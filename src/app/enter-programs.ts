import type { Edition } from '../documents/schema/edition.js';
import type { Numbered } from '../edition/labels.js';
import type { ManyRequest } from '../register/register.js';
import { currentTerms } from './current-terms.js';
import { cutDigest } from './cut-digest.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';
import type { Workshop } from './workshop.js';

/** Pieces of which a part is cut. */
export interface PartCut {
  readonly operation: { readonly part: string };
  readonly pieces: readonly { readonly piece: Numbered }[];
}

/** Enters what no person did. */
export const PROGRAM_NAME = 'burin';

/**
 * Enters that programs were made for pieces: which part, for which station, from documents of which digest. Throws a
 * Refusal (exit 3), with nothing entered, where a part may not be cut any more.
 */
export async function enterPrograms(
  workshop: Workshop,
  { edition: id, station, by = PROGRAM_NAME }: { edition: string; station: string; by?: string },
  edition: Edition,
  cut: readonly PartCut[],
  notSigned: TellProblem,
): Promise<void> {
  const register = await openForEntry(workshop);
  try {
    await register.recordAll(requestsOf(workshop, id, edition, station, by, cut), {
      terms: currentTerms(workshop, edition),
    });
    await signAfter(workshop, register, notSigned);
  } finally {
    await register.close();
  }
}

/** One for each piece and part, however many programs it takes. */
function requestsOf(
  workshop: Workshop,
  id: string,
  edition: Edition,
  station: string,
  by: string,
  cut: readonly PartCut[],
): ManyRequest[] {
  const byPart = new Map<string, Map<string, ManyRequest>>();
  for (const { operation, pieces } of cut) {
    const { part } = operation;
    const known = byPart.get(part) ?? new Map<string, ManyRequest>();
    byPart.set(part, known);
    const digest = cutDigest(workshop, edition, part, station);
    for (const { piece } of pieces) {
      const { series, number, label } = piece;
      const common = { edition: id, series, number, label, event: 'programmed' as const };
      known.set(label, { ...common, by, part, station, digest });
    }
  }
  return [...byPart.values()].flatMap((requests) => [...requests.values()]);
}
