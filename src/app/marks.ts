import { cutWidth } from '../cutting/width.js';
import {
  type Design,
  type DrawnMark,
  isLettered,
  type LetteredMark,
  type Mark,
  type MotifMark,
} from '../documents/schema/design.js';
import type { Edition } from '../documents/schema/edition.js';
import type { Part } from '../documents/schema/part.js';
import { planned } from '../edition/labels.js';
import { type Zone, zoneOf } from '../layout/zone.js';
import type { Font } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import { type Problem, Refusal } from '../problem.js';
import { type Obstacle, obstaclesOf } from '../surface/keepouts.js';
import { type Surface, surfaceOf } from '../surface/surface.js';
import { type Texts, textsOf } from './texts.js';
import { motifKey, type Workshop } from './workshop.js';

interface OfPart {
  readonly designId: string;
  readonly partId: string;
  readonly part: Part;
  readonly surface: Surface;
  readonly obstacles: readonly Obstacle[];
  /** Width by which the cut spreads about its lines, mm; 0 where the cutter keeps within the drawing. */
  readonly spread: number;
  /** Width of the cut at full depth, mm. */
  readonly cutWidth: number;
}

/** A mark that is fitted: lines of letters, or one drawing set as if it were a letter. */
export interface LineMark extends OfPart {
  readonly kind: 'line';
  readonly mark: LetteredMark | MotifMark;
  readonly zone: Zone;
  readonly font: Font;
  /** Every label of the edition for a number or a dedication; one alone for an inscription or a drawing. */
  readonly lines: ReadonlyMap<string, ShapedLine>;
  /** Every label has a size and a place of its own. */
  readonly each: boolean;
  /** The line for a height and a z, both mm, where the words are spread to a given length; undefined when too long. */
  readonly lineAt?: (size: number, z: number) => ShapedLine | undefined;
  /** Letters set in place of those the font lacks, by label. */
  readonly substituted: Texts['substituted'];
}

/** A mark that lies where its document says: a drawing that repeats, or a pattern. */
export interface LaidMark extends OfPart {
  readonly kind: 'laid';
  readonly mark: DrawnMark;
}

/** A mark of an edition with everything needed to fit it. */
export type MarkToFit = LineMark | LaidMark;

/** Every mark of an edition, ready to fit. Throws a Refusal (exit 2) when a font lacks a character that is needed. */
export function marksOf(workshop: Workshop, edition: Edition, editionId: string): MarkToFit[] {
  const problems: Problem[] = [];
  const labels = planned(edition);
  const marks = edition.designs.flatMap((designId) => {
    const design = workshop.documents.designs.get(designId)!;
    return design.marks.map((mark): MarkToFit | undefined => {
      const base = partOf(workshop, designId, design, mark);
      if (!isLettered(mark)) return drawn(workshop, base, mark);
      const font = workshop.fonts.get(mark.font)!;
      const where = `designs/${designId}.yaml: mark ${mark.id}`;
      const words = workshop.dedications.get(editionId);
      const texts = textsOf(where, mark, font, base.surface, labels, words);
      if ('problems' in texts) {
        problems.push(...texts.problems);
        return undefined;
      }
      const zone = zoneOf(mark, base.part, base.surface);
      return { ...base, kind: 'line', mark, font, zone, each: mark.kind === 'dedication', ...texts };
    });
  });
  if (problems.length > 0) throw new Refusal(2, problems);
  return marks.flatMap((m) => m ?? []);
}

function partOf(workshop: Workshop, designId: string, design: Design, mark: Mark): OfPart {
  const part = workshop.documents.parts.get(design.part)!;
  const surface = surfaceOf(part, mark.surface)!;
  const spec = part.surfaces.find((s) => s.id === mark.surface)!;
  const width = cutWidth(workshop.documents.cutters.get(mark.cutter)!, mark.depth);
  return {
    designId,
    partId: design.part,
    part,
    surface,
    obstacles: obstaclesOf(part, spec, surface),
    spread: 'way' in mark && mark.way !== 'trace' ? 0 : width,
    cutWidth: width,
  };
}

function drawn(workshop: Workshop, base: OfPart, mark: DrawnMark): MarkToFit {
  if (mark.kind !== 'motif' || mark.repeat || mark.meets !== 'refuse') return { ...base, kind: 'laid', mark };
  // A drawing of which nothing is cut has been refused with its file.
  const { font, line } = workshop.motifs.get(motifKey(mark.artwork, mark.strokes))!;
  const spread = line.glyphs.some((g) => g.glyph.stroked) ? base.cutWidth : base.spread;
  const zone = zoneOf(mark, base.part, base.surface);
  const lines = new Map([[mark.artwork, line]]);
  return { ...base, spread, kind: 'line', mark, font, zone, lines, each: false, substituted: [] };
}
