import { type Problem, problem } from '../../problem.js';
import type { At } from '../place.js';
import { figure } from '../quote.js';
import type { Station } from '../schema/station.js';

export function stationProblems(station: Station, at: At): Problem[] {
  const problems: Problem[] = [];
  for (const axis of ['x', 'a', 'z'] as const) {
    const { min, max } = station.axes[axis];
    if (min !== undefined && max !== undefined) {
      if (min < max) continue;
      const what = `\`max\` (${figure(max)}) is not above \`min\` (${figure(min)}).`;
      problems.push(problem(at('axes', axis, 'max'), what, 'Give the lower end of the travel as `min`.'));
    } else if (min !== undefined || max !== undefined) {
      const [given, absent] = min === undefined ? (['max', 'min'] as const) : (['min', 'max'] as const);
      const cure = 'Give both, or neither for an axis that turns without end.';
      problems.push(problem(at('axes', axis, given), `\`${given}\` stands without \`${absent}\`.`, cure));
    }
  }
  if (station.safe <= station.approach) {
    const what = `\`safe\` (${figure(station.safe)}) is not above \`approach\` (${figure(station.approach)}).`;
    problems.push(
      problem(at('safe'), what, 'Let rapid moves clear the height from which the cutter goes down.'),
    );
  }
  return problems;
}
