import { minFeatureProblem } from '../cutting/min-feature-problem.js';
import type { FitResult } from '../layout/fit.js';
import { problem } from '../layout/messages.js';
import type { Problem } from '../problem.js';
import type { MarkFit } from './fit.js';

/** Why a mark does not fit, by how much, and the nearest change that would make it; nothing when it does. */
export function misfits(found: MarkFit): Problem[] {
  const { designId, mark } = found.of;
  const where = `designs/${designId}.yaml: mark ${mark.id}`;
  const short =
    found.kind === 'laid'
      ? found.laid.problems.map((p) => ({ ...p, where: `${where}${p.where}` }))
      : resultsOf(found).flatMap((result) => (result.ok ? [] : [misfit(where, result)]));
  return [...short, ...minFeatureProblems(found)];
}

const resultsOf = (found: Exclude<MarkFit, { kind: 'laid' }>): FitResult[] =>
  found.kind === 'shared' ? [found.result] : [...found.results.values()];

/** What comes too close for the land its design asks for. Without a limit the report names it, and a person decides. */
export function minFeatureProblems({ of, minFeatures }: MarkFit): Problem[] {
  if (!('land' in of.mark) || of.mark.land === undefined) return [];
  const where = `designs/${of.designId}.yaml: mark ${of.mark.id}`;
  return minFeatures.map((one) => {
    const words = minFeatureProblem(one);
    return { ...words, where: `${where}: ${words.where}` };
  });
}

function misfit(where: string, { smallest, nearest }: Extract<FitResult, { ok: false }>): Problem {
  const { limit } = smallest;
  const letter = limit.glyph ? ` ("${limit.glyph}" of it)` : '';
  const values = {
    size: String(smallest.size),
    label: `${limit.label}${letter}`,
    short: Math.max(0.001, -limit.clearance).toFixed(3),
    obstacle: limit.obstacle,
  };
  const changes = nearest.map((n) => {
    if (n.change === 'size') return `allow a size of ${n.size} mm`;
    if (n.change === 'z') return `move it ${Math.abs(n.by).toFixed(2)} mm along, to z ${n.to.toFixed(2)}`;
    return `turn it ${Math.abs(n.by)} degrees, to angle ${n.to}`;
  });
  return changes.length > 0
    ? problem('layout.does-not-fit', where, { ...values, changes: changes.join('; or ') })
    : problem('layout.fits-nowhere', where, values);
}
