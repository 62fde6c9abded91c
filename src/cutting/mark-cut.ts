import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import { sizeRange } from '../layout/fit.js';
import { fittedTexts, type MarkFit } from '../layout/fit-marks.js';
import { whereOf } from '../layout/mark-to-fit.js';
import { misfits } from '../layout/misfit.js';
import { type Problem, placedIn, within } from '../problem.js';
import { cutParameters } from './cut-parameters.js';
import type { CutWork } from './cut-work.js';
import { problem } from './messages.js';
import { type LabelFinding, markMinFeatures } from './min-feature-check.js';
import { minFeatureProblem } from './min-feature-problem.js';
import type { MinFeatureWork } from './min-feature-work.js';
import { cutPattern, type PatternCut } from './pattern-cut.js';
import { markSeen } from './seen-check.js';
import type { SweptTool } from './swept-cut.js';

/** A fitted mark with what its cutter makes of it. */
export interface MarkCut {
  readonly fit: MarkFit;
  readonly cutter: Cutter;
  readonly material: Material;
  /** Of a tiled mark. */
  readonly pattern?: PatternCut;
  /** Strokes and gaps too close to cut at the size it was fitted to. */
  readonly minFeatures: readonly LabelFinding[];
  /** Letters, or the drawing, that the metal would not show as they are drawn. */
  readonly seen: readonly Problem[];
}

/**
 * Cuts the tiles of a fitted mark, and looks for strokes too close to cut and letters that would not be seen as they are drawn on
 * stations of these set-ups. Letters are cut label by label, later.
 */
export function cutMark(
  fit: MarkFit,
  { cutter, material, setups }: { cutter: Cutter; material: Material; setups: readonly SweptTool['setup'][] },
  work: { readonly strokes: MinFeatureWork; readonly lines: CutWork },
): MarkCut {
  const minFeatures = within(whereOf(fit.of), () => minFeaturesOf(fit, cutter, work.strokes));
  const parameters = cutParameters(fit.of.mark, cutter, material);
  const seen = within(whereOf(fit.of), () => markSeen(fit, parameters, setups, work.lines));
  if (fit.kind !== 'tiled') return { fit, cutter, material, minFeatures, seen };
  const pattern = within(whereOf(fit.of), () => cutPattern(fit.of, fit.pattern, parameters, work.lines));
  return { fit, cutter, material, pattern, minFeatures, seen };
}

/** Patterns cross and touch by design, and are not looked at. */
function minFeaturesOf(fit: MarkFit, cutter: Cutter, work: MinFeatureWork): LabelFinding[] {
  if (fit.kind !== 'tiled') return markMinFeatures(fit.of, cutter, fittedTexts(fit), work);
  const { mark, motif } = fit.of;
  if (mark.kind !== 'motif') return [];
  const { font, line } = motif!;
  const text = { label: mark.artwork, line, size: sizeRange(mark.size)[0] };
  return markMinFeatures({ mark, font, cutWidth: fit.of.cutWidth }, cutter, [text], work);
}

/**
 * Every reason not to cut a mark: where it does not fit, then what is left of it, then what is too close to cut, then what
 * would not be seen as it is drawn.
 */
export function cutProblems(cut: MarkCut): Problem[] {
  const where = whereOf(cut.fit.of);
  const left = (cut.pattern?.problems ?? []).map((p) => placedIn(where, p));
  const seen = cut.seen.map((p) => placedIn(where, p));
  return [...misfits(cut.fit), ...left, ...minFeatureProblems(cut), ...runTogether(cut), ...seen];
}

/** Neighbours in a number that are cut into one, where no least land is set that says so. */
function runTogether({ fit, minFeatures }: MarkCut): Problem[] {
  const { mark } = fit.of;
  if (mark.kind !== 'number' || mark.land !== undefined) return [];
  const allowed = new Set(mark['may-differ']);
  const where = whereOf(fit.of);
  return minFeatures.flatMap(({ name, second, measured, label, spacing }) =>
    second === undefined || measured > 0 || allowed.has(name) || allowed.has(second)
      ? []
      : [
          placedIn(
            where,
            problem('cutting.seen-run-together', `label ${label}`, { name, second, by: spacing! }),
          ),
        ],
  );
}

/** What is too close to cut, where the design sets the least land; without a limit it is for a person to judge. */
export function minFeatureProblems({ fit, minFeatures }: MarkCut): Problem[] {
  const { mark } = fit.of;
  if (!('land' in mark) || mark.land === undefined) return [];
  const where = whereOf(fit.of);
  return minFeatures.map((one) => placedIn(where, minFeatureProblem(one)));
}
