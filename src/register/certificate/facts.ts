import type { NumberEvent } from '../event.js';
import type { Dates } from './form.js';

/** An event with its place in the register, told apart from those of other numbers. */
export interface Told {
  readonly seq: number;
  readonly event: NumberEvent;
}

/** The day an event is told of: when it happened, else when it was entered, in UTC. */
export const dayOf = (event: NumberEvent): string => (event.on ?? event.at).slice(0, 10);

const lastOf = (events: readonly NumberEvent[], type: NumberEvent['type']): number =>
  events.findLastIndex((event) => event.type === type);

/** The days a certificate shows. What was inspected or delivered before the last engraving was another piece. */
export function datesOf(events: readonly NumberEvent[]): Partial<Dates> {
  const engraved = lastOf(events, 'engraved');
  const dayAfter = (type: NumberEvent['type'], from: number): string | undefined => {
    const found = lastOf(events, type);
    return found >= 0 && found >= from ? dayOf(events[found]!) : undefined;
  };
  const all = {
    issued: dayAfter('issued', 0),
    engraved: dayAfter('engraved', 0),
    inspected: dayAfter('inspected', engraved),
    delivered: dayAfter('delivered', engraved),
  };
  return Object.fromEntries(Object.entries(all).filter(([, day]) => day !== undefined));
}

/** To whom the piece went, where that is among the events. */
export function ownerOf(events: readonly NumberEvent[]): string | undefined {
  const found = events[lastOf(events, 'delivered')];
  return found?.type === 'delivered' ? found.to : undefined;
}

/**
 * The events a certificate shows. Left out is what could tell of other people and proves nothing to the owner:
 * deliveries but for the last, and that too unless it is asked for; and times of being kept back that are over.
 */
export function toShow<T extends Told>(told: readonly T[], withDelivery: boolean): T[] {
  const delivered = withDelivery ? told.findLastIndex(({ event }) => event.type === 'delivered') : -1;
  const engraved = told.findLastIndex(({ event }) => event.type === 'engraved');
  const over = new Set<T>();
  let withheld: T | undefined;
  for (const one of told) {
    if (one.event.type === 'withheld') withheld = one;
    else if (one.event.type === 'released' && withheld) {
      over.add(withheld).add(one);
      withheld = undefined;
    }
  }
  return told.filter((one, i) => {
    if (one.event.type === 'delivered') return i === delivered && delivered > engraved;
    return !over.has(one);
  });
}
