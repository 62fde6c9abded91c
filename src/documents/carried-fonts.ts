import { readdirSync, readFileSync } from 'node:fs';
import { readFile, realpath } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { Refusal } from '../problem.js';
import { byteOrder, readInside } from './files.js';
import { LARGEST_FONT_BYTES } from './font-files.js';
import { refuse } from './messages.js';
import { plainText, quote } from './quote.js';
import type { Workshop } from './schema/workshop.js';

/** Beside the compiled code as beside its source: `fonts/` is two folders up from both. */
const CARRIED = new URL('../../fonts/', import.meta.url);
const require = createRequire(import.meta.url);

/** An outline font that comes in a package of its own. */
const packaged = z.strictObject({
  family: z.string(),
  package: z.string(),
  file: z.string(),
  licence: z.string(),
});
export type PackagedFont = z.infer<typeof packaged>;

/** The fonts that come with burin: the drawings in `fonts/` by their names, and the packages `fonts/outline.json` lists. */
export interface CarriedFonts {
  readonly strokes: ReadonlySet<string>;
  readonly outlines: ReadonlyMap<string, PackagedFont>;
  /** Both kinds, by the ids that designs use. */
  readonly ids: ReadonlySet<string>;
}

export function readCarriedFonts(): CarriedFonts {
  const strokes = readdirSync(CARRIED)
    .filter((name) => name.endsWith('.svg'))
    .map((name) => name.slice(0, -'.svg'.length))
    .sort(byteOrder);
  const list: unknown = JSON.parse(readFileSync(new URL('outline.json', CARRIED), 'utf8'));
  const outlines = new Map(Object.entries(z.record(z.string(), packaged).parse(list, { jitless: true })));
  return { strokes: new Set(strokes), outlines, ids: new Set([...strokes, ...outlines.keys()]) };
}

export interface FontBytes {
  readonly kind: 'outline' | 'stroke';
  readonly bytes: Uint8Array;
}

/**
 * The file of a font, by the id a design uses. Throws a Refusal that says why there is none.
 *
 * A carried font comes before a workshop's own of the same id, so that no folder can change what an id means.
 */
export async function fontBytes(
  id: string,
  from: {
    readonly carried: CarriedFonts;
    readonly workshopDir: string;
    readonly ownFonts: Workshop['fonts'];
  },
): Promise<FontBytes> {
  if (from.carried.strokes.has(id)) {
    return { kind: 'stroke', bytes: await readFile(fileURLToPath(new URL(`${id}.svg`, CARRIED))) };
  }
  const carried = from.carried.outlines.get(id);
  if (carried) return { kind: 'outline', bytes: await packagedBytes(id, carried) };
  const own = new Map(Object.entries(from.ownFonts ?? {})).get(id);
  if (own) return { kind: 'outline', bytes: await ownBytes(id, own.file, from.workshopDir) };
  const known = [...from.carried.ids, ...Object.keys(from.ownFonts ?? {})];
  throw refuse('documents.font-unknown', '', { id: plainText(id), known: known.map((name) => quote(name)) });
}

async function packagedBytes(id: string, font: PackagedFont): Promise<Uint8Array> {
  try {
    return await readFile(require.resolve(`${font.package}/${font.file}`));
  } catch {
    const { family, package: from } = font;
    throw refuse('documents.font-not-installed', `font ${id}`, { family, package: from });
  }
}

async function ownBytes(id: string, file: string, workshopDir: string): Promise<Uint8Array> {
  const read = await readInside(await realpath(workshopDir), file, LARGEST_FONT_BYTES);
  if (read.ok) return read.bytes;
  throw new Refusal([{ ...read.problem, where: `font ${id}: ${read.problem.where}` }]);
}
