import type { Problem } from '../../problem.js';
import { toDeg } from '../../units.js';
import { problem } from '../messages.js';
import type { Part, PartSurface } from '../schema/part.js';
import type { At } from '../source-places.js';
import { keepoutProblems } from './keepout.js';
import { diameterAt, endsOfProfile, outsidePartProblem, reversedRangeProblem } from './profile.js';
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
  problems.push(
    ...overlapProblems(part.surfaces, at),
    ...keepoutProblems(part, at),
    ...wallProblems(part, at),
  );
  return problems;
}

function fallingStations(part: Part, at: At): Problem[] {
  return part.profile.flatMap(({ z }, i) => {
    const before = part.profile[i - 1];
    if (!before || z > before.z) return [];
    return [problem('documents.profile-falls', at('profile', i, 'z'), { z, before: before.z })];
  });
}

const isSound = (part: Part, s: PartSurface): boolean =>
  s.from < s.to && s.from >= endsOfProfile(part).first && s.to <= endsOfProfile(part).last;

function surfaceProblems(part: Part, surface: PartSurface, i: number, at: At): Problem[] {
  const { from, to } = surface;
  const off = [
    outsidePartProblem(part, from, at('surfaces', i, 'from')),
    outsidePartProblem(part, to, at('surfaces', i, 'to')),
  ];
  const problems = off.filter((p) => p !== undefined);
  if (from >= to) problems.push(reversedRangeProblem(at('surfaces', i, 'to'), from, to));
  if (problems.length > 0) return problems;

  const lower = diameterAt(part, from) / 2;
  const slope = (diameterAt(part, to) / 2 - lower) / (to - from);
  const bend = part.profile.find(
    ({ z, diameter }) =>
      z > from && z < to && Math.abs(diameter / 2 - (lower + slope * (z - from))) > STRAIGHT_MM,
  );
  if (bend) {
    return [problem('documents.profile-bends', at('surfaces', i), { from, to, z: bend.z })];
  }
  const half = Math.abs(toDeg(Math.atan(slope)));
  if (half > STEEPEST_DEG) {
    return [problem('documents.surface-steep', at('surfaces', i), { angle: half, most: STEEPEST_DEG })];
  }
  const length = (to - from) * Math.hypot(1, slope);
  if (2 * surface.clearance >= length) {
    const values = { clearance: surface.clearance, length };
    problems.push(problem('documents.surface-clearance', at('surfaces', i, 'clearance'), values));
  }
  return problems;
}

function overlapProblems(surfaces: readonly PartSurface[], at: At): Problem[] {
  const rising = surfaces
    .map((surface, i) => ({ ...surface, i }))
    .filter(({ from, to }) => from < to)
    .sort((a, b) => a.from - b.from || a.i - b.i);
  const problems: Problem[] = [];
  let reach = rising[0];
  for (const surface of rising.slice(1)) {
    if (reach && surface.from < reach.to) {
      const values = { from: surface.from, id: reach.id, to: reach.to };
      problems.push(problem('documents.surfaces-overlap', at('surfaces', surface.i, 'from'), values));
    }
    if (!reach || surface.to > reach.to) reach = surface;
  }
  return problems;
}

/** The wall is given for the surfaces that are cut, so a thin nose elsewhere on the part does not count. */
function wallProblems(part: Part, at: At): Problem[] {
  const radii = part.surfaces
    .filter((surface) => isSound(part, surface))
    .map(({ from, to }) => Math.min(diameterAt(part, from), diameterAt(part, to)) / 2);
  const least = Math.min(...radii);
  if (radii.length === 0 || part.wall < least) return [];
  return [problem('documents.wall-solid', at('wall'), { wall: part.wall, radius: least })];
}
