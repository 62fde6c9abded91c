import { cutProblems, type MarkCut, minFeatureProblems } from '../cutting/mark-cut.js';
import { problem as cuttingProblem } from '../cutting/messages.js';
import type { LabelFinding } from '../cutting/min-feature-check.js';
import { minFeatureProblem } from '../cutting/min-feature-problem.js';
import type { FitResult, Limit, Trial } from '../layout/fit.js';
import type { MarkFit } from '../layout/fit-marks.js';
import { problem as layoutProblem } from '../layout/messages.js';
import { type Problem, placedIn } from '../problem.js';
import { wrapDeg } from '../units.js';
import { describePhrase, describeProblem, toUserLine } from './describe-problem.js';
import type { EditionFit } from './fit.js';

/** A fit as plain values, for JSON: lengths mm, angles degrees. */
export function fitAnswer(found: EditionFit) {
  return { ok: found.ok, edition: found.edition, marks: found.marks.map(markAnswer) };
}

function markAnswer(found: MarkCut) {
  const { fit, pattern } = found;
  const { of } = fit;
  const problems = cutProblems(found).map(describeProblem);
  const remarks = remarksOf(found).map(describeProblem);
  const head = {
    design: of.designId,
    mark: of.mark.id,
    part: of.partId,
    surface: of.surface.id,
    labels: labelCount(fit),
    cutWidth: of.cutWidth,
    ok: problems.length === 0,
    problem: problems[0],
    ...(problems.length > 1 ? { problems } : {}),
  };
  const toReview = remarks.length > 0 ? { remarks } : {};
  if (fit.kind === 'tiled') {
    const { kept, trimmed, dropped } = pattern!;
    return { ...head, kept, trimmed, dropped, ...toReview };
  }
  if (fit.kind === 'shared') return { ...head, ...resultAnswer(fit, fit.result), ...toReview };
  const each = [...fit.results].map(([label, result]) => ({ label, ...resultAnswer(fit, result) }));
  return { ...head, each, ...toReview };
}

function resultAnswer({ of }: MarkFit, result: FitResult) {
  if (!result.ok) return { smallest: trialAnswer(result.smallest), nearest: result.nearest };
  const limitedBy = !result.atLargest ? 'surface' : isFixed(of) ? 'fixed size' : 'size range';
  return {
    size: result.size,
    place: { z: result.at.z, angle: wrapDeg(result.at.angle) },
    limit: { ...limitAnswer(result.limit), by: limitedBy },
    larger: {
      size: result.larger.size,
      fits: result.larger.limit.clearance >= 0,
      limit: limitAnswer(result.larger.limit),
    },
  };
}

const limitAnswer = ({ clearance, label, glyph, obstacle }: Limit) => ({
  ...{ clearance, label, glyph },
  obstacle: describePhrase(obstacle),
});

const trialAnswer = ({ size, at, limit }: Trial) => ({ size, at, limit: limitAnswer(limit) });

/** Whether the design gives one size, and no range. */
const isFixed = ({ mark }: MarkFit['of']): boolean => 'size' in mark && typeof mark.size === 'number';

const labelCount = ({ of }: MarkFit): number => (of.kind === 'line' ? of.lines.size : 1);

/** What a person should look at before it is cut, label by label. */
export function remarksOf(found: MarkCut): Problem[] {
  const { fit } = found;
  const minFeatures = minFeatureProblems(found).length > 0 ? [] : found.minFeatures;
  const remarks = [
    ...trueCutRemarks(fit.of),
    ...(minFeatures.length > 0 ? minFeatureRemarks(minFeatures) : []),
  ];
  if (fit.kind === 'tiled') return remarks;
  for (const { label, character, by } of fit.of.substituted)
    remarks.push(layoutProblem('layout.character-substituted', labelPlace(label), { character, by }));
  if (fit.kind === 'shared') return remarks;
  const { size } = fit.of.mark;
  const least = typeof size === 'number' ? undefined : size.min;
  for (const [label, result] of fit.results)
    if (result.ok && result.size === least)
      remarks.push(layoutProblem('layout.fits-at-smallest-only', labelPlace(label), {}));
  return remarks;
}

/** Where a cut comes out otherwise than on the flat. */
function trueCutRemarks({ cut, mark, surface }: MarkFit['of']): Problem[] {
  const where = `surface ${surface.id}`;
  const { wider, narrower, floor } = cut;
  const remarks: Problem[] = [];
  if (wider > 0) {
    const deeper = floor > mark.depth + DEEPER_MM ? 'yes' : 'no';
    remarks.push(layoutProblem('layout.wider-uphill', where, { wider, floor, deeper }));
  }
  const isTraced = !('way' in mark) || mark.way === 'trace';
  if (narrower > 0 && isTraced) remarks.push(layoutProblem('layout.narrower-along', where, { narrower }));
  return remarks;
}

/** A floor this much deeper is worth a word, mm. */
const DEEPER_MM = 0.005;

const labelPlace = (label: string): string => `label ${label}`;

/** Where the design sets no limit, all strokes too close are named together, and the worst of them in full. */
function minFeatureRemarks(minFeatures: readonly LabelFinding[]): Problem[] {
  const names = [...new Set(minFeatures.map((c) => `${c.name}${c.second ?? ''}`))].join(' ');
  const worst = minFeatures.reduce((a, b) => ((b.widthAtMost ?? 0) < (a.widthAtMost ?? 0) ? b : a));
  const where = labelPlace(worst.label);
  return [
    cuttingProblem('cutting.some-strokes-too-close', where, { names }),
    placedIn(where, minFeatureProblem(worst)),
  ];
}

/** A fit in words, a mark at a time. */
export const fitLines = (found: EditionFit): string[] => found.marks.flatMap(markLines);

function markLines(found: MarkCut): string[] {
  const { of } = found.fit;
  const count = labelCount(found.fit);
  const what = of.kind === 'tiled' ? of.mark.kind : count === 1 ? '1 label' : `${count} labels`;
  const head = `${of.designId} / ${of.mark.id} on ${of.partId} ${of.surface.id}, ${what}`;
  const problems = cutProblems(found).map((p) => `  ${toUserLine(p)}`);
  const remarks = remarksOf(found).map((r) => `  ${toUserLine(r)}`);
  return [...headLines(head, found), ...problems, ...remarks];
}

function headLines(head: string, { fit, pattern }: MarkCut): string[] {
  if (fit.kind === 'tiled') {
    const { kept, trimmed, dropped } = pattern!;
    return [`${head}: ${kept} kept whole, ${trimmed} cut away at what they meet, ${dropped} left out`];
  }
  if (fit.kind === 'each') {
    const sizes = [...fit.results.values()].flatMap((r) => (r.ok ? [r.size] : []));
    if (sizes.length === 0) return [`${head}: none fits`];
    const [least, most] = [sizes.reduce((a, b) => Math.min(a, b)), sizes.reduce((a, b) => Math.max(a, b))];
    return [`${head}: ${least} to ${most} mm high, each by itself`];
  }
  const { result } = fit;
  if (!result.ok) return [`${head}: does not fit`];
  const { at, larger } = result;
  const place = `z ${at.z.toFixed(2)}, angle ${wrapDeg(at.angle).toFixed(2)}`;
  const wide = larger.size.toFixed(3);
  const proof = result.atLargest
    ? `the size ${isFixed(fit.of) ? 'is fixed' : 'range stops here'}; the closest is ${describeLimit(result.limit)}`
    : `limited by ${describeLimit(result.limit)}; at ${wide} mm (0.5 % larger) ${describeLimit(larger.limit)}`;
  return [`${head}: ${result.size} mm high at ${place}`, `  ${proof}`];
}

function describeLimit({ clearance, label, glyph, obstacle }: Limit): string {
  const where = glyph && glyph !== label ? `${label} ("${glyph}")` : label;
  const by = `${Math.abs(clearance).toFixed(3)} mm`;
  const { message } = describePhrase(obstacle);
  return clearance >= 0 ? `${where}, ${by} clear of ${message}` : `${where} fails by ${by} at ${message}`;
}
