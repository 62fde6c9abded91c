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
    await register.enterAll(requestsOf(workshop, id, edition, station, by, cut), {
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
  cut: readonly PartCut[],
): Iterable<ManyRequest> {
  const byPart = new Map<string, Map<string, Numbered>>();
  for (const { operation, pieces } of cut) {
    const known = byPart.get(operation.part) ?? new Map<string, Numbered>();
    byPart.set(operation.part, known);
    for (const { piece } of pieces) known.set(piece.label, piece);
  }
  const parts = [...byPart].map(([part, pieces]) => ({
    common: { edition: id, event: 'programmed' as const, by, part, station },
    digest: cutDigest(workshop, edition, part, station),
    pieces,
  }));
  return {
    *[Symbol.iterator]() {
      for (const { common, digest, pieces } of parts)
        for (const { series, number, label } of pieces.values())
          yield { series, number, label, digest, ...common };
    },
  };
}
