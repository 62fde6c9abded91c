import type { Problem } from '../../problem.js';
import { TURN_DEG } from '../../units.js';
import { problem } from '../messages.js';
import { plainText } from '../quote.js';
import type { Mark } from '../schema/design.js';
import type { Part, PartSurface } from '../schema/part.js';
import type { At } from '../source-places.js';
import { unknownName } from './reference.js';

/** Where a mark sits: on a surface of the part, at a z and an angle that can be meant. */
export function placeProblems(mark: Mark, part: Part | undefined, at: At): Problem[] {
  const problems: Problem[] = [];
  const surface = part?.surfaces.find((s) => s.id === mark.surface);
  if (part && !surface) {
    const known = part.surfaces.map((s) => s.id);
    problems.push(unknownName(at('surface'), mark.surface, 'surface', known, 'part'));
  }
  problems.push(...zProblems(mark.place.z, surface, at), ...angleProblems(mark, at));
  if (part && mark.place.opposite !== undefined) {
    problems.push(...oppositeProblems(mark.place.opposite, part, at));
  }
  return problems;
}

function zProblems(z: Mark['place']['z'], surface: PartSurface | undefined, at: At): Problem[] {
  const problems: Problem[] = [];
  const check = (value: number, where: string): void => {
    if (!surface || !(surface.from < surface.to) || (value >= surface.from && value <= surface.to)) return;
    const { from, to } = surface;
    problems.push(problem('documents.off-surface', where, { z: value, surface: surface.id, from, to }));
  };
  if (typeof z === 'number') check(z, at('place', 'z'));
  else {
    check(z[0], at('place', 'z', 0));
    check(z[1], at('place', 'z', 1));
    if (z[0] >= z[1])
      problems.push(problem('documents.zone-not-rising', at('place', 'z'), { low: z[0], high: z[1] }));
  }
  return problems;
}

function angleProblems(mark: Mark, at: At): Problem[] {
  const { angle, opposite } = mark.place;
  if ((angle === undefined) === (opposite === undefined)) {
    const code = angle === undefined ? 'documents.angle-missing' : 'documents.angle-and-opposite';
    return [problem(code, at('place'), {})];
  }
  if (!Array.isArray(angle)) return [];
  const [low, high] = angle;
  if (low >= high) return [problem('documents.angle-zone-not-rising', at('place', 'angle'), { low, high })];
  if (high - low < TURN_DEG) return [];
  return [problem('documents.angle-zone-all-round', at('place', 'angle'), { span: high - low })];
}

function oppositeProblems(opposite: string, part: Part, at: At): Problem[] {
  const where = at('place', 'opposite');
  const keepout = part.keepouts.find((k) => k.id === opposite);
  const sided = part.keepouts.filter((k) => k.kind === 'clip' || k.kind === 'window').map((k) => k.id);
  if (!keepout) return [unknownName(where, opposite, 'clip or window', sided, 'part')];
  if (keepout.kind === 'clip' || keepout.kind === 'window') return [];
  return [problem('documents.nothing-opposite', where, { keepout: plainText(opposite), kind: keepout.kind })];
}
