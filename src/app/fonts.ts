import { type CarriedFonts, type FontBytes, fontBytes } from '../documents/carried-fonts.js';
import { isLettered, type Mark } from '../documents/schema/design.js';
import type { WorkshopDocuments } from '../documents/workshop-documents.js';
import type { Font, FontResult } from '../lettering/font.js';
import { strokeFont } from '../lettering/stroke-font.js';
import type { Problem } from '../problem.js';

export interface FontPlaces {
  readonly dir: string;
  readonly documents: WorkshopDocuments;
  readonly carried: CarriedFonts;
}

/** The files of the fonts that marks are set in, in the order of their first use. Throws a Refusal where there is none. */
export async function readFonts(
  { dir, documents, carried }: FontPlaces,
  marks: readonly Mark[],
): Promise<Map<string, FontBytes>> {
  const from = { carried, workshopDir: dir, ownFonts: documents.workshop.fonts ?? {} };
  const files = new Map<string, FontBytes>();
  for (const id of new Set(marks.filter(isLettered).map(({ font }) => font)))
    files.set(id, await fontBytes(id, from));
  return files;
}

/** The fonts of files; those that cannot be read go to `problems`. */
export async function openFonts(
  files: ReadonlyMap<string, FontBytes>,
  problems: Problem[],
): Promise<Map<string, Font>> {
  const fonts = new Map<string, Font>();
  for (const [id, { kind, bytes }] of files) {
    const opened =
      kind === 'stroke'
        ? strokeFont(id, Buffer.from(bytes).toString('utf8'))
        : await loadOutlineFont(id, bytes);
    if (opened.ok) fonts.set(id, opened.font);
    else problems.push(opened.problem);
  }
  return fonts;
}

/** The reader of outline fonts is loaded only for a workshop that has one. */
async function loadOutlineFont(id: string, bytes: Uint8Array): Promise<FontResult> {
  const { outlineFont } = await import('../lettering/outline-font.js');
  return outlineFont(id, bytes);
}
