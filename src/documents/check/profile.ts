import { type Problem, problem } from '../../problem.js';
import { figure } from '../quote.js';
import type { Part } from '../schema/part.js';

/** z of the two ends of a part whose profile rises. */
export function ends(part: Part): { first: number; last: number } {
  return { first: part.profile[0]!.z, last: part.profile.at(-1)!.z };
}

/** A z that lies off the part. */
export function offPart(part: Part, z: number, where: string): Problem | undefined {
  const { first, last } = ends(part);
  if (z < first) {
    return problem(
      where,
      `${figure(z)} is before the start of the part (${figure(first)}).`,
      'Give a z inside the part.',
    );
  }
  if (z > last) {
    return problem(
      where,
      `${figure(z)} is past the end of the part (${figure(last)}).`,
      'Give a z inside the part.',
    );
  }
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

export function reversed(where: string, from: number, to: number): Problem {
  return problem(
    where,
    `\`to\` (${figure(to)}) is not past \`from\` (${figure(from)}).`,
    'Give the lower z as `from`.',
  );
}
