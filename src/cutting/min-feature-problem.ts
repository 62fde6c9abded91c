import { type Problem, problem } from '../problem.js';
import type { MinFeatureFinding } from './min-feature.js';

/** A finding as one line: where, what, and each cure that there is, in numbers. */
export function minFeatureProblem(finding: MinFeatureFinding): Problem {
  return problem(whereWords(finding), whatWords(finding), cureWords(finding));
}

const mm = (length: number): string => `${length.toFixed(3)} mm`;

function whereWords({ place, at: [x, y] }: MinFeatureFinding): string {
  const point = `x ${x.toFixed(2)} y ${y.toFixed(2)} mm`;
  return place === undefined ? point : `${place}, ${point}`;
}

function whatWords({ kind, name, second, measured, needed }: MinFeatureFinding): string {
  if (kind === 'thin')
    return `A stroke of "${name}" is ${mm(measured)} wide, and the cutter cuts no narrower than ${mm(needed)}.`;
  if (kind === 'spur')
    return `The land in "${name}" runs out to a point ${mm(measured)} long, and may break when longer than ${mm(needed)}.`;
  const where = second === undefined ? `in "${name}"` : `between "${name}" and "${second}"`;
  return measured > 0
    ? `The land ${where} is ${mm(measured)} wide and must be ${mm(needed)}.`
    : `The cuts ${where} run into one another${needed > 0 ? `; ${mm(needed)} of land must be left` : ''}.`;
}

/** Cures are rounded so that they still cure: sizes and spaces up, widths down. */
function cureWords({ kind, sizeFactor, spacing, widthAtMost }: MinFeatureFinding): string {
  if (kind === 'spur') return 'Use a wider letterform or a narrower cut, or accept that the point may break.';
  const cures: string[] = [];
  if (spacing !== undefined) cures.push(`set them ${mm(Math.ceil(spacing * 100) / 100)} farther apart`);
  if (sizeFactor !== undefined)
    cures.push(`make it ${(Math.ceil(sizeFactor * 100) / 100).toFixed(2)} times as large`);
  const width = Math.floor((widthAtMost ?? 0) * 100) / 100;
  if (width > 0)
    cures.push(
      kind === 'thin'
        ? `take a cutter that cuts ${mm(width)} or narrower`
        : `cut ${mm(width)} wide at most, shallower or with a finer cutter`,
    );
  const words = cures.length > 0 ? cures.join(', or ') : 'use a larger size or a finer cutter';
  return `${words[0]!.toUpperCase()}${words.slice(1)}.`;
}
