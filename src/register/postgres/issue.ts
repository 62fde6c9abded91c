import type pg from 'pg';
import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import type { IssueOrder } from '../register.js';
import { repeatedIssue } from '../requests.js';
import type { Append } from './append.js';
import { prepareFree } from './free.js';
import type { Read } from './read.js';

/** Takes the next free numbers. Runs inside one transaction: nobody else writes while it looks. */
export type Issue = (order: IssueOrder, now: Date) => Promise<Numbered[]>;

export function prepareIssue(client: pg.ClientBase, read: Read, append: Append): Issue {
  const free = prepareFree(client);

  return async (order, now) => {
    const { edition, parts, by, why, key } = order;
    if (key !== undefined) {
      const before = await read.ofKey(key);
      if (before.length > 0) {
        return repeatedIssue(
          order,
          key,
          before.map((kept) => kept.event),
        );
      }
    }
    if (await read.isClosed(edition)) {
      throw refuse(
        3,
        `edition ${edition}`,
        'It is closed: nothing more is issued.',
        'Issue in another edition.',
      );
    }
    const { seq, at } = await append.end(now);
    const taken = (await free(order, seq)).map(({ series, number, label }) => ({ series, number, label }));
    await append.put(
      seq,
      taken.map((numbered, i) => ({
        type: 'issued' as const,
        edition,
        ...numbered,
        by,
        at,
        why,
        ...(parts && { parts: [...parts] }),
        ...(key !== undefined && { key, nth: i + 1 }),
      })),
    );
    return taken;
  };
}
