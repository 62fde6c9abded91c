import { hash } from 'node:crypto';
import type { Problem } from '../problem.js';
import type { Dedication } from './dedications.js';
import { readInside } from './files.js';
import { namedIn } from './font-files.js';
import type { ParsedDocuments } from './parsed-documents.js';

/** Far above any drawing a cutter could follow; keeps a mistaken file from being read into memory. */
const LARGEST_ARTWORK_BYTES = 20_000_000;
const LARGEST_LIST_BYTES = 10_000_000;

/** Files beside the documents that documents name. */
export interface SideFiles {
  /** Drawings by id, as bytes of SVG. */
  readonly artwork: ReadonlyMap<string, Uint8Array>;
  /** Lists of dedications by the id of their edition. */
  readonly dedications: ReadonlyMap<string, readonly Dedication[]>;
  /** SHA-256 of each file by its path in the workshop. */
  readonly digests: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

export const ARTWORK_FOLDER = 'artwork';
export const artworkFile = (id: string): string => `${ARTWORK_FOLDER}/${id}.svg`;
export const dedicationsFile = (id: string): string => `editions/${id}.csv`;

/** Reads the files that sound documents name: inside the folder, each once. */
export async function readSideFiles(root: string, { design, edition }: ParsedDocuments): Promise<SideFiles> {
  const artwork = new Map<string, Uint8Array>();
  const dedications = new Map<string, readonly Dedication[]>();
  const digests = new Map<string, string>();
  const problems: Problem[] = [];
  const bytesOf = async (where: string, file: string, largest: number): Promise<Uint8Array | undefined> => {
    const read = await readInside(root, file, largest);
    if (!read.ok) {
      problems.push(namedIn(where, read.problem));
      return undefined;
    }
    digests.set(file, hash('sha256', read.bytes));
    return read.bytes;
  };
  for (const { value, places } of design.sound.values()) {
    for (const [i, mark] of value.marks.entries()) {
      if (mark.kind !== 'motif' || artwork.has(mark.artwork)) continue;
      const where = places.at('marks', i, 'artwork');
      const bytes = await bytesOf(where, artworkFile(mark.artwork), LARGEST_ARTWORK_BYTES);
      if (bytes) artwork.set(mark.artwork, bytes);
    }
  }
  for (const [id, { value, places }] of edition.sound) {
    if (value.dedications === undefined) continue;
    const file = dedicationsFile(value.dedications);
    const bytes = await bytesOf(places.at('dedications'), file, LARGEST_LIST_BYTES);
    if (!bytes) continue;
    // The reader of CSV is loaded only for an edition that has a list.
    const { readDedications } = await import('./dedications.js');
    const list = readDedications(bytes, file);
    if (list.ok) dedications.set(id, list.rows);
    else problems.push(...list.problems);
  }
  return { artwork, dedications, digests, problems };
}
