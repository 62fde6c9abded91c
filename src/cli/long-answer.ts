import { jsonText } from './json-text.js';

/** Items of a list written at once. */
const AT_ONCE = 1000;

/** The text of a list, some items at a time; of an empty one too. */
export function* inPieces<T>(items: Iterable<T>, textOf: (some: readonly T[]) => string): Generator<string> {
  let some: T[] = [];
  let begun = false;
  for (const item of items) {
    some.push(item);
    if (some.length < AT_ONCE) continue;
    yield textOf(some);
    begun = true;
    some = [];
  }
  if (some.length > 0 || !begun) yield textOf(some);
}

/**
 * `head` with a list as its last member, as JSON in lines and a line end, in pieces: together what `jsonText` gives
 * for the whole.
 */
export function* jsonWithList(head: object, name: string, items: Iterable<unknown>): Generator<string> {
  const whole = (some: readonly unknown[]) => jsonText({ ...head, [name]: some });
  const begin = whole([0]).slice(0, -`\n    0${END}`.length);
  const itemsOf = (some: readonly unknown[]) =>
    some.length > 0 ? whole(some).slice(begin.length, -END.length) : '';
  let before = begin;
  let empty = true;
  for (const piece of inPieces(items, itemsOf)) {
    yield before + piece;
    before = ',';
    empty = piece === '';
  }
  yield `${empty ? END.trimStart() : END}\n`;
}

/** What stands after the last item. */
const END = '\n  ]\n}';
