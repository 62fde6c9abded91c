import type { MotifSetting } from '../artwork/artwork.js';
import { motifKey } from '../artwork/motif-key.js';
import type { Dedication } from '../documents/dedications.js';
import type { Cutter } from '../documents/schema/cutter.js';
import {
  type Design,
  type DrawnMark,
  isLettered,
  type LetteredMark,
  type Mark,
  type MotifMark,
} from '../documents/schema/design.js';
import { DEEPEST_OF_WALL, type Part } from '../documents/schema/part.js';
import type { Font } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import { type Problem, Refusal } from '../problem.js';
import type { SurfaceWithObstacles } from '../surface/part-surfaces.js';
import { bodyObstacles } from './cutter-body.js';
import type { TextDirection } from './glyph-placement.js';
import {
  countLetters,
  type LabelledNumber,
  type MarkText,
  type ShapedLabels,
  shapeMarkText,
  tellingLabels,
} from './mark-text.js';
import { problem, refuse } from './messages.js';
import { type ReckonedCut, reckonedCut, type Setup } from './true-cut.js';
import { type Zone, zoneOf } from './zone.js';

/** What any mark has: its part, its surface, and how wide it is cut. */
interface MarkOnPart extends SurfaceWithObstacles {
  readonly designId: string;
  readonly partId: string;
  readonly part: Part;
  /** Width by which the cut spreads about its lines, mm; 0 where the cutter keeps within the drawing. */
  readonly spread: number;
  /** Width of the cut at full depth, mm, to be reckoned with on any set-up. */
  readonly cutWidth: number;
  readonly cut: ReckonedCut;
}

/** A mark that is fitted: lines of letters, or one drawing set as if it were a letter. */
export interface LineMark extends MarkOnPart {
  readonly kind: 'line';
  readonly mark: LetteredMark | MotifMark;
  readonly zone: Zone;
  readonly font: Font;
  /** Every label of the edition for a number or a dedication; one alone for an inscription or a drawing. */
  readonly lines: MarkText['lines'];
  /** Every label has a size and a place of its own. */
  readonly each: boolean;
  readonly lineAt?: MarkText['lineAt'];
  readonly spreadChanges?: MarkText['spreadChanges'];
  readonly substituted: MarkText['substituted'];
}

/** A mark whose document gives its size and place: a drawing that repeats, or a pattern. */
export interface TiledMark extends MarkOnPart {
  readonly kind: 'tiled';
  readonly mark: DrawnMark;
  /** The drawing, of a mark that has one. */
  readonly motif?: MotifSetting;
}

/** A mark of an edition with everything needed to fit it. */
export type MarkToFit = LineMark | TiledMark;

/** The marks of an edition and what they are made from, all of it opened and checked. */
export interface MarkSources {
  /** In the order of the edition, each with its part and the surfaces of that part by id. */
  readonly designs: readonly {
    readonly id: string;
    readonly design: Design;
    readonly part: Part;
    readonly surfaces: ReadonlyMap<string, SurfaceWithObstacles>;
  }[];
  readonly cutters: ReadonlyMap<string, Cutter>;
  readonly fonts: ReadonlyMap<string, Font>;
  /** By `motifKey`. */
  readonly motifs: ReadonlyMap<string, MotifSetting>;
  /** Every label the edition plans. */
  readonly labels: readonly LabelledNumber[];
  readonly dedications?: readonly Dedication[];
  /** Of the stations that it may be cut on; square to the surface when left out. */
  readonly setups?: readonly Setup[];
}

/**
 * Letters that the marks of an edition may have on all its pieces together: two numbers of twenty characters on each of a
 * hundred thousand pieces. Each letter is shaped, set and held against the station once.
 */
export const MOST_LETTERS = 4_000_000;

/** A letter that climbs on a helix is cut in a direction of its own, shares nothing with others, and counts as so many. */
const LETTERS_ON_HELIX = 3;

/** Refuses an edition whose marks have too many letters (exit 1). Nothing is shaped for it. */
function checkLetters({ designs, labels, dedications }: MarkSources): void {
  const counts = designs.flatMap(({ id, design }) =>
    design.marks.filter(isLettered).map((mark) => {
      const each = mark.baseline === 'helix' ? LETTERS_ON_HELIX : 1;
      return { designId: id, mark, letters: each * countLetters(mark, labels, dedications) };
    }),
  );
  const letters = counts.reduce((sum, one) => sum + one.letters, 0);
  if (letters <= MOST_LETTERS) return;
  const first = counts.reduce((a, b) => (b.letters > a.letters ? b : a));
  const helix = counts.some(({ mark }) => mark.baseline === 'helix') ? LETTERS_ON_HELIX : 0;
  const values = { letters, pieces: labels.length, most: MOST_LETTERS, helix };
  throw refuse('layout.too-many-letters', whereOf(first), values);
}

/**
 * Every mark of an edition, ready to fit. Throws a Refusal: exit 2 when a font lacks a character that is needed, exit 1
 * when there are more letters than can be set.
 */
export function marksToFit(sources: MarkSources): MarkToFit[] {
  checkLetters(sources);
  return preparedMarks(sources, () => sources.labels);
}

/** Throws the Refusal that `marksToFit` would, shaping no more labels than it takes to find out. */
export function checkMarks(sources: MarkSources): void {
  checkLetters(sources);
  const telling = tellingLabels(sources.labels);
  preparedMarks(sources, ({ kind }) => (kind === 'number' ? telling : sources.labels));
}

function preparedMarks(
  sources: MarkSources,
  labelsFor: (mark: LetteredMark) => readonly LabelledNumber[],
): MarkToFit[] {
  const shaped: ShapedLabels = new Map();
  const problems: Problem[] = [];
  const marks = sources.designs.flatMap((source) =>
    source.design.marks.flatMap((mark): MarkToFit[] => {
      const base = markOnPart(sources, source, mark);
      problems.push(...floorProblems(base, mark));
      if (!isLettered(mark)) {
        const drawn = drawnMark(sources, base, mark);
        problems.push(...withoutAreas(sources, drawn));
        return [drawn];
      }
      const font = sources.fonts.get(mark.font)!;
      const text = shapeMarkText({
        ...sources,
        labels: labelsFor(mark),
        where: whereOf({ ...base, mark }),
        mark,
        font,
        shaped,
        ...base,
      });
      if ('problems' in text) {
        problems.push(...text.problems);
        return [];
      }
      const zone = zoneOf(mark, base.part, base.surface);
      return [{ ...base, kind: 'line', mark, font, zone, each: mark.kind === 'dedication', ...text }];
    }),
  );
  if (problems.length > 0) throw new Refusal(problems);
  return marks;
}

/** A mark, for a person: `designs/cap-number.yaml: mark number`. */
export const whereOf = ({ designId, mark }: { readonly designId: string; readonly mark: Mark }): string =>
  `designs/${designId}.yaml: mark ${mark.id}`;

/** The baseline and reading direction of a mark; a drawing that repeats round the ring is upright. */
export const textDirectionOf = (of: MarkToFit): TextDirection =>
  of.kind === 'line' ? of.mark : { baseline: 'ring', reading: 'up' };

function markOnPart(
  { cutters, setups = ['tilted'] }: MarkSources,
  source: MarkSources['designs'][number],
  mark: Mark,
): MarkOnPart {
  const cutter = cutters.get(mark.cutter)!;
  const way = 'way' in mark ? mark.way : 'trace';
  const of = source.surfaces.get(mark.surface)!;
  const cut = reckonedCut(cutter, mark.depth, of.surface, setups);
  const { width, plain } = cut;
  const body = { cutter, depth: mark.depth, way, cutWidth: width };
  return {
    designId: source.id,
    partId: source.design.part,
    part: source.part,
    ...of,
    obstacles: [...of.obstacles, ...bodyObstacles(source.part, of.surface, body, of.obstacles)],
    // What is cleared or grooved ends at its edge, and beyond it where the cutter cuts wider than it should.
    spread: way === 'trace' ? width : width - plain,
    cutWidth: width,
    cut,
  };
}

/** A cutter that leans goes deeper at one side than its tip. */
function floorProblems(base: MarkOnPart, mark: Mark): Problem[] {
  const { floor } = base.cut;
  const { wall } = base.part;
  const most = wall * DEEPEST_OF_WALL;
  if (floor <= mark.depth || floor < most) return [];
  return [
    problem('layout.floor-too-deep', whereOf({ ...base, mark }), { depth: mark.depth, floor, wall, most }),
  ];
}

/** Only areas are cleared and grooved, and a drawing of lines has none. */
function withoutAreas({ motifs }: MarkSources, of: MarkToFit): Problem[] {
  const { mark } = of;
  if (mark.kind !== 'motif' || mark.way === 'trace') return [];
  if (motifs.get(motifKey(mark.artwork, mark.strokes))!.font.kind === 'outline') return [];
  return [
    problem('layout.drawing-without-areas', whereOf(of), { artwork: mark.artwork, strategy: mark.way }),
  ];
}

function drawnMark({ motifs }: MarkSources, base: MarkOnPart, mark: DrawnMark): MarkToFit {
  if (mark.kind !== 'motif') return { ...base, kind: 'tiled', mark };
  // A drawing of which nothing is cut has been refused with its file.
  const motif = motifs.get(motifKey(mark.artwork, mark.strokes))!;
  if (mark.repeat || mark.meets !== 'refuse') return { ...base, kind: 'tiled', mark, motif };
  const { font, line } = motif;
  const spread = line.glyphs.some((g) => g.glyph.stroked) ? base.cutWidth : base.spread;
  const zone = zoneOf(mark, base.part, base.surface);
  const lines = new Map<string, ShapedLine>([[mark.artwork, line]]);
  return { ...base, spread, kind: 'line', mark, font, zone, lines, each: false, substituted: [] };
}
