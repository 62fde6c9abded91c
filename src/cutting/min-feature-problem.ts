import type { Phrase, Problem } from '../problem.js';
import { problem } from './messages.js';
import type { MinFeatureFinding } from './min-feature.js';
import { fixes } from './phrases.js';

/** A finding as a problem: where, what, and each change that mends it, in numbers. */
export function minFeatureProblem(finding: MinFeatureFinding): Problem {
  const { kind, name, second = 'none' } = finding;
  const where = placeOf(finding);
  const measured = finding.measured.toFixed(3);
  const needed = finding.needed.toFixed(3);
  if (kind === 'spur') return problem('cutting.land-point-too-long', where, { name, measured, needed });
  const changes = fixesFor(finding);
  if (kind === 'thin') return problem('cutting.stroke-too-thin', where, { name, measured, needed, changes });
  if (finding.measured > 0)
    return problem('cutting.land-too-narrow', where, { name, second, measured, needed, changes });
  const land = finding.needed > 0 ? needed : 'none';
  return problem('cutting.strokes-run-together', where, { name, second, needed: land, changes });
}

function placeOf({ place, at: [x, y] }: MinFeatureFinding): string {
  const point = `x ${x.toFixed(2)} y ${y.toFixed(2)} mm`;
  return place === undefined ? point : `${place}, ${point}`;
}

/** Rounded so that they still mend it: sizes and spaces up, widths down. */
function fixesFor({ kind, sizeFactor, spacing, widthAtMost }: MinFeatureFinding): Phrase[] {
  const found: Phrase[] = [];
  if (spacing !== undefined)
    found.push(fixes.phrase('cutting.fix-spacing', { spacing: (Math.ceil(spacing * 100) / 100).toFixed(3) }));
  if (sizeFactor !== undefined)
    found.push(fixes.phrase('cutting.fix-size', { factor: (Math.ceil(sizeFactor * 100) / 100).toFixed(2) }));
  const width = Math.floor((widthAtMost ?? 0) * 100) / 100;
  if (width > 0) {
    const code = kind === 'thin' ? 'cutting.fix-narrower-cutter' : 'cutting.fix-narrower-cut';
    found.push(fixes.phrase(code, { width: width.toFixed(3) }));
  }
  return found.length > 0 ? found : [fixes.phrase('cutting.fix-either', {})];
}
