import { refuse } from '../../problem.js';
import type { EventOf, NumberEvent } from '../event.js';
import { inRow, otherRequest, sameRequest } from '../requests.js';
import { clash, judge, type Standing, standings } from '../state.js';
import type { Append } from './append.js';
import type { Read } from './read.js';

/** Enters what was judged right. Each runs inside one transaction: nobody else writes while it looks. */
export interface Recording {
  record(event: NumberEvent, now: Date): Promise<Standing>;
  closeEdition(event: EventOf<'closed'>, now: Date): Promise<void>;
  bringIn(events: readonly NumberEvent[], now: Date): Promise<void>;
}

export function prepareRecord(read: Read, append: Append): Recording {
  const standing = async (
    { edition, label }: NumberEvent,
    upTo = Number.POSITIVE_INFINITY,
  ): Promise<Standing | undefined> => {
    const events = (await read.ofLabel(edition, label)).filter(({ seq }) => seq <= upTo);
    return standings(events.map((kept) => kept.event))[0];
  };
  const checkKnown = async (event: NumberEvent): Promise<void> => {
    const known = await read.known(event.edition, event);
    if (
      known &&
      (known.label !== event.label || known.number !== event.number || known.series !== event.series)
    ) {
      throw clash(known, event);
    }
  };

  return {
    record: async (event, now) => {
      if (event.key !== undefined) {
        const [before, ...more] = await read.ofKey(event.key);
        if (before) {
          if (more.length > 0 || !sameRequest(before.event, event)) {
            throw otherRequest(`label ${event.label}`, event.key);
          }
          // What was answered then, whatever came after.
          return (await standing(event, before.seq))!;
        }
      }
      await checkKnown(event);
      const { seq, at } = await append.end(now);
      const entered = { ...event, at };
      const after = judge(await standing(event), entered, await read.isClosed(event.edition));
      await append.put(seq, [entered]);
      return after;
    },

    closeEdition: async (event, now) => {
      const where = `edition ${event.edition}`;
      if (event.key !== undefined) {
        const [before, ...more] = await read.ofKey(event.key);
        if (before) {
          if (more.length > 0 || !sameRequest(before.event, event)) throw otherRequest(where, event.key);
          return;
        }
      }
      if (await read.isClosed(event.edition)) {
        throw refuse(3, where, 'It was closed before.', 'An edition is closed once; nothing is left to do.');
      }
      const { seq, at } = await append.end(now);
      await append.put(seq, [{ ...event, at }]);
    },

    bringIn: async (events, now) => {
      const { seq, at } = await append.end(now);
      const standingNow = new Map<string, Standing | undefined>();
      for (const [i, event] of events.entries()) {
        try {
          const name = `${event.edition} ${event.label}`;
          const before = standingNow.has(name) ? standingNow.get(name) : await standing(event);
          if (!before) await checkKnown(event);
          const entered = { ...event, at };
          standingNow.set(name, judge(before, entered, await read.isClosed(event.edition)));
          await append.put(seq + i, [entered]);
        } catch (error) {
          throw inRow(error, i + 1);
        }
      }
    },
  };
}
