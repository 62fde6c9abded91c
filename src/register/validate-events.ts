import { fromLeaf, isOfNumber } from './event.js';
import { applyEvent, type Life } from './lifecycle.js';
import { refuse } from './messages.js';
import type { RawEvent } from './register.js';
import { readableMembers } from './resumption/claims.js';
import type { Resumptions } from './resumption/resumptions.js';

/** An event, with its time, and whether the rules of the tables are not to be asked of it. */
export interface ValidatedEvent extends RawEvent {
  readonly at: string;
  readonly exempt: boolean;
}

/**
 * The events of a whole register, each validated as it passes: in sequence, its text and hash in agreement, and
 * allowed by the rules for its number. What the register passes over is only held to be the entry that is named. Throws a
 * Refusal (exit 3) at the first that is not.
 */
export async function* validateEvents(
  events: AsyncIterable<RawEvent>,
  resumptions: Resumptions,
): AsyncGenerator<ValidatedEvent> {
  const statuses = new Map<string, Life>();
  const closed = new Set<string>();
  let size = 0;
  for await (const { seq, body, leaf } of events) {
    if (seq !== size++) {
      throw refuse('register.event-out-of-sequence', `register event ${seq}`, { expected: size - 1 });
    }
    const resumption = resumptions.of(seq)?.event;
    if (resumption && resumption.digest !== leaf.toString('hex'))
      throw refuse('register.damaged-event', `register event ${seq}`, { fault: 'hash' });
    if (resumptions.passes(seq)) {
      const { at = '', type, edition } = readableMembers(body);
      if (type === 'closed' && edition !== undefined && !resumptions.reopens(seq)) closed.add(edition);
      yield { seq, body, leaf, at, exempt: true };
      continue;
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
    // Closings were entered without that once.
    const older = event.type === 'closed' && event.stated === undefined;
    yield { seq, body, leaf, at: event.at, exempt: event.type === 'resumed' || older };
  }
}
