import type { Numbered } from '../edition/labels.js';
import { refuse } from '../problem.js';
import type { RegisterEvent } from './event.js';

export type State = 'issued';

/** A number and where it stands. */
export interface Standing extends Numbered {
  readonly state: State;
}

/** The state a number comes to by one more event. */
export function after(state: State | undefined, event: RegisterEvent): State {
  switch (event.type) {
    case 'issued':
      if (state !== undefined) {
        throw refuse(
          3,
          `label ${event.label}`,
          'The register holds it as issued twice.',
          'Issue nothing; compare the register with your last good copy.',
        );
      }
      return 'issued';
  }
}

/** Folds the events of one edition, given in sequence, to its numbers in the order they were issued. */
export function standings(events: Iterable<RegisterEvent>): Standing[] {
  const byLabel = new Map<string, Standing>();
  for (const event of events) {
    const { series, number, label } = event;
    byLabel.set(label, { series, number, label, state: after(byLabel.get(label)?.state, event) });
  }
  return [...byLabel.values()];
}
