import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import type { IssueOrder } from '../register.js';

/** What is known of a series before a place in the sequence. */
interface Known {
  before: number;
  /** Issued or void: these stay taken. */
  readonly taken: Set<number>;
  /** Kept back, until they are released. */
  readonly withheld: Set<number>;
  /** For each list of planned numbers, how many at its head are all taken. */
  readonly heads: WeakMap<readonly Numbered[], number>;
}

const nothing = (): Known => ({ before: 0, taken: new Set(), withheld: new Set(), heads: new WeakMap() });

/** An event that takes a number, keeps it back or gives it free again. */
interface Turn {
  readonly number: number;
  readonly type: 'issued' | 'withheld' | 'released' | 'void';
}

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
    const known = seriesKnown.get(name) ?? nothing();
    const { before } = known;
    const turns = before === 0 ? all.all({ edition, series }) : since.all({ edition, series, before });
    for (const { number, type } of turns) {
      if (type === 'withheld') known.withheld.add(number);
      else if (type === 'released') known.withheld.delete(number);
      else known.taken.add(number);
    }
    // Not beyond what is committed: the events about to be written may yet be rolled back.
    known.before = nextSeq;
    seriesKnown.set(name, known);
    return lowest(order, known);
  };
}

function lowest(
  { edition, series, planned, count }: IssueOrder,
  { taken, withheld, heads }: Known,
): readonly Numbered[] {
  let at = heads.get(planned) ?? 0;
  while (at < planned.length && taken.has(planned[at]!.number)) at++;
  heads.set(planned, at);
  const free: Numbered[] = [];
  for (; at < planned.length && free.length < count; at++) {
    const numbered = planned[at]!;
    if (!taken.has(numbered.number) && !withheld.has(numbered.number)) free.push(numbered);
  }
  if (free.length < count) {
    const none = free.length === 0;
    throw refuse(
      3,
      `edition ${edition}: series ${series}`,
      `${count} asked for, ${none ? 'none' : `only ${free.length}`} left; nothing was issued.`,
      none ? 'What is planned is issued, withheld or void.' : `Ask for ${free.length} or fewer.`,
    );
  }
  return free;
}
