import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import { fromLeaf, type Issued, toLeaf } from '../event.js';
import type { IssueOrder } from '../register.js';
import { prepareFree } from './free.js';
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
    return free(order, seq).map(({ series, number, label }, i) => {
      const asked = key === undefined ? {} : { key, nth: i + 1 };
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
