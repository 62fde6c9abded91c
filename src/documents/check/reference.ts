import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { nearest } from '../nearest.js';
import { plainText, quote } from '../quote.js';
import type { At } from '../source-places.js';

const MOST_OFFERED = 8;

/** A name that leads to nothing in the workshop, or in the part, with the name most likely meant. */
export function unknownName(
  where: string,
  name: string,
  noun: string,
  ids: Iterable<string>,
  holder: 'workshop' | 'part' = 'workshop',
): Problem {
  const names = [...ids];
  const values = { noun, name: plainText(name), holder };
  const close = nearest(name, names);
  if (close) return problem('documents.name-close', where, { ...values, close: plainText(close) });
  if (names.length === 0) return problem('documents.name-none', where, values);
  const offered = names.slice(0, MOST_OFFERED).map((n) => quote(n));
  const known = names.length > MOST_OFFERED ? [...offered, '…'] : offered;
  return problem('documents.name-unknown', where, { ...values, known });
}

/** Entries of a list that bear an id an earlier one has. */
export function repeatedIds(entries: readonly { id: string }[], list: string, at: At): Problem[] {
  const seen = new Set<string>();
  return entries.flatMap(({ id }, i) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [problem('documents.id-twice', at(list, i, 'id'), { id: plainText(id) })];
  });
}
