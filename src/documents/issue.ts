import type { z } from 'zod';
import { type Problem, problem } from '../problem.js';
import {
  choicesOf,
  chosen,
  describeExpected,
  description,
  keysOf,
  nounOf,
  type Site,
  siteAt,
} from './expected.js';
import { nearest } from './nearest.js';
import type { Path, Places } from './place.js';
import { either, quoted, shown, subject } from './quote.js';

type Issue = z.core.$ZodIssue;
type Schema = z.core.$ZodType;

/** More unknown keys than this in one mapping say only that the mapping is something else. */
const MOST_KEYS = 20;

export interface Document {
  readonly kind: string;
  readonly schema: Schema;
  readonly value: unknown;
  readonly places: Places;
}

/** Everything a schema finds wrong, a line each. One value gets one line, however many rules it breaks. */
export function issueProblems(document: Document, issues: readonly Issue[]): Problem[] {
  const problems: Problem[] = [];
  const told = new Set<string>();
  // an integer past counting breaks two limits, and the schema's own is the one to tell
  const ordered = [...issues].sort((a, b) => Number(isPastCounting(a)) - Number(isPastCounting(b)));
  for (const issue of ordered) {
    const path = issue.path as Path;
    if (issue.code === 'unrecognized_keys') {
      problems.push(...unknownKeys(document, path, issue.keys));
      continue;
    }
    const key = JSON.stringify(path);
    if (told.has(key)) continue;
    told.add(key);
    problems.push(...oneIssue(document, path, issue));
  }
  return problems;
}

const isPastCounting = (issue: Issue): boolean =>
  (issue.code === 'too_big' && issue.maximum === Number.MAX_SAFE_INTEGER) ||
  (issue.code === 'too_small' && issue.minimum === Number.MIN_SAFE_INTEGER);

function unknownKeys(document: Document, path: Path, keys: readonly string[]): Problem[] {
  const site = siteAt(document.schema, document.value, path);
  const known = keysOf(site);
  const noun = nounOf(document.kind, site, path);
  const given = new Set(Object.keys(site.value as object));
  const free = known.filter((k) => !given.has(k));
  return keys.slice(0, MOST_KEYS).map((key) => {
    const close = nearest(key, free) ?? nearest(key, known);
    const cure = close
      ? `Did you mean ${quoted(close)}?`
      : `Remove it, or use one of ${either(known.map((k) => quoted(k)))}.`;
    return problem(document.places.atKey(...path, key), `${quoted(key)} is not a key of ${noun}.`, cure);
  });
}

function oneIssue(document: Document, path: Path, issue: Issue): Problem[] {
  const { schema, value, places } = document;
  const site = siteAt(schema, value, path);
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    // the branch whose outer form fits is the one that was meant
    const meant = issue.errors.filter((branch) => !branch.some(isOtherForm));
    const only = meant.length === 1 ? meant[0] : undefined;
    if (only) {
      const nested = only.map((inner) => ({ ...inner, path: [...path, ...inner.path] }) as Issue);
      return issueProblems(document, nested);
    }
  }
  if (site.value === undefined) return [missing(document, path, site)];
  if (issue.code === 'invalid_key') {
    const key = String(path.at(-1));
    const why = issue.issues[0]?.message ?? 'cannot be used here';
    return [problem(places.atKey(...path), `${quoted(key)} ${why}.`, renamed(key))];
  }
  const [what, cure] = wording(issue, site);
  return [problem(places.at(...path), what, cure)];
}

/** Whether an issue says the value is of another form altogether, not that its contents are wrong. */
function isOtherForm(issue: Issue): boolean {
  return issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value');
}

function missing({ schema, value, places }: Document, path: Path, site: Site): Problem {
  const key = String(path.at(-1) ?? '');
  const parent = path.slice(0, -1);
  const holder = siteAt(schema, value, parent);
  // where the discriminator itself is absent, its choices come from the union
  const choices = site.schema ? undefined : discriminatorChoices(holder.schema, key);
  const what = choices ? either(choices.map((c) => quoted(c))) : describeExpected(site.schema);
  const hint = site.schema && description(site.schema);
  return problem(
    places.at(...parent),
    `${quoted(key)} is missing.`,
    `Add ${quoted(`${key}:`)} with ${what}${hint ? ` (${hint})` : ''}.`,
  );
}

function discriminatorChoices(schema: Schema | undefined, key: string): string[] | undefined {
  const options = schema && '_zod' in schema ? schema._zod.propValues?.[key] : undefined;
  return options ? [...options].map(String) : undefined;
}

function wording(issue: Issue, site: Site): [what: string, cure: string] {
  const value = site.value;
  const it = shown(value);
  const inList = Array.isArray(value) ? `Give ${describeExpected(chosen(site.schema, value))}.` : '';
  const paired = inList.includes('pair');
  switch (issue.code) {
    case 'invalid_type':
      if (issue.expected === 'int') return [`${it} is not a whole number.`, 'Give a whole number.'];
      return otherForm(site, describeExpected(site.schema));
    case 'invalid_union': {
      if ('options' in issue && Array.isArray(issue.options))
        return notAChoice(value, issue.options.map(String));
      return otherForm(site, describeExpected(site.schema));
    }
    case 'invalid_value':
      return notAChoice(value, issue.values.map(String));
    case 'too_big': {
      const most = String(issue.maximum);
      if (issue.origin === 'string') return [`This has more than ${most} characters.`, 'Shorten it.'];
      if (issue.origin === 'array')
        return [`This list has more than ${most} entries.`, paired ? inList : 'Shorten it.'];
      return [`${it} is too large.`, `Give ${most} at most.`];
    }
    case 'too_small': {
      const least = String(issue.minimum);
      if (issue.origin === 'string') return ['This is empty.', 'Write something.'];
      if (issue.origin === 'array') {
        return [
          `This list has fewer than ${least} ${least === '1' ? 'entry' : 'entries'}.`,
          paired ? inList : 'Add to it.',
        ];
      }
      return [
        `${it} is too small.`,
        issue.inclusive ? `Give ${least} at least.` : `Give more than ${least}.`,
      ];
    }
    case 'invalid_format':
    case 'custom':
      return [`${it} ${issue.message}.`, renamed(String(value), issue.message)];
    default:
      return [`${it} cannot be used here.`, `Give ${describeExpected(site.schema)}.`];
  }
}

function notAChoice(value: unknown, choices: readonly string[]): [what: string, cure: string] {
  const close = typeof value === 'string' ? nearest(value, choices) : undefined;
  const offered = either(choices.map((c) => quoted(c)));
  return [
    `${subject(value)} is not one of the choices.`,
    close && choices.length > 1
      ? `Did you mean ${quoted(close)}? The choices are ${offered}.`
      : `Write ${offered}.`,
  ];
}

/** Something of the wrong form stands here: text for a number, a list for text. */
function otherForm({ schema, value }: Site, want: string): [what: string, cure: string] {
  const takesNumber = /\bnumber\b/.test(want);
  if (value === null) return ['There is no value here.', `Give ${want}.`];
  if (typeof value === 'number') {
    if (!Number.isFinite(value))
      return [`${shown(value)} is not a figure, ${want} is wanted.`, `Give ${want}.`];
    const cure = want === 'text' ? `Put it in quotes: "${value}".` : `Give ${want}.`;
    return [`${shown(value)} is a number, ${want} is wanted.`, cure];
  }
  if (typeof value === 'string') {
    const close = nearest(value, choicesOf(schema));
    if (close) return [`${shown(value)} is text, ${want} is wanted.`, `Did you mean ${quoted(close)}?`];
    return [
      `${shown(value)} is text, ${want} is wanted.`,
      takesNumber ? numberCure(value, want) : `Give ${want}.`,
    ];
  }
  if (typeof value === 'boolean') {
    const cure = want === 'text' ? `Put it in quotes: "${value}".` : `Give ${want}.`;
    return [`${shown(value)} is a yes or no, ${want} is wanted.`, cure];
  }
  return [`This is ${shown(value)}, ${want} is wanted.`, `Give ${want}.`];
}

/** Reads what a number in text was meant to be, so that the cure can show it. */
function numberCure(text: string, want: string): string {
  const found = /^\s*([+-]?[0-9]{1,9})(?:([.,])([0-9]{1,9}))?\s*(\p{L}{1,12}|°|%|")?\s*$/u.exec(text);
  if (!found) return `Give ${want}.`;
  const [, whole, mark, part, unit] = found;
  const meant = `\`${whole}${part ? `.${part}` : ''}\``;
  if (unit) return `Leave the unit out, lengths are mm and angles degrees: ${meant}.`;
  if (mark === ',') return `Write the decimal with a point: ${meant}.`;
  return `Remove the quotes: ${meant}.`;
}

/** Offers a name of the allowed form where one is asked for and can be made from what was written. */
function renamed(text: string, message = 'lower-case letters'): string {
  if (message.includes('lower-case letters')) {
    const name = text
      .slice(0, 60)
      .toLowerCase()
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '');
    return name ? `Write it as ${quoted(name)}.` : 'Choose another name.';
  }
  if (message.includes('control characters')) return 'Write it on one line, and delete what cannot be seen.';
  return 'Correct or remove it.';
}
