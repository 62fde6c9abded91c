import { type Phrase, type Problem, placedIn } from '../problem.js';
import type { FitResult, NearestChange } from './fit.js';
import type { MarkFit } from './fit-marks.js';
import { whereOf } from './mark-to-fit.js';
import { problem } from './messages.js';
import { changes } from './phrases.js';

/** Why a mark does not fit, by how much, and the nearest change that would make it; nothing when it does. */
export function misfits(fit: MarkFit): Problem[] {
  const where = whereOf(fit.of);
  if (fit.kind === 'tiled') return fit.pattern.problems.map((p) => placedIn(where, p));
  const results = fit.kind === 'shared' ? [fit.result] : [...fit.results.values()];
  return results.flatMap((result) => (result.ok ? [] : [misfit(where, result)]));
}

function misfit(where: string, { smallest, nearest }: Extract<FitResult, { ok: false }>): Problem {
  const { clearance, label, glyph, obstacle } = smallest.limit;
  const values = {
    ...{ size: String(smallest.size), label, glyph: glyph || 'none', obstacle },
    short: Math.max(0.001, -clearance).toFixed(3),
  };
  return nearest.length > 0
    ? problem('layout.does-not-fit', where, { ...values, changes: nearest.map(changePhrase) })
    : problem('layout.fits-nowhere', where, values);
}

function changePhrase(nearest: NearestChange): Phrase {
  switch (nearest.change) {
    case 'size':
      return changes.phrase('layout.change-size', { size: String(nearest.size) });
    case 'arc':
      return changes.phrase('layout.change-arc', { to: String(nearest.to) });
    case 'spacing':
      return changes.phrase('layout.change-spacing', { to: String(nearest.to) });
    case 'times':
      return changes.phrase('layout.change-times', { to: String(nearest.to) });
    case 'z':
      return changes.phrase('layout.change-z', {
        by: Math.abs(nearest.by).toFixed(2),
        to: nearest.to.toFixed(2),
      });
    case 'angle':
      return changes.phrase('layout.change-angle', { by: Math.abs(nearest.by), to: nearest.to });
  }
}
