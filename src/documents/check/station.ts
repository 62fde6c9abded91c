import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import type { Station } from '../schema/station.js';
import type { At } from '../source-places.js';
import { startsSpindle, startsWithoutSpeed, unprovableWord } from './station-words.js';

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
  for (const place of ['before', 'after'] as const)
    for (const [k, line] of station[place].entries()) {
      const word =
        unprovableWord(line) ?? (place === 'after' ? line.split(' ').find(startsSpindle) : undefined);
      if (word !== undefined) problems.push(problem('documents.station-word', at(place, k), { word }));
    }
  const unsped = startsWithoutSpeed(station.before);
  if (unsped !== undefined)
    problems.push(problem('documents.spindle-without-speed', at('before', unsped), {}));
  return problems;
}
