import { refuse } from '../../problem.js';
import type { EventOf, NumberEvent } from '../event.js';
import { applyEvent, type NumberStatus, numberMismatch, replay } from '../lifecycle.js';
import { atRow, keyReused, sameRequest } from '../requests.js';
import type { Append } from './append.js';
import type { Read } from './read.js';

/** Enters what was judged right. Each runs inside one immediate transaction: nobody else writes while it looks. */
export interface Recording {
  record(event: NumberEvent, now: Date): NumberStatus;
  closeEdition(event: EventOf<'closed'>, now: Date): void;
  importEvents(events: readonly NumberEvent[], now: Date): void;
}

export function prepareRecord(read: Read, append: Append): Recording {
  const statusOf = (
    { edition, label }: NumberEvent,
    upTo = Number.POSITIVE_INFINITY,
  ): NumberStatus | undefined => {
    const events = read.ofLabel(edition, label).filter(({ seq }) => seq <= upTo);
    return replay(events.map((kept) => kept.event))[0];
  };
  const checkKnown = (event: NumberEvent): void => {
    const known = read.known(event.edition, event);
    if (
      known &&
      (known.label !== event.label || known.number !== event.number || known.series !== event.series)
    ) {
      throw numberMismatch(known, event);
    }
  };

  return {
    record: (event, now) => {
      if (event.key !== undefined) {
        const [before, ...more] = read.ofKey(event.key);
        if (before) {
          if (more.length > 0 || !sameRequest(before.event, event)) {
            throw keyReused(`label ${event.label}`, event.key);
          }
          // What was answered then, whatever came after.
          return statusOf(event, before.seq)!;
        }
      }
      checkKnown(event);
      const { seq, at } = append.end(now);
      const entered = { ...event, at };
      const status = applyEvent(statusOf(event), entered, read.isClosed(event.edition));
      append.put(seq, entered);
      return status;
    },

    closeEdition: (event, now) => {
      const where = `edition ${event.edition}`;
      if (event.key !== undefined) {
        const [before, ...more] = read.ofKey(event.key);
        if (before) {
          if (more.length > 0 || !sameRequest(before.event, event)) throw keyReused(where, event.key);
          return;
        }
      }
      if (read.isClosed(event.edition)) {
        throw refuse(3, where, 'It was closed before.', 'An edition is closed once; nothing is left to do.');
      }
      const { seq, at } = append.end(now);
      append.put(seq, { ...event, at });
    },

    importEvents: (events, now) => {
      const { seq, at } = append.end(now);
      const current = new Map<string, NumberStatus | undefined>();
      for (const [i, event] of events.entries()) {
        try {
          const name = `${event.edition} ${event.label}`;
          const before = current.has(name) ? current.get(name) : statusOf(event);
          if (!before) checkKnown(event);
          const entered = { ...event, at };
          current.set(name, applyEvent(before, entered, read.isClosed(event.edition)));
          append.put(seq + i, entered);
        } catch (error) {
          throw atRow(error, i + 1);
        }
      }
    },
  };
}
