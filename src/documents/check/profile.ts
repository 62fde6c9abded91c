import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import type { Part } from '../schema/part.js';

/** z of the two ends of a part whose profile rises. */
export function endsOfProfile(part: Part): { first: number; last: number } {
  return { first: part.profile[0]!.z, last: part.profile.at(-1)!.z };
}

/** A z that lies off the part. */
export function outsidePartProblem(part: Part, z: number, where: string): Problem | undefined {
  const { first, last } = endsOfProfile(part);
  if (z < first) return problem('documents.before-part', where, { z, first });
  if (z > last) return problem('documents.past-part', where, { z, last });
  return undefined;
}

/** Diameter at a z inside the part, straight between stations. */
export function diameterAt(part: Part, z: number): number {
  const next = Math.max(
    1,
    part.profile.findIndex((station) => station.z >= z),
  );
  const a = part.profile[next - 1]!;
  const b = part.profile[next]!;
  return a.diameter + ((b.diameter - a.diameter) * (z - a.z)) / (b.z - a.z);
}

export function reversedRangeProblem(where: string, from: number, to: number): Problem {
  return problem('documents.range-reversed', where, { from, to });
}
