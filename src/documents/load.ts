import { realpath, stat } from 'node:fs/promises';
import type { Problem } from '../problem.js';
import { crosscheck } from './crosscheck.js';
import { digestOf } from './digest.js';
import { byteOrder, documentsIn, readInside } from './files.js';
import { fontFileProblems } from './font-files.js';
import { problem } from './messages.js';
import type { ParsedDocuments, ParsedOfKind } from './parsed-documents.js';
import { plainText } from './quote.js';
import { type DocumentOf, type Outcome, readDocument } from './read-document.js';
import { folders, type Kind } from './schemas.js';
import { artworkFile, dedicationsFile, readSideFiles, type SideFiles } from './side-files.js';
import type { WorkshopDocuments } from './workshop-documents.js';

export interface LoadOptions {
  /** Ids of the fonts burin itself carries; a design may use these and the workshop's own. */
  readonly builtInFonts: ReadonlySet<string>;
}

export type Loaded =
  | {
      ok: true;
      documents: WorkshopDocuments;
      files: SideFiles;
      /** By `kind/id`: what the document means, and the files it names. */
      digests: ReadonlyMap<string, string>;
    }
  | { ok: false; problems: Problem[] };

/** One file answers for many slips at most this often; past that a person starts afresh anyway. */
const MOST_IN_A_FILE = 50;

/**
 * Reads `workshop.yaml` and every document of a workshop folder, and checks each by itself and against the others.
 * Either everything is sound, or every problem found comes back at once, in order of file and line.
 * Nothing is written, and nothing outside the folder is read.
 */
export async function loadWorkshop(dir: string, options: LoadOptions): Promise<Loaded> {
  const root = await workshopRoot(dir);
  if (typeof root !== 'string') return { ok: false, problems: [root] };
  const problems: Problem[] = [];
  const workshop = await readKind(root, 'workshop', 'workshop.yaml');
  problems.push(...workshop.problems);

  const parseKind = async <K extends Exclude<Kind, 'workshop'>>(kind: K): Promise<ParsedOfKind<K>> => {
    const { entries, misnamed, problems: strays } = await documentsIn(root, folders[kind]);
    problems.push(...strays);
    const ofKind: ParsedOfKind<K> = { sound: new Map(), ids: new Set(misnamed) };
    for (const entry of entries) {
      ofKind.ids.add(entry.id);
      const outcome = await readKind(root, kind, entry.file);
      problems.push(...outcome.problems);
      if (outcome.document) ofKind.sound.set(entry.id, outcome.document);
    }
    return ofKind;
  };
  const parsed: ParsedDocuments = {
    workshop: workshop.document,
    part: await parseKind('part'),
    material: await parseKind('material'),
    cutter: await parseKind('cutter'),
    station: await parseKind('station'),
    design: await parseKind('design'),
    edition: await parseKind('edition'),
  };
  problems.push(...crosscheck(parsed, options.builtInFonts));
  if (workshop.document) problems.push(...(await fontFileProblems(root, workshop.document)));
  const files = await readSideFiles(root, parsed);
  problems.push(...files.problems);
  if (problems.length > 0 || !workshop.document) return { ok: false, problems: inOrder(problems) };
  const documents = valuesOf(parsed, workshop.document.value);
  return { ok: true, documents, files, digests: digestsOf(parsed, files) };
}

async function workshopRoot(dir: string): Promise<string | Problem> {
  try {
    const root = await realpath(dir);
    if ((await stat(root)).isDirectory()) return root;
  } catch {
    // Whatever the reason, there is no folder to read: the problem is returned below.
  }
  return problem('documents.no-workshop', plainText(dir, 200), {});
}

async function readKind<K extends Kind>(root: string, kind: K, file: string): Promise<Outcome<K>> {
  const read = await readInside(root, file);
  if (!read.ok) return { problems: [read.problem] };
  return readDocument(kind, file, read.bytes);
}

function values<K extends Kind>(ofKind: ParsedOfKind<K>): ReadonlyMap<string, DocumentOf<K>> {
  return new Map([...ofKind.sound].map(([id, { value }]) => [id, value]));
}

function valuesOf(parsed: ParsedDocuments, workshop: DocumentOf<'workshop'>): WorkshopDocuments {
  return {
    workshop,
    parts: values(parsed.part),
    materials: values(parsed.material),
    cutters: values(parsed.cutter),
    stations: values(parsed.station),
    designs: values(parsed.design),
    editions: values(parsed.edition),
  };
}

function digestsOf(parsed: ParsedDocuments, files: SideFiles): ReadonlyMap<string, string> {
  const digests = new Map<string, string>();
  if (parsed.workshop) digests.set('workshop/workshop', parsed.workshop.digest);
  for (const kind of Object.keys(folders) as (keyof typeof folders)[]) {
    for (const [id, { digest, value }] of parsed[kind].sound) {
      const named = namedFiles(value).map((file) => files.digests.get(file)!);
      // What a design draws is part of what it means; a document that names no file keeps the digest of its text.
      digests.set(`${kind}/${id}`, named.length === 0 ? digest : digestOf([digest, ...named]));
    }
  }
  return digests;
}

function namedFiles(document: DocumentOf<Kind>): string[] {
  if (document.kind === 'design') {
    const ids = document.marks.flatMap((m) => (m.kind === 'motif' ? [m.artwork] : []));
    return [...new Set(ids)].map(artworkFile);
  }
  if (document.kind === 'edition' && document.dedications !== undefined)
    return [dedicationsFile(document.dedications)];
  return [];
}

/** By file, then line, then column; and no file more often than a person will read. */
function inOrder(problems: readonly Problem[]): Problem[] {
  const keyed = problems.map((p) => {
    const [, file = p.where, line = '0', column = '0'] =
      /^(.*?)(?::(\d+):(\d+))?(?:: .*)?$/s.exec(p.where) ?? [];
    return { p, file, line: Number(line), column: Number(column) };
  });
  keyed.sort((a, b) => byteOrder(a.file, b.file) || a.line - b.line || a.column - b.column);
  const ordered: Problem[] = [];
  const counts = new Map<string, number>();
  for (const { p, file } of keyed) {
    const count = (counts.get(file) ?? 0) + 1;
    counts.set(file, count);
    if (count <= MOST_IN_A_FILE) ordered.push(p);
    else if (count === MOST_IN_A_FILE + 1) {
      ordered.push(problem('documents.more-problems', file, {}));
    }
  }
  return ordered;
}
