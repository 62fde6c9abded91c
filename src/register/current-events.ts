import { isOfNumber, type NumberEvent } from './event.js';
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

const isStep = ({ type }: NumberEvent): boolean => STATE_EVENTS.some((one) => one === type);

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
