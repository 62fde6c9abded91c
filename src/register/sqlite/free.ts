import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { type Known, learn, lowest, nothingKnown, type Turn } from '../free.js';
import type { IssueOrder } from '../register.js';

/**
 * Finds the lowest free planned numbers. A series is read once through its index; after that only the events that
 * came since are, so that issuing the last number of many costs what the first did. Call it only where nobody
 * else can write.
 */
export function prepareFree(
  db: Database.Database,
): (order: IssueOrder, nextSeq: number) => readonly Numbered[] {
  // In two halves, each of which has its index. A number is withheld or issued, so their order is of no matter.
  const all = db.prepare<{ edition: string; series: string }, Turn>(`
    SELECT number, type FROM event WHERE type = 'issued' AND edition = $edition AND series = $series
    UNION ALL SELECT * FROM (
      SELECT number, type FROM event WHERE type <> 'issued' AND edition = $edition AND series = $series
        AND type IN ('withheld', 'released', 'void') ORDER BY seq)`);
  const since = db.prepare<{ edition: string; series: string; before: number }, Turn>(`
    SELECT number, type FROM event NOT INDEXED WHERE seq >= $before AND edition = $edition AND series = $series
      AND type IN ('issued', 'withheld', 'released', 'void') ORDER BY seq`);
  const seriesKnown = new Map<string, Known>();

  return (order, nextSeq) => {
    const { edition, series } = order;
    const name = `${edition}/${series}`;
    const known = seriesKnown.get(name) ?? nothingKnown();
    const { before } = known;
    const turns = before === 0 ? all.all({ edition, series }) : since.all({ edition, series, before });
    learn(known, turns);
    // Not beyond what is committed: the events about to be written may yet be rolled back.
    known.before = nextSeq;
    seriesKnown.set(name, known);
    return lowest(order, known);
  };
}
