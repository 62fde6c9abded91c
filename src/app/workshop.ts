import type { MotifSetting, Strokes } from '../artwork/artwork.js';
import { chordsIn } from '../artwork/chords.js';
import { problem as artworkProblem } from '../artwork/messages.js';
import { motifKey } from '../artwork/motif-key.js';
import { patternProblems, type SizedMark, sizeOfPattern } from '../artwork/pattern-size.js';
import type { Dedication } from '../documents/dedications.js';
import type { Mark } from '../documents/schema/design.js';
import { artworkFile } from '../documents/side-files.js';
import type { WorkshopDocuments } from '../documents/workshop-documents.js';
import type { Font } from '../lettering/font.js';
import { type Problem, Refusal } from '../problem.js';
import { type SurfaceWithObstacles, surfacesOf } from '../surface/part-surfaces.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import type { Environment } from './environment.js';
import { openFonts, readFonts } from './fonts.js';
import { editionProblems, loadDocuments, type OpenDocuments } from './open-documents.js';

/** A workshop opened for work: sound documents and the fonts its designs use, ready to set. */
export interface Workshop extends OpenDocuments {
  /** The surfaces of each part with what is to be kept clear of, by the ids of part and surface. */
  readonly surfaces: ReadonlyMap<string, ReadonlyMap<string, SurfaceWithObstacles>>;
  readonly fonts: ReadonlyMap<string, Font>;
  /** Drawings ready to set, by `motifKey`. */
  readonly motifs: ReadonlyMap<string, MotifSetting>;
  /** What of the workshop's drawings is not cut. */
  readonly leftOut: readonly Problem[];
  /** Lists of dedications by edition. */
  readonly dedications: ReadonlyMap<string, readonly Dedication[]>;
}

/** Opens a workshop folder. Throws a Refusal (exit 2) with every problem of every document at once. */
export async function openWorkshop(dir: string, environment: Environment): Promise<Workshop> {
  const { documents, digests, files, carried } = await loadDocuments(dir);
  const marks = [...documents.designs.values()].flatMap((design) => design.marks);
  const fontFiles = await readFonts({ dir, documents, carried }, marks);
  const surfaces = new Map([...documents.parts].map(([id, part]) => [id, surfacesOf(part)]));
  const problems: Problem[] = [];
  const fonts = await openFonts(fontFiles, problems);
  const { motifs, leftOut } = await openArtwork(documents, files.artwork, problems);
  problems.push(...oversizedPatterns(documents, motifs));
  const inEditions = editionProblems(documents);
  if (problems.length + inEditions.length > 0) throw new Refusal([...inEditions, ...problems]);
  const { dedications } = files;
  return { dir, environment, documents, digests, surfaces, fonts, motifs, leftOut, dedications };
}

/** The reader of drawings is loaded only for a workshop that has one. */
async function openArtwork(
  documents: WorkshopDocuments,
  files: ReadonlyMap<string, Uint8Array>,
  problems: Problem[],
): Promise<Pick<Workshop, 'motifs' | 'leftOut'>> {
  const motifs = new Map<string, MotifSetting>();
  const leftOut: Problem[] = [];
  if (files.size === 0) return { motifs, leftOut };
  const { readArtwork, motifSetting } = await import('../artwork/artwork.js');
  for (const [id, bytes] of files) {
    const where = artworkFile(id);
    const read = readArtwork(id, bytes, where);
    if (!read.ok) {
      problems.push(read.problem);
      continue;
    }
    leftOut.push(...read.remarks);
    for (const strokes of wantedStrokes(documents, id)) {
      const setting = settingOf(() => motifSetting(read.artwork, strokes), problems);
      if (setting === 'refused') continue;
      if (setting) motifs.set(motifKey(id, strokes), setting);
      else problems.push(artworkProblem('artwork.nothing-to-cut', where, {}));
    }
  }
  return { motifs, leftOut };
}

/** A drawing may cross itself too often to be worked out. */
function settingOf<T>(make: () => T, problems: Problem[]): T | 'refused' {
  try {
    return make();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    problems.push(...error.problems);
    return 'refused';
  }
}

/** Patterns and repeats beyond what any later step can do: of each design, and of the designs of one edition together. */
function oversizedPatterns(
  { designs, editions }: WorkshopDocuments,
  motifs: ReadonlyMap<string, MotifSetting>,
): Problem[] {
  const sized = new Map([...designs].map(([id, { marks }]) => [id, sizedMarks(id, marks, motifs)]));
  const tooLarge = [...sized.values()].flatMap(patternProblems);
  if (tooLarge.length > 0) return tooLarge;
  return [...editions.values()].flatMap((edition) =>
    patternProblems(edition.designs.flatMap((id) => sized.get(id) ?? [])),
  );
}

function sizedMarks(
  id: string,
  marks: readonly Mark[],
  motifs: ReadonlyMap<string, MotifSetting>,
): SizedMark[] {
  return marks.flatMap((mark): SizedMark[] => {
    const where = `designs/${id}.yaml: mark ${mark.id}`;
    if (mark.kind === 'pattern') {
      const size = sizeOfPattern(mark.pattern, FLATTEN_TOLERANCE_MM);
      return [{ where, form: mark.pattern.form, size }];
    }
    if (mark.kind !== 'motif' || !mark.repeat || typeof mark.size !== 'number') return [];
    const setting = motifs.get(motifKey(mark.artwork, mark.strokes));
    return setting ? [{ where, form: 'repeat', size: sizeOfRepeats(setting, mark.size, mark.repeat) }] : [];
  });
}

function sizeOfRepeats(
  { line }: MotifSetting,
  height: number,
  { count, rows }: { count: number; rows: number },
) {
  const paths = line.glyphs.map(({ glyph }) => glyph.path);
  const lines = paths.reduce((sum, path) => sum + path.filter(([command]) => command === 'M').length, 0);
  const points = paths.reduce((sum, path) => sum + chordsIn(path, FLATTEN_TOLERANCE_MM / height), 0);
  return { lines: count * rows * lines, points: count * rows * points };
}

function wantedStrokes({ designs }: WorkshopDocuments, artwork: string): Strokes[] {
  const marks = [...designs.values()].flatMap((d) => d.marks);
  return [...new Set(marks.flatMap((m) => (m.kind === 'motif' && m.artwork === artwork ? [m.strokes] : [])))];
}
