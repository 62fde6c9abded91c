import { currentSteps } from '../current-events.js';
import { isOfNumber, type TermsEvent } from '../event.js';
import { type PlacedEvent, replay } from '../lifecycle.js';
import { differencesOf } from '../terms/difference.js';
import type { NamedTerms } from '../terms/schema.js';
import type { Amendment, EditionAtClosing, StatedNumber } from './statement.js';

/** The terms of an edition, and what entered and changed them, first to last. */
export interface TermsAtClosing extends NamedTerms {
  readonly events: readonly { readonly event: TermsEvent }[];
}

/** What changed terms, and how, from the events that say so. */
export const amendmentsOf = (events: readonly { readonly event: TermsEvent }[]): Amendment[] =>
  events.slice(1).map(({ event }, i) => amendmentBy(event, events[i]!.event));

export function amendmentBy(event: TermsEvent, before: Pick<TermsEvent, 'name' | 'terms'>): Amendment {
  const { at, by, why } = event;
  // In an order of its own: that of the members in a text hangs on who read it.
  const changes = differencesOf(before, event).sort((one, other) => (one.what < other.what ? -1 : 1));
  return { at, by, why, changes };
}

/**
 * An edition as its events leave it. Throws a Refusal (exit 3) for events that the rules do not allow one after another.
 */
export function editionAtClosing(events: readonly PlacedEvent[], recorded: TermsAtClosing): EditionAtClosing {
  const before = events.filter(({ event }) => event.type !== 'closed');
  const bySeries = new Map<string, StatedNumber[]>();
  const voids = new Map<string, string>();
  for (const { series, number, label, state, pieces } of replay(before)) {
    const own = bySeries.get(series) ?? [];
    bySeries.set(series, own);
    if (state === 'void' && voids.size === 0) for (const [of, why] of reasonsOf(before)) voids.set(of, why);
    own.push({ number, state, pieces, ...(state === 'void' && { why: voids.get(label) }) });
  }
  return {
    terms: recorded,
    amendments: amendmentsOf(recorded.events),
    numbersOf: (series) => bySeries.get(series) ?? [],
  };
}

/** Why each number that is void came to be so, by its label. */
function reasonsOf(events: readonly PlacedEvent[]): Map<string, string> {
  const byLabel = new Map<string, PlacedEvent[]>();
  for (const one of events) {
    if (!isOfNumber(one.event)) continue;
    const own = byLabel.get(one.event.label);
    if (own) own.push(one);
    else byLabel.set(one.event.label, [one]);
  }
  const reasons = new Map<string, string>();
  for (const [label, own] of byLabel) {
    if (!own.some(({ event }) => event.type === 'void')) continue;
    const last = currentSteps(own).at(-1);
    if (last?.event.type === 'void') reasons.set(label, last.event.why);
  }
  return reasons;
}
