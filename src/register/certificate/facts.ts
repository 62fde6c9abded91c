import { type CurrentStep, currentSteps } from '../current-events.js';
import type { NumberEvent } from '../event.js';
import type { Dates } from './certificate-form.js';

/** An event of one number, with its place in the register. */
export interface PlacedEvent {
  readonly seq: number;
  readonly event: NumberEvent;
}

/** The day of an event: when it happened, else when it was entered, in UTC. */
export const dayOf = (event: NumberEvent): string => (event.on ?? event.at).slice(0, 10);

const lastOf = (events: readonly NumberEvent[], type: NumberEvent['type']): number =>
  events.findLastIndex((event) => event.type === type);

/** The days a certificate shows. What was inspected or delivered before the last engraving was another piece. */
export function datesOf(placed: readonly PlacedEvent[]): Partial<Dates> {
  const events = currentSteps(placed).map(({ event }) => event);
  const engraved = lastOf(events, 'engraved');
  const lastDay = (type: NumberEvent['type'], from: number): string | undefined => {
    const found = lastOf(events, type);
    return found >= 0 && found >= from ? dayOf(events[found]!) : undefined;
  };
  const all = {
    issued: lastDay('issued', 0),
    engraved: lastDay('engraved', 0),
    inspected: lastDay('inspected', engraved),
    delivered: lastDay('delivered', engraved),
  };
  return Object.fromEntries(Object.entries(all).filter(([, day]) => day !== undefined));
}

/** To whom the piece went, where that is among the events. */
export function ownerOf(placed: readonly PlacedEvent[]): string | undefined {
  const events = currentSteps(placed).map(({ event }) => event);
  const found = events[lastOf(events, 'delivered')];
  return found?.type === 'delivered' ? found.to : undefined;
}

/** What begins a time that is over once the other comes. */
const OVER: Partial<Record<NumberEvent['type'], readonly NumberEvent['type'][]>> = {
  released: ['withheld'],
  found: ['lost', 'stolen'],
};
/** What comes to nothing when a piece comes back: it is inspected again, and delivered to somebody else. */
const UNTIL_RETURN: readonly NumberEvent['type'][] = ['inspected', 'delivered', 'returned'];

/**
 * The events that a certificate shows: the steps of the life that stand, each with what corrected it. It leaves out what
 * is about other people and proves nothing to the owner: earlier deliveries, the last one too unless it is asked for,
 * and times when the piece was withheld or missing that are over; and what leaves the life as it is.
 */
export function shownEvents<T extends PlacedEvent>(events: readonly T[], withDelivery: boolean): T[] {
  const steps = currentSteps(events);
  const last = (type: NumberEvent['type']) => steps.findLastIndex(({ event }) => event.type === type);
  const [delivered, engraved, returned] = [last('delivered'), last('engraved'), last('returned')];
  const over = new Set<CurrentStep<T>>();
  for (const [i, step] of steps.entries()) {
    const begins = OVER[step.event.type];
    const begun = begins && steps.slice(0, i).findLast((one) => begins.includes(one.event.type));
    if (begun) over.add(begun).add(step);
  }
  const visible = steps.filter((step, i) => {
    const { type } = step.event;
    if (i <= returned && UNTIL_RETURN.includes(type)) return false;
    if (type === 'delivered') return withDelivery && i === delivered && delivered > engraved;
    return !over.has(step);
  });
  return visible
    .flatMap(({ entered, corrections }) => [entered, ...corrections])
    .sort((a, b) => a.seq - b.seq);
}
