import { type Problem, problem } from '../../problem.js';
import { TURN_DEG } from '../../units.js';
import type { At } from '../place.js';
import { figure } from '../quote.js';
import type { Keepout, Part } from '../schema/part.js';
import { outlineFault } from './outline.js';
import { diameterAt, offPart, reversed } from './profile.js';

type Window = Extract<Keepout, { kind: 'window' }>;

export function keepoutProblems(part: Part, at: At): Problem[] {
  return part.keepouts.flatMap((keepout, i) =>
    keepout.kind === 'window' ? windowProblems(part, keepout, i, at) : rangeProblems(part, keepout, i, at),
  );
}

function rangeProblems(part: Part, keepout: Exclude<Keepout, Window>, i: number, at: At): Problem[] {
  const { from, to } = keepout;
  const problems = [
    offPart(part, from, at('keepouts', i, 'from')),
    offPart(part, to, at('keepouts', i, 'to')),
  ].filter((p) => p !== undefined);
  if (from >= to) problems.push(reversed(at('keepouts', i, 'to'), from, to));
  if (problems.length > 0 || keepout.kind !== 'clip') return problems;
  // on a cone the ring is shortest at one end, and the clip has to fit there too
  const ring = Math.PI * Math.min(diameterAt(part, from), diameterAt(part, to));
  if (keepout.width >= ring) {
    const what = `A clip ${figure(keepout.width)} wide goes right round the part (${figure(ring)} mm).`;
    problems.push(
      problem(at('keepouts', i, 'width'), what, 'Give the width across the clip, or make it a band.'),
    );
  }
  return problems;
}

function windowProblems(part: Part, window: Window, i: number, at: At): Problem[] {
  const off = window.outline
    .map(({ z }, corner) => offPart(part, z, at('keepouts', i, 'outline', corner, 'z')))
    .filter((p) => p !== undefined);
  if (off.length > 0) return off;
  const angles = window.outline.map((corner) => corner.angle);
  // round from the first corner, so that the side which closes the outline comes last
  const order = [...angles.keys()].map((corner) => (corner + 1) % angles.length);
  const jump = order.find((corner) => Math.abs(angles[corner]! - angles.at(corner - 1)!) >= TURN_DEG / 2);
  if (jump !== undefined) {
    const what = `The outline jumps half a turn or more to this corner (${figure(angles[jump]!)} degrees).`;
    const cure = 'Let angles run on across the seam (350, 370), or add corners between.';
    return [problem(at('keepouts', i, 'outline', jump, 'angle'), what, cure)];
  }
  const span = Math.max(...angles) - Math.min(...angles);
  if (span >= TURN_DEG) {
    const what = `The outline spans ${figure(span)} degrees, a whole turn or more.`;
    return [problem(at('keepouts', i, 'outline'), what, 'Make it a band, or a window of less than a turn.')];
  }
  const fault = outlineFault(window.outline.map(({ z, angle }) => [angle, z]));
  if (!fault) return [];
  const cure =
    fault.kind === 'repeats' ? 'Remove one of the two.' : 'Give the corners in order, once round the window.';
  return [
    problem(at('keepouts', i, 'outline', fault.corner), `The outline ${fault.what} at this corner.`, cure),
  ];
}
