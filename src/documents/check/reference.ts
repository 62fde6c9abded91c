import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { nearest } from '../nearest.js';
import type { At } from '../place.js';
import { plain, quoted } from '../quote.js';

const MOST_OFFERED = 8;

/** A name that leads to nothing, with the name most likely meant. */
export function unknownName(where: string, name: string, noun: string, ids: Iterable<string>): Problem {
  const names = [...ids];
  const said = { noun, name: plain(name) };
  const close = nearest(name, names);
  if (close) return problem('documents.name-close', where, { ...said, close: plain(close) });
  if (names.length === 0) return problem('documents.name-none', where, said);
  const offered = names.slice(0, MOST_OFFERED).map((n) => quoted(n));
  const known = names.length > MOST_OFFERED ? [...offered, '…'] : offered;
  return problem('documents.name-unknown', where, { ...said, known });
}

/** Entries of a list that bear an id an earlier one has. */
export function repeatedIds(entries: readonly { id: string }[], list: string, at: At): Problem[] {
  const seen = new Set<string>();
  return entries.flatMap(({ id }, i) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [problem('documents.id-twice', at(list, i, 'id'), { id: plain(id) })];
  });
}
