import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import type { IssueOrder } from '../register.js';

/** What is known of a series: every number taken before a place in the sequence. Taken numbers stay taken. */
interface Known {
  before: number;
  readonly taken: Set<number>;
  /** For each list of planned numbers, how many at its head are all taken. */
  readonly heads: WeakMap<readonly Numbered[], number>;
}

/**
 * Finds the lowest free planned numbers. A series is read once through its index; after that only the events that
 * came since are, so that issuing the last number of many costs what the first did. Call it only where nobody
 * else can write.
 */
export function prepareFree(
  db: Database.Database,
): (order: IssueOrder, nextSeq: number) => readonly Numbered[] {
  const all = db
    .prepare<[string, string], number>(
      "SELECT number FROM event WHERE type = 'issued' AND edition = ? AND series = ?",
    )
    .pluck();
  const since = db
    .prepare<[number, string, string], number>(
      "SELECT number FROM event NOT INDEXED WHERE seq >= ? AND type = 'issued' AND edition = ? AND series = ?",
    )
    .pluck();
  const series = new Map<string, Known>();

  return (order, nextSeq) => {
    const name = `${order.edition}/${order.series}`;
    const known: Known = series.get(name) ?? { before: 0, taken: new Set(), heads: new WeakMap() };
    const fresh =
      known.before === 0
        ? all.all(order.edition, order.series)
        : since.all(known.before, order.edition, order.series);
    for (const number of fresh) known.taken.add(number);
    // Not beyond what is committed: the events about to be written may yet be rolled back.
    known.before = nextSeq;
    series.set(name, known);
    return lowest(order, known);
  };
}

function lowest(
  { edition, series, planned, count }: IssueOrder,
  { taken, heads }: Known,
): readonly Numbered[] {
  let at = heads.get(planned) ?? 0;
  while (at < planned.length && taken.has(planned[at]!.number)) at++;
  heads.set(planned, at);
  const free: Numbered[] = [];
  for (; at < planned.length && free.length < count; at++) {
    const numbered = planned[at]!;
    if (!taken.has(numbered.number)) free.push(numbered);
  }
  if (free.length < count) {
    const none = free.length === 0;
    throw refuse(
      3,
      `edition ${edition}: series ${series}`,
      `${count} asked for, ${none ? 'none' : `only ${free.length}`} left; nothing was issued.`,
      none ? 'The series is complete.' : `Ask for ${free.length} or fewer.`,
    );
  }
  return free;
}
