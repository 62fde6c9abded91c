import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import { fromLeaf, type Issued, toLeaf } from '../event.js';
import type { IssueOrder } from '../register.js';
import type { EventRow } from './read.js';

/** Takes the next free numbers. Runs inside one immediate transaction: nobody else writes while it looks. */
export type Issue = (order: IssueOrder, at: string) => Numbered[];

export function prepareIssue(db: Database.Database): Issue {
  const ofKey = db.prepare<[key: string], EventRow>(
    'SELECT seq, body, leaf FROM event WHERE key IS NOT NULL AND key = ? ORDER BY part',
  );
  const nextSeq = db.prepare<[], number>('SELECT coalesce(max(seq), -1) + 1 FROM event').pluck();
  const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  const free = prepareFree(db);

  return (order, at) => {
    const { edition, by, why, key } = order;
    if (key !== undefined) {
      const before = ofKey.all(key);
      if (before.length > 0) return sameAgain(order, key, before);
    }
    let seq = nextSeq.get()!;
    return free(order).map(({ series, number, label }, i) => {
      const asked = key === undefined ? {} : { key, part: i + 1 };
      const { body, leaf } = toLeaf({
        type: 'issued',
        edition,
        series,
        number,
        label,
        by,
        at,
        why,
        ...asked,
      });
      insert.run(seq++, body, leaf);
      return { series, number, label };
    });
  };
}

/** The request was carried out before: what it got then, if it is the same request. */
function sameAgain(order: IssueOrder, key: string, rows: readonly EventRow[]): Numbered[] {
  const events = rows.map((row) => fromLeaf(row.seq, row));
  const same = (event: Issued) =>
    event.type === 'issued' &&
    event.edition === order.edition &&
    event.series === order.series &&
    event.by === order.by &&
    event.why === order.why;
  if (events.length !== order.count || !events.every(same)) {
    throw refuse(
      3,
      `edition ${order.edition}: series ${order.series}`,
      `The key ${key} was used for another request.`,
      'Ask with a new key, or repeat that request exactly.',
    );
  }
  return events.map(({ series, number, label }) => ({ series, number, label }));
}

function prepareFree(db: Database.Database): (order: IssueOrder) => readonly Numbered[] {
  const markOf = db.prepare<[string, string], { issued: number; top: number }>(
    'SELECT issued, top FROM mark WHERE edition = ? AND series = ?',
  );
  const taken = db
    .prepare<[string, string], number>(
      "SELECT number FROM event WHERE type = 'issued' AND edition = ? AND series = ?",
    )
    .pluck();

  return ({ edition, series, planned, count }) => {
    const mark = markOf.get(edition, series) ?? { issued: 0, top: 0 };
    const beyond = firstBeyond(planned, mark.top);
    // As many issued as planned up to the highest: no hole below it, and no need to read what was issued.
    const rest =
      beyond === mark.issued ? planned.slice(beyond) : lessTaken(planned, taken.all(edition, series));
    if (rest.length < count) {
      throw refuse(
        3,
        `edition ${edition}: series ${series}`,
        `${count} asked for, ${rest.length === 0 ? 'none' : `only ${rest.length}`} left; nothing was issued.`,
        rest.length === 0 ? 'The series is complete.' : `Ask for ${rest.length} or fewer.`,
      );
    }
    return rest.slice(0, count);
  };
}

const lessTaken = (planned: readonly Numbered[], taken: readonly number[]): Numbered[] => {
  const gone = new Set(taken);
  return planned.filter(({ number }) => !gone.has(number));
};

/** Where the planned numbers, ascending, first go beyond `top`. */
function firstBeyond(planned: readonly Numbered[], top: number): number {
  let low = 0;
  let high = planned.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (planned[middle]!.number > top) high = middle;
    else low = middle + 1;
  }
  return low;
}
