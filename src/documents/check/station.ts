import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import type { Station } from '../schema/station.js';
import type { At } from '../source-places.js';
import { type StationLineFault, stationLineFaults } from './station-words.js';

export function stationProblems(station: Station, at: At): Problem[] {
  const problems: Problem[] = [];
  for (const axis of ['x', 'a', 'z'] as const) {
    const { min, max } = station.axes[axis];
    if (min !== undefined && max !== undefined) {
      if (min < max) continue;
      problems.push(problem('documents.travel-reversed', at('axes', axis, 'max'), { min, max }));
    } else if (min !== undefined || max !== undefined) {
      const [given, absent] = min === undefined ? (['max', 'min'] as const) : (['min', 'max'] as const);
      problems.push(problem('documents.travel-half', at('axes', axis, given), { given, absent }));
    }
  }
  const { safe, approach } = station;
  if (safe <= approach)
    problems.push(problem('documents.safe-below-approach', at('safe'), { safe, approach }));
  if (station.setup === 'tilted' && station.axes.z.zero === 'axis')
    problems.push(problem('documents.tilted-on-axis', at('axes', 'z', 'zero'), {}));
  for (const fault of stationLineFaults(station))
    problems.push(lineProblem(fault, at(fault.place, fault.line)));
  return problems;
}

function lineProblem({ kind, word, other = '' }: StationLineFault, where: string): Problem {
  switch (kind) {
    case 'unknown':
      return problem('documents.station-word', where, { word });
    case 'long-number':
      return problem('documents.station-long-number', where, { word });
    case 'same-group':
      return problem('documents.station-same-group', where, { word, other });
    case 'dwell-without-time':
      return problem('documents.station-dwell-without-time', where, { word });
    case 'time-without-dwell':
      return problem('documents.station-time-without-dwell', where, { word });
    case 'starts-spindle-after':
      return problem('documents.station-spindle-after', where, { word });
    case 'shifts-zero-after':
      return problem('documents.station-zero-after', where, { word });
    case 'starts-without-speed':
      return problem('documents.spindle-without-speed', where, {});
    case 'speed-taken-away':
      return problem('documents.station-speed-taken-away', where, { word });
  }
}
