import type { Problem } from '../../problem.js';
import { TURN_DEG } from '../../units.js';
import { problem } from '../messages.js';
import type { Keepout, Part } from '../schema/part.js';
import type { At } from '../source-places.js';
import { outlineFault } from './outline.js';
import { diameterAt, outsidePartProblem, reversedRangeProblem } from './profile.js';

type Window = Extract<Keepout, { kind: 'window' }>;

export function keepoutProblems(part: Part, at: At): Problem[] {
  return part.keepouts.flatMap((keepout, i) =>
    keepout.kind === 'window' ? windowProblems(part, keepout, i, at) : rangeProblems(part, keepout, i, at),
  );
}

function rangeProblems(part: Part, keepout: Exclude<Keepout, Window>, i: number, at: At): Problem[] {
  const { from, to } = keepout;
  const problems = [
    outsidePartProblem(part, from, at('keepouts', i, 'from')),
    outsidePartProblem(part, to, at('keepouts', i, 'to')),
  ].filter((p) => p !== undefined);
  if (from >= to) problems.push(reversedRangeProblem(at('keepouts', i, 'to'), from, to));
  if (problems.length > 0 || keepout.kind !== 'clip') return problems;
  // on a cone the ring is shortest at one end, and the clip has to fit there too
  const ring = Math.PI * Math.min(diameterAt(part, from), diameterAt(part, to));
  if (keepout.width >= ring) {
    const values = { width: keepout.width, ring };
    problems.push(problem('documents.clip-too-wide', at('keepouts', i, 'width'), values));
  }
  return problems;
}

function windowProblems(part: Part, window: Window, i: number, at: At): Problem[] {
  const off = window.outline
    .map(({ z }, corner) => outsidePartProblem(part, z, at('keepouts', i, 'outline', corner, 'z')))
    .filter((p) => p !== undefined);
  if (off.length > 0) return off;
  const angles = window.outline.map((corner) => corner.angle);
  // round from the first corner, so that the side which closes the outline comes last
  const order = [...angles.keys()].map((corner) => (corner + 1) % angles.length);
  const jump = order.find((corner) => Math.abs(angles[corner]! - angles.at(corner - 1)!) >= TURN_DEG / 2);
  if (jump !== undefined) {
    const where = at('keepouts', i, 'outline', jump, 'angle');
    return [problem('documents.outline-jumps', where, { angle: angles[jump]! })];
  }
  const span = Math.max(...angles) - Math.min(...angles);
  if (span >= TURN_DEG) {
    return [problem('documents.outline-all-round', at('keepouts', i, 'outline'), { span })];
  }
  const fault = outlineFault(window.outline.map(({ z, angle }) => [angle, z]));
  if (!fault) return [];
  return [problem(`documents.outline-${fault.kind}`, at('keepouts', i, 'outline', fault.corner), {})];
}
