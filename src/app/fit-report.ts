import type { LabelFinding } from '../cutting/min-feature-check.js';
import { minFeatureProblem } from '../cutting/min-feature-problem.js';
import type { FitResult, Limit, Trial } from '../layout/fit.js';
import { problemLine } from '../problem.js';
import { wrapDeg } from '../units.js';
import type { EditionFit, MarkFit } from './fit.js';
import type { TiledPattern } from './laid.js';
import { minFeatureProblems, misfits } from './misfit.js';

/** A fit as plain values, for JSON: lengths mm, angles degrees. */
export function fitAnswer(found: EditionFit) {
  return { ok: found.ok, edition: found.edition, marks: found.marks.map(markAnswer) };
}

function markAnswer(found: MarkFit) {
  const { of } = found;
  const problems = misfits(found);
  const head = {
    design: of.designId,
    mark: of.mark.id,
    part: of.partId,
    surface: of.surface.id,
    labels: labelCount(found),
    cutWidth: of.cutWidth,
    ok: problems.length === 0,
    problem: problems[0],
    ...(problems.length > 1 ? { problems } : {}),
  };
  if (found.kind === 'laid') return { ...head, ...laidCounts(found.laid), ...looked(found) };
  if (found.kind === 'shared') return { ...head, ...resultAnswer(found.result), ...looked(found) };
  const each = [...found.results].map(([label, result]) => ({ label, ...resultAnswer(result) }));
  return { ...head, each, ...looked(found) };
}

function resultAnswer(result: FitResult) {
  if (!result.ok) return { smallest: trialAnswer(result.smallest), nearest: result.nearest };
  return {
    size: result.size,
    place: { z: result.at.z, angle: wrapDeg(result.at.angle) },
    limit: { ...limitAnswer(result.limit), by: result.atLargest ? 'size range' : 'surface' },
    larger: {
      size: result.larger.size,
      fits: result.larger.limit.clearance >= 0,
      limit: limitAnswer(result.larger.limit),
    },
  };
}

const limitAnswer = ({ clearance, ...of }: Limit) => ({ room: clearance, ...of });

const trialAnswer = ({ size, at, limit }: Trial) => ({ size, at, limit: limitAnswer(limit) });

const looked = (found: MarkFit) => {
  const all = toLookAt(found);
  return all.length > 0 ? { look: all } : {};
};

const laidCounts = ({ kept, trimmed, dropped }: TiledPattern) => ({ kept, trimmed, dropped });

const labelCount = ({ of }: MarkFit): number => (of.kind === 'line' ? of.lines.size : 1);

/** Labels that a person should look at before they are cut, and why. */
export function toLookAt(found: MarkFit): { readonly label: string; readonly why: string }[] {
  const told = minFeatureProblems(found).length > 0;
  const minFeatures = told ? [] : found.minFeatures;
  const looks: { label: string; why: string }[] =
    minFeatures.length > 0 ? [minFeatureRemark(minFeatures)] : [];
  if (found.kind === 'laid') return looks;
  const { substituted } = found.of;
  const set = substituted.map(({ label, character, by }) => ({
    label,
    why: `"${character}" is not in the font, and "${by}" stands for it`,
  }));
  looks.push(...set);
  if (found.kind === 'shared') return looks;
  const { size } = found.of.mark;
  const least = typeof size === 'number' ? undefined : size.min;
  for (const [label, result] of found.results) {
    if (!result.ok) looks.push({ label, why: `it does not fit at the smallest size` });
    else if (result.size === least) looks.push({ label, why: `it fits at the smallest size only` });
  }
  return looks;
}

/** Where the design sets no limit, all strokes too close are named in one line, the worst of it in full. */
function minFeatureRemark(minFeatures: readonly LabelFinding[]): { label: string; why: string } {
  const names = [...new Set(minFeatures.map((c) => `${c.name}${c.second ?? ''}`))].join(' ');
  const worst = minFeatures.reduce((a, b) => ((b.widthAtMost ?? 0) < (a.widthAtMost ?? 0) ? b : a));
  const { what, cure } = minFeatureProblem(worst);
  return {
    label: worst.label,
    why: `these have strokes too close to cut at this size: ${names}. ${what} ${cure}`,
  };
}

/** A fit in words, a mark at a time. */
export const fitLines = (found: EditionFit): string[] => found.marks.flatMap(markLines);

function markLines(found: MarkFit): string[] {
  const { of } = found;
  const count = labelCount(found);
  const what = of.kind === 'laid' ? of.mark.kind : count === 1 ? '1 label' : `${count} labels`;
  const head = `${of.designId} / ${of.mark.id} on ${of.partId} ${of.surface.id}, ${what}`;
  const problems = misfits(found).map((p) => `  ${problemLine(p)}`);
  const looks = toLookAt(found).map(({ label, why }) => `  look at ${label}: ${why}`);
  return [...headLines(head, found), ...problems, ...looks];
}

function headLines(head: string, found: MarkFit): string[] {
  if (found.kind === 'laid') {
    const { kept, trimmed, dropped } = found.laid;
    return [`${head}: ${kept} kept whole, ${trimmed} cut away at what they meet, ${dropped} left out`];
  }
  if (found.kind === 'each') {
    const sizes = [...found.results.values()].flatMap((r) => (r.ok ? [r.size] : []));
    if (sizes.length === 0) return [`${head}: none fits`];
    return [`${head}: ${Math.min(...sizes)} to ${Math.max(...sizes)} mm high, each by itself`];
  }
  const { result } = found;
  if (!result.ok) return [`${head}: does not fit`];
  const { at, larger } = result;
  const place = `z ${at.z.toFixed(2)}, angle ${wrapDeg(at.angle).toFixed(2)}`;
  const wide = larger.size.toFixed(3);
  const proof = result.atLargest
    ? `the size range stops here; least room is ${told(result.limit)}`
    : `limited by ${told(result.limit)}; at ${wide} mm (0.5 % larger) ${told(larger.limit)}`;
  return [`${head}: ${result.size} mm high at ${place}`, `  ${proof}`];
}

function told({ clearance, label, glyph, obstacle }: Limit): string {
  const where = glyph && glyph !== label ? `${label} ("${glyph}")` : label;
  const by = `${Math.abs(clearance).toFixed(3)} mm`;
  return clearance >= 0 ? `${where}, ${by} clear of ${obstacle}` : `${where} fails by ${by} at ${obstacle}`;
}
