import type { NumberEvent } from '../event.js';
import type { Dates } from './form.js';

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
export function datesOf(events: readonly NumberEvent[]): Partial<Dates> {
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
export function ownerOf(events: readonly NumberEvent[]): string | undefined {
  const found = events[lastOf(events, 'delivered')];
  return found?.type === 'delivered' ? found.to : undefined;
}

/**
 * The events that a certificate shows. It leaves out what is about other people and proves nothing to the owner: earlier
 * deliveries, the last one too unless it is asked for, and withholdings that are over.
 */
export function shownEvents<T extends PlacedEvent>(events: readonly T[], withDelivery: boolean): T[] {
  const delivered = withDelivery ? events.findLastIndex(({ event }) => event.type === 'delivered') : -1;
  const engraved = events.findLastIndex(({ event }) => event.type === 'engraved');
  const over = new Set<T>();
  let withheld: T | undefined;
  for (const one of events) {
    if (one.event.type === 'withheld') withheld = one;
    else if (one.event.type === 'released' && withheld) {
      over.add(withheld).add(one);
      withheld = undefined;
    }
  }
  return events.filter((one, i) => {
    if (one.event.type === 'delivered') return i === delivered && delivered > engraved;
    return !over.has(one);
  });
}
