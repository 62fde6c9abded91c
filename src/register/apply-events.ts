import { type Problem, Refusal } from '../problem.js';
import type { NumberEvent } from './event.js';
import {
  applyEvent,
  type Life,
  type NumberStatus,
  type PlacedEvent,
  replayLives,
  statusOf,
} from './lifecycle.js';
import { problem } from './messages.js';
import { checkOccurrence } from './occurrence.js';
import { checkNames } from './requests.js';
import { checkOnTerms } from './terms/hold.js';
import type { NamedTerms } from './terms/schema.js';

/** What a register has of the numbers that new events are of. */
export interface Past {
  isClosed(edition: string): Promise<boolean>;
  historyOf(edition: string, label: string): Promise<readonly PlacedEvent[]>;
  /** Throws a Refusal where the label, or the number, belongs to another. */
  checkKnown(event: NumberEvent): Promise<void>;
}

/** What events lead to, and what is wrong with those that are not allowed. */
export interface Applied {
  readonly allowed: readonly NumberEvent[];
  /** The status that each allowed event leads to. */
  readonly statuses: readonly NumberStatus[];
  readonly problems: readonly Problem[];
  readonly refused: number;
}

/**
 * What events of one edition lead to, where the allowed ones come one after another from a place in the sequence on. Throws
 * a Refusal for one that is not on the terms.
 */
export async function applyEvents(
  past: Past,
  events: readonly NumberEvent[],
  from: number,
  terms: NamedTerms | undefined,
): Promise<Applied> {
  const edition = editionOfAll(events);
  if (terms) checkOnTerms(edition, terms.terms, events);
  const editionClosed = await past.isClosed(edition);
  const histories = new Map<string, readonly PlacedEvent[]>();
  const lifecycles = new Map<string, Life>();
  const allowed: NumberEvent[] = [];
  const statuses: NumberStatus[] = [];
  const problems: Problem[] = [];
  for (const event of events) {
    const { label } = event;
    const seq = from + allowed.length;
    const history = histories.get(label) ?? (await past.historyOf(edition, label));
    try {
      // A label without events may yet be that of another number.
      if (history.length === 0) await past.checkKnown(event);
      const before = lifecycles.get(label) ?? replayLives(history)[0];
      const life = applyEvent(before, event, { editionClosed, seq });
      checkNames(`label ${label}`, 'witness' in event ? event.witness : undefined);
      checkOccurrence(event, history);
      lifecycles.set(label, life);
      allowed.push(event);
      statuses.push(statusOf(life));
      histories.set(label, [...history, { event, seq }]);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      problems.push(...error.problems);
    }
  }
  return { allowed, statuses, problems, refused: events.length - allowed.length };
}

/** Of many events, none is entered where one is refused. */
export function refusalOf(
  edition: string,
  problems: readonly Problem[],
  { refused, asked }: { readonly refused: number; readonly asked: number },
): Refusal {
  const none = problem('register.none-entered', `edition ${edition}`, { refused, asked });
  return new Refusal(asked > 1 ? [...problems, none] : [...problems]);
}

/** The one edition of events that are entered together. */
export function editionOfAll(events: readonly NumberEvent[]): string {
  const [{ edition }] = events as [NumberEvent];
  if (events.some((event) => event.edition !== edition))
    throw new TypeError('events that are entered together are of one edition');
  return edition;
}
