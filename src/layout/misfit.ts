import type { Problem } from '../problem.js';
import type { FitResult } from './fit.js';
import type { MarkFit } from './fit-marks.js';
import { whereOf } from './mark-to-fit.js';
import { problem } from './messages.js';

/** Why a mark does not fit, by how much, and the nearest change that would make it; nothing when it does. */
export function misfits(fit: MarkFit): Problem[] {
  const where = whereOf(fit.of);
  if (fit.kind === 'tiled') return fit.pattern.problems.map((p) => ({ ...p, where: `${where}${p.where}` }));
  const results = fit.kind === 'shared' ? [fit.result] : [...fit.results.values()];
  return results.flatMap((result) => (result.ok ? [] : [misfit(where, result)]));
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
