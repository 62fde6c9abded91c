import { readCarriedFonts } from '../documents/carried-fonts.js';
import type { Edition } from '../documents/schema/edition.js';
import type { Numbered } from '../edition/labels.js';
import { labelProblems } from '../layout/mark-text.js';
import { type Problem, Refusal } from '../problem.js';
import { openFonts, readFonts } from './fonts.js';
import type { OpenDocuments } from './open-documents.js';

/**
 * Whether the fonts of an edition's number marks can be read and have every character of these labels: what cannot be cut
 * is not to be issued. Throws a Refusal with each fault.
 */
export async function checkLabels(
  { dir, documents }: OpenDocuments,
  edition: Edition,
  labels: readonly Numbered[],
): Promise<void> {
  const places = { dir, documents, carried: readCarriedFonts() };
  const problems: Problem[] = [];
  for (const id of edition.designs) {
    for (const mark of documents.designs.get(id)!.marks) {
      if (mark.kind !== 'number') continue;
      const font = (await openFonts(await readFonts(places, [mark]), problems)).get(mark.font);
      if (font)
        problems.push(...labelProblems({ where: `designs/${id}.yaml: mark ${mark.id}`, mark, font, labels }));
    }
  }
  if (problems.length > 0) throw new Refusal(problems);
}
