import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import type { Issued } from '../event.js';
import type { IssueOrder } from '../register.js';
import { repeatedIssue } from '../requests.js';
import type { Append } from './append.js';
import { prepareFree } from './free.js';
import type { Read } from './read.js';

/** Takes the next free numbers. Runs inside one immediate transaction: nobody else writes while it looks. */
export type Issue = (order: IssueOrder, now: Date) => Numbered[];

export function prepareIssue(db: Database.Database, read: Read, append: Append): Issue {
  const free = prepareFree(db);

  return (order, now) => {
    const { edition, parts, by, why, key } = order;
    if (key !== undefined) {
      const before = read.ofKey(key);
      if (before.length > 0) {
        return repeatedIssue(
          order,
          key,
          before.map((kept) => kept.event),
        );
      }
    }
    if (read.isClosed(edition)) {
      throw refuse(
        3,
        `edition ${edition}`,
        'It is closed: nothing more is issued.',
        'Issue in another edition.',
      );
    }
    const { seq, at } = append.end(now);
    return free(order, seq).map(({ series, number, label }, i) => {
      const event: Issued = { type: 'issued', edition, series, number, label, by, at, why };
      append.put(seq + i, {
        ...event,
        ...(parts && { parts: [...parts] }),
        ...(key !== undefined && { key, nth: i + 1 }),
      });
      return { series, number, label };
    });
  };
}
