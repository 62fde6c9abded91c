import { id } from '../../documents/schema/scalar.js';
import type { Numbered } from '../../edition/labels.js';
import { parseJson } from '../../parse-json.js';
import type { EditionTerms } from '../terms/schema.js';
import { labelsByTerms } from '../terms/terms.js';

/** What can be read of an entry that is no event: each member where it is of the kind that an event would have. */
export interface ReadableMembers {
  readonly type?: string;
  readonly at?: string;
  readonly edition?: string;
  readonly series?: string;
  readonly number?: number;
  readonly nth?: number;
  readonly label?: string;
  readonly by?: string;
  readonly key?: string;
  readonly why?: string;
}

export function readableMembers(body: string): ReadableMembers {
  const value = parseJson(body);
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return {};
  const members = value as Record<string, unknown>;
  const text = (name: string) => {
    const one = members[name];
    return typeof one === 'string' ? one : undefined;
  };
  const whole = (name: string) => {
    const one = members[name];
    return typeof one === 'number' && Number.isSafeInteger(one) ? one : undefined;
  };
  return {
    ...{ type: text('type'), at: text('at'), label: text('label'), by: text('by'), key: text('key') },
    ...{ edition: idOf(text('edition')), series: idOf(text('series')), why: text('why') },
    ...{ number: whole('number'), nth: whole('nth') },
  };
}

const idOf = (text: string | undefined): string | undefined =>
  id.safeParse(text).success ? text : undefined;

/**
 * The numbers, in the terms of its edition, that an entry may be about: the one that it gives, and the one whose label it
 * gives.
 */
export function claimedNumbers(
  { series: named, number, label }: ReadableMembers,
  terms: EditionTerms,
): Numbered[] {
  const labelOf = labelsByTerms(terms);
  const claimed = new Map<string, Numbered>();
  for (const { id: one, from, to } of terms.series) {
    // Without a series it may be of each.
    const wanted = number !== undefined && (named === undefined || named === one) ? number : undefined;
    if (wanted === undefined && label === undefined) continue;
    const [first, last] = label === undefined ? [wanted!, wanted!] : [from, to];
    for (let n = Math.max(from, first); n <= Math.min(to, last); n++) {
      const byTerms = labelOf(one, n);
      if (byTerms.is === 'label' && (n === wanted || byTerms.label === label))
        claimed.set(`${one} ${n}`, { series: one, number: n, label: byTerms.label });
    }
  }
  return [...claimed.values()];
}
