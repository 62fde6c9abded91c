import type pg from 'pg';
import type { Numbered } from '../../edition/labels.js';
import { type Known, learn, lowest, nothingKnown, type Turn } from '../free.js';
import type { IssueOrder } from '../register.js';

// In two halves, the first of which has an index of its own. A number is withheld or issued, so their order is of no
// matter.
const ALL = `
  SELECT number, type FROM burin.event WHERE type = 'issued' AND edition = $1 AND series = $2
  UNION ALL (
    SELECT number, type FROM burin.event WHERE type IN ('withheld', 'released', 'void')
      AND edition = $1 AND series = $2 ORDER BY seq)`;
const SINCE = `
  SELECT number, type FROM burin.event WHERE seq >= $3 AND edition = $1 AND series = $2
    AND type IN ('issued', 'withheld', 'released', 'void') ORDER BY seq`;

/**
 * Finds the lowest free planned numbers. A series is read once through its index; after that only the events that
 * came since are, so that issuing the last number of many costs what the first did. Call it only where nobody
 * else can write.
 */
export function prepareFree(
  client: pg.ClientBase,
): (order: IssueOrder, nextSeq: number) => Promise<readonly Numbered[]> {
  const seriesKnown = new Map<string, Known>();

  return async (order, nextSeq) => {
    const { edition, series } = order;
    const name = `${edition}/${series}`;
    const known = seriesKnown.get(name) ?? nothingKnown();
    const { before } = known;
    const turns =
      before === 0
        ? await client.query<Turn>(ALL, [edition, series])
        : await client.query<Turn>(SINCE, [edition, series, before]);
    learn(known, turns.rows);
    // Not beyond what is committed: the events about to be written may yet be rolled back.
    known.before = nextSeq;
    seriesKnown.set(name, known);
    return lowest(order, known);
  };
}
