import { type Problem, problem } from '../../problem.js';
import { TURN_DEG } from '../../units.js';
import type { At } from '../place.js';
import { figure, quoted } from '../quote.js';
import type { Mark } from '../schema/design.js';
import type { Part, PartSurface } from '../schema/part.js';
import { unknownName } from './reference.js';

/** Where a mark sits: on a surface of the part, at a z and an angle that can be meant. */
export function placeProblems(mark: Mark, part: Part | undefined, at: At): Problem[] {
  const problems: Problem[] = [];
  const surface = part?.surfaces.find((s) => s.id === mark.surface);
  if (part && !surface) {
    const known = part.surfaces.map((s) => s.id);
    problems.push(unknownName(at('surface'), mark.surface, 'surface of this part', known));
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
    const what = `${figure(value)} is not on the surface ${quoted(surface.id)}.`;
    problems.push(problem(where, what, `Give a z from ${figure(surface.from)} to ${figure(surface.to)}.`));
  };
  if (typeof z === 'number') check(z, at('place', 'z'));
  else {
    check(z[0], at('place', 'z', 0));
    check(z[1], at('place', 'z', 1));
    if (z[0] >= z[1])
      problems.push(notRising(at('place', 'z'), z, 'Give the smaller figure first, or one figure alone.'));
  }
  return problems;
}

function notRising(where: string, [low, high]: readonly [number, number], cure: string): Problem {
  const what = `The zone runs from ${figure(low)} to ${figure(high)}, which does not rise.`;
  return problem(where, what, cure);
}

function angleProblems(mark: Mark, at: At): Problem[] {
  const { angle, opposite } = mark.place;
  if ((angle === undefined) === (opposite === undefined)) {
    const what =
      angle === undefined
        ? 'Neither `angle` nor `opposite` is given.'
        : '`angle` and `opposite` are both given.';
    return [problem(at('place'), what, 'Give one of the two.')];
  }
  if (!Array.isArray(angle)) return [];
  const [low, high] = angle;
  if (low >= high) {
    const cure = 'Give the smaller figure first; across the seam it runs on, such as 350 to 370.';
    return [notRising(at('place', 'angle'), angle, cure)];
  }
  if (high - low < TURN_DEG) return [];
  const what = `The zone spans ${figure(high - low)} degrees, a whole turn or more.`;
  return [problem(at('place', 'angle'), what, 'Write `any` for an angle all round.')];
}

function oppositeProblems(opposite: string, part: Part, at: At): Problem[] {
  const where = at('place', 'opposite');
  const keepout = part.keepouts.find((k) => k.id === opposite);
  const sided = part.keepouts.filter((k) => k.kind === 'clip' || k.kind === 'window').map((k) => k.id);
  if (!keepout) return [unknownName(where, opposite, 'clip or window of this part', sided)];
  if (keepout.kind === 'clip' || keepout.kind === 'window') return [];
  const what = `${quoted(opposite)} is a ${keepout.kind} and goes all round, so nothing is opposite it.`;
  return [problem(where, what, 'Name a clip or window, or give an `angle`.')];
}
