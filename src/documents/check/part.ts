import { type Problem, problem } from '../../problem.js';
import { toDeg } from '../../units.js';
import type { At } from '../place.js';
import { figure } from '../quote.js';
import type { Part, PartSurface } from '../schema/part.js';
import { keepoutProblems } from './keepout.js';
import { diameterAt, ends, offPart, reversed } from './profile.js';
import { repeatedIds, unknownName } from './reference.js';

/** How far a station may lie off the straight generator of a surface, mm of radius. */
const STRAIGHT_MM = 1e-6;
/** Steeper than this a surface is a face rather than a side, and its unrolled sheet a ring with no height. */
const STEEPEST_DEG = 80;

export function partProblems(part: Part, at: At, materials: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  if (!materials.has(part.material)) {
    problems.push(unknownName(at('material'), part.material, 'material', materials));
  }
  const falling = fallingStations(part, at);
  problems.push(...falling, ...repeatedIds(part.surfaces, 'surfaces', at));
  problems.push(...repeatedIds(part.keepouts, 'keepouts', at));
  // z ranges mean nothing until the profile rises
  if (falling.length > 0) return problems;
  for (const [i, surface] of part.surfaces.entries()) problems.push(...surfaceProblems(part, surface, i, at));
  problems.push(...overlaps(part.surfaces, at), ...keepoutProblems(part, at), ...wallProblems(part, at));
  return problems;
}

function fallingStations(part: Part, at: At): Problem[] {
  return part.profile.flatMap(({ z }, i) => {
    const before = part.profile[i - 1];
    if (!before || z > before.z) return [];
    const what = `${figure(z)} is not past the station before it (${figure(before.z)}).`;
    return [problem(at('profile', i, 'z'), what, 'Give the stations in order, from the datum end on.')];
  });
}

const isSound = (part: Part, s: PartSurface): boolean =>
  s.from < s.to && s.from >= ends(part).first && s.to <= ends(part).last;

function surfaceProblems(part: Part, surface: PartSurface, i: number, at: At): Problem[] {
  const { from, to } = surface;
  const off = [offPart(part, from, at('surfaces', i, 'from')), offPart(part, to, at('surfaces', i, 'to'))];
  const problems = off.filter((p) => p !== undefined);
  if (from >= to) problems.push(reversed(at('surfaces', i, 'to'), from, to));
  if (problems.length > 0) return problems;

  const lower = diameterAt(part, from) / 2;
  const slope = (diameterAt(part, to) / 2 - lower) / (to - from);
  const bend = part.profile.find(
    ({ z, diameter }) =>
      z > from && z < to && Math.abs(diameter / 2 - (lower + slope * (z - from))) > STRAIGHT_MM,
  );
  if (bend) {
    const what = `The profile is not straight from ${figure(from)} to ${figure(to)}: it bends at z ${figure(bend.z)}.`;
    problems.push(problem(at('surfaces', i), what, 'Make it two surfaces that meet at the bend.'));
    return problems;
  }
  const half = Math.abs(toDeg(Math.atan(slope)));
  if (half > STEEPEST_DEG) {
    const what = `The surface is a cone of ${figure(half)} degrees to the axis, nearly flat.`;
    problems.push(problem(at('surfaces', i), what, `Choose a stretch of ${STEEPEST_DEG} degrees at most.`));
    return problems;
  }
  const length = (to - from) * Math.hypot(1, slope);
  if (2 * surface.clearance >= length) {
    const what = `A clearance of ${figure(surface.clearance)} at both edges leaves nothing of ${figure(length)} mm.`;
    problems.push(problem(at('surfaces', i, 'clearance'), what, 'Give less clearance.'));
  }
  return problems;
}

function overlaps(surfaces: readonly PartSurface[], at: At): Problem[] {
  const rising = surfaces
    .map((surface, i) => ({ ...surface, i }))
    .filter(({ from, to }) => from < to)
    .sort((a, b) => a.from - b.from || a.i - b.i);
  const problems: Problem[] = [];
  let reach = rising[0];
  for (const surface of rising.slice(1)) {
    if (reach && surface.from < reach.to) {
      const what = `The surface begins at ${figure(surface.from)}, before \`${reach.id}\` ends (${figure(reach.to)}).`;
      problems.push(problem(at('surfaces', surface.i, 'from'), what, 'Let surfaces meet, not overlap.'));
    }
    if (!reach || surface.to > reach.to) reach = surface;
  }
  return problems;
}

/** The wall is told for the surfaces that are cut, so a thin nose elsewhere on the part does not count. */
function wallProblems(part: Part, at: At): Problem[] {
  const radii = part.surfaces
    .filter((surface) => isSound(part, surface))
    .map(({ from, to }) => Math.min(diameterAt(part, from), diameterAt(part, to)) / 2);
  const least = Math.min(...radii);
  if (radii.length === 0 || part.wall < least) return [];
  const what = `A wall of ${figure(part.wall)} fills the part, whose radius comes down to ${figure(least)}.`;
  return [problem(at('wall'), what, 'Give the thickness of the wall, less than the radius.')];
}
