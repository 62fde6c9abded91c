import type { Edition } from '../documents/schema/edition.js';
import type { NamedTerms } from '../register/terms/schema.js';
import { termsOf } from '../register/terms/terms.js';
import type { OpenDocuments } from './open-documents.js';

/** The parts that the designs of an edition are cut on, in their order, and whether each bears the number. */
function partsOf({ documents }: OpenDocuments, edition: Edition): Map<string, boolean> {
  const parts = new Map<string, boolean>();
  for (const id of edition.designs) {
    const { part, marks } = documents.designs.get(id)!;
    parts.set(part, parts.get(part) || marks.some(({ kind }) => kind === 'number'));
  }
  return parts;
}

/** Every part that an edition is cut on, in the order of its designs. */
export const cutParts = (workshop: OpenDocuments, edition: Edition): string[] => [
  ...partsOf(workshop, edition).keys(),
];

/** The parts of a piece that carry its number, in the order of the edition's designs. */
export const numberedParts = (workshop: OpenDocuments, edition: Edition): string[] =>
  [...partsOf(workshop, edition)].filter(([, numbered]) => numbered).map(([part]) => part);

/** The terms of an edition as today's documents say them. */
export function currentTerms(workshop: OpenDocuments, edition: Edition): NamedTerms {
  const parts = [...partsOf(workshop, edition)].map(([part, numbered]) => {
    return { part, material: workshop.documents.parts.get(part)!.material, numbered };
  });
  return termsOf(edition, parts);
}
