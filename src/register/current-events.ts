import { type EventOf, isOfNumber, type NumberEvent } from './event.js';
import type { PlacedEvent } from './lifecycle.js';
import { STATE_EVENTS } from './transitions.js';

/** A step of the life of a number as it stands: what was corrected of it is corrected here. */
export interface CurrentStep<P extends PlacedEvent = PlacedEvent> {
  readonly seq: P['seq'];
  readonly event: NumberEvent;
  /** As it was entered. */
  readonly entered: P;
  /** What corrected it, first to last. */
  readonly corrections: readonly P[];
}

/** Whether an event is a step of the life of its number, and not a trace of what was done beside it. */
export const isStep = ({ type }: NumberEvent): boolean => STATE_EVENTS.some((one) => one === type);

/** Whether a step, as it stands, says already what a correction says of it. */
export function saysAlready(step: NumberEvent, { to, day }: EventOf<'corrected'>): boolean {
  const { on, at } = step;
  const sameBuyer = to === undefined || ('to' in step && step.to === to);
  const sameDay = day === undefined || day === (on ?? at) || (on === undefined && day === at.slice(0, 10));
  return sameBuyer && sameDay;
}

/**
 * The steps of a life in order, from the events of one number that the rules allowed: without what was retracted, and
 * with the buyer and the day as they were corrected last.
 */
export function currentSteps<P extends PlacedEvent>(events: readonly P[]): CurrentStep<P>[] {
  const steps: CurrentStep<P>[] = [];
  for (const placed of events) {
    const { event } = placed;
    if (!isOfNumber(event)) continue;
    if (event.type === 'retracted') steps.pop();
    else if (event.type === 'corrected') {
      const at = steps.findIndex(({ seq }) => seq === event.corrects);
      const step = steps[at];
      if (!step) continue;
      const { to, day } = event;
      const corrected = {
        ...step.event,
        ...(to !== undefined && { to }),
        ...(day !== undefined && { on: day }),
      } as NumberEvent;
      steps[at] = { ...step, event: corrected, corrections: [...step.corrections, placed] };
    } else if (isStep(event)) steps.push({ seq: placed.seq, event, entered: placed, corrections: [] });
  }
  return steps;
}

/** The places of corrections that say what stood there already, among the events of one number. */
export function emptyCorrections(events: readonly (PlacedEvent & { readonly seq: number })[]): Set<number> {
  const empty = new Set<number>();
  for (const [i, { seq, event }] of events.entries()) {
    if (event.type !== 'corrected') continue;
    const step = currentSteps(events.slice(0, i)).find((one) => one.seq === event.corrects);
    if (step && saysAlready(step.event, event)) empty.add(seq);
  }
  return empty;
}
