import type { Numbered } from '../../edition/labels.js';
import type { NumberStatus, State } from '../lifecycle.js';

/** Numbers of an edition that are not finished, by state; `planned` stands for those never issued. */
export interface OpenNumbers {
  readonly state: State;
  readonly labels: readonly string[];
}

/** States in which something is still to be done, or not known. What is engraved may stay on the shelf for years. */
const OPEN_STATES = [
  ...(['issued', 'recut', 'scrapped', 'destroyed'] as const),
  ...(['withheld', 'lost', 'stolen', 'planned'] as const),
] satisfies readonly State[];

/** What is still open in an edition, before it is closed for good. */
export function openNumbers(planned: readonly Numbered[], statuses: readonly NumberStatus[]): OpenNumbers[] {
  const known = new Map(statuses.map((status) => [status.label, status]));
  const listed = new Set(planned.map(({ label }) => label));
  const all = [
    ...planned.map(({ label }) => ({ label, state: known.get(label)?.state ?? 'planned' })),
    ...statuses.filter(({ label }) => !listed.has(label)),
  ];
  return OPEN_STATES.flatMap((state) => {
    const labels = all.filter((one) => one.state === state).map(({ label }) => label);
    return labels.length > 0 ? [{ state, labels }] : [];
  });
}
