import { refuse } from '../problem.js';
import { fromLeaf } from './event.js';
import { applyEvent, type NumberStatus } from './lifecycle.js';
import type { RawEvent } from './register.js';

/**
 * The events of a whole register, each judged anew as it passes: in sequence, its text what its hash says, and nothing
 * that cannot have happened to its number. Throws a Refusal (exit 3) at the first that is not.
 */
export async function* validateEvents(events: AsyncIterable<RawEvent>): AsyncGenerator<RawEvent> {
  const statuses = new Map<string, NumberStatus>();
  const closed = new Set<string>();
  let size = 0;
  for await (const { seq, body, leaf } of events) {
    if (seq !== size++) {
      throw refuse(
        3,
        `register event ${seq}`,
        `Event ${size - 1} was to come here; nothing was taken over.`,
        'Give every event of the other register, in sequence.',
      );
    }
    const event = fromLeaf(seq, { body, leaf });
    if (event.type === 'closed') closed.add(event.edition);
    else {
      const name = `${event.edition} ${event.label}`;
      statuses.set(name, applyEvent(statuses.get(name), event, closed.has(event.edition)));
    }
    yield { seq, body, leaf };
  }
}
