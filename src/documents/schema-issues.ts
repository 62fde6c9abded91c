import type { z } from 'zod';
import type { Problem } from '../problem.js';
import {
  choicesOf,
  describeExpected,
  description,
  keysOf,
  nounOf,
  type Site,
  selectBranch,
  siteAt,
} from './expected.js';
import { problem } from './messages.js';
import { nearest } from './nearest.js';
import { controlCharacterOf, formatValue, joinChoices, plainText, quote, subject } from './quote.js';
import { RULES } from './schema/scalar.js';
import type { Path, Places } from './source-places.js';

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

/** A value with the text that stands for it in the document. */
interface WrittenSite extends Site {
  readonly written: string | undefined;
}

/** Everything a schema finds wrong, a line each. One value gets one line, however many rules it breaks. */
export function issueProblems(document: Document, issues: readonly Issue[]): Problem[] {
  const problems: Problem[] = [];
  const reported = new Set<string>();
  // An integer past 2^53 breaks two limits; the schema's own comes first.
  const ordered = [...issues].sort((a, b) => Number(isPastCounting(a)) - Number(isPastCounting(b)));
  for (const issue of ordered) {
    const path = issue.path as Path;
    if (issue.code === 'unrecognized_keys') {
      problems.push(...unknownKeys(document, path, issue.keys));
      continue;
    }
    const key = JSON.stringify(path);
    if (reported.has(key)) continue;
    reported.add(key);
    problems.push(...issueProblem(document, path, issue));
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
    const where = document.places.atKey(...path, key);
    const close = nearest(key, free) ?? nearest(key, known);
    const values = { key: plainText(key), noun };
    return close
      ? problem('documents.key-close', where, { ...values, close })
      : problem('documents.key-unknown', where, { ...values, known: known.map((k) => quote(k)) });
  });
}

function issueProblem(document: Document, path: Path, issue: Issue): Problem[] {
  const { schema, value, places } = document;
  const site = { ...siteAt(schema, value, path), written: places.written(path) };
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    // The branch whose outer form fits is the one that was meant.
    const meant = issue.errors.filter((branch) => !branch.some(isOtherForm));
    const only = meant.length === 1 ? meant[0] : undefined;
    if (only) {
      const nested = only.map((inner) => ({ ...inner, path: [...path, ...inner.path] }) as Issue);
      return issueProblems(document, nested);
    }
  }
  if (site.value === undefined) return [missingKey(document, path, site)];
  if (issue.code === 'invalid_key') return [notAnId(places.atKey(...path), String(path.at(-1)))];
  return [valueProblem(places.at(...path), issue, site)];
}

/** Whether an issue says the value is of another form altogether, not that its contents are wrong. */
function isOtherForm(issue: Issue): boolean {
  return issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value');
}

function missingKey({ schema, value, places }: Document, path: Path, site: Site): Problem {
  const key = String(path.at(-1) ?? '');
  const parent = path.slice(0, -1);
  const holder = siteAt(schema, value, parent);
  // Where the discriminator itself is absent, its choices come from the union.
  const choices = site.schema ? undefined : discriminatorChoices(holder.schema, key);
  const what = choices ? joinChoices(choices.map((c) => quote(c))) : describeExpected(site.schema);
  const about = site.schema && description(site.schema);
  const expected = about ? `${what} (${about})` : what;
  return problem('documents.key-missing', places.at(...parent), { key: plainText(key), expected });
}

function discriminatorChoices(schema: Schema | undefined, key: string): string[] | undefined {
  const options = schema && '_zod' in schema ? schema._zod.propValues?.[key] : undefined;
  return options ? [...options].map(String) : undefined;
}

/** The problem of one kind of zod issue. The text of the library never reaches a person. */
function valueProblem(where: string, issue: Issue, site: WrittenSite): Problem {
  const value = formatValue(site.value, site.written);
  switch (issue.code) {
    case 'invalid_type':
      if (issue.expected === 'int') return problem('documents.not-whole', where, { value });
      return otherForm(where, site, describeExpected(site.schema));
    case 'invalid_union':
      if ('options' in issue && Array.isArray(issue.options))
        return notAChoice(where, site, issue.options.map(String));
      return otherForm(where, site, describeExpected(site.schema));
    case 'invalid_value':
      return notAChoice(where, site, issue.values.map(String));
    case 'too_big':
      return tooBig(where, issue, site);
    case 'too_small':
      return tooSmall(where, issue, site);
    case 'invalid_format':
    case 'custom':
      return brokenRule(where, issue.message, site);
    default:
      return problem('documents.cannot-be-used', where, { value, expected: describeExpected(site.schema) });
  }
}

function tooBig(where: string, issue: z.core.$ZodIssueTooBig, site: WrittenSite): Problem {
  const most = Number(issue.maximum);
  if (issue.origin === 'string') return problem('documents.text-too-long', where, { most });
  if (issue.origin === 'array') {
    const pair = pairExpected(site);
    if (pair) return problem('documents.not-a-pair', where, { expected: pair });
    return problem('documents.list-too-long', where, { most });
  }
  const value = formatValue(site.value, site.written);
  if (issue.inclusive === false) return problem('documents.not-less-than', where, { value, most });
  return problem('documents.too-large', where, { value, most });
}

function tooSmall(where: string, issue: z.core.$ZodIssueTooSmall, site: WrittenSite): Problem {
  const least = Number(issue.minimum);
  if (issue.origin === 'string') return problem('documents.text-empty', where, {});
  if (issue.origin === 'array') {
    const pair = pairExpected(site);
    if (pair) return problem('documents.not-a-pair', where, { expected: pair });
    return problem('documents.list-too-short', where, { least });
  }
  const value = formatValue(site.value, site.written);
  return problem(issue.inclusive ? 'documents.too-small' : 'documents.not-more-than', where, {
    value,
    least,
  });
}

/** What is expected where a list should have been a pair. */
function pairExpected({ schema, value }: Site): string | undefined {
  const expected = describeExpected(selectBranch(schema, value));
  return expected.includes('pair') ? expected : undefined;
}

/** A rule of a schema carries the code of its problem as its message. */
function brokenRule(where: string, rule: string, { schema, value, written }: WrittenSite): Problem {
  if (rule === RULES.id) return notAnId(where, String(value));
  const values = { value: formatValue(value, written) };
  if (rule === RULES.oneLine) return notOneLine(where, String(value));
  if (rule === RULES.digits || rule === RULES.stationWords || rule === RULES.stationMoves)
    return problem(rule, where, values);
  return problem('documents.cannot-be-used', where, { ...values, expected: describeExpected(schema) });
}

/** What keeps text from being one line that can be read. */
function notOneLine(where: string, text: string): Problem {
  const value = quote(text);
  const control = controlCharacterOf(text);
  if (control === undefined) return problem('documents.not-one-line', where, { value });
  if (control === 'line break') return problem('documents.line-break', where, { value });
  return problem('documents.control-in-text', where, { value, character: control });
}

/** Offers an id that can be made from what was written; the name of a file loses its ending. */
function notAnId(where: string, text: string): Problem {
  const value = quote(text);
  const file = /^([a-z0-9][a-z0-9-]{0,62})\.[A-Za-z0-9]{1,5}$/.exec(text)?.[1];
  if (file !== undefined) return problem('documents.file-for-id', where, { value, close: file });
  const close = text
    .slice(0, 60)
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return close
    ? problem('documents.id-close', where, { value, close })
    : problem('documents.not-an-id', where, { value });
}

function notAChoice(where: string, { value, written }: WrittenSite, choices: readonly string[]): Problem {
  const close = typeof value === 'string' ? nearest(value, choices) : undefined;
  const offered = joinChoices(choices.map((c) => quote(c)));
  const values = { value: subject(value, written), choices: offered };
  return close && choices.length > 1
    ? problem('documents.choice-close', where, { ...values, close })
    : problem('documents.not-a-choice', where, values);
}

/** Something of the wrong form stands here: text for a number, a list for text. */
function otherForm(where: string, { schema, value, written }: WrittenSite, expected: string): Problem {
  if (value === null) return problem('documents.no-value', where, { expected });
  const text = formatValue(value, written);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) return problem('documents.not-finite', where, { value: text, expected });
    if (expected === 'text')
      return problem('documents.number-for-text', where, { value: plainText(written ?? String(value)) });
    return problem('documents.other-form', where, { expected, found: `the number ${text}` });
  }
  if (typeof value === 'string') {
    const close = nearest(value, choicesOf(schema));
    if (close) return problem('documents.text-close', where, { expected, value: text, close });
    const number = /\bnumber\b/.test(expected) ? guessNumber(value) : undefined;
    if (number) return problem(number.code, where, { expected, value: text, meant: number.meant });
    return problem('documents.other-form', where, { expected, found: `the text ${text}` });
  }
  if (typeof value === 'boolean') {
    if (expected === 'text')
      return problem('documents.yes-no-for-text', where, { value: written ?? String(value) });
    return problem('documents.other-form', where, {
      expected,
      found: `${text}, which means ${value ? 'yes' : 'no'}`,
    });
  }
  return problem('documents.other-form', where, { expected, found: text });
}

/** Reads what a number in text was meant to be, so that the hint can show it. */
function guessNumber(text: string) {
  const found = /^\s*([+-]?[0-9]{1,9})(?:([.,])([0-9]{1,9}))?\s*(\p{L}{1,12}|°|%|")?\s*$/u.exec(text);
  if (!found) return undefined;
  const [, whole, mark, part, unit] = found;
  const meant = `${whole}${part ? `.${part}` : ''}`;
  if (unit) return { code: 'documents.number-has-unit', meant } as const;
  if (mark === ',') return { code: 'documents.number-has-comma', meant } as const;
  return { code: 'documents.number-in-quotes', meant } as const;
}
