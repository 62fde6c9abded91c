import { fromLeaf, isOfNumber } from './event.js';
import { applyEvent, type Life } from './lifecycle.js';
import { refuse } from './messages.js';
import type { RawEvent } from './register.js';

/**
 * The events of a whole register, each validated as it passes: in sequence, its text and hash in agreement, and
 * allowed by the rules for its number. Throws a Refusal (exit 3) at the first that is not.
 */
export async function* validateEvents(events: AsyncIterable<RawEvent>): AsyncGenerator<RawEvent> {
  const statuses = new Map<string, Life>();
  const closed = new Set<string>();
  let size = 0;
  for await (const { seq, body, leaf } of events) {
    if (seq !== size++) {
      throw refuse('register.event-out-of-sequence', `register event ${seq}`, { expected: size - 1 });
    }
    const event = fromLeaf(seq, { body, leaf });
    if (event.type === 'closed') closed.add(event.edition);
    else if (isOfNumber(event)) {
      const name = `${event.edition} ${event.label}`;
      statuses.set(
        name,
        applyEvent(statuses.get(name), event, { editionClosed: closed.has(event.edition), seq }),
      );
    }
    yield { seq, body, leaf };
  }
}
