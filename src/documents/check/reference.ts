import { type Problem, problem } from '../../problem.js';
import { nearest } from '../nearest.js';
import type { At } from '../place.js';
import { article, either, quoted } from '../quote.js';

const MOST_OFFERED = 8;

/** A name that leads to nothing, with the name most likely meant. */
export function unknownName(where: string, name: string, noun: string, known: Iterable<string>): Problem {
  const names = [...known];
  const close = nearest(name, names);
  const offered = names.slice(0, MOST_OFFERED).map((n) => quoted(n));
  const cure = close
    ? `Did you mean ${quoted(close)}?`
    : names.length > 0
      ? `Use ${either(offered)}${names.length > MOST_OFFERED ? ', among others' : ''}.`
      : `Add ${article(noun.replace(/ .*/, ''))} first.`;
  return problem(where, `There is no ${noun} ${quoted(name)}.`, cure);
}

/** Entries of a list that bear an id an earlier one has. */
export function repeatedIds(entries: readonly { id: string }[], list: string, at: At): Problem[] {
  const seen = new Set<string>();
  return entries.flatMap(({ id }, i) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [
      problem(at(list, i, 'id'), `The id ${quoted(id)} is taken by an earlier entry.`, 'Give each its own.'),
    ];
  });
}
