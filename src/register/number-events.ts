import { foldName } from '../edition/look-alike.js';
import { currentSteps } from './current-events.js';
import { isOfNumber } from './event.js';
import type { StoredEvent, VerifiedEvent } from './register.js';
import { TRANSITIONS } from './transitions.js';

/** An event of a number with what later ones say of it. */
export interface AnnotatedEvent extends StoredEvent {
  /** Places in the sequence of the events that corrected it. */
  readonly correctedBy: readonly number[];
  /** The place of the event that took it back. */
  readonly retractedBy?: number;
}

/** The events of one number in order, each with its corrections. */
export function annotate(history: readonly StoredEvent[]): AnnotatedEvent[] {
  const correctedBy = new Map<number, number[]>();
  const retractedBy = new Map<number, number>();
  for (const { seq, event } of history) {
    if (event.type === 'corrected')
      correctedBy.set(event.corrects, [...(correctedBy.get(event.corrects) ?? []), seq]);
    else if (event.type === 'retracted') retractedBy.set(event.corrects, seq);
  }
  return history.map((stored) => ({
    ...stored,
    correctedBy: correctedBy.get(stored.seq) ?? [],
    ...(retractedBy.has(stored.seq) && { retractedBy: retractedBy.get(stored.seq) }),
  }));
}

/** Someone that a number was delivered to. */
export interface Buyer {
  readonly to: string;
  /** The place of the delivery, or of the correction that named this buyer. */
  readonly seq: number;
  /** `entered in error` where the delivery was retracted or its buyer corrected. */
  readonly holds: 'current' | 'former' | 'entered in error';
}

/** Everyone that a number was ever said to be delivered to, in the order of entry. */
export function buyersOf(history: readonly VerifiedEvent[]): Buyer[] {
  const steps = currentSteps(history);
  const buyers: Buyer[] = [];
  for (const { seq, event } of history) {
    if ((event.type !== 'delivered' && event.type !== 'corrected') || event.to === undefined) continue;
    const delivery = event.type === 'delivered' ? seq : event.corrects;
    const at = steps.findIndex((step) => step.seq === delivery);
    const step = steps[at];
    const named =
      step?.corrections.findLast(({ event }) => 'to' in event && event.to !== undefined)?.seq ?? delivery;
    const left = steps.slice(at + 1).some((later) => TRANSITIONS[later.event.type].stage?.to !== undefined);
    buyers.push({
      ...{ to: event.to, seq },
      holds: !step || named !== seq ? 'entered in error' : left ? 'former' : 'current',
    });
  }
  return buyers;
}

/** What of an event a text was found in. */
export interface FoundIn {
  readonly seq: number;
  readonly member: 'label' | 'by' | 'witness' | 'to' | 'why' | 'digest';
  readonly text: string;
}

const SEARCHED = ['label', 'by', 'witness', 'to', 'why'] as const;

/** As much of a digest as nobody types for a name or a reason. */
const DIGEST = /^[0-9a-f]{8,64}$/i;

/**
 * Finds a text in labels, people and reasons, whatever its case, form, spaces and dots; and the beginning of a digest, of a
 * certificate or of programs.
 */
export function eventSearch(text: string): (stored: VerifiedEvent) => FoundIn[] {
  const wanted = foldName(text);
  const digest = DIGEST.test(text) ? text.toLowerCase() : undefined;
  // Most events say what others said before them.
  const known = new Map<string, boolean>();
  const holds = (value: string): boolean => {
    let found = known.get(value);
    if (found === undefined) {
      found = foldName(value).includes(wanted);
      if (known.size < 100_000) known.set(value, found);
    }
    return found;
  };
  return ({ seq, event }) => {
    if (!isOfNumber(event)) return [];
    const members = event as Partial<Record<FoundIn['member'], string>>;
    const found = SEARCHED.flatMap((member): FoundIn[] => {
      const value = members[member];
      return value !== undefined && holds(value) ? [{ seq, member, text: value }] : [];
    });
    if (digest !== undefined && 'digest' in event && event.digest.startsWith(digest))
      found.push({ seq, member: 'digest', text: event.digest });
    return found;
  };
}
