import { type LabelFinding, markMinFeatures } from '../cutting/min-feature-check.js';
import type { Mark } from '../documents/schema/design.js';
import { boundsOf } from '../geometry/bounds.js';
import { flatten } from '../geometry/flatten.js';
import { grow, type Polygons } from '../geometry/polygons.js';
import { lettersOf } from '../layout/clearance-evaluator.js';
import { type FitResult, fitMark, sizeRange } from '../layout/fit.js';
import { fitSpread } from '../layout/fit-spread.js';
import { placeGlyph, placeOnSheet } from '../layout/place.js';
import { StepBudget } from '../layout/step-budget.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import { Refusal } from '../problem.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Place } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import { type TiledPattern, tilePattern } from './laid.js';
import { type LaidMark, type LineMark, type MarkToFit, marksOf } from './marks.js';
import { misfits } from './misfit.js';
import { editionOf, motifKey, type Workshop } from './workshop.js';

/** A label's line at its size and place. */
export interface FittedText {
  readonly line: ShapedLine;
  readonly size: number;
  readonly at: Place;
}

export type MarkFit = {
  /** Where strokes come too close to be cut. */
  readonly minFeatures: readonly LabelFinding[];
} & (
  | {
      /** One size and one place for every label. */
      readonly kind: 'shared';
      readonly of: LineMark;
      readonly result: FitResult;
      /** As they are cut: the mark's own, or spread to the length they fill. */
      readonly lines: ReadonlyMap<string, ShapedLine>;
    }
  | {
      /** A size and a place for each label. */
      readonly kind: 'each';
      readonly of: LineMark;
      readonly results: ReadonlyMap<string, FitResult>;
    }
  | { readonly kind: 'laid'; readonly of: LaidMark; readonly laid: TiledPattern }
);

/** A mark that fits, with all that is cut of it. */
export interface FittedMark {
  readonly of: MarkToFit;
  readonly mark: Mark;
  /** Least and greatest height, mm; left out for patterns. */
  readonly sizes?: readonly [number, number];
  /** What a label has; nothing where the piece has none of this mark. */
  setting(label: string): FittedText | undefined;
  /** Of a mark that is laid: its blocks, the same on every piece. */
  readonly laid?: TiledPattern;
  readonly minFeatures: readonly LabelFinding[];
}

export interface EditionFit {
  readonly edition: string;
  readonly marks: readonly MarkFit[];
  readonly ok: boolean;
}

/**
 * Fits every mark of an edition: one size and one place for all its labels, each mark clear of those fitted before
 * it on the same surface. Marks that cannot move or change go first, and what is laid comes last, so that it is cut
 * away at the others. Throws a Refusal (exit 2) when a font lacks a character that a label needs.
 */
export function fitEdition(workshop: Workshop, editionId: string): EditionFit {
  const marks = marksOf(workshop, editionOf(workshop, editionId), editionId);
  const order = [...marks].sort((a, b) => lateness(a) - lateness(b));
  const taken = new Map<string, Obstacle[]>();
  const fits = new Map<MarkToFit, MarkFit>();
  const budget = new StepBudget();
  for (const [k, one] of order.entries()) {
    const place = placeOf(one);
    const others = taken.get(place) ?? [];
    const fitted =
      one.kind === 'line'
        ? fitLines(one, [...one.obstacles, ...others], budget)
        : layOf(workshop, one, others);
    const found = { ...fitted, minFeatures: minFeaturesOf(workshop, fitted) };
    // A thousand numbers make many obstacles: only where a later mark has to keep clear of them.
    if (order.slice(k + 1).some((later) => placeOf(later) === place))
      taken.set(place, [...others, ...asObstacles(found)]);
    fits.set(one, found);
  }
  const inOrder = marks.map((m) => fits.get(m)!);
  return { edition: editionId, marks: inOrder, ok: inOrder.every((m) => misfits(m).length === 0) };
}

/** The marks of a fit, each with its size and place. Throws a Refusal (exit 1) when one does not fit. */
export function fittedMarks(found: EditionFit): FittedMark[] {
  const problems = found.marks.flatMap(misfits);
  if (problems.length > 0) throw new Refusal(1, problems);
  return found.marks.map(fittedMark);
}

function fittedMark(found: MarkFit): FittedMark {
  const { of } = found;
  if (found.kind === 'laid') {
    const size = of.mark.kind === 'motif' && typeof of.mark.size === 'number' ? of.mark.size : undefined;
    const sizes = size === undefined ? {} : { sizes: [size, size] as const };
    const { minFeatures, laid } = found;
    return { of, mark: of.mark, ...sizes, laid, minFeatures, setting: () => undefined };
  }
  const results = found.kind === 'shared' ? [found.result] : [...found.results.values()];
  const all = results.flatMap((r) => (r.ok ? [r.size] : []));
  const sizes = [Math.min(...all), Math.max(...all)] as const;
  const lines = found.kind === 'shared' ? found.lines : found.of.lines;
  const only = lines.size === 1 && found.kind === 'shared' ? [...lines.values()][0] : undefined;
  const numbered = of.mark.kind === 'number' || of.mark.kind === 'dedication';
  const setting = (label: string): FittedText | undefined => {
    const line = numbered ? lines.get(label) : only;
    const result = found.kind === 'shared' ? found.result : found.results.get(label);
    return line && result?.ok ? { line, size: result.size, at: result.at } : undefined;
  };
  return { of, mark: of.mark, ...(all.length > 0 ? { sizes } : {}), minFeatures: found.minFeatures, setting };
}

const placeOf = ({ partId, surface }: MarkToFit): string => `${partId} ${surface.id}`;

/** Fixed marks, then those that may move or change, then drawings that repeat, then patterns. */
function lateness(one: MarkToFit): number {
  if (one.kind === 'laid') return one.mark.kind === 'motif' ? 2 : 3;
  const [least, most] = sizeRange(one.mark.size);
  const { z, angle } = one.zone;
  return Number(least !== most || z[0] !== z[1] || angle[0] !== angle[1]);
}

function fitLines(one: LineMark, obstacles: readonly Obstacle[], budget: StepBudget): MarkFit {
  const where = `designs/${one.designId}.yaml: mark ${one.mark.id}`;
  const request = { ...one, cutWidth: one.spread, obstacles, budget, where };
  const all = [...one.lines].map(([label, line]) => ({ label, line }));
  if (one.each) {
    const results = new Map(all.map((each) => [each.label, fitMark({ ...request, lines: [each] })]));
    return { kind: 'each', of: one, results, minFeatures: [] };
  }
  const closes = one.mark.kind === 'inscription' && one.mark.closes !== undefined;
  if (one.lineAt)
    return {
      kind: 'shared',
      of: one,
      minFeatures: [],
      ...fitSpread({ lineAt: one.lineAt, closes, lines: one.lines }, { ...request, lines: all }),
    };
  const result = fitMark({ ...request, lines: all });
  return { kind: 'shared', of: one, result, lines: one.lines, minFeatures: [] };
}

const layOf = (workshop: Workshop, of: LaidMark, others: readonly Obstacle[]): MarkFit => ({
  kind: 'laid',
  of,
  laid: tilePattern(workshop, of, others),
  minFeatures: [],
});

/** Where strokes of a mark come too close at the size it was fitted to. Patterns cross and touch by design. */
function minFeaturesOf(workshop: Workshop, found: MarkFit): LabelFinding[] {
  const { mark } = found.of;
  const cutter = workshop.documents.cutters.get(mark.cutter)!;
  if (found.kind === 'laid') {
    if (mark.kind !== 'motif') return [];
    const { font, line } = workshop.motifs.get(motifKey(mark.artwork, mark.strokes))!;
    return markMinFeatures({ mark, font }, cutter, [[mark.artwork, { line, size: sizeRange(mark.size)[0] }]]);
  }
  const { of } = found;
  const results = found.kind === 'shared' ? undefined : found.results;
  const lines = found.kind === 'shared' ? found.lines : of.lines;
  const settings = [...lines].flatMap(([label, line]) => {
    const result = found.kind === 'shared' ? found.result : results?.get(label);
    return result?.ok ? [[label, { line, size: result.size }] as const] : [];
  });
  return markMinFeatures(of, cutter, settings);
}

/** What a fitted mark takes up, as obstacles to later ones: each letter's or repeat's box, its cut counted in. */
function asObstacles(found: MarkFit): Obstacle[] {
  const { of } = found;
  if (found.kind === 'laid') {
    return found.laid.blocks.map(({ turn, lines }): Obstacle => {
      const polygons = boxGrown(
        lines.flatMap((l) => [...l.points]),
        of.cutWidth / 2,
      );
      return { shape: 'patch', name: `mark ${of.mark.id}`, turn, polygons };
    });
  }
  if (found.kind === 'shared')
    return found.result.ok ? lettersAsObstacles(found.of, found.lines, found.result) : [];
  return [...found.results].flatMap(([label, result]) =>
    result.ok ? lettersAsObstacles(found.of, new Map([[label, found.of.lines.get(label)!]]), result) : [],
  );
}

function lettersAsObstacles(
  { mark, surface, spread }: LineMark,
  lines: ReadonlyMap<string, ShapedLine>,
  { size, at }: Omit<FittedText, 'line'>,
): Obstacle[] {
  return lettersOf([...lines.values()].map((line) => ({ label: '', line }))).flatMap(({ glyph, places }) => {
    const points = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).flatMap((p) => [...p.points]);
    if (points.length === 0) return [];
    const flat = Float64Array.from(points);
    // On a ring a letter's box is the same wherever it stands, but for the turn.
    const grown = new Map<string, Polygons>();
    return places.map((one): Obstacle => {
      const { turn, rotation, x, y } = placeGlyph(surface, one, size, mark, at);
      const key = `${x} ${y} ${rotation}`;
      let polygons = grown.get(key);
      if (!polygons) {
        polygons = boxGrown(placeOnSheet(flat, rotation, x, y), spread / 2);
        grown.set(key, polygons);
      }
      return { shape: 'patch', name: `mark ${mark.id}`, turn, polygons };
    });
  });
}

function boxGrown(points: ArrayLike<number>, by: number): Polygons {
  const [x0, y0, x1, y1] = boundsOf(Float64Array.from(points));
  return grow([Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1)], by);
}
