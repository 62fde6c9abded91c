import type { NamedTerms, SeriesTerms } from './schema.js';

/** One term that two sets of terms do not have in common. */
export interface TermsDifference {
  /** Such as `series main: to`. */
  readonly what: string;
  readonly before: string;
  readonly now: string;
}

const NONE = 'nothing';

/** Every term by its name, each as one text: two sets of terms are the same exactly where these are. */
function flatten({ name, terms }: NamedTerms): Map<string, string> {
  const all = new Map([['name', name]]);
  terms.series.forEach((series, i) => {
    const of = `series ${series.id}`;
    all.set(of, `number ${i + 1} of the series`);
    for (const [key, value] of membersOf(series)) all.set(`${of}: ${key}`, value);
  });
  for (const { part, material, numbered } of terms.parts) {
    all.set(`part ${part}: material`, material);
    all.set(`part ${part}: bears the number`, numbered ? 'yes' : 'no');
  }
  all.set('approvers', terms.approvers.join(', ') || NONE);
  return all;
}

function membersOf({ id, exclude, total, ...plain }: SeriesTerms): [string, string][] {
  const members = Object.entries(plain).map(([key, value]): [string, string] => [key, String(value)]);
  if (total) members.push(['total: joiner', total.joiner], ['total: of', String(total.of)]);
  exclude.forEach(({ numbers, containing, why }, i) => {
    const out = [numbers, containing !== undefined && `containing ${containing}`]
      .filter(Boolean)
      .join(' and ');
    members.push([`exclude[${i}]`, `${out} (${why})`]);
  });
  return members;
}

/** Where terms differ, in the order of the former. Empty where they are the same. */
export function differencesOf(before: NamedTerms, now: NamedTerms): TermsDifference[] {
  const [one, other] = [flatten(before), flatten(now)];
  return [...new Set([...one.keys(), ...other.keys()])]
    .filter((what) => one.get(what) !== other.get(what))
    .map((what) => ({ what, before: one.get(what) ?? NONE, now: other.get(what) ?? NONE }));
}
