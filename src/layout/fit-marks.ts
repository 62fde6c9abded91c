import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Place } from '../surface/surface.js';
import { type FitResult, fitMark, sizeRange } from './fit.js';
import { fitSpread } from './fit-spread.js';
import { instanceObstacles, letterObstacles } from './mark-obstacles.js';
import { type LineMark, type MarkToFit, type TiledMark, whereOf } from './mark-to-fit.js';
import { StepBudget } from './step-budget.js';
import { type TiledPattern, tilePattern } from './tile-pattern.js';

/** A fitted mark: one size and place for all its labels, one for each label, or its tiles where its document puts them. */
export type MarkFit =
  | {
      readonly kind: 'shared';
      readonly of: LineMark;
      readonly result: FitResult;
      /** As they are cut: the mark's own, or spread to the length they fill. */
      readonly lines: ReadonlyMap<string, ShapedLine>;
    }
  | { readonly kind: 'each'; readonly of: LineMark; readonly results: ReadonlyMap<string, FitResult> }
  | { readonly kind: 'tiled'; readonly of: TiledMark; readonly pattern: TiledPattern };

/** A label's line at its size, mm, and place. */
export interface FittedText {
  readonly label: string;
  readonly line: ShapedLine;
  readonly size: number;
  readonly at: Place;
}

/**
 * Fits the marks of an edition, each clear of those fitted before it on the same surface. Marks that can neither move
 * nor change go first and patterns last, so that patterns are cut away at the others. Answers in the order given; says
 * after each mark how many are fitted.
 */
export function fitMarks(
  marks: readonly MarkToFit[],
  progress: (done: number, of: number) => void = () => undefined,
): MarkFit[] {
  const order = [...marks].sort((a, b) => fitRank(a) - fitRank(b));
  const taken = new Map<string, Obstacle[]>();
  const fits = new Map<MarkToFit, MarkFit>();
  const budget = new StepBudget();
  for (const [k, of] of order.entries()) {
    const surface = surfaceKey(of);
    const others = taken.get(surface) ?? [];
    const fit: MarkFit =
      of.kind === 'line'
        ? fitLines(of, [...of.obstacles, ...others], budget)
        : { kind: 'tiled', of, pattern: tilePattern(of, others) };
    // A thousand numbers make many obstacles: only where a later mark has to keep clear of them.
    if (order.slice(k + 1).some((later) => surfaceKey(later) === surface))
      taken.set(surface, [...others, ...obstaclesOfFit(fit)]);
    fits.set(of, fit);
    progress(k + 1, order.length);
  }
  return marks.map((of) => fits.get(of)!);
}

const surfaceKey = ({ partId, surface }: MarkToFit): string => `${partId} ${surface.id}`;

/** Fixed marks, then those that may move or change, then drawings that repeat, then patterns. */
function fitRank(of: MarkToFit): number {
  if (of.kind === 'tiled') return of.mark.kind === 'motif' ? 2 : 3;
  const [least, most] = sizeRange(of.mark.size);
  const { z, angle } = of.zone;
  return Number(least !== most || z[0] !== z[1] || angle[0] !== angle[1]);
}

function fitLines(of: LineMark, obstacles: readonly Obstacle[], budget: StepBudget): MarkFit {
  const lines = [...of.lines].map(([label, line]) => ({ label, line }));
  const request = { ...of, cutWidth: of.spread, obstacles, budget, where: whereOf(of), lines };
  if (of.each) {
    const results = new Map(lines.map((line) => [line.label, fitMark({ ...request, lines: [line] })]));
    return { kind: 'each', of, results };
  }
  if (!of.lineAt) return { kind: 'shared', of, result: fitMark(request), lines: of.lines };
  const closes = of.mark.kind === 'inscription' && of.mark.closes !== undefined;
  const { lineAt, spreadChanges } = of;
  return { kind: 'shared', of, ...fitSpread({ lineAt, closes, lines: of.lines, spreadChanges }, request) };
}

/** Every line of a fit that has its size and place. */
export function fittedTexts(fit: MarkFit): FittedText[] {
  if (fit.kind === 'tiled') return [];
  const lines = fit.kind === 'shared' ? fit.lines : fit.of.lines;
  return [...lines].flatMap(([label, line]) => {
    const result = fit.kind === 'shared' ? fit.result : fit.results.get(label);
    return result?.ok ? [{ label, line, size: result.size, at: result.at }] : [];
  });
}

/** What a fitted mark takes up, as obstacles to later ones. */
function obstaclesOfFit(fit: MarkFit): Obstacle[] {
  if (fit.kind === 'tiled') return instanceObstacles(fit.of, fit.pattern.instances);
  const texts = fittedTexts(fit);
  if (fit.kind === 'each') return texts.flatMap((text) => letterObstacles(fit.of, [text.line], text));
  const lines = texts.map((text) => text.line);
  return texts.length > 0 ? letterObstacles(fit.of, lines, texts[0]!) : [];
}
