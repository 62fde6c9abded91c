import type { Problem } from '../problem.js';
import { problem } from './messages.js';
import type { MinFeatureFinding } from './min-feature.js';

/** A finding as a problem: where, what, and each change that mends it, in numbers. */
export function minFeatureProblem(finding: MinFeatureFinding): Problem {
  const { kind, name, second = 'none' } = finding;
  const where = placeOf(finding);
  const measured = finding.measured.toFixed(3);
  const needed = finding.needed.toFixed(3);
  if (kind === 'spur') return problem('cutting.land-point-too-long', where, { name, measured, needed });
  const fixes = fixesFor(finding);
  if (kind === 'thin') return problem('cutting.stroke-too-thin', where, { name, measured, needed, fixes });
  if (finding.measured > 0)
    return problem('cutting.land-too-narrow', where, { name, second, measured, needed, fixes });
  const land = finding.needed > 0 ? needed : 'none';
  return problem('cutting.strokes-run-together', where, { name, second, needed: land, fixes });
}

function placeOf({ place, at: [x, y] }: MinFeatureFinding): string {
  const point = `x ${x.toFixed(2)} y ${y.toFixed(2)} mm`;
  return place === undefined ? point : `${place}, ${point}`;
}

/** Rounded so that they still mend it: sizes and spaces up, widths down. */
function fixesFor({ kind, sizeFactor, spacing, widthAtMost }: MinFeatureFinding): string {
  const fixes: string[] = [];
  if (spacing !== undefined) fixes.push(`set them ${mm(Math.ceil(spacing * 100) / 100)} farther apart`);
  if (sizeFactor !== undefined)
    fixes.push(`make it ${(Math.ceil(sizeFactor * 100) / 100).toFixed(2)} times as large`);
  const width = Math.floor((widthAtMost ?? 0) * 100) / 100;
  if (width > 0)
    fixes.push(
      kind === 'thin'
        ? `take a cutter that cuts ${mm(width)} or narrower`
        : `cut ${mm(width)} wide at most, shallower or with a finer cutter`,
    );
  const words = fixes.length > 0 ? fixes.join(', or ') : 'use a larger size or a finer cutter';
  return `${words[0]!.toUpperCase()}${words.slice(1)}`;
}

const mm = (length: number): string => `${length.toFixed(3)} mm`;
